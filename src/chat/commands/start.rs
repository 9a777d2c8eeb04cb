//! `/start`: set-up where it stands, or what the bot can do. An invitation is for somebody else.

use super::{Asked, help};
use crate::chat::button::Invitation;
use crate::chat::outcome::{Outcome, Reply};
use crate::chat::say::Say;
use crate::chat::setup;

pub fn run(asked: &Asked<'_>) -> Outcome {
    let invited = Invitation::parse(asked.argument).is_some();
    match asked.maker.book {
        Some(_) if invited => asked.maker.quiet().say(Reply::new(Say::AlreadyIn)),
        Some(_) => help::run(asked),
        None => setup::again(asked.maker, asked.now),
    }
}
