//! Do the ranges of the forecast hold? On invented makers, how often no more rows came than the
//! forecast's 90 % limit, by day of the year and by the way the year went.
//!
//! Counts are whole, so a limit is met exactly at 90 % by none: where the count is the limit it
//! counts as met with just the chance that makes it 90 %. Standard errors are over makers, because
//! the colours of one maker depend on each other. Prints; asserts nothing.
#![allow(clippy::print_stdout, clippy::unwrap_used, reason = "a measurement")]

use duskrow::blanket::forecast::{Forecast, RowsToCome};

mod makers;

use makers::{DAYS, Maker, Process, SEED};

const MAKERS: u64 = 2_100;
const SEEN: [usize; 5] = [14, 30, 90, 180, 270];
const LIMIT: f64 = 0.9;

fn main() {
    let makers: Vec<Maker> = (0..MAKERS).map(|number| Maker::new(SEED, number)).collect();
    println!("{MAKERS} makers, seed {SEED}\n");
    println!("| year | {} |", SEEN.map(|day| format!("day {day}")).join(" | "));
    println!("|---|{}", "---|".repeat(SEEN.len()));
    row("all", makers.iter());
    for process in Process::ALL {
        row(&format!("{process:?}"), makers.iter().filter(|maker| maker.process == process));
    }
    row("with words", makers.iter().filter(|maker| maker.guess.is_some()));
    row("without", makers.iter().filter(|maker| maker.guess.is_none()));
}

fn row<'a>(name: &str, makers: impl Iterator<Item = &'a Maker> + Clone) {
    let cell = |seen: usize| {
        let held: Vec<f64> = makers.clone().map(|maker| held(maker, seen)).collect();
        let count = held.len() as f64;
        let mean = held.iter().sum::<f64>() / count;
        let squares = held.iter().map(|share| (share - mean) * (share - mean)).sum::<f64>();
        let error = (squares / (count - 1.0) / count).sqrt();
        format!("{:.1} ± {:.1}", 100.0 * mean, 100.0 * error)
    };
    println!("| {name} | {} |", SEEN.map(cell).join(" | "));
}

/// The share of a maker's colours that kept within the limit told after `seen` days.
fn held(maker: &Maker, seen: usize) -> f64 {
    let forecast = Forecast::new(&maker.days[..seen], maker.tiers, maker.guess.as_deref()).unwrap();
    let to_come = &maker.days[seen..];
    let of = |tier: usize| {
        let came = to_come.iter().filter(|day| **day == tier).count();
        within(&forecast.to_come(tier, (DAYS - seen) as u32), came as u32)
    };
    (0..maker.tiers).map(of).sum::<f64>() / maker.tiers as f64
}

fn within(rows: &RowsToCome, came: u32) -> f64 {
    let limit = rows.quantile(LIMIT);
    match came.cmp(&limit) {
        std::cmp::Ordering::Less => 1.0,
        std::cmp::Ordering::Greater => 0.0,
        std::cmp::Ordering::Equal => {
            let chance = rows.chance_of(limit);
            (LIMIT - (rows.at_most(limit) - chance)) / chance
        }
    }
}
