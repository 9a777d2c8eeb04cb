//! Where the conversation with one maker stands.

use chrono::{DateTime, NaiveDate, NaiveTime, Utc};
use chrono_tz::Tz;
use serde::{Deserialize, Serialize};

use super::colours::{AnotherWait, AnotherYarn};
use super::scale::{NewTier, Rescaled, ScaleWait};
use crate::blanket::How;
use crate::blanket::size::Basis;
use crate::blanket::stitch::Craft;

/// The step of a flow, what was shown and waits for a tap, and what *Undo* would take back.
#[derive(Clone, PartialEq, Eq, Default, Debug, Serialize, Deserialize)]
pub struct Talk {
    #[serde(default)]
    pub step: Step,
    /// Many days, shown back and not kept yet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub draft: Option<Draft>,
    /// The days set last in one go, and what they had before.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub undo: Option<Undo>,
    /// Yarns and tiers as they were before the last change of a colour.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub colours_before: Option<ColoursBefore>,
    /// A yarn that is to be worked where another is, and is not kept yet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub another_yarn: Option<AnotherYarn>,
    /// A tier that is to be added to the scale and has no yarn yet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub new_tier: Option<NewTier>,
    /// The last change of the scale, and how it was before.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rescaled: Option<Rescaled>,
    /// The first day of the blanket that is worked on, where that is not the one logged now.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub in_hand: Option<NaiveDate>,
    /// The message in which that was chosen. Buttons in older ones may be of the blanket before.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub in_hand_since: Option<i64>,
    /// The line about a person that was removed last.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub removed_person: Option<RemovedPerson>,
    /// The file the maker sent last, until it is put in its place or left.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub offered_file: Option<OfferedFile>,
    /// The screen that is shown was opened from the list of further steps of set-up.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub in_set_up: bool,
    /// The end of the last outage this maker was told of.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub told_offline: Option<DateTime<Utc>>,
}

/// What the next typed line answers.
#[derive(Clone, Copy, PartialEq, Eq, Default, Debug, Serialize, Deserialize)]
pub enum Step {
    #[default]
    Idle,
    /// A city or a country.
    Place,
    /// The local time where the maker is, since their place was not found.
    ClockThere,
    /// Whether this zone is the maker's.
    ZoneRight {
        zone: Tz,
    },
    AskAt {
        zone: Tz,
    },
    FirstDay {
        zone: Tz,
        ask_at: NaiveTime,
    },
    /// A tier for this day: a question is open, or the maker asked to change the day.
    Day {
        day: NaiveDate,
    },
    /// A note for this day.
    Note {
        day: NaiveDate,
    },
    /// A tier for the practice question; nothing is kept.
    Practice,
    /// The word that confirms erasing.
    Erase,
    /// Grams of a ball, or of all of a colour, by the yarn's id.
    Ball {
        yarn: u8,
    },
    Weigh {
        yarn: u8,
    },
    /// A new value of a setting.
    NewAskAt,
    NewPlace,
    /// Whether this zone is the maker's new one.
    NewZone {
        zone: Tz,
    },
    NewDayTurn,
    NewNudgeAt,
    NewRecapDay,
    /// What days of a tier are like, by the tier's id.
    NewLine {
        tier: u8,
    },
    /// One of the maker's own people and numbers.
    NewPerson,
    /// Whether nudges are wanted; anything but yes, no or an hour is about something else.
    NudgesWanted,
    /// How the blanket is made.
    Making {
        wait: Awaited,
    },
    /// The code of a colour, or its name, by the yarn's id.
    ColourCode {
        yarn: u8,
    },
    ColourName {
        yarn: u8,
    },
    /// A yarn that is worked where another was.
    AnotherYarn {
        wait: AnotherWait,
    },
    /// The maker's own scale.
    Scale {
        wait: ScaleWait,
    },
    /// What is asked about yarn besides a ball and a weighing.
    Yarn {
        wait: YarnWait,
    },
    /// The first day of the next blanket.
    NextBlanket,
    /// Another first day of the next blanket, which has this one now.
    MoveBlanket {
        first_day: NaiveDate,
    },
}

/// What is typed about yarn, by the yarn's id; weights in tenths of a gram.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub enum YarnWait {
    Ball {
        yarn: u8,
    },
    Weigh {
        yarn: u8,
    },
    Correction {
        yarn: u8,
    },
    /// Some of the colour, before rows are worked with it.
    Before {
        yarn: u8,
    },
    /// How many rows were worked with it.
    Rows {
        yarn: u8,
        before: u32,
    },
    /// What is left of it.
    After {
        yarn: u8,
        before: u32,
        rows: u16,
    },
    /// What the label of a ball says.
    Label,
}

