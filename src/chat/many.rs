//! Many days at once: pasted one a line, or as a run of tier numbers from a date. Shown back; one
//! tap keeps all of them; another takes all of them back.

use std::collections::BTreeMap;

use chrono::{DateTime, Days, NaiveDate, Utc};

use super::Maker;
use super::button::Button;
use super::event::MessageId;
use super::lexicon::Lexicon;
use super::outcome::{Key, Outcome, Place, Reply};
use super::say::{Caption, Say};
use super::talk::{Before, Draft, Step, Undo, UndoDay};
use super::typed::{self, TypedDate};
use crate::blanket::{Book, Change, DayState, How, TierId};

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

/// Reads pasted days; `None` where the text does not look like days at all.
pub fn read(
    book: &Book,
    text: &str,
    today: NaiveDate,
    lexicon: &Lexicon,
) -> Option<Result<Vec<(NaiveDate, TierId)>, ManyFault>> {
    let lines: Vec<&str> = text.lines().map(str::trim).filter(|line| !line.is_empty()).collect();
    let date = |line| leading_date(line, book, today, lexicon);
    let (day, rest) = date(lines.first().copied()?)?;
    if let [_] = lines.as_slice() {
        if let Some(tier) = book.scale().typed(rest) {
            return Some(checked(book, vec![(day, tier.id)], today));
        }
        return run(book, day, rest).map(|days| days.and_then(|days| checked(book, days, today)));
    }
    if lines.len() > DAYS_MAX {
        return Some(Err(ManyFault::TooMany { max: DAYS_MAX }));
    }
    let each = lines.iter().enumerate().map(|(index, line)| {
        let typed = (*line).to_owned();
        let (day, rest) = date(*line).ok_or(ManyFault::NoDate { line: index + 1, typed })?;
        let typed = rest.to_owned();
        let tier = book.scale().typed(rest);
        Ok((day, tier.ok_or(ManyFault::NoTier { line: index + 1, typed })?.id))
    });
    Some(each.collect::<Result<_, _>>().and_then(|days| checked(book, days, today)))
}

/// "1 Jan: 4432 3345": one digit a day from the date on.
fn run(
    book: &Book,
    first: NaiveDate,
    digits: &str,
) -> Option<Result<Vec<(NaiveDate, TierId)>, ManyFault>> {
    let plain = |c: char| c.is_ascii_digit() || c.is_whitespace();
    let digits: Vec<char> = match digits.chars().all(plain) {
        true => digits.chars().filter(char::is_ascii_digit).collect(),
        false => return None,
    };
    if digits.len() < 2 {
        return None;
    }
    if digits.len() > DAYS_MAX {
        return Some(Err(ManyFault::TooMany { max: DAYS_MAX }));
    }
    let days = digits.iter().zip(0..).map(|(digit, later)| {
        let typed = digit.to_string();
        let tier = book.scale().typed(&typed).ok_or(ManyFault::NoTier { line: 1, typed })?;
        Ok((first + Days::new(later), tier.id))
    });
    Some(days.collect())
}

/// A date at the start of a line, and what follows it and a mark such as ":".
fn leading_date<'a>(
    line: &'a str,
    book: &Book,
    today: NaiveDate,
    lexicon: &Lexicon,
) -> Option<(NaiveDate, &'a str)> {
    let mut ends: Vec<usize> = line
        .char_indices()
        .filter(|(_, c)| c.is_whitespace() || matches!(c, ':' | '=' | ','))
        .map(|(index, _)| index)
        .take(2 * DATE_WORDS_MAX)
        .collect();
    ends.reverse();
    let marks = |c: char| c.is_whitespace() || matches!(c, ':' | '=' | ',' | '-' | '–');
    ends.into_iter().find_map(|end| {
        let (date, rest) = line.split_at(end);
        match typed::date(date, today, Some(book.plan()), lexicon) {
            TypedDate::Day(day) => Some((day, rest.trim_matches(marks))),
            TypedDate::NoSuchDay | TypedDate::NotADate => None,
        }
    })
}

