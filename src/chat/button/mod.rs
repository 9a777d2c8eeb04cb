//! What a button does, and the token that carries it through the platform.
//!
//! A token, which only `token` writes and reads, is at most 64 bytes, starts with its version, and
//! carries the day and ids that are never reused, so that a button from last year means what it
//! meant then. An unreadable token is a value, never a fault.

mod blankets;
mod block;
mod bring_back;
mod colours;
mod drawn;
mod making;
mod paper;
mod people;
mod row_by_row;
mod scale;
mod set_up;
mod token;
mod yarn;

use chrono::{NaiveDate, NaiveTime, Weekday};
use chrono_tz::Tz;

use super::enclosed::Drawn;
use crate::blanket::{BlockNumber, NoteId, RowNumber, TierId, YarnId};

pub use blankets::BlanketTap;
pub use block::BlockButton;
pub use bring_back::BringBackTap;
pub use colours::ColourTap;
pub use making::{Act, Choice, Screen, Shown};
pub use paper::PaperTap;
pub use people::PeopleTap;
pub use row_by_row::RowByRow;
pub use scale::ScaleTap;
pub use set_up::{SetUpStep, SetUpTap};
pub use yarn::{YarnButton, YarnChoice};

/// The platform takes 1 to 64 bytes.
pub const TOKEN_BYTES_MAX: usize = 64;

#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Button {
    /// I agree; carries the invitation, because nothing is kept before this tap.
    Agree {
        invitation: Invitation,
    },
    Decline,
    Zone {
        zone: Tz,
    },
    ZoneRight {
        zone: Tz,
    },
    OtherPlace,
    AskAt {
        zone: Tz,
        time: NaiveTime,
    },
    FirstDay {
        zone: Tz,
        time: NaiveTime,
        day: NaiveDate,
    },
    /// The tier of a day.
    Answer {
        day: NaiveDate,
        tier: TierId,
    },
    /// Show the question about this day, whatever it has now.
    Ask {
        day: NaiveDate,
    },
    /// Leave the day as it is and show what is kept.
    Leave {
        day: NaiveDate,
    },
    Practice,
    PracticeAnswer {
        tier: TierId,
    },
    /// Rows `from` to `to` of the block are stitched, in the colours that were listed.
    Worked {
        block: BlockNumber,
        from: RowNumber,
        to: RowNumber,
        colours: ColourSum,
    },
    /// Take a crossing off back: rows 1 to `left` were worked before it, 1 to `was` after it.
    Undo {
        block: BlockNumber,
        left: u16,
        was: u16,
    },
    Rows,

    // A day that is hard to name, or to be left.
    NotSure {
        day: NaiveDate,
    },
    /// The question with the maker's own line about each tier.
    Meanings {
        day: NaiveDate,
        asked_in: AskedIn,
    },
    PracticeMeanings,
    /// The day lies in this part of the scale.
    Compare {
        day: NaiveDate,
        part: Part,
    },
    Later {
        day: NaiveDate,
    },
    PutOff {
        day: NaiveDate,
        until: Option<NaiveDate>,
    },
    Skip {
        day: NaiveDate,
    },
    /// The answer is kept for now, or for good again.
    ForNow {
        day: NaiveDate,
        on: bool,
    },
    /// Set the day to the default tier.
    Assume {
        day: NaiveDate,
    },
    /// Set the open days from `first` to `last` to the default tier, if they are `count` still.
    AssumeAll {
        first: NaiveDate,
        last: NaiveDate,
        count: u16,
    },
    /// Keep the many days that were shown, drop them, or take them back.
    KeepMany {
        id: i64,
    },
    DropMany {
        id: i64,
    },
    UndoMany {
        id: i64,
    },
    WriteNote {
        day: NaiveDate,
    },
    DeleteNote {
        note: NoteId,
    },

    // The week.
    Recap {
        on: NaiveDate,
    },

    // Settings.
    Settings,
    /// Write the line about days of a tier, or delete it.
    Describe {
        tier: TierId,
    },
    DeleteLine {
        tier: TierId,
    },
    Change {
        setting: Setting,
    },
    SetAskAt {
        time: NaiveTime,
    },
    SetDayTurn {
        time: NaiveTime,
    },
    SetZone {
        zone: Tz,
    },
    SetNudges {
        at: Option<NaiveTime>,
    },
    /// The answer to the question, asked once, whether nudges are wanted.
    Nudges {
        at: Option<NaiveTime>,
    },
    /// Recap day, from Monday as 0; `None` for no recap.
    SetRecap {
        on: Option<Weekday>,
        whole: bool,
    },
    Resume,

    // "Already worked up to …", shown back.
    WorkedUpTo {
        from: Position,
        to: Position,
    },
    UndoUpTo {
        from: Position,
        to: Position,
    },

    // How the blanket is made.
    Making {
        act: Act,
    },

    /// The colours of the yarns: whether they can be told apart, and what to change.
    Colours(ColourTap),
    /// The maker's own scale.
    Scale(ScaleTap),
    /// The maker's own people and numbers.
    People(PeopleTap),
    /// The list of further steps of set-up.
    SetUp(SetUpTap),

    // The list of rows, row by row, and rows that differ from their day.
    /// The list up to the end of the block.
    RowsToEnd,
    RowByRow(RowByRow),
    /// The row of the day stays as it was stitched.
    LeaveRow {
        day: NaiveDate,
    },
    /// Rows are pulled back: 1 to `left` were worked before them, 1 to `was` with them.
    PullBack {
        block: BlockNumber,
        left: u16,
        was: u16,
    },
    /// Of a block: the place in it, its list, and what is done with it.
    OfBlock(BlockButton),
    OfYarn(YarnButton),
    /// The blankets over the years.
    OfBlankets(BlanketTap),
    /// A file that was sent.
    BringBack(BringBackTap),
    /// A block on paper.
    Paper(PaperTap),
    /// A picture of what the message says in words.
    Draw(Drawn),
}

