//! `/privacy`: what is kept, who can read it, and how it is erased.

use super::Asked;
use crate::chat::outcome::{Outcome, Reply};
use crate::chat::say::Say;

pub fn run(asked: &Asked<'_>) -> Outcome {
    asked.maker.quiet().say(Reply::new(Say::Privacy))
}
