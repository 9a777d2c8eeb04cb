//! What is said about the maker's own scale, as meanings.

use super::kept::ScaleWait;
use crate::blanket::{Label, LabelFault, OwnQuestion, QuestionFault};

#[derive(Clone, PartialEq, Eq, Debug)]
pub enum ScaleSaid {
    /// All tiers, lowest first.
    Home {
        tiers: Vec<TierInList>,
        question: Option<OwnQuestion>,
        done: Option<ScaleDone>,
    },
    /// One tier: its place from 1 at the lowest, of so many.
    Tier {
        tier: TierInList,
        place: usize,
        tiers: usize,
        days: usize,
        done: Option<ScaleDone>,
    },
    AskLabel {
        tier: Label,
        days: usize,
    },
    AskDefault {
        now: Label,
    },
    AskQuestion {
        now: Option<OwnQuestion>,
    },
    AskWhere,
    /// The label of a new tier above this one; of a new lowest one for none.
    AskNewLabel {
        above: Option<Label>,
    },
    AskYarn {
        tier: Label,
    },
    /// `offers`: colours can be tapped.
    AskColour {
        yarn: Label,
        offers: bool,
    },
    /// Which tier do its days get? Rows of them that are worked are counted.
    AskRemove {
        tier: Label,
        days: usize,
        worked: usize,
    },
    /// An *Undo* of a change before the last.
    Gone,
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub struct TierInList {
    pub label: Label,
    pub yarn: Label,
    pub default: bool,
}

/// What was changed just now.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum ScaleDone {
    Renamed {
        from: Label,
        to: Label,
    },
    /// The place counts from 1 at the lowest.
    Moved {
        tier: Label,
        place: usize,
    },
    Default {
        tier: Label,
    },
    Question {
        now: Option<OwnQuestion>,
    },
    Added {
        tier: Label,
        yarn: Label,
    },
    Removed {
        tier: Label,
        /// So many days have this tier now.
        moved: Option<(usize, Label)>,
        /// Worked rows that are in another yarn than their day calls for now.
        differ: usize,
        /// The yarn that came with the tier stays.
        stays: Option<Label>,
    },
    /// A removed tier is there, and so many of its days have it.
    Back {
        tier: Label,
        days: usize,
        /// Days that were changed meanwhile and stay as they are.
        changed: usize,
    },
}

/// Why the scale cannot be so. Nothing is changed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum ScaleRefusal {
    Name {
        typed: String,
        wait: ScaleWait,
        fault: NameFault,
    },
    Question(QuestionFault),
    Colour {
        typed: String,
    },
    /// The scale has this many tiers, which is the most.
    Full {
        most: usize,
    },
    /// The fewest there are.
    Few {
        least: usize,
    },
    /// Every id a tier can have was used.
    AllUsed,
    YarnsFull {
        most: usize,
    },
    IsDefault {
        tier: Label,
    },
    /// The tier that was added has days meanwhile.
    HasDays {
        tier: Label,
        days: usize,
    },
}

/// Why a text cannot be the label of a tier or the name of a yarn.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum NameFault {
    Label(LabelFault),
    /// Another one is called that.
    Taken(Label),
    /// It is a number, and a typed number is a tier.
    Number,
    /// It is a command, a date or another word that means something when it is typed.
    Meant,
}

/// What is written on the buttons.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum ScaleCaption {
    Scale,
    MyOwnScale,
    AddTier,
    DefaultTier,
    Question,
    UsualQuestion,
    Rename,
    MoveLower,
    MoveHigher,
    Remove,
    AsLowest,
    Above(Label),
}
