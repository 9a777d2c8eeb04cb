//! Every label of a button, by what it means.

use chrono::{NaiveDate, NaiveTime, Weekday};

use super::blankets::BlanketCaption;
use super::button::{Act, PaperTap, SetUpStep, Setting};
use super::colours::ColourCaption;
use super::say::BlockSaid;
use super::scale::ScaleCaption;
use super::yarn::YarnCaption;
use crate::blanket::{RowNumber, Terms};

/// What is written on a button.
#[derive(Clone, PartialEq, Debug)]
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
    NotSure,
    Meanings,
    Later,
    Skip,
    Note,
    ForNow,
    KeepForGood,
    Lower,
    MuchLower,
    AboutTheSame,
    Higher,
    MuchHigher,
    CannotTell,
    /// Keep this tier for the day.
    KeepTier(String),
    Back,
    Tomorrow,
    InThreeDays,
    IWillComeBack,
    AnswerNow,
    No,
    SetDayTo {
        day: NaiveDate,
        tier: String,
    },
    SetAllTo {
        count: usize,
        tier: String,
    },
    KeepDays(usize),
    DoNotKeep,
    CrossOff,
    DoNotCrossOff,
    DeleteNote,
    DeleteLine,
    Show,
    Yarn(YarnCaption),
    Setting(Setting),
    Paper(PaperTap),
    Place {
        city: String,
        time: NaiveTime,
    },
    Weekday(Weekday),
    RecapWhole,
    RecapShort,
    NoRecap,
    NoNudges,
    Resume,
    SetUpList,
    SetUpStep {
        step: SetUpStep,
        set: bool,
    },
    People,
    AddPerson,
    /// Remove the line with this number.
    RemoveNumber(usize),

    // How the blanket is made: what the button does, in the maker's terms.
    Making(Act, Terms),
    Colours(ColourCaption),
    Scale(ScaleCaption),
    Blankets(BlanketCaption),
    ReplaceWithFile,
    BringBack,
    // Row by row, and rows that differ from their day.
    RowByRow,
    StopHere,
    ToBlockEnd,
    LeaveRow(RowNumber),
    PullBack {
        to: RowNumber,
        rows: u16,
    },
    // Where am I.
    WhereAmI,
    StartOver,
    NoStripeBelow,
    LookIn(BlockSaid),
    RowCount(u16),
    Ridges(u16),
    AfterRows {
        from: RowNumber,
        to: RowNumber,
    },
    CrossOffRows {
        from: RowNumber,
        to: RowNumber,
    },
    TakeBackTo(RowNumber),

    // Whole blocks.
    ShowBlock(BlockSaid),
    PreviousBlock,
    NextBlock,
    AllBlocks,
    Picture,
    BlockSheet,
    TheYear,
    Woven,
    NotWoven,
    Joined,
    NotJoined,
}
