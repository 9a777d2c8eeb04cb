//! Everything the bot can say, as meanings. `wording` turns each into words.

use chrono::{NaiveDate, NaiveDateTime, NaiveTime, Weekday};

use super::blankets::{BlanketsSaid, Years};
use super::blocks::{BlockDone, BlockInBrief, BlockList};
use super::bring_back::{BringBackSaid, ShownBy};
use super::button::{Position, SetUpStep};
use super::colours::{ColoursRefusal, ColoursSaid};
use super::enclosed::Enclosed;
use super::making::{MakingRefusal, MakingSaid};
use super::many::ManyFault;
use super::place::{AskStripe, PlaceSaid, WhichPlace};
use super::scale::{ScaleRefusal, ScaleSaid};
use super::yarn::{YarnRefusal, YarnSaid};

use crate::blanket::yarn::Units;
use crate::blanket::{
    BlockNumber, Book, Cut, Handling, How, Label, OnPaper, OwnQuestion, RowNumber, Side,
};

pub use super::rows_said::{BringSaid, EndingSaid, MinutesSaid, RowToWork, RowWaiting, Stopped};

#[derive(Clone, PartialEq, Debug)]
pub enum Say {
    // The door.
    Private,
    LinkInvalid,
    // What the owner hands on: a link, or a line to be sent to the bot.
    Invitation { line: String },
    // To a maker who opens an invitation.
    AlreadyIn,
    // To the account a book was moved to, and to the one it was moved from.
    MovedHere,
    MovedAway,
    // `local`: what the host adds to the caution.
    Consent { local: Option<String> },
    Agreed { local: Option<String> },
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
    // A bare number that can be either.
    WhichHour { hours: [NaiveTime; 2] },
    UnknownHour { typed: String },
    AskFirstDay,
    UnknownFirstDay { typed: String },
    FirstDayOutOfReach { day: NaiveDate },
    Ready { first_day: NaiveDate, time: NaiveTime, begins: Begins },
    // `asks`: the maker's own question, where they have one.
    PracticeQuestion { day: NaiveDate, asks: Option<OwnQuestion> },
    PracticeKeptNothing { tier: Label },

    // An evening.
    Question { day: NaiveDate, asks: Option<OwnQuestion> },
    // The question, with the maker's own line about each tier.
    Meanings(MeaningsSaid),
    QuestionToChange { day: NaiveDate, asks: Option<OwnQuestion>, now: Label, how: How },
    Kept(Kept),
    UnknownTier { typed: String, day: NaiveDate, example: Label },
    UnknownDay { typed: String },
    NoSuchDay { typed: String },
    DayToCome { day: NaiveDate },
    DayOutside { day: NaiveDate, first: NaiveDate, last: NaiveDate },
    NotBegun { first_day: NaiveDate, time: NaiveTime },
    AllOver { last_day: NaiveDate },
    Blankets(BlanketsSaid),
    BringBack(BringBackSaid),

    // Rows.
    Rows(Rows),
    UnknownRows { typed: String, rows_max: u16 },
    RowsWorked(Worked),
    RowsPulledBack { block: BlockSaid, rows_left: u16 },
    RowsMoved { block: BlockSaid, worked: u16 },
    BlanketDone,

    // A day that is hard to name, or to be left.
    Compare { day: NaiveDate, default: Label },
    DefaultMayFit { day: NaiveDate, tier: TierSaid },
    WhichOfThese { day: NaiveDate, tiers: Vec<TierSaid> },
    AskLater { day: NaiveDate },
    PutOff { day: NaiveDate, asks: Option<NaiveDateTime>, moved: bool, paused: bool },
    LeftOpen { day: NaiveDate },

    // Of itself.
    Nudge { day: NaiveDate, asks: Option<OwnQuestion> },
    RecapReady,
    Recap(RecapSaid),

