//! Many days at once: pasted one a line, or as a run of tier numbers from a date. Parsers, and the
//! days shown back; nothing is kept before a tap.

use std::collections::BTreeMap;

use chrono::{DateTime, Days, NaiveDate, Utc};

use super::Maker;
use super::button::Button;
use super::caption::Caption;
use super::lexicon::Lexicon;
use super::outcome::{Key, Outcome, Reply};
use super::say::Say;
use super::talk::{Draft, Step};
use super::typed::{self, TypedDate};
use crate::blanket::{Book, DayState, TierId};

/// A year and a day: no blanket has more.
pub const DAYS_MAX: usize = 366;
/// A date has at most this many words: "Thu 14 January 2027".
const DATE_WORDS_MAX: usize = 4;

/// Why pasted days were not understood. The line counts from 1.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum ManyFault {
    TooMany { max: usize },
    NoDate { line: usize, typed: String },
    NoTier { line: usize, typed: String },
    Twice { day: NaiveDate },
    Outside { day: NaiveDate },
    ToCome { day: NaiveDate },
}

pub type Pasted = Result<Vec<(NaiveDate, TierId)>, ManyFault>;

/// What one line turned out to be.
enum Line<'a> {
    Day(NaiveDate, TierId),
    /// A day and no tier; the text of the date, and what follows it.
    NoTier(&'a str, &'a str),
    NoDate,
}

/// The blanket that dates and labels are of, and the day that is on.
#[derive(Clone, Copy)]
struct Reading<'a> {
    book: &'a Book,
    today: NaiveDate,
    lexicon: &'a Lexicon,
}

/// Reads pasted days; `None` where the text does not look like days at all, but like a note.
pub fn read(book: &Book, text: &str, today: NaiveDate, lexicon: &Lexicon) -> Option<Pasted> {
    let reading = Reading { book, today, lexicon };
    let lines: Vec<&str> = text.lines().map(str::trim).filter(|line| !line.is_empty()).collect();
    match lines.as_slice() {
        [] => None,
        [line] => reading.one_line(line),
        lines => reading.lines(lines),
    }
}

impl<'a> Reading<'a> {
    fn one_line(self, text: &'a str) -> Option<Pasted> {
        // One day is kept at once; where it cannot be, the evening says why.
        if let Line::Day(day, tier) = self.line(text) {
            return Some(Ok(vec![(day, tier)]));
        }
        if let Some(run) = self.run(text) {
            return Some(run.and_then(|days| self.checked(days)));
        }
        let parts: Vec<&str> = text.split([',', ';']).map(str::trim).collect();
        let day = |part: &&&str| matches!(self.line(part), Line::Day(..));
        if parts.len() > 1 && parts.iter().filter(day).count() == parts.len() {
            return self.lines(&parts);
        }
        match self.line(text) {
            Line::NoTier(_, rest) if self.book.scale().nearly(rest) => {
                Some(Err(ManyFault::NoTier { line: 1, typed: rest.to_owned() }))
            }
            Line::Day(..) | Line::NoTier(..) | Line::NoDate => None,
        }
    }

    /// A note may begin with "Today"; so most lines must look like a day and its tier.
    fn lines(self, lines: &[&'a str]) -> Option<Pasted> {
        let read: Vec<Line<'a>> = lines.iter().map(|line| self.line(line)).collect();
        let like_a_day = |line: &&Line<'_>| match line {
            Line::Day(..) => true,
            Line::NoTier(date, rest) => {
                date.contains(|c: char| c.is_ascii_digit()) || self.book.scale().nearly(rest)
            }
            Line::NoDate => false,
        };
        if 2 * read.iter().filter(like_a_day).count() < lines.len() {
            return None;
        }
        if lines.len() > DAYS_MAX {
            return Some(Err(ManyFault::TooMany { max: DAYS_MAX }));
        }
        let days = (1..).zip(read).map(|(number, line)| match line {
            Line::Day(day, tier) => Ok((day, tier)),
            Line::NoTier(_, rest) => {
                Err(ManyFault::NoTier { line: number, typed: rest.to_owned() })
            }
            Line::NoDate => {
                let typed = lines.get(number - 1).copied().unwrap_or_default().to_owned();
                Err(ManyFault::NoDate { line: number, typed })
            }
        });
        Some(days.collect::<Result<_, _>>().and_then(|days| self.checked(days)))
    }

