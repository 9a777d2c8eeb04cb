//! All that can happen to a book.

use chrono::{DateTime, NaiveDate, Utc};

use super::blocks::{BlockNumber, Pieces, Plan};
use super::book::{Book, How};
use super::calendar::Hours;
use super::fabric::Fabric;
use super::note::{Note, NoteId};
use super::paper::OnPaper;
use super::people::{PersonId, PersonLine};
use super::question::OwnQuestion;
use super::reminders::Reminders;
use super::scale::{Scale, TierId, Yarn, YarnId};
use super::stock::Entry;
use super::tier_line::TierLine;
use super::yarn::YarnSettings;

/// What a blanket begins with.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Beginning {
    pub plan: Plan,
    pub fabric: Fabric,
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
    /// What a day had before: history alone, of which the book knows nothing.
    Earlier(Earlier),
    /// The day is open, as it was before an answer that was taken back.
    Reopened {
        day: NaiveDate,
    },
    /// No message about the open day comes before `until`; none at all where that is `None`.
    PutOff {
        day: NaiveDate,
        until: Option<NaiveDate>,
    },
    /// A note was added to a day, or has other words now.
    Noted {
        day: NaiveDate,
        note: Note,
    },
    NoteDeleted {
        note: NoteId,
    },
    /// One of the maker's own people and numbers is kept, in the order of the ids.
    PersonKept {
        id: PersonId,
        line: PersonLine,
    },
    PersonRemoved {
        id: PersonId,
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
    /// Balls came, or a colour was weighed or corrected.
    Stocked {
        yarn: YarnId,
        entry: Entry,
    },
    /// The newest entry of a colour is taken back.
    Unstocked {
        yarn: YarnId,
    },
    /// What days of a tier are like, in the maker's words from now on; `None` for no words.
    Described {
        tier: TierId,
        line: Option<TierLine>,
        at: DateTime<Utc>,
    },
    /// The blanket is cut into these blocks and worked in this fabric from now on.
    Shaped {
        pieces: Pieces,
        fabric: Box<Fabric>,
    },
    /// The tiers are these from now on; days of a removed tier were given another one before.
    Scaled(Box<Scale>),
    /// One more yarn, after the others.
    YarnAdded(Yarn),
    /// Filler rows, joins and border are worked in this yarn from now on.
    JoiningMoved {
        yarn: YarnId,
    },
    /// A yarn that nothing is worked in is gone. Its id is not given again.
    YarnRemoved {
        yarn: YarnId,
    },
    /// The question asked each evening; `None` for the usual one.
    QuestionSet(Option<OwnQuestion>),
    /// What the maker did with a finished block, or did not.
    Finished {
        block: BlockNumber,
        finish: Finish,
        done: bool,
    },
    /// A yarn has this name and this sRGB colour from now on; rows worked in it stay in it.
    YarnNamed(Yarn),
    /// These tiers are worked in these yarns from now on; worked rows stay as they are.
    TiersMoved {
        yarns: Vec<(TierId, YarnId)>,
    },
    HoursSet(Hours),
    YarnSet(Box<YarnSettings>),
    /// How a block is put on paper from now on.
    PaperSet(OnPaper),
    RemindersSet(Reminders),
    /// A nudge was put into the outbox while this day was on.
    Nudged {
        on: NaiveDate,
    },
    /// A recap was put into the outbox while this day was on.
    Recapped {
        on: NaiveDate,
    },
    /// Something happened to another blanket of the maker than the one logged now: the one that
    /// has this first day, or that begins with it.
    Of {
        first_day: NaiveDate,
        change: Box<Change>,
    },
    /// The blanket with this first day is the one logged from now on.
    Logged {
        first_day: NaiveDate,
    },
    /// The blanket, which has not begun, goes from this day to that one.
    DaysMoved {
        first_day: NaiveDate,
        last_day: NaiveDate,
    },
    /// The blanket with this first day, which is not the one logged, is deleted: all of it.
    BlanketDeleted {
        first_day: NaiveDate,
    },
}

/// What a day had once: a tier, or from then on none, since its answer was taken back.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Earlier {
    pub day: NaiveDate,
    pub kept: Option<(TierId, How)>,
    pub at: DateTime<Utc>,
}

impl Change {
    /// The same change, of the blanket with this first day.
    #[must_use]
    pub fn of(self, first_day: NaiveDate) -> Change {
        match self {
            Change::Of { .. } | Change::Logged { .. } | Change::BlanketDeleted { .. } => self,
            change => Change::Of { first_day, change: Box::new(change) },
        }
    }
}

/// What is left to do with a block once all its rows are worked.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Finish {
    /// Its ends are woven in.
    Woven,
    /// It is joined to the others.
    Joined,
}

/// Applies a change to a maker's book; the first change begins one.
pub fn apply(book: &mut Option<Book>, change: &Change) {
    match (book.as_mut(), change) {
        (Some(book), change) => book.apply(change),
        (None, Change::Began(beginning)) => *book = Some(Book::begin(beginning)),
        // Nothing else can happen before there is a book.
        (None, _) => {}
    }
}
