//! Where the conversation with one maker stands.

use chrono::{NaiveDate, NaiveTime};
use chrono_tz::Tz;
use serde::{Deserialize, Serialize};

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
    NewDayTurn,
    NewNudgeAt,
}

/// Days and tiers shown back. The id is in the buttons, so that old ones do nothing.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct Draft {
    pub id: i64,
    pub days: Vec<(NaiveDate, u8)>,
}

#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct Undo {
    pub id: i64,
    pub days: Vec<UndoDay>,
}

/// A day set in one go: the tier it got, and the tier and the way it had before.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct UndoDay {
    pub day: NaiveDate,
    pub set_to: u8,
    pub before: Option<(u8, Before)>,
}

/// How a day had come to its tier, as `blanket::How`.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub enum Before {
    Answered,
    ForNow,
    Assumed,
}

impl Talk {
    /// The same talk at another step.
    pub fn at(&self, step: Step) -> Talk {
        Talk { step, ..self.clone() }
    }
}

impl From<Step> for Talk {
    fn from(step: Step) -> Talk {
        Talk { step, ..Talk::default() }
    }
}