    // Open days, and many days at once.
    NoOpenDays,
    OpenDays(OpenSaid),
    Many { days: Vec<(NaiveDate, Label)>, replaced: usize },
    ManyRefused { fault: ManyFault, example: Label },
    ManyKept { count: usize },
    ManyDropped,
    ManyUndone { days: Vec<NaiveDate> },
    ManyGone,
    AllAssumed { count: usize, tier: Label },
    WorkedUpTo { from: Position, to: Position },
    CrossedOffUpTo { to: Position, done: Option<BlockDone> },
    WorkedAlready { to: Position },
    TakenBackTo { from: Position },
    NoSuchRow { blocks: u16, rows: u16 },
    RowWaits { block: BlockNumber, day: NaiveDate, to_come: bool },

    // Notes.
    AskNote { day: NaiveDate },
    // `first`: the maker has no other note.
    Noted { day: NaiveDate, has_tier: bool, first: bool },
    NoteChanged { day: NaiveDate },
    NoteDeleted,
    EmptyNote,
    LongNote { max: usize },
    TooManyNotes { day: NaiveDate, max: usize },

    // Yarn. Weights and lengths are said in the maker's units.
    Yarn(Units, Box<YarnSaid>),
    YarnRefused(Units, YarnRefusal),

    // Settings.
    Settings(SettingsSaid),
    TierLines { tiers: Vec<TierSaid> },
    AskTierLine { tier: Label },
    EmptyTierLine,
    LongTierLine { max: usize },
    // The maker's own people and numbers, and at most so many.
    People { lines: Vec<String>, most: usize, done: Option<PeopleDone> },
    AskPerson,
    // The list of further steps of set-up, and whether each is set.
    SetUpList { steps: Vec<(SetUpStep, bool)> },
    SetUpLater,
    AskDayTurn,
    DayTurnTooLate { time: NaiveTime },
    AskNudges { at: NaiveTime },
    NudgesSet { at: Option<NaiveTime> },
    AskNudgeHour,
    AskRecap,
    UnknownWeekday { typed: String },
    NoSuchPlace { typed: String },
    Paper { on_paper: OnPaper, left_handed: bool },
    Paused,
    Resumed { time: NaiveTime },
    Privacy,
    File(Enclosed),
    UnknownLook { typed: String },
    BookHandedOut { on: NaiveDate, years: Years },
    BookBroughtBack { on: NaiveDate, years: Years, shown_by: ShownBy },

    // Everywhere.
    Help { owner: bool, local: Option<String>, people: Vec<String> },
    Cancelled,
    NothingToCancel,
    NotUnderstood { typed: String },
    TooLong { max: usize },
    NotText,
    OldButton,
    SetUpFirst,
    SetUpWaits,
    AskErase,
    EraseNotConfirmed { cancelled: bool },
    Erased,
    Fault { code: String },
    NotKeptYet,
    TooMuch { from: LeftOut, max: u32, seconds: u32 },
    TapNotKept { seconds: u32 },
    OnlyPrivate,

    // How the blanket is made.
    Making(MakingSaid),
    MakingRefused(MakingRefusal),
    // The colours of the yarns.
    Colours(ColoursSaid),
    ColoursRefused(ColoursRefusal),
    // The maker's own scale.
    Scale(Box<ScaleSaid>),
    ScaleRefused(ScaleRefusal),
    // Row by row, and rows that differ from their day.
    Row { row: Box<RowToWork>, stale: bool },
    RowWaitsHere { row: RowWaiting, stale: bool },
    Stopped(Stopped),
    RowLeft { row: RowNumber, stitched_in: Label, day: NaiveDate, tier: Label },
    RowsPulledOff { block: BlockSaid, from: RowNumber, to: RowNumber },
    // Where am I: the place in a block by its top stripes.
    AskStripe(AskStripe),
    NoStripes { block: BlockSaid, day: NaiveDate, to_come: bool },
    UnknownStripe { typed: String, names: Vec<Label> },
    StripesUnfit { block: BlockSaid, seen: Vec<Label> },
    WhichPlace(WhichPlace),
    TopRows { block: BlockSaid, yarn: Label, begins: RowNumber, ridges: bool },
    Place(PlaceSaid),

