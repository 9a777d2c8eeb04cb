//! All that can happen to a book.

use chrono::{DateTime, NaiveDate, Utc};

use super::blocks::{BlockNumber, Plan};
use super::book::{Book, How};
use super::calendar::Hours;
use super::scale::{Scale, TierId, Yarn, YarnId};

/// What a blanket begins with.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Beginning {
    pub plan: Plan,
    pub scale: Scale,
    pub yarns: Vec<Yarn>,
    pub joining: YarnId,
    pub hours: Hours,
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Change {
    Began(Box<Beginning>),
    /// The question about `day` was put into the outbox.
    Asked {
        day: NaiveDate,
        at: DateTime<Utc>,
    },
    /// The day has this tier now; what it had before is history.
    Answered {
        day: NaiveDate,
        tier: TierId,
        how: How,
        at: DateTime<Utc>,
    },
    /// Rows were stitched on top of the worked run of a block, in these yarns.
    Worked {
        block: BlockNumber,
        yarns: Vec<YarnId>,
        at: DateTime<Utc>,
    },
    /// Rows were pulled back, so that rows 1 to `rows_left` of the block are worked.
    PulledBack {
        block: BlockNumber,
        rows_left: u16,
    },
}

/// Applies a change to a maker's book; the first change begins one.
pub fn apply(book: &mut Option<Book>, change: &Change) {
    match (book.as_mut(), change) {
        (Some(book), change) => book.apply(change),
        (None, Change::Began(beginning)) => *book = Some(Book::begin(beginning)),
        (
            None,
            Change::Asked { .. }
            | Change::Answered { .. }
            | Change::Worked { .. }
            | Change::PulledBack { .. },
        ) => {}
    }
}
