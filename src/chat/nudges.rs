//! One quiet message about open days, if the maker asked for such messages, and the question
//! whether they want them.

use chrono::{DateTime, Days, NaiveDate, TimeDelta, Utc};

use super::Maker;
use super::button::Button;
use super::evening;
use super::event::{Due, Wake};
use super::outcome::{Key, Outcome, Place, Reply, Slot};
use super::say::{Caption, Say};
use super::talk::Step;
use crate::blanket::calendar::instant;
use crate::blanket::{Book, Change, Nudges};
use chrono::Datelike;

/// So many open days in a row are a pause: from then on a nudge comes once a week.
const OPEN_IN_A_ROW: usize = 3;
const WEEK_DAYS: i64 = 7;

/// When the next nudge is due, as far as it is known now. May lie in the past; then it is due now.
pub fn next_nudge(book: &Book, now: DateTime<Utc>) -> Option<Wake> {
    let hours = book.hours();
    let local_today = hours.local(now).date();
    let nudged = book.nudged().and_then(|on| on.succ_opt());
    let first = nudged.map_or(local_today, |next| next.max(local_today));
    // The day before, too: a nudge at 23:50 may be handled after midnight.
    let first = if nudged.is_none() { first.pred_opt().unwrap_or(first) } else { first };
    first.iter_days().take(usize::try_from(2 * WEEK_DAYS).unwrap_or(14)).find_map(|date| {
        let at = instant(hours.zone, date.and_time(book.reminders().nudge_at));
        let day = hours.day_at(at);
        (end(book, day, at) > now && oldest_to_nudge(book, date, day).is_some())
            .then_some((at, Due::Nudge(date)))
    })
}

/// After this instant a nudge of `at` would come with the evening question.
fn end(book: &Book, day: NaiveDate, at: DateTime<Utc>) -> DateTime<Utc> {
    let question = book.hours().question_due(day);
    let end = book.hours().day_ends(day);
    if question > at { question.min(end) } else { end }
}

/// The oldest open day that the nudge of `date` is about; `day` is on then.
fn oldest_to_nudge(book: &Book, date: NaiveDate, day: NaiveDate) -> Option<NaiveDate> {
    let reminders = book.reminders();
    if reminders.recap_on == Some(date.weekday()) {
        return None;
    }
    // Days whose *Later* has come are asked about whatever the nudges are set to.
    let promised = |open: &NaiveDate| match book.put_off(*open) {
        Some(Some(until)) => until <= date && book.nudged().is_none_or(|on| on < until),
        Some(None) | None => false,
    };
    if let Some(promised) = book.open_days(day).find(promised) {
        return Some(promised);
    }
    if reminders.nudges != Nudges::On || !weekly_or_not_needed(book, date, day) {
        return None;
    }
    book.open_days(day).find(|open| match book.put_off(*open) {
        None => true,
        Some(until) => until.is_some_and(|until| until <= date),
    })
}

/// After three open days in a row, a nudge comes a week after the last one.
fn weekly_or_not_needed(book: &Book, date: NaiveDate, day: NaiveDate) -> bool {
    let newest: Vec<NaiveDate> = book.open_days(day).rev().take(OPEN_IN_A_ROW).collect();
    let in_a_row =
        (1..=OPEN_IN_A_ROW as u64).filter_map(|back| day.checked_sub_days(Days::new(back)));
    let paused = newest.len() == OPEN_IN_A_ROW && newest.iter().copied().eq(in_a_row);
    let rested = book.nudged().is_none_or(|on| date - on >= TimeDelta::days(WEEK_DAYS));
    !paused || rested
}

/// The nudge: the tiers for the oldest open day.
pub fn nudge_due(maker: &Maker, book: &Book, date: NaiveDate, now: DateTime<Utc>) -> Outcome {
    if next_nudge(book, now).is_none_or(|(at, due)| due != Due::Nudge(date) || at > now) {
        return maker.quiet();
    }
    let day = book.hours().day_at(now);
    let Some(open) = oldest_to_nudge(book, date, day) else { return maker.quiet() };
    let mut nudge = Reply::new(Say::Nudge { day: open });
    nudge = evening::tier_keys(nudge, book, open).keys([
        Key { caption: Caption::NotSure, button: Button::NotSure { day: open } },
        Key { caption: Caption::Later, button: Button::Later { day: open } },
    ]);
    nudge = nudge.key(assume_caption(book, open), Button::Assume { day: open });
    nudge.place = Place::New(Some(Slot::Question(open)));
    nudge.silent = true;
    nudge.unasked = true;
    nudge.until = Some(end(book, day, now));
    let step = match maker.talk.step {
        Step::Idle => Step::Day { day: open },
        step => step,
    };
    maker.at(step).change(Change::Nudged { on: date }).say(nudge)
}

/// *Set Thu 14 Jan to Ordinary*
pub fn assume_caption(book: &Book, day: NaiveDate) -> Caption {
    Caption::SetDayTo { day, tier: book.scale().default_tier().label.to_string() }
}

/// After the first kept answer, asks once whether nudges are wanted.
pub fn ask_once(book: &Book, outcome: Outcome) -> Outcome {
    let first = book.answers().is_empty() && !outcome.changes.is_empty();
    if !first || book.reminders().nudges != Nudges::NotAsked {
        return outcome;
    }
    let at = book.reminders().nudge_at;
    let ask = Reply::new(Say::AskNudges { at }).at(Place::New(Some(Slot::Settings))).keys([
        Key { caption: Caption::Yes, button: Button::SetNudges { at: Some(at) } },
        Key { caption: Caption::No, button: Button::SetNudges { at: None } },
    ]);
    outcome.say(ask)
}
