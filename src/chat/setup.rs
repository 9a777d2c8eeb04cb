//! The first evening: place, hour, first day. Nothing else is asked before the first question.

use std::cmp::Ordering;

use chrono::{DateTime, Days, NaiveDate, NaiveTime, Utc};
use chrono_tz::Tz;

use super::button::Button;
use super::caption::Caption;
use super::event::MessageId;
use super::lexicon::Lexicon;
use super::outcome::{Key, Outcome, Place, Reply, Slot};
use super::say::{Begins, MeaningsSaid, Say};
use super::talk::Step;
use super::typed::{self, TypedDate};
use super::{Maker, evening, meanings, scale, set_up_list};
use crate::blanket::calendar;
use crate::blanket::places::{self, Found};
use crate::blanket::{
    Beginning, Book, Change, Fabric, Hours, Label, Plan, Scale, Tier, TierId, Yarn, YarnId,
};

/// A first day further away than this is more likely a slip than a plan.
const FIRST_DAY_REACH_DAYS: u64 = 366;

pub fn ask_place() -> Reply {
    screen(Say::AskPlace)
}

/// The maker typed a city or a country.
pub fn place_typed(maker: &Maker, text: &str, now: DateTime<Utc>) -> Outcome {
    let typed = text.to_owned();
    match places::find(text) {
        Found::Zone(zone) => go(Step::ZoneRight { zone }).say(zone_right(zone, now)),
        Found::Country(country, zones) => match places::apart(&zones, now).as_slice() {
            [zone] => go(Step::ZoneRight { zone: *zone }).say(zone_right(*zone, now)),
            zones => {
                let which = screen(Say::WhichZone { country });
                Outcome::quiet(&maker.talk).say(zone_keys(which, zones))
            }
        },
        Found::Near(zone) => {
            let near = screen(Say::UnknownPlaceNear { typed });
            Outcome::quiet(&maker.talk).say(zone_keys(near, &[zone]))
        }
        Found::Nothing => go(Step::ClockThere).say(screen(Say::UnknownPlace { typed })),
    }
}

/// The maker typed what their clock shows.
pub fn clock_typed(maker: &Maker, text: &str, now: DateTime<Utc>, lexicon: &Lexicon) -> Outcome {
    let Some(time) = typed::time(text, lexicon) else {
        // A second try at the name is as good as a clock reading.
        return match places::find(text) {
            Found::Nothing => {
                let typed = text.to_owned();
                Outcome::quiet(&maker.talk).say(screen(Say::UnknownClock { typed }))
            }
            Found::Zone(_) | Found::Country(..) | Found::Near(_) => place_typed(maker, text, now),
        };
    };
    match places::reading(time, now).as_slice() {
        [] => {
            let typed = text.to_owned();
            Outcome::quiet(&maker.talk).say(screen(Say::UnknownClock { typed }))
        }
        [zone] => go(Step::ZoneRight { zone: *zone }).say(zone_right(*zone, now)),
        zones => {
            let offer = zone_keys(screen(Say::WhichPlaceAtThatTime), zones);
            Outcome::quiet(&maker.talk).say(offer)
        }
    }
}

/// A zone was chosen from several: is it right?
pub fn zone_chosen(zone: Tz, now: DateTime<Utc>, tapped: MessageId) -> Outcome {
    go(Step::ZoneRight { zone }).say(zone_right(zone, now).at(in_place(tapped)))
}

pub fn other_place(tapped: Option<MessageId>) -> Outcome {
    go(Step::Place).say(match tapped {
        Some(message) => ask_place().at(in_place(message)),
        None => ask_place(),
    })
}

pub fn zone_kept(zone: Tz, tapped: Option<MessageId>) -> Outcome {
    let ask = ask_hour(zone);
    go(Step::AskAt { zone }).say(match tapped {
        Some(message) => ask.at(in_place(message)),
        None => ask,
    })
}

pub fn hour_typed(
    maker: &Maker,
    zone: Tz,
    text: &str,
    now: DateTime<Utc>,
    lexicon: &Lexicon,
) -> Outcome {
    if let Some(hours) = typed::either_hour(text) {
        let key = |time| Key { caption: Caption::Hour(time), button: Button::AskAt { zone, time } };
        return Outcome::quiet(&maker.talk)
            .say(screen(Say::WhichHour { hours }).keys(hours.map(key)));
    }
    match typed::time(text, lexicon) {
        Some(time) => hour_kept(zone, time, now, None),
        None => {
            let typed = text.to_owned();
            Outcome::quiet(&maker.talk).say(hour_keys(screen(Say::UnknownHour { typed }), zone))
        }
    }
}

