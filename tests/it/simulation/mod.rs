//! Years of makers' lives in a minute, with everything that can go wrong, drawn from a seed.
//!
//! `SEED=n` plays one seed; `SIMULATION_YEARS=n` plays as many user-years. A failure says how to
//! repeat it.

mod bot;
mod checks;
mod dice;
mod eyes;
mod maker;
mod model;
mod people;
mod sim;
mod weather;

use std::env;
use std::thread;

use self::sim::Sim;

/// One seed: two user-years.
const MAKERS: u64 = 4;
const DAYS: i64 = 183;
const YEARS_A_SEED: u64 = 2;
/// Without optimisation a user-year takes ten seconds and more.
const YEARS: u64 = 4;

struct Played {
    digest: u64,
    steps: u64,
    answers: usize,
    lost: usize,
}

#[test]
#[allow(clippy::print_stdout, reason = "how much was simulated, for those who ask for years")]
fn years_of_trouble_break_no_promise() {
    let years: u64 = env::var("SIMULATION_YEARS").map_or(YEARS, |years| years.parse().unwrap());
    let seeds: Vec<u64> = match env::var("SEED") {
        Ok(seed) => vec![seed.parse().unwrap()],
        Err(_) => (1..=years.div_ceil(YEARS_A_SEED)).collect(),
    };
    let half = |odd: u64| -> Vec<u64> { seeds.iter().copied().filter(|s| s % 2 == odd).collect() };
    let halves = [half(0), half(1)].map(|seeds| {
        thread::spawn(move || seeds.into_iter().map(|s| (s, play(s, MAKERS, DAYS))).collect())
    });
    let mut played: Vec<(u64, Played)> = Vec::new();
    for half in halves {
        let half: Vec<(u64, Played)> = half.join().unwrap();
        played.extend(half);
    }
    let steps: u64 = played.iter().map(|(_, played)| played.steps).sum();
    let answers: usize = played.iter().map(|(_, played)| played.answers).sum();
    let lost: usize = played.iter().map(|(_, played)| played.lost).sum();
    let digest = played.iter().fold(0, |all, (_, played)| all ^ played.digest);
    let years = played.len() as u64 * YEARS_A_SEED;
    println!(
        "simulated {years} user-years, {steps} steps, {answers} answers, {lost} messages given \
         up, digest {digest:016x}"
    );
    // A simulation in which nothing happens breaks no promise either.
    assert!(answers as u64 > years * 100);
}

#[test]
fn a_seed_gives_the_same_simulation_every_time() {
    let digest = |seed| play(seed, 2, 30).digest;
    let seed = env::var("SEED").map_or(1, |seed| seed.parse().unwrap());
    assert_eq!(digest(seed), digest(seed));
    assert_ne!(digest(seed), digest(seed + 1));
}

fn play(seed: u64, makers: u64, days: i64) -> Played {
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
