//! A day to be answered later, or to be left open.

use chrono::{DateTime, Days, NaiveDate, Utc};

use super::button::Button;
use super::caption::Caption;
use super::event::MessageId;
use super::outcome::{Outcome, Place, Reply, Slot};
use super::say::Say;
use super::talk::Step;
use super::{Maker, evening, nudges};
use crate::blanket::{Book, Change, DayState};

/// When should the bot ask again?
pub fn ask_when(
    maker: &Maker,
    book: &Book,
    day: NaiveDate,
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    if let Some(outcome) = not_open(maker, book, day, now, tapped) {
        return outcome;
    }
    let today = book.hours().day_at(now);
    let on = |days| today.checked_add_days(Days::new(days));
    let ask = Reply::new(Say::AskLater { day })
        .at(in_place(day, tapped))
        .key(Caption::Tomorrow, Button::PutOff { day, until: on(1) })
        .key(Caption::InThreeDays, Button::PutOff { day, until: on(3) })
        .key(Caption::IWillComeBack, Button::PutOff { day, until: None })
        .key(Caption::Back, Button::Ask { day });
    maker.at(Step::Idle).say(ask)
}

/// Nothing is said about the day before `until`, or until the maker comes back to it.
pub fn put_off(
    maker: &Maker,
    book: &Book,
    (day, until): (NaiveDate, Option<NaiveDate>),
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    if let Some(outcome) = not_open(maker, book, day, now, tapped) {
        return outcome;
    }
    let today = book.hours().day_at(now);
    // A button of days ago: that date has come, so the day is asked about at once.
    if until.is_some_and(|until| until <= today) {
        return evening::ask_to_change(maker, book, day, now, Some(tapped));
    }
    let free = until.map(|until| nudges::free_day(book, day, until, now));
    let asks = |on| book.hours().local(book.hours().moment(on, book.reminders().nudge_at));
    let said = Say::PutOff {
        day,
        asks: free.map(asks),
        moved: free != until,
        paused: book.reminders().paused,
    };
    let said =
        Reply::new(said).at(in_place(day, tapped)).key(Caption::AnswerNow, Button::Ask { day });
    let outcome = maker.at(Step::Idle).say(said);
    match book.put_off(day) == Some(free) {
        true => outcome,
        false => outcome.change(Change::PutOff { day, until: free }),
    }
}

/// The day stays open.
pub fn skip(
    maker: &Maker,
    book: &Book,
    day: NaiveDate,
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    if let Some(outcome) = not_open(maker, book, day, now, tapped) {
        return outcome;
    }
    let said = Reply::new(Say::LeftOpen { day })
        .at(in_place(day, tapped))
        .key(Caption::AnswerNow, Button::Ask { day });
    maker.at(Step::Idle).say(said)
}

/// What to say instead where the day is not open: what is kept, or why it cannot be answered.
fn not_open(
    maker: &Maker,
    book: &Book,
    day: NaiveDate,
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Option<Outcome> {
    match book.day(day, book.hours().day_at(now)) {
        DayState::Open => None,
        DayState::Kept(_) | DayState::ToCome | DayState::Outside => {
            Some(evening::leave(maker, book, day, now, tapped))
        }
    }
}

fn in_place(day: NaiveDate, tapped: MessageId) -> Place {
    Place::Change { slot: Some(Slot::Question(day)), tapped: Some(tapped) }
}
