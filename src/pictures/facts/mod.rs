//! What pictures need to know of a book, as plain data. `read` makes it from the book; everything
//! that draws takes it from here.

mod imagined;
mod inks;
mod read;

pub use self::imagined::Imagined;
pub use self::inks::{Ink, Inks, Key};
pub use self::read::{bars, blanket, block, imagined, months, week};

use chrono::NaiveDate;

use crate::blanket::{Block, Cut, FirstRow, Handling, Side};

/// The rows of one colour.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Bar {
    pub ink: Ink,
    pub rows_worked: u32,
    /// Rows of answered days and filler rows that are not worked.
    pub rows_waiting: u32,
    /// Rows that the yarn on hand makes, where that is known.
    pub rows_on_hand: Option<u32>,
}

/// The days of one month.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct MonthCounts {
    pub first_day: NaiveDate,
    /// Days of each tier, as an index into the key and a count, lowest tier first.
    pub tiers: Vec<(usize, u32)>,
    /// Days that have begun and have no answer.
    pub without: u32,
}

/// How a row is drawn. Worked rows are an unbroken run from row 1.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum State {
    /// Stitched, in the ink of this index.
    Worked(usize),
    /// Its colour is known, but it is not stitched: a logged day, or a filler row of a block that
    /// has begun.
    Waiting(usize),
    Open,
    ToCome,
}

/// A whole blanket.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Blanket {
    pub inks: Inks,
    pub blocks: Vec<Piece>,
    /// Blocks side by side, where the maker said so.
    pub columns: Option<u16>,
    /// Width of a block in thousandths of its height, where the swatch tells.
    pub width_per_mille: Option<u32>,
    /// Counts for the line under the title.
    pub tally: Tally,
}

/// A block of the blanket.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Piece {
    pub block: Block,
    pub cut: Cut,
    /// From row 1.
    pub rows: Vec<State>,
}

/// Rows of days by how they stand.
#[derive(Clone, Copy, PartialEq, Eq, Default, Debug)]
pub struct Tally {
    /// With filler rows.
    pub worked: u32,
    /// Days with an answer whose rows are not stitched.
    pub waiting: u32,
    pub open: u32,
}

/// One block, row by row.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct BlockRows {
    pub inks: Inks,
    pub block: Block,
    pub cut: Cut,
    pub blocks: u16,
    /// Where row 1 is drawn.
    pub first_row: FirstRow,
    /// From row 1.
    pub rows: Vec<RowFacts>,
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub struct RowFacts {
    pub number: u16,
    pub side: Side,
    /// Which way its stitches run, as seen from the right side; `None` for a ridge, which runs
    /// both ways.
    pub runs: Option<Runs>,
    /// `None` for a filler row.
    pub day: Option<NaiveDate>,
    /// The label of its day's tier.
    pub tier: Option<String>,
    pub state: State,
    /// `None` above an open row, where nobody can say.
    pub handling: Option<Handling>,
    /// The ink its day calls for now, where it was stitched in another.
    pub now_in: Option<usize>,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Runs {
    ToLeft,
    ToRight,
}

impl State {
    pub fn ink(self) -> Option<usize> {
        match self {
            State::Worked(ink) | State::Waiting(ink) => Some(ink),
            State::Open | State::ToCome => None,
        }
    }
}

impl Runs {
    /// A right-handed maker works from right to left and turns: seen from the right side, a row
    /// worked on it runs to the left, and one worked on the wrong side to the right. Left-handed
    /// it is the other way.
    pub fn of(side: Side, left_handed: bool) -> Runs {
        match (side, left_handed) {
            (Side::Right, false) | (Side::Wrong, true) => Runs::ToLeft,
            (Side::Wrong, false) | (Side::Right, true) => Runs::ToRight,
        }
    }
}
