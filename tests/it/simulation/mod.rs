//! Years of makers' lives in minutes, with everything that can go wrong, drawn from a seed.
//!
//! `SEED=n` plays one seed, `SIMULATION_SEEDS=a..b` those from a up to b, which is not played, and
//! `SIMULATION_YEARS=n` as many as make n user-years. A failure says how to repeat it.

mod bot;
mod checks;
mod dice;
mod eyes;
mod machine;
mod maker;
mod model;
mod people;
mod sim;
mod weather;

use std::env;
use std::ops::Range;

use self::sim::Sim;

/// A seed is two user-years: a few makers for long, or many for a short time.
const YEARS_A_SEED: u64 = 2;
/// Makers and days. The longest outlives the blankets that begin with it.
const SHAPES: [(u64, i64); 4] = [(2, 372), (4, 183), (6, 122), (12, 61)];
/// Without optimisation a user-year takes seconds.
const YEARS: u64 = 4;

/// What became of one seed.
struct Played {
    digest: u64,
    steps: u64,
    answers: usize,
    lost: usize,
}

#[test]
#[allow(clippy::print_stdout, reason = "how much was simulated, for those who ask for years")]
fn years_of_trouble_break_no_promise() {
    let seeds = seeds();
    let said = |seed: u64, played: &Result<Played, String>| {
        if let Err(why) = played {
            println!("SEED={seed} breaks a promise: {why}\n");
        }
    };
    let all = machine::spread(seeds.clone(), play_shaped, said);
    let failed: Vec<u64> = all.iter().filter(|(_, end)| end.is_err()).map(|(s, _)| *s).collect();
    let played: Vec<Played> = all.into_iter().filter_map(|(_, end)| end.ok()).collect();
    let steps: u64 = played.iter().map(|played| played.steps).sum();
    let answers: usize = played.iter().map(|played| played.answers).sum();
    let lost: usize = played.iter().map(|played| played.lost).sum();
    let digest = played.iter().fold(0, |all, played| all ^ played.digest);
    let years = played.len() as u64 * YEARS_A_SEED;
    println!(
        "simulated {years} user-years (seeds {seeds:?}), {steps} steps, {answers} answers, {lost} \
         messages given up, digest {digest:016x}"
    );
    assert!(failed.is_empty(), "these seeds break a promise: {failed:?}");
    // A simulation in which nothing happens breaks no promise either.
    assert!(answers as u64 > years * 100);
}

#[test]
fn a_seed_gives_the_same_simulation_every_time() {
    let seed = env::var("SEED").map_or(1, |seed| seed.parse().unwrap());
    let digests = || {
        let all = machine::spread(seed..seed + 2, |seed| play(seed, 2, 30).digest, |_, _| {});
        all.into_iter().map(|(_, digest)| digest.unwrap()).collect::<Vec<_>>()
    };
    let first = digests();
    assert_eq!(first, digests());
    assert_ne!(first[0], first[1]);
}

fn seeds() -> Range<u64> {
    let number = |text: &str| -> u64 { text.parse().unwrap() };
    if let Ok(seed) = env::var("SEED") {
        return number(&seed)..number(&seed) + 1;
    }
    if let Ok(range) = env::var("SIMULATION_SEEDS") {
        let (first, end) = range.split_once("..").expect("SIMULATION_SEEDS=a..b");
        return number(first)..number(end);
    }
    let years = env::var("SIMULATION_YEARS").map_or(YEARS, |years| number(&years));
    1..1 + years.div_ceil(YEARS_A_SEED)
}

fn play_shaped(seed: u64) -> Played {
    let (makers, days) = SHAPES[usize::try_from(seed % SHAPES.len() as u64).unwrap()];
    play(seed, makers, days)
}

fn play(seed: u64, makers: u64, days: i64) -> Played {
    // Nothing here waits for a socket.
    let runtime = tokio::runtime::Builder::new_current_thread().enable_time().build().unwrap();
    runtime.block_on(async {
        let mut sim = Sim::new(seed, makers).await;
        sim.run(days).await;
        sim.calm().await;
        let answers = sim.makers.values().map(|maker| maker.model.answered()).sum();
        let (digest, steps, lost) = (sim.digest.0, sim.steps, sim.lost);
        Played { digest, steps, answers, lost }
    })
}