pub fn hour_kept(
    zone: Tz,
    time: NaiveTime,
    now: DateTime<Utc>,
    tapped: Option<MessageId>,
) -> Outcome {
    let ask = ask_first_day(zone, time, now);
    go(Step::FirstDay { zone, ask_at: time }).say(match tapped {
        Some(message) => ask.at(in_place(message)),
        None => ask,
    })
}

pub fn first_day_typed(
    maker: &Maker,
    (zone, time): (Tz, NaiveTime),
    text: &str,
    now: DateTime<Utc>,
    lexicon: &Lexicon,
) -> Outcome {
    let today = hours(zone, time).day_at(now);
    let refuse =
        |say| Outcome::quiet(&maker.talk).say(first_day_keys(screen(say), zone, time, now));
    let typed = text.to_owned();
    match typed::date(text, today, None, lexicon) {
        TypedDate::Day(day) => first_day_kept(maker, (zone, time), day, now, lexicon, None),
        TypedDate::NoSuchDay => refuse(Say::NoSuchDay { typed }),
        TypedDate::NotADate => refuse(Say::UnknownFirstDay { typed }),
    }
}

/// The blanket begins, with the first scale and the default plan.
pub fn first_day_kept(
    maker: &Maker,
    (zone, time): (Tz, NaiveTime),
    day: NaiveDate,
    now: DateTime<Utc>,
    lexicon: &Lexicon,
    tapped: Option<MessageId>,
) -> Outcome {
    let hours = hours(zone, time);
    let today = hours.day_at(now);
    let latest = today.checked_add_days(Days::new(FIRST_DAY_REACH_DAYS)).unwrap_or(today);
    let plan = Plan::year_from(day);
    // A blanket that is over cannot be begun.
    if day > latest || plan.last_day() < today {
        let ask = screen(Say::FirstDayOutOfReach { day });
        return Outcome::quiet(&maker.talk).say(first_day_keys(ask, zone, time, now));
    }
    let Some(beginning) = beginning(plan, hours, lexicon) else {
        return Outcome::quiet(&maker.talk);
    };
    let book = Book::begin(&beginning);
    let begun = book.plan().has(today);
    let begins = match day.cmp(&today) {
        Ordering::Less => Begins::Earlier,
        Ordering::Equal => Begins::Today,
        Ordering::Greater => Begins::Later,
    };
    let mut ready = screen(Say::Ready { first_day: day, time, begins });
    if let Some(message) = tapped {
        ready = ready.at(in_place(message));
    }
    ready = match begun {
        true => ready.key(Caption::AnswerTodayNow, Button::Ask { day: today }),
        false => ready.key(Caption::PracticeQuestion, Button::Practice),
    };
    let began = Change::Began(Box::new(beginning));
    let mut outcome = go(Step::Idle).change(began).say(with_further(ready));
    if begun && hours.question_due(today) <= now {
        // The button is this evening's question: the hour is past, and two would be one too many.
        outcome = outcome.change(Change::Asked { day: today, at: now });
    }
    outcome
}

/// With what can follow the first evening, at once or at any time later.
fn with_further(reply: Reply) -> Reply {
    reply.keys([scale::own_key()]).keys([set_up_list::open_key()])
}

/// A question that keeps nothing, to see what an evening is like before the first day.
pub fn practice(book: &Book, tapped: MessageId) -> Outcome {
    let day = book.plan().first_day();
    let ask = Reply::new(Say::PracticeQuestion { day, asks: book.question().cloned() });
    let ask = practice_keys(ask, book).keys(meanings::practice_key(book));
    go(Step::Practice).say(ask.at(in_place(tapped)))
}

/// The practice question with the maker's own line about each tier, where there is one.
pub fn practice_with_meanings(book: &Book, tapped: MessageId) -> Outcome {
    if meanings::practice_key(book).is_none() {
        return practice(book, tapped);
    }
    let said = MeaningsSaid { practice: true, ..meanings::said(book, book.plan().first_day()) };
    let ask = practice_keys(Reply::new(Say::Meanings(said)), book);
    go(Step::Practice).say(ask.at(in_place(tapped)))
}

fn practice_keys(reply: Reply, book: &Book) -> Reply {
    book.scale().tiers().iter().fold(reply, |reply, tier| {
        let caption = Caption::Name(tier.label.to_string());
        reply.key(caption, Button::PracticeAnswer { tier: tier.id })
    })
}

pub fn practice_answered(book: &Book, tier: TierId, tapped: Option<MessageId>) -> Option<Outcome> {
    let tier = book.scale().tier(tier)?.label.clone();
    let said = with_further(Reply::new(Say::PracticeKeptNothing { tier }));
    Some(go(Step::Idle).say(match tapped {
        Some(message) => said.at(in_place(message)),
        None => said,
    }))
}

