//! `/blankets`: the maker's blankets over the years, which one is worked on, and the next one.

use super::{Asked, set_up_first};
use crate::chat::blankets;
use crate::chat::outcome::Outcome;
use crate::chat::talk::Step;

pub fn run(asked: &Asked<'_>) -> Outcome {
    let Some(book) = &asked.maker.book else { return set_up_first(asked) };
    asked.maker.at(Step::Idle).say(blankets::list(asked.maker, book, asked.now))
}