/// What is typed about how the blanket is made.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub enum Awaited {
    Days,
    Rows,
    OwnWidths(Craft),
    Width,
    Swatch(Basis),
    Columns,
    Border,
}

/// Days and tiers shown back. The id is in the buttons, so that old ones do nothing.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct Draft {
    pub id: i64,
    pub days: Vec<(NaiveDate, u8)>,
}

/// A file as the platform names it. The id is in the buttons.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct OfferedFile {
    pub id: i64,
    /// `None` once it is in its place, so that a second tap finds it there.
    pub file_id: Option<String>,
    /// A check sum of the book that was shown as the one it would replace.
    #[serde(default)]
    pub before: String,
}

/// One of the maker's own people and numbers, so that it can be put back.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct RemovedPerson {
    pub id: i64,
    pub line: String,
}

/// The id is in the button.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct ColoursBefore {
    pub id: i64,
    /// Id, name and sRGB bytes of each yarn.
    pub yarns: Vec<(u8, String, [u8; 3])>,
    /// Each tier and its yarn.
    pub tiers: Vec<(u8, u8)>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub joining: Option<u8>,
    /// The yarn that came with the change.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub added: Option<u8>,
}

/// The id is in the button. It stays after it was taken back, so that a second tap says the same.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct Undo {
    pub id: i64,
    /// Days the maker set in one go, changed by that or not.
    pub count: usize,
    /// Those that were changed.
    pub days: Vec<UndoDay>,
    #[serde(default)]
    pub taken_back: bool,
}

/// A day set in one go: the tier it got and how, and what it had before.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct UndoDay {
    pub day: NaiveDate,
    pub set_to: u8,
    pub set_as: KeptAs,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub before: Option<Before>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub put_off: Option<Until>,
}

/// The answer a day had.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct Before {
    pub tier: u8,
    pub how: KeptAs,
    pub at: DateTime<Utc>,
}

/// Until when a day was put off.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub enum Until {
    Day(NaiveDate),
    MakerComesBack,
}

/// How a day has its tier, as `blanket::How`.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub enum KeptAs {
    Answered,
    ForNow,
    Assumed,
}

impl From<How> for KeptAs {
    fn from(how: How) -> KeptAs {
        match how {
            How::Answered => KeptAs::Answered,
            How::ForNow => KeptAs::ForNow,
            How::Assumed => KeptAs::Assumed,
        }
    }
}

impl From<KeptAs> for How {
    fn from(kept: KeptAs) -> How {
        match kept {
            KeptAs::Answered => How::Answered,
            KeptAs::ForNow => How::ForNow,
            KeptAs::Assumed => How::Assumed,
        }
    }
}

impl From<Option<NaiveDate>> for Until {
    fn from(until: Option<NaiveDate>) -> Until {
        until.map_or(Until::MakerComesBack, Until::Day)
    }
}

impl From<Until> for Option<NaiveDate> {
    fn from(until: Until) -> Option<NaiveDate> {
        match until {
            Until::Day(day) => Some(day),
            Until::MakerComesBack => None,
        }
    }
}

impl Talk {
    /// The same talk at another step.
    pub fn at(&self, step: Step) -> Talk {
        Talk { step, ..self.clone() }
    }

    /// The same talk with another blanket in hand. What could be undone was of the one before.
    pub fn with_in_hand(&self, in_hand: Option<NaiveDate>) -> Talk {
        let talk = Talk { in_hand, step: Step::Idle, ..self.clone() };
        let talk = Talk { new_tier: None, rescaled: None, ..talk };
        Talk { colours_before: None, another_yarn: None, ..talk }
    }

    /// A name for what is shown or set at `now`, different from those in use.
    pub fn fresh_id(&self, now: DateTime<Utc>) -> i64 {
        let used = [
            self.draft.as_ref().map(|draft| draft.id),
            self.undo.as_ref().map(|undo| undo.id),
            self.colours_before.as_ref().map(|before| before.id),
            self.another_yarn.as_ref().map(|another| another.id),
            self.new_tier.as_ref().map(|new| new.id),
            self.rescaled.as_ref().map(|last| last.id),
            self.offered_file.as_ref().map(|offered| offered.id),
        ];
        used.into_iter().flatten().fold(now.timestamp_millis(), |id, used| id.max(used + 1))
    }
}

impl From<Step> for Talk {
    fn from(step: Step) -> Talk {
        Talk { step, ..Talk::default() }
    }
}
