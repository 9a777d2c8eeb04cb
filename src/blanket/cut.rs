//! Where does one block end and the next begin?
//!
//! Calendar months, months counted from the first day, every so many days, or no cut at all
//! (common practice, no source; the clipping of months that are too short is arithmetic).

use chrono::{Datelike, Days, Months, NaiveDate};
use serde::{Deserialize, Serialize};

#[derive(Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Debug)]
#[serde(rename_all = "snake_case")]
pub enum Cut {
    Months,
    /// Block k begins k months after the first day, or on the last day of that month where it is
    /// too short: a year from a 31st has twelve blocks.
    FromStart,
    Every(u16),
    /// The whole blanket is one piece.
    Strip,
}

/// The days of one block.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Span {
    pub first_day: NaiveDate,
    pub last_day: NaiveDate,
    /// It has all the days that its cut gives a block; the first and the last may have fewer.
    pub full: bool,
}

impl Cut {
    /// The most days a block of this cut has; `None` for a strip.
    pub fn days_max(self) -> Option<u16> {
        match self {
            Cut::Months | Cut::FromStart => Some(31),
            Cut::Every(days) => Some(days),
            Cut::Strip => None,
        }
    }

    /// How many blocks there are from `first` to `last`.
    pub fn count(self, first: NaiveDate, last: NaiveDate) -> u16 {
        self.index_of(first, last, last) + 1
    }

    /// The days of block `index`, from 0, of a blanket from `first` to `last`.
    pub fn span(self, first: NaiveDate, last: NaiveDate, index: u16) -> Option<Span> {
        let begins = self.begins(first, index)?;
        let next = self.begins(first, index.checked_add(1)?);
        let ends = next.and_then(|next| next.pred_opt()).unwrap_or(NaiveDate::MAX);
        let count = self.count(first, last);
        if index >= count {
            return None;
        }
        let last_day = if index + 1 == count { last } else { ends };
        let full = match self {
            Cut::Months => begins >= first && last_day == ends,
            Cut::FromStart | Cut::Every(_) => last_day >= ends,
            Cut::Strip => true,
        };
        Some(Span { first_day: begins.max(first), last_day, full })
    }

    /// The index of the block of a day, from 0.
    pub fn index_of(self, first: NaiveDate, last: NaiveDate, day: NaiveDate) -> u16 {
        let months = months_since_year_0(day) - months_since_year_0(first);
        let index = match self {
            Cut::Months => months,
            Cut::FromStart => {
                let begun = from_start(first, months).is_some_and(|begins| begins <= day);
                let index = if begun { months } else { months - 1 };
                // A year from 29 February to 28 February: its last day is in the twelfth block.
                let clipped = from_start(first, index).filter(|begins| begins.day() < first.day());
                if index > 0 && day == last && clipped == Some(last) { index - 1 } else { index }
            }
            Cut::Every(days) => (day - first).num_days() / i64::from(days.max(1)),
            Cut::Strip => 0,
        };
        u16::try_from(index).unwrap_or(0)
    }

    /// The first day of block `index`, were the blanket without a beginning and an end.
    fn begins(self, first: NaiveDate, index: u16) -> Option<NaiveDate> {
        match self {
            Cut::Months => first.with_day(1)?.checked_add_months(Months::new(u32::from(index))),
            Cut::FromStart => from_start(first, i64::from(index)),
            Cut::Every(days) => {
                first.checked_add_days(Days::new(u64::from(days) * u64::from(index)))
            }
            Cut::Strip if index == 0 => Some(first),
            Cut::Strip => None,
        }
    }
}

fn from_start(first: NaiveDate, months: i64) -> Option<NaiveDate> {
    first.checked_add_months(Months::new(u32::try_from(months).ok()?))
}

fn months_since_year_0(day: NaiveDate) -> i64 {
    i64::from(day.year()) * 12 + i64::from(day.month0())
}
