//! `/stitch`: how the blanket is made, and what can be changed about it.

use super::{Asked, set_up_first};
use crate::chat::button::Screen;
use crate::chat::making;
use crate::chat::outcome::Outcome;

pub fn run(asked: &Asked<'_>) -> Outcome {
    let Some(book) = &asked.maker.book else { return set_up_first(asked) };
    making::open(asked.maker, book, Screen::Home, None)
}
