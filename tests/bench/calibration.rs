//! Does a range that is to hold for nine makers in ten hold for nine in ten? And how long does a
//! forecast of all colours take?
//!
//! For each made-up maker, on five days of their year and for each tier, is the number of rows the
//! rest of the year brought within the forecast's 90 % quantile? Rows are whole, so the quantile
//! is taken with the chance that makes it exactly 90 %. Standard errors are over makers, whose
//! tiers depend on each other. Prints tables; asserts nothing.
#![allow(clippy::print_stdout, clippy::unwrap_used, reason = "a measurement")]
#![allow(clippy::disallowed_methods, reason = "it measures time")]

mod makers;

use std::hint::black_box;
use std::time::Instant;

use duskrow::blanket::forecast::{Forecast, RowWeight, RowsToCome, Supply, target_per_colour};
use makers::{DAYS, Life, Maker};

const OF_EACH: u64 = 300;
const ON: [usize; 5] = [14, 30, 90, 180, 270];
const QUANTILE: f64 = 0.9;

fn main() {
    coverage();
    speed();
}

fn coverage() {
    let measured: Vec<(Life, [f64; 5])> = makers::makers(OF_EACH)
        .map(|maker| (maker.life, ON.map(|day| covered(&maker, day))))
        .collect();
    println!("{} makers, seed {}.\n", measured.len(), makers::SEED);
    println!("| life | day 14 | day 30 | day 90 | day 180 | day 270 |\n|---|---|---|---|---|---|");
    row("all", measured.iter().map(|(_, covered)| *covered));
    for life in Life::ALL {
        let of = measured.iter().filter(|(its, _)| *its == life);
        row(&format!("{life:?}"), of.map(|(_, covered)| *covered));
    }
}

/// The share of the maker's tiers whose rows to come were within the quantile.
fn covered(maker: &Maker, day: usize) -> f64 {
    let (past, future) = maker.days.split_at(day);
    let forecast = Forecast::new(past, maker.tiers, maker.guess.as_deref()).unwrap();
    let within = |tier: usize| {
        let came = future.iter().filter(|it| **it == tier).count();
        chance_within(&forecast.to_come(tier, (DAYS - day) as u32), came as u32)
    };
    (0..maker.tiers).map(within).sum::<f64>() / maker.tiers as f64
}

/// Certain below the quantile, none above it, and at it the part that is missing to 90 %.
fn chance_within(to_come: &RowsToCome, came: u32) -> f64 {
    let below = came.checked_sub(1).map_or(0.0, |fewer| to_come.at_most(fewer));
    let missing = (QUANTILE - below) / to_come.chance_of(came).max(f64::MIN_POSITIVE);
    missing.clamp(0.0, 1.0)
}

fn row(name: &str, makers: impl Iterator<Item = [f64; 5]>) {
    let makers: Vec<[f64; 5]> = makers.collect();
    let count = makers.len() as f64;
    let cell = |on: usize| {
        let mean = makers.iter().map(|maker| maker[on]).sum::<f64>() / count;
        let square = |maker: &[f64; 5]| (maker[on] - mean) * (maker[on] - mean);
        let variance = makers.iter().map(square).sum::<f64>() / (count - 1.0);
        format!("{:.1} ± {:.1}", 100.0 * mean, 100.0 * (variance / count).sqrt())
    };
    let cells: Vec<String> = (0..ON.len()).map(cell).collect();
    println!("| {name} | {} |", cells.join(" | "));
}

/// Twelve colours of a blanket of two years: the chance, balls for two targets, and when each runs
/// out. How long that takes depends on how much there is, so several amounts are tried.
fn speed() {
    const TWO_YEARS: usize = 732;
    println!("\n| days named | days to come | median ms | slowest ms |\n|---|---|---|---|");
    let days: Vec<usize> = (0..TWO_YEARS).map(|day| (day * day + day / 5) % 12).collect();
    for named in [0, 30, 366, 640, 731] {
        let mut took = Vec::new();
        for tenths in 0..=40 {
            for _ in 0..5 {
                let begun = Instant::now();
                let past = black_box(&days[..named]);
                let ahead = (TWO_YEARS - named) as u32;
                all_colours(past, ahead, f64::from(tenths) / 10.0);
                took.push(begun.elapsed().as_secs_f64() * 1000.0);
            }
        }
        took.sort_by(f64::total_cmp);
        let (median, slowest) = (took[took.len() / 2], took[took.len() - 1]);
        println!("| {named} | {} | {median:.2} | {slowest:.2} |", TWO_YEARS - named);
    }
}

/// `part` is what is on hand, as a part of what is expected to be needed.
fn all_colours(past: &[usize], ahead: u32, part: f64) {
    let forecast = Forecast::new(past, 12, None).unwrap();
    for tier in 0..12 {
        let to_come = forecast.to_come(tier, ahead);
        let per_row = RowWeight { grams: 8.25, se_grams: 0.25 };
        let supply = Supply::new(part * (4.0 + to_come.mean()) * per_row.grams, per_row, 4);
        black_box(supply.chance(&to_come));
        black_box(supply.balls_to_buy(&to_come, 50.0, QUANTILE));
        black_box(supply.balls_to_buy(&to_come, 50.0, target_per_colour(12)));
        black_box(supply.run_out(&forecast, tier, ahead));
    }
}
