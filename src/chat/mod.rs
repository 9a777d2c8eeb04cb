//! What to say and do: from one maker, the time and one event to an [`Outcome`]. Pure.

pub mod blankets;
pub mod blocks;
pub mod bring_back;
pub mod button;
pub mod caption;
pub mod colours;
pub mod commands;
mod differing;
pub mod door;
mod drawn;
pub mod enclosed;
mod evening;
pub mod event;
mod focus;
mod in_one_go;
mod later;
pub mod lexicon;
mod lines;
pub mod making;
pub mod many;
mod meanings;
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
mod tapped;
pub mod typed;
mod worked_up_to;
pub mod yarn;

use chrono::{DateTime, Utc};

use crate::blanket::{Book, Change};

pub use evening::day_turns_at_default;
pub use focus::respond;
pub use setup::beginning;

/// What the core needs to know of one maker.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Maker {
    /// The owner may invite others.
    pub owner: bool,
    /// The blanket that is logged now.
    pub book: Option<Book>,
    /// The other blankets, earliest first: those worked still, and perhaps the next one.
    pub others: Vec<Book>,
    pub talk: talk::Talk,
}

impl Maker {
    /// The only way a maker's books change.
    pub fn apply(&mut self, change: &Change) {
        match change {
            Change::Of { first_day, change } => {
                match self.others.iter_mut().find(|book| book.plan().first_day() == *first_day) {
                    Some(book) => book.apply(change),
                    None => {
                        let mut next = None;
                        crate::blanket::apply(&mut next, change);
                        self.others.extend(next);
                    }
                }
                self.others.sort_by_key(|book| book.plan().first_day());
            }
            Change::BlanketDeleted { first_day } => {
                self.others.retain(|book| book.plan().first_day() != *first_day);
            }
            Change::Logged { first_day } => {
                let index =
                    self.others.iter().position(|book| book.plan().first_day() == *first_day);
                if let Some(index) = index {
                    *self = self.about(index);
                }
            }
            change => crate::blanket::apply(&mut self.book, change),
        }
    }

    /// The same maker with another of their books in front.
    fn about(&self, index: usize) -> Maker {
        let mut maker = self.clone();
        let book = maker.others.remove(index);
        maker.others.extend(maker.book.replace(book));
        maker.others.sort_by_key(|book| book.plan().first_day());
        maker
    }

    /// The blanket that is worked on: the one chosen, else the one logged now.
    pub fn in_hand(&self) -> Option<&Book> {
        let first = self.talk.in_hand;
        let chosen = self.others.iter().find(|book| Some(book.plan().first_day()) == first);
        chosen.or(self.book.as_ref())
    }

    /// When this maker was asked last before `now`, about a day of whichever blanket.
    fn asked_last(&self, now: DateTime<Utc>) -> Option<DateTime<Utc>> {
        let asked = |book: &Book| book.asked().map(|(_, at)| at).filter(|at| *at <= now);
        self.book.iter().chain(&self.others).filter_map(asked).max()
    }

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
        evening::next_question(maker, book, now),
        nudges::next_nudge(book, now),
        recap::next_recap(book, now),
    ];
    // The first question of the blanket that comes next is what turns to it.
    let later = |other: &&Book| other.plan().first_day() > book.plan().first_day();
    let next = maker.others.iter().filter(later);
    let first = next.filter_map(|next| evening::next_question(maker, next, now));
    due.into_iter().flatten().chain(first).min_by_key(|(at, _)| *at)
}
