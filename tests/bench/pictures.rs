//! How long do pictures take? A year flat, as cloth and big, a block, a sheet as PDF. Prints
//! medians and the slowest of each; asserts nothing.
#![allow(clippy::print_stdout, clippy::unwrap_used, reason = "a measurement")]
#![allow(clippy::disallowed_methods, reason = "it measures time")]

use std::hint::black_box;
use std::time::Instant;

use chrono::{DateTime, NaiveDate};
use duskrow::blanket::{BlockNumber, Book, Change, Hours, How, Plan, RowNumber, TierId, workable};
use duskrow::chat::{beginning, day_turns_at_default};
use duskrow::pictures::{FirstRow, Look, Paper, Picture, draw, facts, pdf, png, sheet, svg};
use duskrow::wording::en;

const RUNS: usize = 51;

fn main() {
    let book = full_year();
    let today = book.plan().last_day();
    let year = facts::blanket(&book, today);
    let block = facts::block(&book, &book.plan().block(BlockNumber(5)).unwrap(), today);
    let flat = || draw(&Picture::Blanket(&year, Look::Flat), &en::LABELS);
    let cloth = || draw(&Picture::Blanket(&year, Look::Cloth), &en::LABELS);
    println!("| what | median ms | slowest ms | bytes |\n|---|---|---|---|");
    measure("year flat, PNG", || png(&flat(), 1).unwrap());
    measure("year cloth, PNG", || png(&cloth(), 1).unwrap());
    measure("year cloth, big PNG", || png(&cloth(), 2).unwrap());
    measure("year cloth, SVG", || svg(&cloth()).into_bytes());
    measure("block cloth, PNG", || {
        png(&draw(&Picture::Block(&block, Look::Cloth), &en::LABELS), 1).unwrap()
    });
    measure("sheet A4, PDF", || {
        pdf(&sheet(&block, Paper::A4, FirstRow::Bottom, &en::LABELS)).unwrap()
    });
}

fn measure(what: &str, run: impl Fn() -> Vec<u8>) {
    let bytes = run().len();
    let mut times: Vec<f64> = (0..RUNS)
        .map(|_| {
            let begun = Instant::now();
            black_box(run());
            begun.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    times.sort_by(f64::total_cmp);
    println!("| {what} | {:.1} | {:.1} | {bytes} |", times[RUNS / 2], times[RUNS - 1]);
}

/// Every day answered and every row worked.
fn full_year() -> Book {
    let first = NaiveDate::from_ymd_opt(2027, 1, 1).unwrap();
    let hours = Hours {
        zone: chrono_tz::UTC,
        ask_at: "21:00:00".parse().unwrap(),
        day_turns_at: day_turns_at_default(),
    };
    let begun = beginning(Plan::year_from(first), hours, &en::LEXICON).unwrap();
    let mut book = Book::begin(&begun);
    for (index, day) in (0_u32..).zip(first.iter_days().take(365)) {
        let tier = TierId(u8::try_from((index * index + index / 3) % 7).unwrap() + 1);
        book.apply(&Change::Answered { day, tier, how: How::Answered, at: DateTime::UNIX_EPOCH });
    }
    for block in book.plan().blocks().collect::<Vec<_>>() {
        let yarns = workable(&book, block.number, RowNumber(block.rows)).unwrap();
        let at = DateTime::UNIX_EPOCH;
        book.apply(&Change::Worked { block: block.number, yarns, at });
    }
    book
}
