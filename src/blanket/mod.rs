//! What is true: the calendar, the scale, the colours, the rows, and the one value [`Book`] that
//! holds everything about one blanket of one maker.
//!
//! Pure: no clock, no I/O, no randomness, and no sentence anybody reads.

mod blocks;
mod book;
pub mod calendar;
mod change;
mod label;
mod note;
pub mod places;
mod recap;
mod reminders;
mod rows;
mod scale;
pub mod stock;
mod tier_line;
mod worklist;
mod yarn_status;

pub use blocks::{Block, BlockNumber, Plan, PlanFault, Row, RowContent, RowNumber, Side};
pub use book::{Answer, Book, DayState, How, WorkedRow};
pub use calendar::Hours;
pub use change::{Beginning, Change, apply};
pub use label::{LABEL_CHARS_MAX, Label, LabelFault};
pub use note::{NOTE_CHARS_MAX, NOTES_PER_DAY_MAX, Note, NoteFault, NoteId, NoteText};
pub use recap::{Week, week};
pub use reminders::{Nudges, Reminders};
pub use rows::{Handling, RowColour, RowLine};
pub use scale::{Scale, ScaleFault, TIERS_MAX, TIERS_MIN, Tier, TierId, Yarn, YarnId};
pub use tier_line::{TIER_LINE_CHARS_MAX, TierLine, TierLineFault};
pub use worklist::{Sitting, Standing, Stop, sitting, workable};
pub use yarn_status::{PerRow, YarnStatus, yarn_status};
