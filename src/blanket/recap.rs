//! Seven days seen together: what each has, and what was worked.
//!
//! Nothing is averaged and nothing is compared: tiers have no distances, and a week is too short.

use chrono::{Days, NaiveDate};

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
    /// Rows that can be worked now in the current block.
    pub rows_ready: usize,
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
        rows_ready: match sitting(book, today, u16::MAX) {
            Standing::Finished => 0,
            Standing::At(sitting) => sitting.lines.len(),
        },
    }
}
