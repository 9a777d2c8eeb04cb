//! The blankets over the years: which there are, which one is worked on, and the next one.
//!
//! Evening questions, open days and nudges are always of the one logged now; rows, blocks,
//! pictures, yarn and files are of the one in hand.

mod to_come;

use chrono::{DateTime, NaiveDate, Utc};

use super::Maker;
use super::button::{BlanketTap, Button};
use super::caption::Caption;
use super::event::MessageId;
use super::lexicon::Lexicon;
use super::outcome::{Key, Outcome, Place, Reply, Slot};
use super::say::Say;
use super::talk::{Step, Talk};
use super::typed::{self, TypedDate};
use crate::blanket::{Book, NextFault, begin_next, may_follow, moved_plan, next_plan};

#[derive(Clone, PartialEq, Eq, Debug)]
pub enum BlanketsSaid {
    /// All of them, earliest first; from when on a next one can be set up, if not yet.
    List {
        blankets: Vec<BlanketSaid>,
        next_from: Option<NaiveDate>,
    },
    /// What follows is about this one, which is not the one logged now.
    InHand(Years),
    /// This one is worked on from now on.
    TakenUp {
        years: Years,
        logged: bool,
    },
    AskNext,
    /// A day was typed: from when to when the next one would go.
    Offer {
        first_day: NaiveDate,
        last_day: NaiveDate,
    },
    Begun {
        first_day: NaiveDate,
        last_day: NaiveDate,
    },
    Refused {
        day: Option<NaiveDate>,
        fault: NextFault,
    },
    /// A button of a blanket that is not there.
    Gone,
    /// Another first day of the next blanket is asked for; it has this one now.
    AskMove {
        first_day: NaiveDate,
    },
    Moved {
        first_day: NaiveDate,
        last_day: NaiveDate,
    },
    /// What deleting the next blanket would do.
    AskDelete(Years),
    Deleted {
        first_day: NaiveDate,
        /// The one worked on now, where that was the one deleted.
        now: Option<Years>,
    },
    /// A blanket that has begun is neither moved nor deleted.
    HasBegun(Years),
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct BlanketSaid {
    pub years: Years,
    pub logged: bool,
    pub in_hand: bool,
}

/// The first and the last day of a blanket.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Years {
    pub first_day: NaiveDate,
    pub last_day: NaiveDate,
}

/// What is written on a button about blankets.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum BlanketCaption {
    List,
    TakeUp(Years),
    Next,
    Begin(NaiveDate),
    AskMove,
    AskDelete,
    Delete(Years),
}

impl Years {
    pub fn of(book: &Book) -> Years {
        Years { first_day: book.plan().first_day(), last_day: book.plan().last_day() }
    }
}

/// The button that leads here.
pub fn key() -> Key {
    of(BlanketCaption::List, BlanketTap::List)
}

/// The button that asks for the first day of the next blanket.
pub fn next_key() -> Key {
    of(BlanketCaption::Next, BlanketTap::Next)
}

fn of(caption: BlanketCaption, tap: BlanketTap) -> Key {
    Key { caption: Caption::Blankets(caption), button: Button::OfBlankets(tap) }
}

/// `book` is the one logged now.
pub fn list(maker: &Maker, book: &Book, now: DateTime<Utc>) -> Reply {
    let in_hand = maker.in_hand().map(Years::of);
    let mut blankets: Vec<BlanketSaid> = (maker.others.iter().map(|other| (other, false)))
        .chain([(book, true)])
        .map(|(book, logged)| (Years::of(book), logged))
        .map(|(years, logged)| BlanketSaid { years, logged, in_hand: in_hand == Some(years) })
        .collect();
    blankets.sort_by_key(|blanket| blanket.years.first_day);
    let others: Vec<Years> =
        blankets.iter().filter(|blanket| !blanket.in_hand).map(|blanket| blanket.years).collect();
    let may = may_follow(book, &maker.others, book.hours().day_at(now));
    let next_from = match may {
        Err(NextFault::TooEarly { from }) => Some(from),
        Ok(()) | Err(_) => None,
    };
    let said = Reply::new(Say::Blankets(BlanketsSaid::List { blankets, next_from })).at(anew());
    let take_up = |years: Years| BlanketTap::TakeUp { first_day: years.first_day };
    let said = others
        .into_iter()
        .fold(said, |said, years| said.keys([of(BlanketCaption::TakeUp(years), take_up(years))]));
    let said = if may.is_ok() { said.keys([next_key()]) } else { said };
    let to_come = to_come::keys(maker, book.hours().day_at(now));
    let said = to_come.into_iter().fold(said, |said, keys| said.keys(keys));
    said.key(Caption::Back, Button::Settings)
}

