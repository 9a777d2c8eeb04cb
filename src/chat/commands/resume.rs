//! `/resume`: the evening question comes as before.

use super::{Asked, set_up_first};
use crate::chat::outcome::Outcome;
use crate::chat::settings;

pub fn run(asked: &Asked<'_>) -> Outcome {
    let Some(book) = &asked.maker.book else { return set_up_first(asked) };
    settings::resume(asked.maker, book, asked.now, None)
}
