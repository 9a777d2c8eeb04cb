//! Dates, times and quoted words as English readers see them.

use chrono::{Datelike, NaiveDate, NaiveTime};

use crate::blanket::letters::{shown, shows};

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];
const WEEKDAYS: [&str; 7] =
    ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];

/// Longer typed lines are quoted up to here.
const QUOTED_CHARS_MAX: usize = 40;

/// "Thursday 14 January"
pub fn long(day: NaiveDate) -> String {
    format!("{} {} {}", weekday(day), day.day(), month(day))
}

/// "Thursday 14 January 2027"
pub fn full(day: NaiveDate) -> String {
    format!("{} {}", long(day), day.year())
}

/// "Thu 14 Jan"
pub fn short(day: NaiveDate) -> String {
    format!("{} {}", &weekday(day)[..3], day_and_month(day))
}

/// "14 Jan"
pub fn day_and_month(day: NaiveDate) -> String {
    format!("{} {}", day.day(), &month(day)[..3])
}

/// "Thu 14"
pub fn brief(day: NaiveDate) -> String {
    format!("{} {}", &weekday(day)[..3], day.day())
}

pub fn month(day: NaiveDate) -> &'static str {
    MONTHS[day.month0() as usize]
}

/// "21:00"
pub fn clock(time: NaiveTime) -> String {
    time.format("%H:%M").to_string()
}

/// The same text with a capital letter at its beginning.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

/// What somebody typed, in quotation marks: one short line that cannot move the text around it.
pub fn quoted(typed: &str) -> String {
    let line: String = typed.split_whitespace().collect::<Vec<_>>().join(" ");
    let kept = shown(&line);
    if !shows(&kept) {
        return "(text I cannot show)".to_owned();
    }
    let short: String = kept.chars().take(QUOTED_CHARS_MAX).collect();
    let more = if kept.chars().count() > QUOTED_CHARS_MAX { "…" } else { "" };
    format!("\"{}{more}\"", isolated(&short))
}

/// A name of the maker's own, kept from turning the sentence around it (Unicode first strong
/// isolate, UAX #9), where it is written from right to left.
pub fn isolated(name: &str) -> String {
    let right_to_left = |c: char| {
        matches!(c, '\u{590}'..='\u{8FF}' | '\u{FB1D}'..='\u{FDFF}' | '\u{FE70}'..='\u{FEFF}'
            | '\u{10800}'..='\u{10FFF}' | '\u{1E800}'..='\u{1EFFF}')
    };
    match name.chars().any(right_to_left) {
        true => format!("\u{2068}{name}\u{2069}"),
        false => name.to_owned(),
    }
}

fn weekday(day: NaiveDate) -> &'static str {
    WEEKDAYS[day.weekday().num_days_from_monday() as usize]
}
