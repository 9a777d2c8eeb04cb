//! What is said of a sitting and of one row at a time, as meanings.

use chrono::NaiveDate;

use super::say::{BlockSaid, Next, RowSaid};
use crate::blanket::stitch::Craft;
use crate::blanket::yarn::Units;
use crate::blanket::{Fabric, Handling, Label, Pace, PerRow, RowNumber, YarnEnds};

/// What a sitting of so many minutes is, at a maker's pace.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct MinutesSaid {
    pub minutes: u16,
    pub rows: u16,
    pub pace: Pace,
}

/// One colour of a sitting.
#[derive(Clone, PartialEq, Debug)]
pub struct BringSaid {
    pub yarn: Label,
    pub rows: u16,
    pub per_row: Option<PerRow>,
    pub units: Units,
    pub ends: Option<YarnEnds>,
}

/// A row as it is worked, with what to do before and after it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct RowToWork {
    pub block: BlockSaid,
    pub blocks: u16,
    pub row: RowSaid,
    /// The rows as the hands count them: two in a ridge.
    pub worked_rows: (u16, u16),
    pub fabric: Fabric,
    pub ending: EndingSaid,
}

/// What comes after a row.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum EndingSaid {
    BlockDone,
    Waits { row: RowNumber, day: NaiveDate, to_come: bool },
    Next { row: RowNumber, yarn: Label, handling: Handling, picked_up: Option<RowNumber> },
}

/// A row that waits for its day.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct RowWaiting {
    pub block: BlockSaid,
    pub blocks: u16,
    pub row: RowNumber,
    pub day: NaiveDate,
    pub to_come: bool,
    /// What holds the stitches meanwhile; nothing before row 1.
    pub held: Option<Craft>,
}

/// Where the maker stops.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Stopped {
    /// The block of the last worked row, and its worked rows.
    pub block: BlockSaid,
    pub worked: u16,
    pub next: Next,
    pub held: Option<Craft>,
}
