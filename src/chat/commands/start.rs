//! `/start`: set-up where it stands, or what the bot can do.

use super::{Asked, help};
use crate::chat::outcome::Outcome;
use crate::chat::setup;

pub fn run(asked: &Asked<'_>) -> Outcome {
    match asked.maker.book {
        Some(_) => help::run(asked),
        None => setup::again(asked.maker, asked.now),
    }
}
