//! What the talk keeps about a change of the scale: a tier that is not added yet, and what *Undo*
//! would take back.

use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};

use crate::chat::talk::KeptAs;

/// What is typed about the scale, by the tier's id.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub enum ScaleWait {
    /// The new label of this tier.
    Label {
        tier: u8,
    },
    /// The label of a new tier above this one; of a new lowest tier for none.
    NewLabel {
        above: Option<u8>,
    },
    /// The yarn of the tier that is drafted: one that is there, or the name of a new one.
    Yarn,
    /// The colour of that yarn.
    YarnColour,
    Question,
}

/// A tier that has a label and no yarn yet. The id is in the buttons, so that old ones do nothing.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct NewTier {
    pub id: i64,
    pub above: Option<u8>,
    pub label: String,
    /// The name of its new yarn.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub yarn: Option<String>,
}

/// The last change of the scale. It stays after it was taken back, so that a second tap says the
/// same.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct Rescaled {
    pub id: i64,
    pub what: What,
    #[serde(default)]
    pub taken_back: bool,
}

/// Tiers by their ids, places as indexes from 0 at the lowest.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub enum What {
    Renamed {
        tier: u8,
        from: String,
        to: String,
    },
    Moved {
        tier: u8,
        from: u8,
        to: u8,
    },
    Default {
        from: u8,
        to: u8,
    },
    Question {
        from: Option<String>,
        to: Option<String>,
    },
    Added {
        tier: u8,
        /// Its yarn came with it.
        new_yarn: bool,
    },
    Removed {
        tier: u8,
        from: u8,
        /// The tier that got its days, where it had any.
        days_got: Option<u8>,
        days: Vec<MovedDay>,
        /// Worked rows of these days that are in another yarn than their day calls for now.
        differ: usize,
        /// Days that were changed between the removal and its *Undo*.
        #[serde(default)]
        changed: usize,
    },
}

/// A day of a removed tier: its answer, as it was but for the tier.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct MovedDay {
    pub day: NaiveDate,
    pub how: KeptAs,
    pub at: DateTime<Utc>,
}
