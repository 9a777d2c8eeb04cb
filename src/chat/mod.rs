//! What to say and do: from one maker, the time and one event to an [`Outcome`]. Pure.

pub mod button;
pub mod commands;
pub mod door;
mod evening;
pub mod event;
pub mod lexicon;
pub mod outcome;
mod respond;
pub mod say;
mod setup;
pub mod talk;
pub mod typed;

use chrono::{DateTime, Utc};

use crate::blanket::Book;

pub use evening::day_turns_at_default;
pub use respond::respond;
pub use setup::beginning;

/// What the core needs to know of one maker.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Maker {
    /// The owner may invite others.
    pub owner: bool,
    pub book: Option<Book>,
    pub talk: talk::Talk,
}

/// When to wake for this maker next, and why. An instant in the past is due now.
pub fn agenda(maker: &Maker, now: DateTime<Utc>) -> Option<event::Wake> {
    evening::next_question(maker.book.as_ref()?, now)
}
