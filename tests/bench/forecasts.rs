//! How long does a forecast take? Everything about the yarn of twelve colours at once, for the
//! longest blanket, at several days of it. Prints; asserts nothing.
#![allow(clippy::print_stdout, clippy::unwrap_used, reason = "a measurement")]
#![allow(clippy::disallowed_methods, reason = "it measures time")]

use std::hint::black_box;
use std::time::Instant;

use duskrow::blanket::forecast::{Forecast, RowWeight, Supply, target_per_colour};

const RUNS: usize = 51;
const TIERS: usize = 12;
/// The longest blanket.
const DAYS: usize = 732;

fn main() {
    println!("| day | yarn on hand | median ms | slowest ms |\n|---|---|---|---|");
    for seen in [0, 1, 30, 183, 366, 600, 731] {
        // Little is soon gone; about the mean need takes the longest to find out; plenty lasts.
        for (name, of_need) in [
            ("none", 0.0),
            ("a tenth", 0.1),
            ("half", 0.5),
            ("the mean need", 1.0),
            ("half as much again", 1.5),
            ("twice", 2.0),
            ("four times", 4.0),
        ] {
            measure(seen, name, of_need);
        }
    }
}

fn measure(seen: usize, name: &str, of_need: f64) {
    // A fixed walk over the tiers.
    let days: Vec<usize> = (0..seen).map(|day| (day * day + day / 3) % TIERS).collect();
    let mut times: Vec<f64> = (0..RUNS)
        .map(|_| {
            let begun = Instant::now();
            black_box(all_colours(black_box(&days), of_need));
            begun.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    times.sort_by(f64::total_cmp);
    println!("| {seen} | {name} | {:.2} | {:.2} |", times[RUNS / 2], times[RUNS - 1]);
}

/// Chance, limit, balls for 90 % and for the whole blanket, and the days a colour may be gone.
fn all_colours(days: &[usize], of_need: f64) -> u32 {
    let to_come = u32::try_from(DAYS - days.len()).unwrap();
    let forecast = Forecast::new(days, TIERS, None).unwrap();
    let mut seen = 0;
    for tier in 0..TIERS {
        let rows = forecast.to_come(tier, to_come);
        let per_row = RowWeight { grams: 8.25, se_grams: 0.25 };
        let supply = Supply::new(of_need * 8.25 * rows.mean(), per_row, 0);
        let run_out = supply.run_out(&forecast, tier, to_come);
        let balls = [0.9, target_per_colour(12)].map(|at| supply.balls_to_buy(&rows, 50.0, at));
        seen += rows.quantile(0.9) + run_out.early.unwrap_or(0) + balls[1].unwrap_or(0);
        black_box(supply.chance(&rows));
    }
    seen
}
