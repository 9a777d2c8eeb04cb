//! `/block`: the block in work as a list; `/block 3`, `/block June` or the block of a date;
//! `/block all` for a line about each.

use chrono::{Datelike, NaiveDate};

use super::{Asked, set_up_first};
use crate::blanket::{Block, BlockNumber, Book, Cut};
use crate::chat::blocks;
use crate::chat::lexicon::Lexicon;
use crate::chat::outcome::{Outcome, Place, Reply, Slot};
use crate::chat::place::in_work;
use crate::chat::say::{BlockSaid, Say};
use crate::chat::typed::{self, TypedDate};

pub fn run(asked: &Asked<'_>) -> Outcome {
    let Asked { maker, argument, now, lexicon } = asked;
    let Some(book) = &maker.book else { return set_up_first(asked) };
    let quiet = maker.quiet();
    let place = Place::New(Some(Slot::Block));
    let word = argument.to_lowercase();
    if lexicon.all.contains(&word.as_str()) {
        return quiet.say(blocks::all(book).at(place));
    }
    let block = match *argument {
        "" => in_work(book),
        argument => named(book, argument, book.hours().day_at(*now), lexicon),
    };
    match block {
        Some(block) => quiet.say(blocks::list(book, &block, *now).at(place)),
        None => quiet.say(Reply::new(unknown(book, argument))),
    }
}

/// The block of a number, a month or a date.
fn named(book: &Book, text: &str, today: NaiveDate, lexicon: &Lexicon) -> Option<Block> {
    let plan = book.plan();
    if let Some(number) = typed::number(text, 5) {
        return plan.block(BlockNumber(u16::try_from(number).ok()?));
    }
    if let Some((month, year)) = typed::month_alone(text, lexicon) {
        let months = plan.pieces().cut == Cut::Months;
        let is = |block: &Block| {
            let first = block.first_day;
            first.month() == month && year.is_none_or(|year| i64::from(first.year()) == year)
        };
        let found: Vec<Block> = plan.blocks().filter(|block| months && is(block)).collect();
        // Of two, the last one that has begun.
        let begun = found.iter().rfind(|block| block.first_day <= today);
        return begun.or(found.first()).copied();
    }
    match typed::date(text, today, Some(plan), lexicon) {
        TypedDate::Day(day) => plan.block_of(day),
        TypedDate::NoSuchDay | TypedDate::NotADate => None,
    }
}

fn unknown(book: &Book, typed: &str) -> Say {
    let blocks = book.plan().block_count();
    let example = BlockSaid::of(book, BlockNumber(blocks.min(3)));
    Say::UnknownBlock { typed: typed.to_owned(), blocks, example }
}
