//! `/export`: the maker's own days and rows as files.

use super::{Asked, set_up_first};
use crate::chat::enclosed::Enclosed;
use crate::chat::outcome::{Outcome, Reply};
use crate::chat::say::Say;

pub fn run(asked: &Asked<'_>) -> Outcome {
    if asked.maker.book.is_none() {
        return set_up_first(asked);
    }
    let files = [Enclosed::DayTable, Enclosed::RowTable];
    files.into_iter().fold(asked.maker.quiet(), |outcome, enclosed| {
        outcome.say(Reply::new(Say::File(enclosed)).with(enclosed))
    })
}
