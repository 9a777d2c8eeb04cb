//! `/recap`: the last seven days and how the work stands.

use super::{Asked, set_up_first};
use crate::chat::outcome::Outcome;
use crate::chat::recap;

pub fn run(asked: &Asked<'_>) -> Outcome {
    let Some(book) = &asked.maker.book else { return set_up_first(asked) };
    let today = book.hours().day_at(asked.now);
    asked.maker.quiet().say(recap::whole(book, today))
}
