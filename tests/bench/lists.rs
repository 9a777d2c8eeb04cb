//! How long do lists take? A whole year answered, the longest list of each kind of blanket, and the
//! plan of a year. Prints medians and the slowest of each; asserts nothing.
#![allow(clippy::print_stdout, clippy::unwrap_used, reason = "a measurement")]
#![allow(clippy::disallowed_methods, reason = "it measures time")]

use std::hint::black_box;
use std::time::Instant;

use chrono::{DateTime, NaiveDate};
use duskrow::blanket::{
    Block, Book, Carry, Change, Cut, Fabric, Hours, How, Pieces, Plan, RowLine, RowNumber, TierId,
    ends, saved_by_carrying, sitting,
};
use duskrow::chat::{beginning, day_turns_at_default};
use duskrow::wording::en;

const RUNS: usize = 201;

fn main() {
    let cuts = [
        ("months of 33", Cut::Months, 33),
        ("months from the 31st", Cut::FromStart, 33),
        ("every 7 days", Cut::Every(7), 8),
        ("one strip", Cut::Strip, 1),
    ];
    println!("| blanket | what | median ms | slowest ms |\n|---|---|---|---|");
    for (name, cut, rows) in cuts {
        let book = full_year(cut, rows);
        let plan = book.plan();
        let longest = plan.blocks().max_by_key(|block| block.rows).unwrap();
        let today = plan.last_day();
        measure(name, "one block as a list", || list(&book, &longest));
        measure(name, "its ends, with and without carrying", || {
            (ends(&book, &longest), saved_by_carrying(&book, &longest))
        });
        measure(name, "the next sitting, to the end of a block", || {
            sitting(&book, today, plan.rows_max())
        });
        measure(name, "every row of the year", || {
            plan.blocks().map(|block| list(&book, &block).len()).sum::<usize>()
        });
    }
}

fn list(book: &Book, block: &Block) -> Vec<RowLine> {
    (1..=block.rows).filter_map(|row| RowLine::of(book, block, RowNumber(row))).collect()
}

fn measure<T>(blanket: &str, what: &str, run: impl Fn() -> T) {
    let mut times: Vec<f64> = (0..RUNS)
        .map(|_| {
            let begun = Instant::now();
            black_box(run());
            begun.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    times.sort_by(f64::total_cmp);
    println!("| {blanket} | {what} | {:.3} | {:.3} |", times[RUNS / 2], times[RUNS - 1]);
}

/// Every day answered, in colours that change often and come back within reach of a carry.
fn full_year(cut: Cut, rows: u16) -> Book {
    let first = NaiveDate::from_ymd_opt(2027, 1, 31).unwrap();
    let fabric = Fabric { carry: Carry::Five, ..Fabric::DEFAULT };
    let plan = Plan::year_from(first);
    let pieces = Pieces { cut, rows, ..Pieces::DEFAULT };
    let hours = Hours {
        zone: chrono_tz::UTC,
        ask_at: "21:00:00".parse().unwrap(),
        day_turns_at: day_turns_at_default(),
    };
    let mut begun = beginning(plan.in_pieces(pieces).unwrap(), hours, &en::LEXICON).unwrap();
    begun.fabric = fabric;
    let mut book = Book::begin(&begun);
    for (index, day) in
        (0_u32..).zip(first.iter_days().take_while(|day| book.plan().has(*day)).collect::<Vec<_>>())
    {
        // A fixed walk over the seven tiers.
        let tier = TierId(u8::try_from((index * index + index / 3) % 7).unwrap() + 1);
        book.apply(&Change::Answered { day, tier, how: How::Answered, at: DateTime::UNIX_EPOCH });
    }
    book
}