    // Whole blocks.
    Block(BlockList),
    Blocks { blocks: Vec<BlockInBrief> },
    BlockFinish(BlockDone),
    BlockUnfinished { block: BlockSaid, from: RowNumber, to: RowNumber },
    UnknownBlock { typed: String, blocks: u16, example: BlockSaid },
}

/// When the first day of a new blanket is, seen from today.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Begins {
    Earlier,
    Today,
    Later,
}

/// The first thing that was left out because too much came at once.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum LeftOut {
    Answer {
        day: NaiveDate,
    },
    Text {
        typed: String,
    },
    Tap,
    /// Anything else.
    Message,
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
#[derive(Clone, PartialEq, Debug)]
pub struct Rows {
    pub block: BlockSaid,
    pub blocks: u16,
    pub rows: u16,
    pub worked: u16,
    /// How many rows fit into the minutes that were named.
    pub minutes: Option<MinutesSaid>,
    pub bring: Vec<BringSaid>,
    /// Neighbouring rows in one colour are together.
    pub runs: Vec<Vec<RowSaid>>,
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

/// A block by its number and, where it is a calendar month, by that.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct BlockSaid {
    pub number: BlockNumber,
    /// Any day of the month.
    pub month: Option<NaiveDate>,
}

impl BlockSaid {
    pub fn of(book: &Book, number: BlockNumber) -> BlockSaid {
        let plan = book.plan();
        let month = plan.block(number).filter(|_| plan.pieces().cut == Cut::Months);
        BlockSaid { number, month: month.map(|block| block.first_day) }
    }
}

/// Rows just crossed off, and what comes next.
#[derive(Clone, PartialEq, Debug)]
pub struct Worked {
    pub block: BlockSaid,
    pub from: RowNumber,
    pub to: RowNumber,
    pub next: Next,
    /// The block, where its last row was among them.
    pub done: Option<BlockDone>,
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Next {
    Row { number: RowNumber, rows: u16 },
    Block(BlockSaid),
    Done,
}

/// A tier, and what days of it are like in the maker's words.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct TierSaid {
    pub tier: Label,
    pub line: Option<String>,
}

/// A question with the lines of the tiers, lowest first.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct MeaningsSaid {
    pub day: NaiveDate,
    pub asks: Option<OwnQuestion>,
    pub tiers: Vec<TierSaid>,
    /// What the day has now, where it has a tier.
    pub kept: Option<(Label, How)>,
    pub practice: bool,
}

/// What became of a line, or why there can be no other.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum PeopleDone {
    Kept { line: String },
    Removed { line: String },
    Full,
}

/// Seven days, and how the work stands.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct RecapSaid {
    pub first: NaiveDate,
    pub last: NaiveDate,
    pub days: Vec<RecapDay>,
    /// The current block, and its rows that can be worked now.
    pub ready: Option<(BlockSaid, usize)>,
    pub rows_worked: usize,
    /// Colours whose known rows need more than is on hand.
    pub yarn_short: Vec<Label>,
}

/// A day and its tier; `None` where it is open.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct RecapDay {
    pub day: NaiveDate,
    pub kept: Option<(Label, How)>,
}

/// The open days, and what is known around the oldest.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct OpenSaid {
    pub days: Vec<NaiveDate>,
    pub before: Option<Around>,
    pub after: Option<Around>,
    /// Notes within a few days of the oldest.
    pub notes: Vec<(NaiveDate, String)>,
}

/// A neighbour of an open day: its tier and how it was kept, or `None` where it is open too.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Around(pub Option<(Label, How)>);

#[derive(Clone, PartialEq, Eq, Debug)]
pub struct SettingsSaid {
    pub ask_at: NaiveTime,
    pub place: String,
    pub day_turns_at: NaiveTime,
    pub nudge_at: Option<NaiveTime>,
    /// Its day, its hour, and whether it comes whole.
    pub recap: Option<(Weekday, NaiveTime, bool)>,
    pub paused: bool,
}
