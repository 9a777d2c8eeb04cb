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
    /// Ask for another first day of the next blanket, which has this one now.
    AskMove {
        first_day: NaiveDate,
    },
    /// The next blanket begins on another day.
    Move {
        first_day: NaiveDate,
        to: NaiveDate,
    },
    /// Ask whether the next blanket is to be deleted.
    AskDelete {
        first_day: NaiveDate,
    },
    /// It is deleted, all of it.
    Delete {
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
            BlanketTap::AskMove { first_day } => format!("move|{}", date(first_day)),
            BlanketTap::Move { first_day, to } => {
                format!("move|{}|{}", date(first_day), date(to))
            }
            BlanketTap::AskDelete { first_day } => format!("back|{}", date(first_day)),
            BlanketTap::Delete { first_day } => format!("delete|{}", date(first_day)),
        }
    }

    pub(super) fn read(fields: &[&str]) -> Option<BlanketTap> {
        Some(match fields {
            ["list"] => BlanketTap::List,
            ["take", day] => BlanketTap::TakeUp { first_day: read_date(day)? },
            ["next"] => BlanketTap::Next,
            ["begin", day] => BlanketTap::Begin { first_day: read_date(day)? },
            ["move", day] => BlanketTap::AskMove { first_day: read_date(day)? },
            ["move", day, to] => {
                BlanketTap::Move { first_day: read_date(day)?, to: read_date(to)? }
            }
            ["back", day] => BlanketTap::AskDelete { first_day: read_date(day)? },
            ["delete", day] => BlanketTap::Delete { first_day: read_date(day)? },
            _ => return None,
        })
    }
}
