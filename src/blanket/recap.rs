//! Seven days seen together: what each has, and what was worked.
//!
//! Nothing is averaged and nothing is compared: tiers have no distances, and a week is too short.

use chrono::{Days, NaiveDate};

use super::blocks::Block;
use super::book::{Book, DayState};
use super::worklist::{Standing, sitting};

/// The seven days before the day of the recap.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Week {
    pub first: NaiveDate,
    pub last: NaiveDate,
    /// Those that are in the blanket.
    pub days: Vec<(NaiveDate, DayState)>,
    pub rows_worked: usize,
    /// The current block, and how many of its rows can be worked now; `None` once all is worked.
    pub ready: Option<(Block, usize)>,
}

/// The week before `today`. Days that have not begun are left out.
pub fn week(book: &Book, today: NaiveDate) -> Week {
    let back = |days| today.checked_sub_days(Days::new(days)).unwrap_or(today);
    let (first, last) = (back(7), back(1));
    let hours = book.hours();
    let days = first.iter_days().take(7).map(|day| (day, book.day(day, last)));
    let begun = |(_, state): &(NaiveDate, DayState)| match state {
        DayState::Open | DayState::Kept(_) => true,
        DayState::Outside | DayState::ToCome => false,
    };
    Week {
        first,
        last,
        days: days.filter(begun).collect(),
        rows_worked: book.rows_worked_between(hours.day_begins(first), hours.day_ends(last)),
        ready: match sitting(book, today, u16::MAX) {
            Standing::Finished => None,
            Standing::At(sitting) => Some((sitting.block, sitting.lines.len())),
        },
    }
}