/// The screen of the step where set-up stands, once more.
pub fn again(maker: &Maker, now: DateTime<Utc>) -> Outcome {
    let quiet = Outcome::quiet(&maker.talk);
    match maker.talk.step {
        Step::ClockThere => quiet.say(screen(Say::AskClockThere)),
        Step::ZoneRight { zone } => quiet.say(zone_right(zone, now)),
        Step::AskAt { zone } => quiet.say(ask_hour(zone)),
        Step::FirstDay { zone, ask_at } => quiet.say(ask_first_day(zone, ask_at, now)),
        Step::Idle
        | Step::Place
        | Step::Day { .. }
        | Step::Note { .. }
        | Step::Practice
        | Step::Erase
        | Step::Ball { .. }
        | Step::Weigh { .. }
        | Step::Yarn { .. }
        | Step::NewAskAt
        | Step::NewPlace
        | Step::NewZone { .. }
        | Step::NewDayTurn
        | Step::NewNudgeAt
        | Step::NewRecapDay
        | Step::NewLine { .. }
        | Step::NewPerson
        | Step::NudgesWanted
        | Step::Making { .. }
        | Step::ColourCode { .. }
        | Step::ColourName { .. }
        | Step::AnotherYarn { .. }
        | Step::NextBlanket
        | Step::MoveBlanket { .. }
        | Step::Scale { .. } => go(Step::Place).say(ask_place()),
    }
}

fn go(step: Step) -> Outcome {
    Outcome::quiet(&step.into())
}

fn screen(say: Say) -> Reply {
    Reply::new(say).at(Place::New(Some(Slot::SetUp)))
}

fn in_place(tapped: MessageId) -> Place {
    Place::Change { slot: Some(Slot::SetUp), tapped: Some(tapped) }
}

fn zone_right(zone: Tz, now: DateTime<Utc>) -> Reply {
    let time = calendar::local(zone, now).time();
    screen(Say::ZoneRight { place: places::city(zone), time })
        .key(Caption::Yes, Button::ZoneRight { zone })
        .key(Caption::OtherPlace, Button::OtherPlace)
}

fn zone_keys(reply: Reply, zones: &[Tz]) -> Reply {
    zones
        .iter()
        .fold(reply, |reply, &zone| {
            reply.key(Caption::Name(places::city(zone)), Button::Zone { zone })
        })
        .key(Caption::OtherPlace, Button::OtherPlace)
}

fn ask_hour(zone: Tz) -> Reply {
    hour_keys(screen(Say::AskHour), zone)
}

fn hour_keys(reply: Reply, zone: Tz) -> Reply {
    let hours = (20..=22).filter_map(|hour| NaiveTime::from_hms_opt(hour, 0, 0));
    reply.keys(
        hours
            .map(|time| Key { caption: Caption::Hour(time), button: Button::AskAt { zone, time } }),
    )
}

fn ask_first_day(zone: Tz, time: NaiveTime, now: DateTime<Utc>) -> Reply {
    first_day_keys(screen(Say::AskFirstDay), zone, time, now)
}

fn first_day_keys(reply: Reply, zone: Tz, time: NaiveTime, now: DateTime<Utc>) -> Reply {
    let today = hours(zone, time).day_at(now);
    let mut days = vec![today, typed::next_first(today), typed::next_new_year(today)];
    days.dedup();
    days.into_iter().fold(reply, |reply, day| {
        let caption = if day == today { Caption::Today(day) } else { Caption::Date(day) };
        reply.key(caption, Button::FirstDay { zone, time, day })
    })
}

fn hours(zone: Tz, ask_at: NaiveTime) -> Hours {
    Hours { zone, ask_at, day_turns_at: evening::day_turns_at_default() }
}

/// What a new blanket begins with; `None` only if the lexicon's first scale is no scale.
pub fn beginning(plan: Plan, hours: Hours, lexicon: &Lexicon) -> Option<Beginning> {
    let first = &lexicon.first_scale;
    let (mut tiers, mut yarns) = (Vec::new(), Vec::new());
    for (id, (label, yarn, rgb)) in (1..).zip(first.tiers) {
        yarns.push(Yarn { id: YarnId(id), name: Label::parse(yarn).ok()?, rgb: *rgb, after: None });
        tiers.push(Tier { id: TierId(id), label: Label::parse(label).ok()?, yarn: YarnId(id) });
    }
    let default = tiers.get(first.default)?.id;
    let joining = YarnId(u8::try_from(yarns.len() + 1).ok()?);
    let (name, rgb) = first.joining;
    yarns.push(Yarn { id: joining, name: Label::parse(name).ok()?, rgb, after: None });
    let (fabric, scale) = (Fabric::DEFAULT, Scale::new(tiers, default).ok()?);
    Some(Beginning { plan, fabric, scale, yarns, joining, hours })
}
