//! The next blanket before it begins: its first day can be another, and it can be deleted.
//!
//! Never touches one that has begun.

use chrono::{DateTime, NaiveDate, Utc};

use super::{BlanketCaption, BlanketsSaid, Years, days_in_mind, key, of, refused, without_lists};
use crate::blanket::{Book, Change, is_to_come, moved_plan};
use crate::chat::Maker;
use crate::chat::button::{BlanketTap, Button};
use crate::chat::caption::Caption;
use crate::chat::outcome::{Key, Outcome, Place, Reply};
use crate::chat::say::Say;
use crate::chat::talk::{Step, Talk};

/// A line of buttons for each blanket that has not begun.
pub fn keys(maker: &Maker, today: NaiveDate) -> Vec<[Key; 2]> {
    let to_come = maker.others.iter().filter(|other| is_to_come(other, today));
    let days = to_come.map(|other| other.plan().first_day());
    let both = |first_day| {
        [
            of(BlanketCaption::AskMove, BlanketTap::AskMove { first_day }),
            of(BlanketCaption::AskDelete, BlanketTap::AskDelete { first_day }),
        ]
    };
    days.map(both).collect()
}

/// The blanket with this first day, if it has not begun; else what there is to say of it.
pub fn find<'a>(
    maker: &'a Maker,
    book: &Book,
    first_day: NaiveDate,
    today: NaiveDate,
) -> Result<&'a Book, BlanketsSaid> {
    let is = |book: &&Book| book.plan().first_day() == first_day;
    match maker.others.iter().find(is) {
        Some(next) if is_to_come(next, today) => Ok(next),
        Some(begun) => Err(BlanketsSaid::HasBegun(Years::of(begun))),
        None if is(&book) => Err(BlanketsSaid::HasBegun(Years::of(book))),
        None => Err(BlanketsSaid::Gone),
    }
}

pub fn said(said: BlanketsSaid) -> Reply {
    Reply::new(Say::Blankets(said)).keys([key()])
}

/// Asks for another first day.
pub fn ask(
    maker: &Maker,
    book: &Book,
    first_day: NaiveDate,
    place: Place,
    now: DateTime<Utc>,
) -> Outcome {
    let today = book.hours().day_at(now);
    let next = match find(maker, book, first_day, today) {
        Ok(next) => next,
        Err(fault) => return maker.at(Step::Idle).say(said(fault).at(place)),
    };
    let mut days = days_in_mind(book, today);
    days.retain(|day| {
        *day != first_day && moved_plan(next, book, &maker.others, *day, today).is_ok()
    });
    let ask = Reply::new(Say::Blankets(BlanketsSaid::AskMove { first_day })).at(place);
    let ask = days.into_iter().fold(ask, |ask, to| {
        ask.keys([of(BlanketCaption::Begin(to), BlanketTap::Move { first_day, to })])
    });
    let back = Button::OfBlankets(BlanketTap::List);
    maker.at(Step::MoveBlanket { first_day }).say(ask.key(Caption::Back, back))
}

/// Moves its days; all else of it stays. A repeated tap changes nothing and says the same.
pub fn go(
    maker: &Maker,
    book: &Book,
    (first_day, to): (NaiveDate, NaiveDate),
    place: Place,
    now: DateTime<Utc>,
) -> Outcome {
    let today = book.hours().day_at(now);
    let moved = |last_day| said(BlanketsSaid::Moved { first_day: to, last_day }).at(place);
    let next = match find(maker, book, first_day, today) {
        Ok(next) => next,
        Err(fault) => {
            let reply = match find(maker, book, to, today) {
                Ok(there) => moved(there.plan().last_day()),
                Err(_) => said(fault).at(place),
            };
            return maker.at(Step::Idle).say(reply);
        }
    };
    let plan = match moved_plan(next, book, &maker.others, to, today) {
        Ok(plan) => plan,
        Err(fault) => return maker.at(Step::Idle).say(refused(Some(to), fault).at(place)),
    };
    let last_day = plan.last_day();
    let in_hand = maker.talk.in_hand.map(|day| if day == first_day { to } else { day });
    let talk = Talk { in_hand, step: Step::Idle, ..maker.talk.clone() };
    let outcome = Outcome::quiet(&talk).say(moved(last_day));
    match to == first_day {
        true => outcome,
        false => outcome.change(Change::DaysMoved { first_day: to, last_day }.of(first_day)),
    }
}

/// Says what would be deleted, and asks.
pub fn ask_delete(
    maker: &Maker,
    book: &Book,
    first_day: NaiveDate,
    place: Place,
    now: DateTime<Utc>,
) -> Outcome {
    let idle = maker.at(Step::Idle);
    match find(maker, book, first_day, book.hours().day_at(now)) {
        Err(fault) => idle.say(said(fault).at(place)),
        Ok(next) => {
            let years = Years::of(next);
            let ask = Reply::new(Say::Blankets(BlanketsSaid::AskDelete(years)));
            let delete = BlanketTap::Delete { first_day };
            let ask = ask.at(place).keys([of(BlanketCaption::Delete(years), delete)]);
            idle.say(ask.key(Caption::LeaveAsItIs, Button::OfBlankets(BlanketTap::List)))
        }
    }
}

/// Deletes it, all of it. The one logged is in hand then, if this one was. A repeated tap
/// changes nothing and says the same.
pub fn delete(
    maker: &Maker,
    book: &Book,
    first_day: NaiveDate,
    place: Place,
    now: DateTime<Utc>,
) -> Outcome {
    let in_hand = maker.talk.in_hand == Some(first_day);
    let now_on = in_hand.then(|| Years::of(book));
    let gone = said(BlanketsSaid::Deleted { first_day, now: now_on });
    let is = |book: &Book| book.plan().first_day() == first_day;
    if !maker.others.iter().chain([book]).any(is) {
        return maker.at(Step::Idle).say(gone.at(place));
    }
    if let Err(fault) = find(maker, book, first_day, book.hours().day_at(now)) {
        return maker.at(Step::Idle).say(said(fault).at(place));
    }
    let change = Change::BlanketDeleted { first_day };
    if !in_hand {
        return maker.at(Step::Idle).change(change).say(gone.at(place));
    }
    let talk = maker.talk.with_in_hand(None);
    without_lists(Outcome::quiet(&talk).change(change).say(gone.clone().at(place)), &gone)
}
