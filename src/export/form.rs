//! The form of a whole book as JSON: every name in it, and its version.
//!
//! Ids are the book's own, for tiers and yarns; no number of the platform is in it. Dates are as
//! in ISO 8601, instants as in RFC 3339 and in UTC, weights in tenths of a gram, lengths in tenths
//! of a metre. A name that is not known makes the whole file unreadable: nothing is left out
//! silently, but for guesses about tiers of a blanket before.

use chrono::{DateTime, NaiveDate, NaiveTime, Utc, Weekday};
use serde::{Deserialize, Serialize};

use crate::blanket::yarn::YarnSettings;
use crate::blanket::{Fabric, OnPaper, Pieces};

/// What a file says it is.
pub const FORMAT: &str = "duskrow book";
/// The newest form, which is the one written.
pub const VERSION: u32 = 2;

/// Enough to tell what a file is before it is read whole.
#[derive(Deserialize)]
pub struct Head {
    pub format: String,
    pub version: u32,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BookForm {
    pub format: String,
    pub version: u32,
    pub first_day: NaiveDate,
    pub last_day: NaiveDate,
    pub pieces: Pieces,
    pub fabric: Fabric,
    pub zone: String,
    pub ask_at: NaiveTime,
    pub day_turns_at: NaiveTime,
    pub tiers: Vec<TierForm>,
    pub default_tier: u8,
    /// Tiers that were removed: their ids are never given again.
    pub removed_tiers: Vec<TierForm>,
    /// The maker's own question, where they have one.
    pub question: Option<String>,
    pub yarns: Vec<YarnForm>,
    pub joining_yarn: u8,
    /// Ids of yarns that were taken back.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub removed_yarns: Vec<u8>,
    pub reminders: RemindersForm,
    pub yarn_settings: YarnSettings,
    /// Files from before there was a choice have none.
    #[serde(default)]
    pub paper: OnPaper,
    pub days: Vec<DayForm>,
    /// What days had before, oldest first for each. Files of version 1 have none.
    #[serde(default)]
    pub earlier: Vec<EarlierForm>,
    pub put_off: Vec<PutOffForm>,
    pub notes: Vec<NoteForm>,
    /// The maker's own people and numbers, in order.
    #[serde(default)]
    pub people: Vec<PersonForm>,
    pub worked: Vec<WorkedForm>,
    pub finished: Vec<FinishedForm>,
    pub stock: Vec<EntryForm>,
    pub asked: Option<AskedForm>,
    pub nudged: Option<NaiveDate>,
    pub recapped: Option<NaiveDate>,
}

/// Lowest first.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TierForm {
    pub id: u8,
    pub label: String,
    pub yarn: u8,
    pub line: Option<String>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct YarnForm {
    pub id: u8,
    pub name: String,
    /// `#D2CDA4`.
    pub colour: String,
    /// The yarn that was worked before where this one is worked now.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub after: Option<u8>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RemindersForm {
    pub nudges: NudgesForm,
    pub nudge_at: NaiveTime,
    pub recap_on: Option<Weekday>,
    pub recap_at: NaiveTime,
    pub recap_whole: bool,
    pub paused: bool,
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum NudgesForm {
    NotAsked,
    Off,
    On,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DayForm {
    pub date: NaiveDate,
    pub tier: u8,
    pub kept: KeptForm,
    pub at: DateTime<Utc>,
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum KeptForm {
    Answered,
    ForNow,
    Assumed,
}

/// Without a tier where an answer was taken back then.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EarlierForm {
    pub date: NaiveDate,
    pub kept: Option<EarlierKeptForm>,
    pub at: DateTime<Utc>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EarlierKeptForm {
    pub tier: u8,
    pub kept: KeptForm,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PutOffForm {
    pub date: NaiveDate,
    pub until: Option<NaiveDate>,
}

/// In the order they were written.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NoteForm {
    pub date: NaiveDate,
    pub text: String,
}

/// The lines stand in the order of their ids, which count from 1 or name an instant.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PersonForm {
    pub id: i64,
    pub line: String,
}

/// A worked row; those of a block in working order.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WorkedForm {
    pub block: u16,
    pub yarn: u8,
    pub at: DateTime<Utc>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FinishedForm {
    pub block: u16,
    pub finish: FinishForm,
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum FinishForm {
    Woven,
    Joined,
}

/// What happened to a yarn, oldest first.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EntryForm {
    pub yarn: u8,
    /// Rows stitched in it then.
    pub rows: u32,
    pub at: DateTime<Utc>,
    pub what: WhatForm,
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum WhatForm {
    Balls {
        count: u16,
        each: u32,
        length_each: Option<u32>,
        lot: Option<String>,
        weighed: Option<u32>,
    },
    Weighing(u32),
    Correction(u32),
    Tried {
        before: u32,
        after: u32,
        rows: u16,
    },
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AskedForm {
    pub date: NaiveDate,
    pub at: DateTime<Utc>,
}