pub fn tapped(
    maker: &Maker,
    book: &Book,
    tap: BlanketTap,
    message: MessageId,
    now: DateTime<Utc>,
) -> Outcome {
    let place = Place::Change { slot: Some(Slot::Settings), tapped: Some(message) };
    match tap {
        BlanketTap::List => maker.at(Step::Idle).say(list(maker, book, now).at(place)),
        BlanketTap::TakeUp { first_day } => take_up(maker, book, first_day, place),
        BlanketTap::Next => match may_follow(book, &maker.others, book.hours().day_at(now)) {
            Ok(()) => maker.at(Step::NextBlanket).say(ask(maker, book, now).at(place)),
            Err(fault) => maker.at(Step::Idle).say(refused(None, fault).at(place)),
        },
        BlanketTap::Begin { first_day } => begin(maker, book, first_day, place, now),
        BlanketTap::AskMove { first_day } => to_come::ask(maker, book, first_day, place, now),
        BlanketTap::Move { first_day, to } => to_come::go(maker, book, (first_day, to), place, now),
        BlanketTap::AskDelete { first_day } => {
            to_come::ask_delete(maker, book, first_day, place, now)
        }
        BlanketTap::Delete { first_day } => to_come::delete(maker, book, first_day, place, now),
    }
}

/// A first day was typed where one is waited for: of a new blanket, or another one of the next.
pub fn typed(
    maker: &Maker,
    book: &Book,
    text: &str,
    now: DateTime<Utc>,
    lexicon: &Lexicon,
) -> Outcome {
    let (today, typed) = (book.hours().day_at(now), text.to_owned());
    let refuse = |say| {
        maker.quiet().say(Reply::new(say).key(Caption::Back, Button::OfBlankets(BlanketTap::List)))
    };
    let first_day = match typed::date(text, today, None, lexicon) {
        TypedDate::Day(day) => day,
        TypedDate::NoSuchDay => return refuse(Say::NoSuchDay { typed }),
        TypedDate::NotADate => return refuse(Say::UnknownFirstDay { typed }),
    };
    let (plan, tap) = if let Step::MoveBlanket { first_day: now } = maker.talk.step {
        match to_come::find(maker, book, now, today) {
            Ok(next) => (
                moved_plan(next, book, &maker.others, first_day, today),
                BlanketTap::Move { first_day: now, to: first_day },
            ),
            Err(fault) => return maker.at(Step::Idle).say(to_come::said(fault)),
        }
    } else {
        (next_plan(book, &maker.others, first_day, today), BlanketTap::Begin { first_day })
    };
    match plan {
        Ok(plan) => {
            let last_day = plan.last_day();
            let said = Reply::new(Say::Blankets(BlanketsSaid::Offer { first_day, last_day }));
            let said = said.at(anew()).keys([of(BlanketCaption::Begin(first_day), tap)]);
            maker.quiet().say(said.key(Caption::Back, Button::OfBlankets(BlanketTap::List)))
        }
        Err(fault) => maker.quiet().say(refused(Some(first_day), fault)),
    }
}

