//! Which dates, instants and hours a book can hold: those that makers live in, to the step in which
//! they are kept.

use chrono::{DateTime, Datelike, NaiveDate, NaiveTime, Timelike, Utc};

/// Where the calendar of a zone, and the text of a date, are sure.
const YEARS: std::ops::RangeInclusive<i32> = 1970..=2199;

pub fn is_day(day: NaiveDate) -> bool {
    YEARS.contains(&day.year())
}

/// In whole milliseconds.
pub fn instant(at: DateTime<Utc>) -> Option<DateTime<Utc>> {
    ms(at.timestamp_millis())
}

/// The instant so many milliseconds after 1970 began.
pub fn ms(ms: i64) -> Option<DateTime<Utc>> {
    DateTime::from_timestamp_millis(ms).filter(|at| YEARS.contains(&at.year()))
}

pub fn is_minute(time: NaiveTime) -> bool {
    (time.second(), time.nanosecond()) == (0, 0)
}

/// A day that turns in the evening would be asked about before it began.
pub fn is_turn_of_day(time: NaiveTime) -> bool {
    is_minute(time) && time.hour() < 12
}
