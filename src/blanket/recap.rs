//! Seven days seen together: what each has, and what was worked.
//!
//! Nothing is averaged and nothing is compared: tiers have no distances, and a week is too short.

use chrono::{DateTime, Days, NaiveDate, Utc};

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

/// The week before `today`, and how the work stands at `now`.
pub fn week(book: &Book, today: NaiveDate, now: DateTime<Utc>) -> Week {
    let back = |days| today.checked_sub_days(Days::new(days)).unwrap_or(today);
    let (first, last) = (back(7), back(1));
    let hours = book.hours();
    let begun = hours.day_begins(first);
    let in_blanket = |day: &NaiveDate| book.plan().has(*day);
    let days = first.iter_days().take(7).filter(in_blanket);
    Week {
        first,
        last,
        days: days.map(|day| (day, book.day(day, today))).collect(),
        rows_worked: book.rows_worked_since(begun, now),
        rows_ready: match sitting(book, today, u16::MAX) {
            Standing::Finished => 0,
            Standing::At(sitting) => sitting.lines.len(),
        },
    }
}