/// The days that come to mind first: right after the last day, the first of a month, New Year.
fn days_in_mind(book: &Book, today: NaiveDate) -> Vec<NaiveDate> {
    let after = book.plan().last_day().succ_opt().unwrap_or(today);
    let soonest = after.max(today);
    let mut days = vec![after, soonest, typed::next_first(soonest), typed::next_new_year(soonest)];
    days.sort_unstable();
    days.dedup();
    days
}

fn ask(maker: &Maker, book: &Book, now: DateTime<Utc>) -> Reply {
    let today = book.hours().day_at(now);
    let mut days = days_in_mind(book, today);
    days.retain(|day| next_plan(book, &maker.others, *day, today).is_ok());
    let ask = Reply::new(Say::Blankets(BlanketsSaid::AskNext));
    let ask = days.into_iter().fold(ask, |ask, first_day| {
        ask.keys([of(BlanketCaption::Begin(first_day), BlanketTap::Begin { first_day })])
    });
    ask.key(Caption::Back, Button::OfBlankets(BlanketTap::List))
}

/// A repeated tap changes nothing and says the same.
fn begin(
    maker: &Maker,
    book: &Book,
    first_day: NaiveDate,
    place: Place,
    now: DateTime<Utc>,
) -> Outcome {
    let known = maker.others.iter().chain([book]).find(|it| it.plan().first_day() == first_day);
    let plan = match known {
        Some(known) => Ok(known.plan().clone()),
        None => next_plan(book, &maker.others, first_day, book.hours().day_at(now)),
    };
    let plan = match plan {
        Ok(plan) => plan,
        Err(fault) => {
            return maker.at(Step::Idle).say(refused(Some(first_day), fault).at(place));
        }
    };
    let last_day = plan.last_day();
    let said = Reply::new(Say::Blankets(BlanketsSaid::Begun { first_day, last_day }));
    let outcome = maker.at(Step::Idle).say(said.at(place).keys([key()]));
    match known {
        Some(_) => outcome,
        None => begin_next(book, plan, now).into_iter().fold(outcome, Outcome::change),
    }
}

fn take_up(maker: &Maker, book: &Book, first_day: NaiveDate, place: Place) -> Outcome {
    let logged = book.plan().first_day() == first_day;
    let known = maker.others.iter().chain([book]).find(|it| it.plan().first_day() == first_day);
    let Some(known) = known else {
        let gone = Reply::new(Say::Blankets(BlanketsSaid::Gone)).at(place);
        return maker.at(Step::Idle).say(gone.keys([key()]));
    };
    let in_hand_since = match (maker.in_hand() == Some(known), place) {
        (false, Place::Change { tapped: Some(message), .. }) => {
            maker.talk.in_hand_since.max(Some(message.0))
        }
        (true | false, _) => maker.talk.in_hand_since,
    };
    let talk = maker.talk.with_in_hand((!logged).then_some(first_day));
    let talk = Talk { in_hand_since, ..talk };
    let said = BlanketsSaid::TakenUp { years: Years::of(known), logged };
    let said = Reply::new(Say::Blankets(said)).at(place);
    let outcome =
        Outcome::quiet(&talk).say(said.clone().key(Caption::NextRows, Button::Rows).keys([key()]));
    if maker.in_hand() == Some(known) {
        return outcome;
    }
    without_lists(outcome, &said)
}

/// Lists of the blanket that was in hand lose their buttons: a row crossed off there would be one
/// of another.
pub fn without_lists(outcome: Outcome, said: &Reply) -> Outcome {
    let lists = [Slot::Rows, Slot::RowByRow, Slot::Place, Slot::Block, Slot::Yarn];
    lists
        .into_iter()
        .fold(outcome, |outcome, slot| outcome.say(said.clone().at(Place::Update(slot))))
}

fn refused(day: Option<NaiveDate>, fault: NextFault) -> Reply {
    Reply::new(Say::Blankets(BlanketsSaid::Refused { day, fault })).keys([key()])
}

fn anew() -> Place {
    Place::New(Some(Slot::Settings))
}
