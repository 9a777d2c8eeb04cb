//! Everything the bot can say, as meanings. `wording` turns each into words.

use chrono::{NaiveDate, NaiveTime};

use crate::blanket::{BlockNumber, Handling, How, Label, RowNumber, Side};

#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Say {
    // The door.
    Private,
    LinkInvalid,
    Consent,
    Agreed,
    Declined,

    // Set-up.
    AskPlace,
    UnknownPlace { typed: String },
    UnknownPlaceNear { typed: String },
    WhichZone { country: String },
    ZoneRight { place: String, time: NaiveTime },
    AskClockThere,
    UnknownClock { typed: String },
    WhichPlaceAtThatTime,
    AskHour,
    UnknownHour { typed: String },
    AskFirstDay,
    UnknownFirstDay { typed: String },
    FirstDayOutOfReach { day: NaiveDate },
    Ready { first_day: NaiveDate, time: NaiveTime, begun: bool },
    PracticeQuestion { day: NaiveDate },
    PracticeKeptNothing { tier: Label },

    // An evening.
    Question { day: NaiveDate },
    QuestionToChange { day: NaiveDate, now: Label },
    Kept(Kept),
    UnknownTier { typed: String, day: NaiveDate, example: Label },
    UnknownDay { typed: String },
    NoSuchDay { typed: String },
    DayToCome { day: NaiveDate },
    DayOutside { day: NaiveDate, first: NaiveDate, last: NaiveDate },
    NotBegun { first_day: NaiveDate, time: NaiveTime },
    AllOver { last_day: NaiveDate },

    // Rows.
    Rows(Rows),
    UnknownRows { typed: String, rows_max: u16 },
    RowsWorked(Worked),
    RowsPulledBack { block: BlockSaid, rows_left: u16 },
    RowsMoved { block: BlockSaid, worked: u16 },
    BlanketDone,

    // Everywhere.
    Help,
    Cancelled,
    NothingToCancel,
    NotUnderstood { typed: String },
    TooLong,
    NotText,
    OldButton,
    SetUpFirst,
    SetUpWaits,
    AskErase,
    EraseNotConfirmed,
    Erased,
    Fault { code: String },
    OnlyPrivate,
}

/// A day and the tier it has now.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Kept {
    pub day: NaiveDate,
    pub tier: Label,
    pub how: How,
    pub row: RowNumber,
    pub side: Side,
    pub yarn: Label,
    /// The yarn the row was stitched in, where it was stitched in another.
    pub stitched_in: Option<Label>,
}

/// The next rows of a block.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Rows {
    pub block: BlockSaid,
    pub blocks: u16,
    pub rows: u16,
    pub worked: u16,
    pub lines: Vec<RowSaid>,
    pub stop: StopSaid,
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub struct RowSaid {
    pub number: RowNumber,
    pub side: Side,
    /// `None` for a filler row.
    pub day: Option<NaiveDate>,
    pub yarn: Label,
    pub handling: Handling,
    pub how: Option<How>,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum StopSaid {
    Enough,
    Open { row: RowNumber, day: NaiveDate },
    ToCome { row: RowNumber, day: NaiveDate },
    BlockDone,
}

/// A block by its number and the month it is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct BlockSaid {
    pub number: BlockNumber,
    /// Any day of the month.
    pub month: NaiveDate,
}

/// Rows just crossed off, and what comes next.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Worked {
    pub block: BlockSaid,
    pub from: RowNumber,
    pub to: RowNumber,
    pub next: Next,
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Next {
    Row { number: RowNumber, rows: u16 },
    Block(BlockSaid),
    Done,
}

/// What is written on a button.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Caption {
    Agree,
    Decline,
    Yes,
    OtherPlace,
    /// A name as it is: a place, a tier.
    Name(String),
    Hour(NaiveTime),
    Today(NaiveDate),
    Date(NaiveDate),
    AnswerTodayNow,
    PracticeQuestion,
    Change,
    LeaveAsItIs,
    Worked,
    Undo,
    NextRows,
    /// Answer the open day named.
    AnswerDay(NaiveDate),
}
