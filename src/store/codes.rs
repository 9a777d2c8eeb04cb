//! How values of the trade are written in columns, and read back.
//!
//! Never guesses: a text that is none of ours is [`StoreError::impossible`].

use chrono::{DateTime, NaiveDate, Utc, Weekday};
use serde::{Deserialize, Serialize};

use super::error::{Result, StoreError};
use super::outbox::Lane;
use crate::blanket::{Finish, How, Nudges};

pub fn ms(at: DateTime<Utc>) -> i64 {
    at.timestamp_millis()
}

pub fn instant(ms: i64) -> Result<DateTime<Utc>> {
    DateTime::from_timestamp_millis(ms).ok_or_else(|| StoreError::impossible("an instant"))
}

/// A date in a JSON array. Chrono's own reader, which knows every format, takes longer over the
/// days of a book than everything else there is to do about it.
#[derive(Clone, Copy, Deserialize)]
#[serde(try_from = "&str")]
pub struct Date(pub NaiveDate);

impl TryFrom<&str> for Date {
    type Error = StoreError;

    fn try_from(text: &str) -> Result<Date> {
        let date = || {
            let (year, rest) = text.split_once('-')?;
            let (month, day) = rest.split_once('-')?;
            NaiveDate::from_ymd_opt(year.parse().ok()?, month.parse().ok()?, day.parse().ok()?)
        };
        date().map(Date).ok_or_else(|| StoreError::impossible("a date"))
    }
}

pub fn finish(finish: Finish) -> &'static str {
    match finish {
        Finish::Woven => "woven",
        Finish::Joined => "joined",
    }
}

pub fn read_finish(text: &str) -> Result<Finish> {
    match text {
        "woven" => Ok(Finish::Woven),
        "joined" => Ok(Finish::Joined),
        _ => Err(StoreError::impossible("what was done with a block")),
    }
}

/// A value that is only ever read and written whole.
pub fn json<T: Serialize>(value: &T) -> Result<String> {
    serde_json::to_string(value).map_err(|_| StoreError::impossible("a value as JSON"))
}

/// How a line of the history says that an answer was taken back.
pub const REOPENED: &str = "reopened";

pub fn how(how: How) -> &'static str {
    match how {
        How::Answered => "answered",
        How::ForNow => "for now",
        How::Assumed => "assumed",
    }
}

pub fn read_how(text: &str) -> Result<How> {
    match text {
        "answered" => Ok(How::Answered),
        "for now" => Ok(How::ForNow),
        "assumed" => Ok(How::Assumed),
        _ => Err(StoreError::impossible("how a day was kept")),
    }
}

pub fn nudges(nudges: Nudges) -> &'static str {
    match nudges {
        Nudges::NotAsked => "not asked",
        Nudges::Off => "off",
        Nudges::On => "on",
    }
}

pub fn read_nudges(text: &str) -> Result<Nudges> {
    match text {
        "not asked" => Ok(Nudges::NotAsked),
        "off" => Ok(Nudges::Off),
        "on" => Ok(Nudges::On),
        _ => Err(StoreError::impossible("whether nudges are wanted")),
    }
}

/// As chrono writes it: `Mon` to `Sun`.
pub fn read_weekday(text: &str) -> Result<Weekday> {
    text.parse().map_err(|_| StoreError::impossible("a day of the week"))
}

pub fn lane(lane: Lane) -> &'static str {
    match lane {
        Lane::Reply => "reply",
        Lane::Unasked => "unasked",
    }
}

pub fn read_lane(text: &str) -> Result<Lane> {
    match text {
        "reply" => Ok(Lane::Reply),
        "unasked" => Ok(Lane::Unasked),
        _ => Err(StoreError::impossible("the lane of a message")),
    }
}

pub fn rgb([red, green, blue]: [u8; 3]) -> String {
    format!("#{red:02X}{green:02X}{blue:02X}")
}

pub fn read_rgb(text: &str) -> Result<[u8; 3]> {
    let byte = |at: usize| text.get(at..at + 2).and_then(|hex| u8::from_str_radix(hex, 16).ok());
    match (text.strip_prefix('#'), byte(1), byte(3), byte(5)) {
        (Some(_), Some(red), Some(green), Some(blue)) => Ok([red, green, blue]),
        _ => Err(StoreError::impossible("the colour of a yarn")),
    }
}
