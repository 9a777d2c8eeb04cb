//! What a typed line means: a command, a time of day, a date. Parsers alone, never a sentence.

use chrono::{Datelike, Days, Months, NaiveDate, NaiveTime, Weekday};

use super::lexicon::Lexicon;
use crate::blanket::Plan;

/// A command and what follows it; the bot's name after `@` is dropped.
pub fn command(text: &str) -> Option<(String, &str)> {
    let rest = text.trim().strip_prefix('/')?;
    let (word, argument) = rest.split_once(char::is_whitespace).unwrap_or((rest, ""));
    let name = word.split('@').next().unwrap_or(word);
    Some((name.to_lowercase(), argument.trim()))
}

/// A time of day: "21:00", "21.30", "21h30", "21", "9 pm", "9.15pm", "2130", "midnight". The day
/// ends at "24:00", when the next begins.
pub fn time(text: &str, lexicon: &Lexicon) -> Option<NaiveTime> {
    let text = text.trim().trim_end_matches(['!', '?', ',']).to_lowercase();
    let word = text.trim_end_matches('.');
    if lexicon.midnight.contains(&word) {
        return Some(NaiveTime::MIN);
    }
    if lexicon.noon.contains(&word) {
        return NaiveTime::from_hms_opt(12, 0, 0);
    }
    let text = match text.split_once('h') {
        Some((hour, minute)) if ends_in_digit(hour) && number(minute.trim(), 2).is_some() => {
            format!("{}:{}", hour.trim(), minute.trim())
        }
        Some(_) | None => text,
    };
    let split = text.find(|c: char| c.is_alphabetic()).unwrap_or(text.len());
    let (digits, half) = (text[..split].trim(), text[split..].trim().replace('.', ""));
    let (hour, minute) = hour_and_minute(digits)?;
    let hour = match half.as_str() {
        "" | "h" if (hour, minute) == (24, 0) => 0,
        "" | "h" => hour,
        half if lexicon.before_noon.contains(&half) && (1..=12).contains(&hour) => hour % 12,
        half if lexicon.after_noon.contains(&half) && (1..=12).contains(&hour) => hour % 12 + 12,
        _ => return None,
    };
    NaiveTime::from_hms_opt(hour, minute, 0)
}

fn ends_in_digit(text: &str) -> bool {
    text.trim().ends_with(|c: char| c.is_ascii_digit())
}

/// The two hours that a bare number from 1 to 12 can be: "9" is nine in the morning or in the
/// evening. Who writes "09" or "9:00" means the morning.
pub fn either_hour(text: &str) -> Option<[NaiveTime; 2]> {
    let text = text.trim().trim_end_matches(['.', '!', '?', ',']);
    let hour = number(text, 2).filter(|hour| (1..=12).contains(hour) && !text.starts_with('0'))?;
    let at = |hour| NaiveTime::from_hms_opt(hour, 0, 0);
    Some([at(hour)?, at((hour + 12) % 24)?])
}

fn hour_and_minute(digits: &str) -> Option<(u32, u32)> {
    if let Some((hour, minute)) = digits.split_once([':', '.']) {
        return Some((number(hour, 2)?, number(minute, 2).filter(|_| minute.len() == 2)?));
    }
    match digits.len() {
        1 | 2 => Some((number(digits, 2)?, 0)),
        3 | 4 => {
            let (hour, minute) = digits.split_at_checked(digits.len() - 2)?;
            Some((number(hour, 2)?, number(minute, 2)?))
        }
        _ => None,
    }
}

/// What a typed date turned out to be.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum TypedDate {
    Day(NaiveDate),
    /// Written like a date, but no calendar has it.
    NoSuchDay,
    NotADate,
}

/// A date as people type it, seen on `today`: "14 Jan", "14th of January", "Jan 14", "14.1.", "14/1", "2027-01-14",
/// "today", "yesterday", "tomorrow", "Thu", "Thu 14". A weekday alone is the last one before today;
/// with the day of a month, the last such date not after today. Without a year, the day is the one
/// in the blanket's days, if the plan is known; of two such, the last one not after today.
pub fn date(text: &str, today: NaiveDate, plan: Option<&Plan>, lexicon: &Lexicon) -> TypedDate {
    let text = text.trim().to_lowercase();
    if lexicon.today.contains(&text.as_str()) {
        return TypedDate::Day(today);
    }
    if lexicon.yesterday.contains(&text.as_str()) {
        return today.pred_opt().map_or(TypedDate::NotADate, TypedDate::Day);
    }
    if lexicon.tomorrow.contains(&text.as_str()) {
        return today.succ_opt().map_or(TypedDate::NotADate, TypedDate::Day);
    }
    let words: Vec<&str> = text
        .split(|c: char| c.is_whitespace() || c == ',')
        .filter(|word| !word.is_empty() && !lexicon.between.contains(word))
        .collect();
    if let [name, number] = words.as_slice()
        && let (Some(weekday), Some(day)) = (weekday(name, lexicon), ordinal(number))
    {
        return weekday_and_day(weekday, day, today);
    }
    // A weekday in front of a date is for the reader: "Thu 14 Jan".
    let words = match words.as_slice() {
        [first, second, ..]
            if weekday(first, lexicon).is_some() && weekday(second, lexicon).is_none() =>
        {
            &words[1..]
        }
        all => all,
    };
    let parts = match words {
        [one] => match weekday(one, lexicon) {
            Some(weekday) => return last_weekday(weekday, today),
            None => numeric(one),
        },
        [a, b] | [a, b, _] => {
            let year = words.get(2).map(|word| year(word));
            match (month(a, lexicon), month(b, lexicon)) {
                (None, Some(month)) => Some((ordinal(a), month, year)),
                (Some(month), None) => Some((ordinal(b), month, year)),
                _ => None,
            }
        }
        _ => None,
    };
    match parts {
        Some((Some(day), month, None)) => without_year(day, month, today, plan),
        Some((Some(day), month, Some(Some(year)))) => {
            let date = NaiveDate::from_ymd_opt(i32::try_from(year).unwrap_or(0), month, day);
            date.map_or(TypedDate::NoSuchDay, TypedDate::Day)
        }
        _ => TypedDate::NotADate,
    }
}

