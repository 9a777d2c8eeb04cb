//! Where the conversation with one maker stands.

use chrono::{NaiveDate, NaiveTime};
use chrono_tz::Tz;
use serde::{Deserialize, Serialize};

/// The step of a flow.
#[derive(Clone, PartialEq, Eq, Default, Debug, Serialize, Deserialize)]
pub struct Talk {
    #[serde(default)]
    pub step: Step,
}

/// What the next typed line answers.
#[derive(Clone, PartialEq, Eq, Default, Debug, Serialize, Deserialize)]
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
    /// A tier for the practice question; nothing is kept.
    Practice,
    /// The word that confirms erasing.
    Erase,
}
