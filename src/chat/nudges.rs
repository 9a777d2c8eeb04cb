//! One quiet message about open days, if the maker asked for such messages or for this day, and
//! the question whether they want them.
//!
//! Of a maker's day there is at most one nudge, and none where the weekly recap comes.

use chrono::{DateTime, Days, NaiveDate, NaiveTime, TimeDelta, Utc};

use super::button::{AskedIn, Button};
use super::caption::Caption;
use super::event::{Due, MessageId, Wake};
use super::outcome::{Key, Outcome, Place, Reply, Slot};
use super::say::Say;
use super::talk::Step;
use super::{Maker, evening, meanings, recap};
use crate::blanket::{Book, Change, Nudges, Reminders};

/// So many open days in a row are a pause: from then on a nudge comes once a week.
const OPEN_IN_A_ROW: usize = 3;
const WEEK_DAYS: i64 = 7;
/// Days looked at for the next nudge: a week's rest, a recap day, and some to spare.
const DAYS_AHEAD: usize = 16;

/// When the next nudge is due, as far as it is known now. May lie in the past; then it is due now.
pub fn next_nudge(book: &Book, now: DateTime<Utc>) -> Option<Wake> {
    let hours = book.hours();
    let today = hours.day_at(now);
    let end = today.checked_add_days(Days::new(DAYS_AHEAD as u64)).unwrap_or(today);
    let open: Vec<NaiveDate> = book.open_days(end).collect();
    // On most days there is nothing to say, which is found out without looking at a clock.
    today.iter_days().take(DAYS_AHEAD).find_map(|day| {
        let open = &open[..open.partition_point(|open| *open < day)];
        subject(book, open, day)?;
        let at = hours.moment(day, book.reminders().nudge_at);
        (hours.day_exists(day) && expires(book, day, at) > now).then_some((at, Due::Nudge(day)))
    })
}

/// After this instant a nudge of `at` would come with the evening question.
fn expires(book: &Book, day: NaiveDate, at: DateTime<Utc>) -> DateTime<Utc> {
    let (question, end) = (book.hours().question_due(day), book.hours().day_ends(day));
    if question > at { question.min(end) } else { end }
}

/// Which open day the nudge of `day` is about, if there is to be one. `open` are the days before.
fn subject(book: &Book, open: &[NaiveDate], day: NaiveDate) -> Option<NaiveDate> {
    if book.nudged().is_some_and(|on| on >= day) {
        return None;
    }
    // Days whose *Later* has come are asked about whatever the nudges are set to.
    let promised = open.iter().copied().find(|open| promised(book, *open, day));
    let named = promised.or_else(|| {
        let wanted = book.reminders().nudges == Nudges::On && rested(book, open, day);
        open.iter().copied().find(|open| wanted && may_be_named(book, *open, day))
    });
    named.filter(|_| !beside_recap(book, day))
}

/// Whether the recap takes the place of the nudge of `day`: it comes on the same day, or on the
/// civil date of a nudge after midnight.
fn beside_recap(book: &Book, day: NaiveDate) -> bool {
    let hours = book.hours();
    let date = hours.local(hours.moment(day, book.reminders().nudge_at)).date();
    recap::comes_on(book, day) || recap::comes_on(book, date)
}

/// Whether a day was put off until `day` or a day before, and not asked about since.
fn promised(book: &Book, open: NaiveDate, day: NaiveDate) -> bool {
    match book.put_off(open) {
        Some(Some(until)) => until <= day && book.nudged().is_none_or(|on| on < until),
        Some(None) | None => false,
    }
}

/// Whether an open day may be spoken of on `day`: it is not put off, or its time has come.
pub fn may_be_named(book: &Book, open: NaiveDate, day: NaiveDate) -> bool {
    match book.put_off(open) {
        Some(until) => until.is_some_and(|until| until <= day),
        None => true,
    }
}

/// After three open days in a row, a nudge comes a week after the last one; after the last day of
/// the blanket too.
fn rested(book: &Book, open: &[NaiveDate], day: NaiveDate) -> bool {
    let over = book.plan().last_day().succ_opt().is_some_and(|end| end < day);
    let newest = open.iter().rev().take(OPEN_IN_A_ROW).copied();
    let in_a_row =
        (1..=OPEN_IN_A_ROW as u64).filter_map(|back| day.checked_sub_days(Days::new(back)));
    let rested = book.nudged().is_none_or(|on| day - on >= TimeDelta::days(WEEK_DAYS));
    rested || !(over || newest.eq(in_a_row))
}

