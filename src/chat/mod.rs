//! What to say and do: from one maker, the time and one event to an [`Outcome`]. Pure.

pub mod button;
pub mod event;
pub mod outcome;
pub mod say;
pub mod talk;

use crate::blanket::Book;

/// What the core needs to know of one maker.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Maker {
    /// The owner may invite others.
    pub owner: bool,
    pub book: Option<Book>,
    pub talk: talk::Talk,
}
