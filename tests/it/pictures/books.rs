//! Books to draw: empty, part worked, a leap year, and hard names.

use chrono::{DateTime, Datelike, NaiveDate};
use chrono_tz::UTC;
use duskrow::blanket::{
    Beginning, BlockNumber, Book, Carry, Change, Cut, Fabric, Hours, How, Label, Pieces, Plan,
    RowNumber, Scale, Tier, TierId, Yarn, workable,
};
use duskrow::chat::{beginning, day_turns_at_default};
use duskrow::wording::en;

pub fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

/// Maren's blanket of 2027, with no day answered.
pub fn empty() -> Book {
    Book::begin(&begin("2027-01-01", Pieces { rows: 32, ..Pieces::DEFAULT }))
}

/// Days answered up to 20 March but for the 7th, the first block worked and five rows of March.
pub fn part() -> Book {
    let mut book = empty();
    answer(&mut book, "2027-03-20", &["2027-03-07"]);
    work(&mut book, 1, 32);
    work(&mut book, 3, 5);
    book
}

/// Where [`part`] is looked at from.
pub fn part_today() -> NaiveDate {
    day("2027-03-22")
}

pub fn leap_year() -> Book {
    let mut book = Book::begin(&begin("2028-01-01", Pieces::DEFAULT));
    answer(&mut book, "2028-12-31", &[]);
    (1..=12).for_each(|block| work(&mut book, block, 33));
    book
}

/// Tiers and yarns of these names in turn.
pub fn named(names: &[&str]) -> Book {
    let mut begun = begin("2027-01-01", Pieces { rows: 32, ..Pieces::DEFAULT });
    let mut next = names.iter().cycle().map(|name| Label::parse(name).unwrap());
    let yarns: Vec<Yarn> = begun
        .yarns
        .iter()
        .map(|yarn| Yarn { name: next.next().unwrap(), ..yarn.clone() })
        .collect();
    let tiers: Vec<Tier> = begun
        .scale
        .tiers()
        .iter()
        .zip(names)
        .map(|(tier, name)| Tier { label: Label::parse(name).unwrap(), ..tier.clone() })
        .collect();
    let default = tiers[0].id;
    begun.scale = Scale::new(tiers, default).unwrap();
    begun.yarns = yarns;
    let mut book = Book::begin(&begun);
    answer(&mut book, "2027-02-10", &[]);
    work(&mut book, 1, 10);
    book
}

/// A year in pieces of a cut, in columns, every row of it worked.
pub fn worked(first: &str, cut: Cut, rows: u16, columns: Option<u16>) -> Book {
    let mut begun = begin(first, Pieces { cut, rows, ..Pieces::DEFAULT });
    begun.fabric.columns = columns;
    let mut book = Book::begin(&begun);
    let last = book.plan().last_day().to_string();
    answer(&mut book, &last, &[]);
    for block in book.plan().blocks().collect::<Vec<_>>() {
        work(&mut book, block.number.0, block.rows);
    }
    book
}

pub fn begin(first: &str, pieces: Pieces) -> Beginning {
    let hours = Hours {
        zone: UTC,
        ask_at: "21:00:00".parse().unwrap(),
        day_turns_at: day_turns_at_default(),
    };
    let plan = Plan::year_from(day(first)).in_pieces(pieces).unwrap();
    let begun = beginning(plan, hours, &en::LEXICON).unwrap();
    Beginning { fabric: Fabric { carry: Carry::Five, ..Fabric::DEFAULT }, ..begun }
}

/// Every day up to `last` but `open` ones, in a fixed walk over the tiers.
pub fn answer(book: &mut Book, last: &str, open: &[&str]) {
    let tiers: Vec<TierId> = book.scale().tiers().iter().map(|tier| tier.id).collect();
    let first = book.plan().first_day();
    for date in first.iter_days().take_while(|date| *date <= day(last)) {
        if open.contains(&date.to_string().as_str()) {
            continue;
        }
        let at = date.ordinal0() as usize;
        let tier = tiers[(at * at + at / 3) % tiers.len()];
        let at = DateTime::UNIX_EPOCH;
        book.apply(&Change::Answered { day: date, tier, how: How::Answered, at });
    }
}

pub fn work(book: &mut Book, block: u16, rows: u16) {
    let block = BlockNumber(block);
    let yarns = workable(book, block, RowNumber(rows)).unwrap();
    book.apply(&Change::Worked { block, yarns, at: DateTime::UNIX_EPOCH });
}