fn checked(
    book: &Book,
    days: Vec<(NaiveDate, TierId)>,
    today: NaiveDate,
) -> Result<Vec<(NaiveDate, TierId)>, ManyFault> {
    let mut seen = BTreeMap::new();
    for (day, tier) in days {
        match book.day(day, today) {
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

/// Shows the days back. Nothing is kept before a tap.
pub fn show_back(
    maker: &Maker,
    book: &Book,
    read: Result<Vec<(NaiveDate, TierId)>, ManyFault>,
    now: DateTime<Utc>,
) -> Outcome {
    let days = match read {
        Ok(days) => days,
        Err(fault) => {
            let example = book.scale().default_tier().label.clone();
            return maker.quiet().say(Reply::new(Say::ManyRefused { fault, example }));
        }
    };
    let id = now.timestamp_millis();
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

/// Keeps the days that were shown. Days that have that tier already stay as they are.
pub fn keep(maker: &Maker, book: &Book, id: i64, now: DateTime<Utc>, tapped: MessageId) -> Outcome {
    let Some(draft) = maker.talk.draft.as_ref().filter(|draft| draft.id == id) else {
        return gone(maker, tapped);
    };
    let known = |tier: &u8| book.scale().tier(TierId(*tier)).is_some();
    let days = draft.days.iter().filter(|(_, tier)| known(tier));
    let days: Vec<_> = days.map(|(day, tier)| (*day, TierId(*tier))).collect();
    let mut outcome = set(maker, book, &days, How::Answered, (id, now));
    outcome.talk.draft = None;
    let said = Reply::new(Say::ManyKept { count: days.len() })
        .at(in_place(tapped))
        .key(Caption::Undo, Button::UndoMany { id });
    outcome.say(said)
}

pub fn forget(maker: &Maker, id: i64, tapped: MessageId) -> Outcome {
    let mut outcome = maker.quiet().say(Reply::new(Say::ManyDropped).at(in_place(tapped)));
    if outcome.talk.draft.as_ref().is_some_and(|draft| draft.id == id) {
        outcome.talk.draft = None;
    }
    outcome
}

/// Sets all open days to the default tier, if they are the ones the button spoke of.
pub fn assume_all(
    maker: &Maker,
    book: &Book,
    (first, last, count): (NaiveDate, NaiveDate, u16),
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    let open: Vec<NaiveDate> = book.open_days(book.hours().day_at(now)).collect();
    let same = open.first() == Some(&first)
        && open.last() == Some(&last)
        && open.len() == usize::from(count);
    if !same {
        return gone(maker, tapped);
    }
    let tier = book.scale().default_tier();
    let days: Vec<_> = open.into_iter().map(|day| (day, tier.id)).collect();
    let id = now.timestamp_millis();
    let said = Reply::new(Say::AllAssumed { count: days.len(), tier: tier.label.clone() })
        .at(in_place(tapped))
        .key(Caption::Undo, Button::UndoMany { id });
    let mut outcome = set(maker, book, &days, How::Assumed, (id, now)).say(said);
    outcome.talk.step = Step::Idle;
    outcome
}

/// Takes back what was set in one go: each day that still has what it was set to gets what it had
/// before.
pub fn undo(maker: &Maker, book: &Book, id: i64, now: DateTime<Utc>, tapped: MessageId) -> Outcome {
    let Some(undo) = maker.talk.undo.as_ref().filter(|undo| undo.id == id) else {
        return gone(maker, tapped);
    };
    let mut outcome = maker.quiet();
    outcome.talk.undo = None;
    let untouched = |day: &&UndoDay| {
        book.answer(day.day).is_some_and(|answer| answer.tier == TierId(day.set_to))
    };
    let days: Vec<&UndoDay> = undo.days.iter().filter(untouched).collect();
    for day in &days {
        outcome.changes.push(match day.before {
            None => Change::Reopened { day: day.day },
            Some((tier, before)) => {
                Change::Answered { day: day.day, tier: TierId(tier), how: how(before), at: now }
            }
        });
    }
    let said = Say::ManyUndone { days: days.iter().map(|day| day.day).collect() };
    outcome.say(Reply::new(said).at(in_place(tapped)))
}

/// The changes that give days their tiers, and what *Undo* would need.
fn set(
    maker: &Maker,
    book: &Book,
    days: &[(NaiveDate, TierId)],
    how: How,
    (id, at): (i64, DateTime<Utc>),
) -> Outcome {
    let mut outcome = maker.quiet();
    let mut undo = Vec::new();
    for &(day, tier) in days {
        let before = book.answer(day);
        if before.is_some_and(|before| before.tier == tier) {
            continue;
        }
        let before = before.map(|before| (before.tier.0, kept_as(before.how)));
        undo.push(UndoDay { day, set_to: tier.0, before });
        outcome.changes.push(Change::Answered { day, tier, how, at });
    }
    outcome.talk.undo = Some(Undo { id, days: undo });
    outcome
}

fn gone(maker: &Maker, tapped: MessageId) -> Outcome {
    maker.quiet().say(Reply::new(Say::ManyGone).at(in_place(tapped)))
}

fn in_place(tapped: MessageId) -> Place {
    Place::Change { slot: None, tapped: Some(tapped) }
}

fn kept_as(how: How) -> Before {
    match how {
        How::Answered => Before::Answered,
        How::ForNow => Before::ForNow,
        How::Assumed => Before::Assumed,
    }
}

fn how(before: Before) -> How {
    match before {
        Before::Answered => How::Answered,
        Before::ForNow => How::ForNow,
        Before::Assumed => How::Assumed,
    }
}
