//! `/help`: what can be typed, and the cautions; the same for every maker, and
//! one line more for the owner.

use super::Asked;
use crate::chat::outcome::{Outcome, Reply};
use crate::chat::people;
use crate::chat::say::Say;

pub fn run(asked: &Asked<'_>) -> Outcome {
    let local = asked.lexicon.local_line.clone();
    let people = asked.maker.book.as_ref().map(people::lines).unwrap_or_default();
    let owner = asked.maker.owner;
    Outcome::quiet(&asked.maker.talk).say(Reply::new(Say::Help { owner, local, people }))
}