/// The day on which a day put off until `wanted` is asked about: the first from then on that has
/// no recap and no other put-off day.
pub fn free_day(book: &Book, open: NaiveDate, wanted: NaiveDate, now: DateTime<Utc>) -> NaiveDate {
    let hours = book.hours();
    let others: Vec<NaiveDate> = book
        .open_days(hours.day_at(now))
        .chain([hours.day_at(now)])
        .filter(|other| *other != open)
        .filter_map(|other| book.put_off(other).flatten())
        .collect();
    let free = |day: &NaiveDate| {
        let to_come = hours.moment(*day, book.reminders().nudge_at) > now;
        let nudged = book.nudged().is_some_and(|on| on >= *day);
        to_come && !nudged && !others.contains(day) && !beside_recap(book, *day)
    };
    // There is one in this reach: at most a year of days can be put off, and a recap is weekly.
    let mut reach = wanted.iter_days().take(2 * 366).filter(|day| hours.day_exists(*day));
    reach.find(free).unwrap_or(wanted)
}

/// The nudge: the tiers for one open day. Other days that were put off until now come after it,
/// one a day.
pub fn nudge_due(maker: &Maker, book: &Book, day: NaiveDate, now: DateTime<Utc>) -> Outcome {
    if next_nudge(book, now).is_none_or(|(at, due)| due != Due::Nudge(day) || at > now) {
        return maker.quiet();
    }
    let days: Vec<NaiveDate> = book.open_days(day).collect();
    let Some(open) = subject(book, &days, day) else { return maker.quiet() };
    let say = Say::Nudge { day: open, asks: book.question().cloned() };
    let mut nudge = Reply::new(say).at(Place::New(Some(Slot::Question(open))));
    nudge = evening::tier_keys(nudge, book, open).keys(meanings::key(book, open, AskedIn::Nudge));
    nudge = other_keys(nudge, book, open);
    nudge.silent = true;
    nudge.unasked = true;
    nudge.until = Some(expires(book, day, now));
    let outcome = maker.at(Step::Day { day: open }).change(Change::Nudged { on: day }).say(nudge);
    let mut after = book.clone();
    after.apply(&Change::Nudged { on: day });
    let waiting = days.iter().filter(|other| **other != open && promised(book, **other, day));
    waiting.fold(outcome, |outcome, &other| {
        let change = Change::PutOff { day: other, until: Some(free_day(&after, other, day, now)) };
        after.apply(&change);
        outcome.change(change)
    })
}

/// The buttons below the tiers of an open day, among them *Set Thu 14 Jan to Ordinary*.
pub fn other_keys(reply: Reply, book: &Book, day: NaiveDate) -> Reply {
    let tier = book.scale().default_tier().label.to_string();
    let reply = reply.keys([
        Key { caption: Caption::NotSure, button: Button::NotSure { day } },
        Key { caption: Caption::Later, button: Button::Later { day } },
    ]);
    reply.key(Caption::SetDayTo { day, tier }, Button::Assume { day })
}

/// After the first kept answer, asks once whether nudges are wanted. None are sent unless the
/// maker says so.
pub fn ask_once(book: &Book, outcome: Outcome) -> Outcome {
    let kept = outcome.changes.iter().any(|change| matches!(change, Change::Answered { .. }));
    let first = kept && book.answers().is_empty();
    if !first || book.reminders().nudges != Nudges::NotAsked {
        return outcome;
    }
    let at = book.reminders().nudge_at;
    let ask = Reply::new(Say::AskNudges { at }).keys([
        Key { caption: Caption::Yes, button: Button::Nudges { at: Some(at) } },
        Key { caption: Caption::No, button: Button::Nudges { at: None } },
    ]);
    let asked = Reminders { nudges: Nudges::Off, ..*book.reminders() };
    let mut outcome = outcome.change(Change::RemindersSet(asked)).say(ask);
    outcome.talk.step = Step::NudgesWanted;
    outcome
}

/// The maker's answer to that question.
pub fn answered(
    maker: &Maker,
    book: &Book,
    at: Option<NaiveTime>,
    now: DateTime<Utc>,
    tapped: Option<MessageId>,
) -> Outcome {
    let said = Reply::new(Say::NudgesSet { at });
    let step = match maker.talk.step {
        Step::NudgesWanted => Step::Idle,
        step => step,
    };
    let outcome = maker.at(step).say(match tapped {
        Some(message) => said.at(Place::Change { slot: None, tapped: Some(message) }),
        None => said,
    });
    set(book, at, now).into_iter().fold(outcome, Outcome::change)
}

/// The changes that turn nudges on at an hour, or off. Where that hour of today is past, the first
/// one comes tomorrow.
pub fn set(book: &Book, at: Option<NaiveTime>, now: DateTime<Utc>) -> Vec<Change> {
    let nudges = if at.is_some() { Nudges::On } else { Nudges::Off };
    let nudge_at = at.unwrap_or(book.reminders().nudge_at);
    let reminders = Reminders { nudges, nudge_at, ..*book.reminders() };
    if reminders == *book.reminders() {
        return Vec::new();
    }
    let mut changes = vec![Change::RemindersSet(reminders)];
    let today = book.hours().day_at(now);
    let past = at.is_some_and(|at| book.hours().moment(today, at) <= now);
    if past && book.nudged() < Some(today) {
        changes.push(Change::Nudged { on: today });
    }
    changes
}
