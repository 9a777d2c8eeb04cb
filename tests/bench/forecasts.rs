//! How long does a forecast take? Everything about the yarn of twelve colours at once, for the
//! longest blanket, at several days of it, each with as much yarn as makes it take longest.
//! Prints; asserts nothing.
#![allow(clippy::print_stdout, clippy::unwrap_used, reason = "a measurement")]
#![allow(clippy::disallowed_methods, reason = "it measures time")]

use std::hint::black_box;
use std::time::Instant;

use duskrow::blanket::forecast::{Forecast, RowWeight, Supply, target_per_colour};

const RUNS: usize = 101;
const TIERS: usize = 12;
/// The longest blanket.
const DAYS: usize = 732;

/// Yarn on hand as a share of the mean need. Little is soon gone and plenty lasts; about as much as
/// is needed takes the longest to find out.
const ON_HAND: [f64; 9] = [0.0, 0.1, 0.5, 0.8, 1.0, 1.2, 1.5, 2.0, 4.0];

fn main() {
    println!("| day of {DAYS} | on hand, of the mean need | fastest ms | median ms | slowest ms |");
    println!("|---|---|---|---|---|");
    for seen in [0, 1, 30, 183, 366, 600, 731] {
        // A fixed walk over the tiers.
        let days: Vec<usize> = (0..seen).map(|day| (day * day + day / 3) % TIERS).collect();
        let timed = ON_HAND.map(|of_need| (of_need, times(&days, of_need)));
        let longest = timed.iter().max_by(|a, b| a.1[RUNS / 2].total_cmp(&b.1[RUNS / 2])).unwrap();
        let (of_need, times) = longest;
        let [fastest, median, slowest] = [0, RUNS / 2, RUNS - 1].map(|at| times[at]);
        println!("| {seen} | {of_need} | {fastest:.1} | {median:.1} | {slowest:.1} |");
    }
}

/// Milliseconds, shortest first.
fn times(days: &[usize], of_need: f64) -> Vec<f64> {
    let mut times: Vec<f64> = (0..RUNS)
        .map(|_| {
            let begun = Instant::now();
            black_box(all_colours(black_box(days), of_need));
            begun.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times
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
