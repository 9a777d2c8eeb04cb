//! What is true: the calendar, the scale, the colours, the rows, and the one value [`Book`] that
//! holds everything about one blanket of one maker.
//!
//! Pure: no clock, no I/O, no randomness, and no sentence anybody reads.

mod block_list;
mod blocks;
mod book;
pub mod calendar;
mod card;
mod change;
pub mod colours;
mod cut;
mod ends;
mod fabric;
pub mod forecast;
mod label;
pub mod letters;
mod next;
mod note;
mod one_line;
mod pace;
mod paper;
mod people;
pub mod places;
mod question;
mod recap;
mod reminders;
mod rescale;
mod rows;
mod scale;
pub mod size;
pub mod stitch;
pub mod stock;
pub mod stripes;
mod tail;
mod tier_line;
mod worklist;
pub mod yarn;
pub mod yarn_weight;

pub use block_list::{BlockLine, block_lines};
pub use blocks::{Block, BlockNumber, Faces, Fillers, Pieces, Plan, PlanFault};
pub use blocks::{Row, RowContent, RowNumber, Side};
pub use book::{Answer, Book, DayState, How, WorkedRow};
pub use calendar::Hours;
pub use card::{Card, Ending, RowCard, card};
pub use change::{Beginning, Change, Earlier, Finish, apply};
pub use cut::Cut;
pub use ends::{Ends, ends, saved_by_carrying};
pub use fabric::{Carry, Fabric, FabricFault, Terms};
pub use label::{LABEL_CHARS_MAX, Label, LabelFault};
pub use next::{NextFault, begin_next, is_to_come, may_follow, moved_plan, next_plan};
pub use note::{NOTE_CHARS_MAX, NOTES_PER_DAY_MAX, Note, NoteFault, NoteId, NoteText};
pub use one_line::LineFault;
pub use pace::{Pace, pace};
pub use paper::{FirstRow, OnPaper, Paper};
pub use people::{PEOPLE_MAX, PERSON_CHARS_MAX, PersonId, PersonLine};
pub use question::{OwnQuestion, QUESTION_CHARS_MAX, QuestionFault};
pub use recap::{Week, week};
pub use reminders::{Nudges, Reminders};
pub use rescale::{YARNS_MAX, fresh_yarn_id};
pub use rows::{Handling, RowColour, RowLine};
pub use scale::{Scale, ScaleFault, TIERS_MAX, TIERS_MIN, Tier, TierId, Yarn, YarnId};
pub use tail::{Edge, StartTail};
pub use tier_line::{TIER_LINE_CHARS_MAX, TierLine};
pub use worklist::{Bring, Sitting, Standing, Stop, YarnEnds, bring, last_worked, runs};
pub use worklist::{sitting, workable};
pub use yarn::{KnownBy, PerRow, YarnSettings, YarnStatus, yarn_status};