/// A row of a block: the last one worked.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Position {
    pub block: BlockNumber,
    pub row: RowNumber,
}

/// A part of the scale: which of the groups it is cut into, lowest first, or none of them.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Part {
    Group(u8),
    CannotTell,
}

/// Where a day is asked about: which buttons are below its tiers.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum AskedIn {
    Question,
    Nudge,
    Open,
}

impl AskedIn {
    pub const ALL: [AskedIn; 3] = [AskedIn::Question, AskedIn::Nudge, AskedIn::Open];
}

/// A setting that can be changed in the chat.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Setting {
    AskAt,
    Place,
    DayTurn,
    Nudges,
    Recap,
    TierLines,
}

impl Setting {
    pub const ALL: [Setting; 6] = [
        Setting::AskAt,
        Setting::Place,
        Setting::DayTurn,
        Setting::Nudges,
        Setting::Recap,
        Setting::TierLines,
    ];
}

/// A check sum of the colours of a list of rows: another list has, almost always, another sum.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct ColourSum(pub u16);

/// The code of an invitation link: 1 to 48 characters of `A-Z a-z 0-9 _ -`.
#[derive(Clone, PartialEq, Eq)]
pub struct Invitation(String);

/// A token no version of the bot wrote, or of a version it no longer reads.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct UnreadableToken;

impl Invitation {
    const CHARS_MAX: usize = 48;

    pub fn parse(text: &str) -> Option<Invitation> {
        let plain = |c: char| c.is_ascii_alphanumeric() || c == '_' || c == '-';
        let fits = (1..=Invitation::CHARS_MAX).contains(&text.len()) && text.chars().all(plain);
        fits.then(|| Invitation(text.to_owned()))
    }

    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl ColourSum {
    /// Buttons in old messages carry it: the arithmetic stays as it is.
    pub fn of(yarns: &[YarnId]) -> ColourSum {
        let add = |sum: u16, yarn: &YarnId| sum.wrapping_mul(40_503).wrapping_add(yarn.0.into());
        ColourSum(yarns.iter().fold(1, add))
    }
}

impl std::fmt::Debug for Invitation {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Invitation(hidden)")
    }
}
