//! *What do these mean?*: the same question, with the maker's own line about each tier.
//!
//! The button is there where a tier has such a line. A tap on it keeps nothing.

use chrono::{DateTime, NaiveDate, Utc};

use super::button::{AskedIn, Button};
use super::caption::Caption;
use super::commands::open;
use super::event::MessageId;
use super::outcome::{Key, Outcome, Place, Reply, Slot};
use super::say::{MeaningsSaid, Say};
use super::talk::Step;
use super::{Maker, evening, lines, nudges};
use crate::blanket::{Book, DayState};

/// The button under a question about this day.
pub fn key(book: &Book, day: NaiveDate, asked_in: AskedIn) -> Option<Key> {
    key_to(book, Button::Meanings { day, asked_in })
}

/// The button under the practice question.
pub fn practice_key(book: &Book) -> Option<Key> {
    key_to(book, Button::PracticeMeanings)
}

fn key_to(book: &Book, button: Button) -> Option<Key> {
    let described = book.scale().tiers().iter().any(|tier| book.tier_line(tier.id).is_some());
    described.then_some(Key { caption: Caption::Meanings, button })
}

/// The question with the line of each tier, in place of the question; its other buttons stay.
/// Without any line by now, the question as it is.
pub fn show(
    maker: &Maker,
    book: &Book,
    (day, asked_in): (NaiveDate, AskedIn),
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    if key(book, day, asked_in).is_none() {
        return evening::ask_to_change(maker, book, day, now, Some(tapped));
    }
    let today = book.hours().day_at(now);
    let kept = match book.day(day, today) {
        DayState::ToCome | DayState::Outside => {
            return evening::leave(maker, book, day, now, tapped);
        }
        DayState::Open => None,
        DayState::Kept(answer) => Some(answer),
    };
    let kept = kept.and_then(|kept| Some((book.scale().tier(kept.tier)?.label.clone(), kept.how)));
    let open = kept.is_none();
    let said = MeaningsSaid { kept, ..said(book, day) };
    let place = Place::Change { slot: Some(Slot::Question(day)), tapped: Some(tapped) };
    let ask = evening::tier_keys(Reply::new(Say::Meanings(said)).at(place), book, day);
    let ask = match (open, asked_in) {
        (false, _) => ask.key(Caption::LeaveAsItIs, Button::Leave { day }),
        (true, AskedIn::Question) => evening::other_keys(ask, day),
        (true, AskedIn::Nudge) => nudges::other_keys(ask, book, day),
        (true, AskedIn::Open) => {
            let days: Vec<NaiveDate> = book.open_days(today).collect();
            open::other_keys(ask, book, day, &days)
        }
    };
    maker.at(Step::Day { day }).say(ask)
}

/// What is said of the tiers of a question.
pub fn said(book: &Book, day: NaiveDate) -> MeaningsSaid {
    MeaningsSaid {
        day,
        asks: book.question().cloned(),
        tiers: lines::said(book, book.scale().tiers()),
        kept: None,
        practice: false,
    }
}
