//! The buttons of the blankets over the years, and how they travel.

use chrono::NaiveDate;

use super::token::{date, read_date};

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum BlanketTap {
    List,
    /// The blanket with this first day is worked on from now on.
    TakeUp {
        first_day: NaiveDate,
    },
    /// Ask for the first day of the next blanket.
    Next,
    /// The next blanket begins on this day.
    Begin {
        first_day: NaiveDate,
    },
}

impl BlanketTap {
    /// The fields after the name of the button.
    pub(super) fn fields(self) -> String {
        match self {
            BlanketTap::List => "list".to_owned(),
            BlanketTap::TakeUp { first_day } => format!("take|{}", date(first_day)),
            BlanketTap::Next => "next".to_owned(),
            BlanketTap::Begin { first_day } => format!("begin|{}", date(first_day)),
        }
    }

    pub(super) fn read(fields: &[&str]) -> Option<BlanketTap> {
        Some(match fields {
            ["list"] => BlanketTap::List,
            ["take", day] => BlanketTap::TakeUp { first_day: read_date(day)? },
            ["next"] => BlanketTap::Next,
            ["begin", day] => BlanketTap::Begin { first_day: read_date(day)? },
            _ => return None,
        })
    }
}
