//! What to say and do: from one maker, the time and one event to an [`Outcome`]. Pure.

pub mod blocks;
pub mod button;
pub mod colours;
pub mod commands;
mod differing;
pub mod door;
mod drawn;
pub mod enclosed;
mod evening;
pub mod event;
mod in_one_go;
mod later;
pub mod lexicon;
mod lines;
pub mod making;
pub mod many;
mod not_sure;
mod notes;
mod nudges;
pub mod offline;
pub mod outcome;
mod paper;
mod people;
pub mod place;
mod recap;
mod respond;
mod row_by_row;
mod rows_said;
pub mod rush;
pub mod say;
pub mod scale;
mod set_up_list;
mod settings;
mod setup;
mod sitting;
pub mod talk;
pub mod typed;
mod worked_up_to;
pub mod yarn;

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

impl Maker {
    /// Nothing happens to this maker.
    fn quiet(&self) -> outcome::Outcome {
        outcome::Outcome::quiet(&self.talk)
    }

    /// The talk goes on at another step.
    fn at(&self, step: talk::Step) -> outcome::Outcome {
        outcome::Outcome::quiet(&self.talk.at(step))
    }
}

/// When to wake for this maker next, and why. An instant in the past is due now. Where two things
/// are due at once, the question comes first.
pub fn agenda(maker: &Maker, now: DateTime<Utc>) -> Option<event::Wake> {
    let book = maker.book.as_ref().filter(|book| !book.reminders().paused)?;
    let due = [
        evening::next_question(book, now),
        nudges::next_nudge(book, now),
        recap::next_recap(book, now),
    ];
    due.into_iter().flatten().min_by_key(|(at, _)| *at)
}
