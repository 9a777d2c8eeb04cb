//! `/settings`: what can be changed, and how it is now.

use super::{Asked, set_up_first};
use crate::chat::outcome::Outcome;
use crate::chat::settings;
use crate::chat::talk::Step;

pub fn run(asked: &Asked<'_>) -> Outcome {
    let Some(book) = &asked.maker.book else { return set_up_first(asked) };
    asked.maker.at(Step::Idle).say(settings::list(book))
}