type Parts = (Option<u32>, u32, Option<Option<u32>>);

/// "2027-01-14", "14.1.2027", "14.1.", "14.1", "14/1", "14/1/2027": day before month.
fn numeric(word: &str) -> Option<Parts> {
    if let [year, month, day] = word.split('-').collect::<Vec<_>>().as_slice() {
        let four = number(year, 4).filter(|_| year.len() == 4)?;
        return Some((number(day, 2), number(month, 2)?, Some(Some(four))));
    }
    let word = word.strip_suffix('.').unwrap_or(word);
    let fields: Vec<&str> = word.split(['.', '/']).collect();
    match fields.as_slice() {
        [day, month] => Some((number(day, 2), number(month, 2)?, None)),
        [day, month, year] => {
            Some((number(day, 2), number(month, 2)?, Some(Some(self::year(year)?))))
        }
        _ => None,
    }
}

/// "2027", or "27" for the same year.
fn year(word: &str) -> Option<u32> {
    match word.len() {
        4 => number(word, 4),
        2 => number(word, 2).map(|year| 2000 + year),
        _ => None,
    }
}

fn without_year(day: u32, month: u32, today: NaiveDate, plan: Option<&Plan>) -> TypedDate {
    let years = today.year() - 4..=today.year() + 4;
    let days: Vec<NaiveDate> =
        years.filter_map(|year| NaiveDate::from_ymd_opt(year, month, day)).collect();
    let inside = |date: &&NaiveDate| plan.is_some_and(|plan| plan.has(**date));
    let last_past = |days: &mut dyn Iterator<Item = &NaiveDate>| {
        days.filter(|date| **date <= today).last().copied()
    };
    let found = last_past(&mut days.iter().filter(inside))
        .or_else(|| days.iter().find(inside).copied())
        .or_else(|| days.iter().min_by_key(|date| (**date - today).num_days().abs()).copied());
    found.map_or(TypedDate::NoSuchDay, TypedDate::Day)
}

fn last_weekday(weekday: Weekday, today: NaiveDate) -> TypedDate {
    let back = match weekday.days_since(today.weekday()) {
        0 => 7,
        ahead => 7 - ahead,
    };
    today.checked_sub_days(Days::new(u64::from(back))).map_or(TypedDate::NotADate, TypedDate::Day)
}

/// "Thu 14", as lists of days say it. Up to the 28th, such dates are at most 14 months apart.
fn weekday_and_day(weekday: Weekday, day: u32, today: NaiveDate) -> TypedDate {
    let fits = |date: &NaiveDate| date.weekday() == weekday && date.day() == day;
    let mut back = (0..=430).filter_map(|days| today.checked_sub_days(Days::new(days)));
    back.find(fits).map_or(TypedDate::NoSuchDay, TypedDate::Day)
}

pub fn weekday(word: &str, lexicon: &Lexicon) -> Option<Weekday> {
    let word = word.trim_end_matches('.');
    let index = lexicon.weekdays.iter().position(|names| names.contains(&word))?;
    Weekday::try_from(u8::try_from(index).ok()?).ok()
}

/// "June", "June 2027": a month, and its year where that is said.
pub fn month_alone(text: &str, lexicon: &Lexicon) -> Option<(u32, Option<i64>)> {
    let text = text.trim().to_lowercase();
    match text.split_whitespace().collect::<Vec<_>>().as_slice() {
        [name] => Some((month(name, lexicon)?, None)),
        // A number of two digits would be a day.
        [name, year] if year.len() == 4 => {
            Some((month(name, lexicon)?, Some(number(year, 4)?.into())))
        }
        _ => None,
    }
}

fn month(word: &str, lexicon: &Lexicon) -> Option<u32> {
    let word = word.trim_end_matches('.');
    let index = lexicon.months.iter().position(|names| names.contains(&word))?;
    u32::try_from(index + 1).ok()
}

/// "14", "14.", "14th".
fn ordinal(word: &str) -> Option<u32> {
    let word = word.trim_end_matches(|c: char| c.is_alphabetic() || c == '.');
    number(word, 2)
}

/// Digits alone, at most `len` of them.
pub fn number(text: &str, len: usize) -> Option<u32> {
    let plain = (1..=len).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit());
    plain.then(|| text.parse().ok()).flatten()
}

/// The first of the next month.
pub fn next_first(day: NaiveDate) -> NaiveDate {
    let first = day.with_day(1).unwrap_or(day);
    first.checked_add_months(Months::new(1)).unwrap_or(first)
}

/// The first of January of the next year.
pub fn next_new_year(day: NaiveDate) -> NaiveDate {
    NaiveDate::from_ymd_opt(day.year() + 1, 1, 1).unwrap_or(day)
}
