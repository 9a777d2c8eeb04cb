//! What the bot may send of itself, and when: nudges about open days, the weekly recap, pauses.

use chrono::{NaiveTime, TimeDelta, Weekday};

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Reminders {
    pub nudges: Nudges,
    /// Local time of a nudge.
    pub nudge_at: NaiveTime,
    /// The day of the weekly recap; `None` for no recap.
    pub recap_on: Option<Weekday>,
    pub recap_at: NaiveTime,
    /// The recap comes whole, without a tap. Asked for by the maker: it holds past answers.
    pub recap_whole: bool,
    /// Nothing is sent of itself.
    pub paused: bool,
}

/// Whether a quiet message about open days is wanted.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Nudges {
    /// The maker was not asked yet; none are sent.
    NotAsked,
    Off,
    On,
}

impl Default for Reminders {
    fn default() -> Reminders {
        Reminders {
            nudges: Nudges::NotAsked,
            nudge_at: NaiveTime::MIN + TimeDelta::hours(10),
            recap_on: Some(Weekday::Sun),
            recap_at: NaiveTime::MIN + TimeDelta::hours(18),
            recap_whole: false,
            paused: false,
        }
    }
}