    fn line(self, line: &'a str) -> Line<'a> {
        let dates = self.leading_dates(line);
        let tier = |rest: &str| self.book.scale().typed(rest).map(|tier| tier.id);
        let whole = dates.iter().find_map(|(day, _, rest)| Some((*day, tier(rest)?)));
        match (whole, dates.first()) {
            (Some((day, tier)), _) => Line::Day(day, tier),
            (None, Some((_, date, rest))) => Line::NoTier(date, rest),
            (None, None) => Line::NoDate,
        }
    }

    /// "1 Jan: 4432 3345": one digit a day from the date on. In "1 Jan 4432 3345" the year 4432 is
    /// no day of the blanket, so the digits are tiers.
    fn run(self, line: &str) -> Option<Pasted> {
        let mut runs = Vec::new();
        for (first, _, rest) in self.leading_dates(line) {
            let plain = rest.chars().all(|c| c.is_ascii_digit() || c.is_whitespace());
            let digits: Vec<char> = rest.chars().filter(char::is_ascii_digit).collect();
            if plain && digits.len() > 1 {
                runs.push((first, self.tiers_from(first, &digits)));
            }
        }
        let inside =
            runs.iter().position(|(first, run)| self.book.plan().has(*first) && run.is_ok());
        let best = inside.unwrap_or(0);
        (best < runs.len()).then(|| runs.swap_remove(best).1)
    }

    fn tiers_from(self, first: NaiveDate, digits: &[char]) -> Pasted {
        if digits.len() > DAYS_MAX {
            return Err(ManyFault::TooMany { max: DAYS_MAX });
        }
        let days = digits.iter().zip(0..).map(|(digit, later)| {
            let typed = digit.to_string();
            let tier = self.book.scale().typed(&typed);
            let tier = tier.ok_or(ManyFault::NoTier { line: 1, typed })?;
            Ok((first.checked_add_days(Days::new(later)).unwrap_or(first), tier.id))
        });
        days.collect()
    }

    /// The dates a line can begin with, the longest first: the day, its text, and what follows it
    /// and a mark such as ":".
    fn leading_dates(self, line: &'a str) -> Vec<(NaiveDate, &'a str, &'a str)> {
        let ends = line
            .char_indices()
            .filter(|(_, c)| c.is_whitespace() || matches!(c, ':' | '=' | ','))
            .map(|(index, _)| index);
        let mut ends: Vec<usize> = ends.take(2 * DATE_WORDS_MAX).collect();
        ends.reverse();
        let marks = |c: char| c.is_whitespace() || matches!(c, ':' | '=' | ',' | '-' | '–');
        let date = |end| {
            let (date, rest) = line.split_at(end);
            match typed::date(date, self.today, Some(self.book.plan()), self.lexicon) {
                TypedDate::Day(day) => Some((day, date, rest.trim_matches(marks))),
                TypedDate::NoSuchDay | TypedDate::NotADate => None,
            }
        };
        ends.into_iter().filter_map(date).collect()
    }

    fn checked(self, days: Vec<(NaiveDate, TierId)>) -> Pasted {
        let mut seen = BTreeMap::new();
        for (day, tier) in days {
            match self.book.day(day, self.today) {
                DayState::Outside => return Err(ManyFault::Outside { day }),
                DayState::ToCome => return Err(ManyFault::ToCome { day }),
                DayState::Open | DayState::Kept(_) => {}
            }
            if seen.insert(day, tier).is_some() {
                return Err(ManyFault::Twice { day });
            }
        }
        Ok(seen.into_iter().collect())
    }
}

/// Shows the days back. Nothing is kept before a tap.
pub fn show_back(maker: &Maker, book: &Book, pasted: Pasted, now: DateTime<Utc>) -> Outcome {
    let days = match pasted {
        Ok(days) => days,
        Err(fault) => {
            let example = book.scale().default_tier().label.clone();
            return maker.quiet().say(Reply::new(Say::ManyRefused { fault, example }));
        }
    };
    let id = maker.talk.fresh_id(now);
    let label = |tier| book.scale().tier(tier).map(|tier| tier.label.clone());
    let listed = days.iter().filter_map(|(day, tier)| Some((*day, label(*tier)?))).collect();
    let other = |(day, tier): &&(NaiveDate, TierId)| {
        book.answer(*day).is_some_and(|answer| answer.tier != *tier)
    };
    let replaced = days.iter().filter(other).count();
    let ask = Reply::new(Say::Many { days: listed, replaced }).keys([
        Key { caption: Caption::KeepDays(days.len()), button: Button::KeepMany { id } },
        Key { caption: Caption::DoNotKeep, button: Button::DropMany { id } },
    ]);
    let mut outcome = maker.at(Step::Idle).say(ask);
    let days = days.into_iter().map(|(day, tier)| (day, tier.0)).collect();
    outcome.talk.draft = Some(Draft { id, days });
    outcome
}
