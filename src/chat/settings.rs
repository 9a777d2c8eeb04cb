//! `/settings` and what is behind it: the hour, the place, the turn of the day, nudges, the recap.

use chrono::{DateTime, NaiveTime, TimeDelta, Utc, Weekday};
use chrono_tz::Tz;

use super::button::{Button, ScaleTap, Screen, Setting};
use super::caption::Caption;
use super::event::MessageId;
use super::lexicon::Lexicon;
use super::outcome::{Key, Outcome, Place, Reply, Slot};
use super::say::{Say, SettingsSaid};
use super::talk::Step;
use super::{
    Maker, blankets, colours, evening, lines, making, nudges, paper, people, scale, set_up_list,
    typed,
};
use crate::blanket::places::{self, Found};
use crate::blanket::{Book, Change, Hours, Nudges, Reminders, calendar};

/// All settings as they are, with a button to change each.
pub fn list(book: &Book) -> Reply {
    let (hours, reminders) = (book.hours(), book.reminders());
    let said = SettingsSaid {
        ask_at: hours.ask_at,
        place: places::city(hours.zone),
        day_turns_at: hours.day_turns_at,
        nudge_at: (reminders.nudges == Nudges::On).then_some(reminders.nudge_at),
        recap: reminders.recap_on.map(|day| (day, reminders.recap_at, reminders.recap_whole)),
        paused: reminders.paused,
    };
    let reply = Setting::ALL.into_iter().fold(
        Reply::new(Say::Settings(said)).at(Place::New(Some(Slot::Settings))),
        |reply, setting| reply.key(Caption::Setting(setting), Button::Change { setting }),
    );
    let reply = reply.keys([making::key(Screen::Home, book), paper::key()]);
    let reply = reply
        .keys([scale::key(ScaleTap::Home), colours::key()])
        .keys([people::key(), set_up_list::key()])
        .keys([blankets::key()]);
    match reminders.paused {
        true => reply.key(Caption::Resume, Button::Resume),
        false => reply,
    }
}

pub fn show(maker: &Maker, book: &Book, tapped: MessageId) -> Outcome {
    maker.at(Step::Idle).say(list(book).at(in_place(tapped)))
}

/// Asks for the new value of a setting.
pub fn ask(maker: &Maker, book: &Book, setting: Setting, tapped: MessageId) -> Outcome {
    let (step, reply) = match setting {
        Setting::AskAt => {
            let keys = hours([20, 21, 22]).map(|time| time_key(time, Button::SetAskAt { time }));
            (Step::NewAskAt, Reply::new(Say::AskHour).keys(keys))
        }
        Setting::Place => (Step::NewPlace, Reply::new(Say::AskPlace)),
        Setting::DayTurn => {
            let keys = hours([0, 2, 4]).map(|time| time_key(time, Button::SetDayTurn { time }));
            (Step::NewDayTurn, Reply::new(Say::AskDayTurn).keys(keys))
        }
        Setting::Nudges => {
            let keys =
                hours([9, 10, 12]).map(|time| time_key(time, Button::SetNudges { at: Some(time) }));
            let ask = Reply::new(Say::AskNudgeHour).keys(keys);
            (Step::NewNudgeAt, ask.key(Caption::NoNudges, Button::SetNudges { at: None }))
        }
        Setting::Recap => (Step::NewRecapDay, ask_recap(book)),
        Setting::TierLines => (Step::Idle, lines::list(book)),
    };
    let back = Key { caption: Caption::Back, button: Button::Settings };
    maker.at(step).say(reply.keys([back]).at(in_place(tapped)))
}

/// The days of the week, Monday first, in two lines of buttons.
const WEEK: [&[Weekday]; 2] = [
    &[Weekday::Mon, Weekday::Tue, Weekday::Wed, Weekday::Thu],
    &[Weekday::Fri, Weekday::Sat, Weekday::Sun],
];

fn ask_recap(book: &Book) -> Reply {
    let whole = book.reminders().recap_whole;
    let key = |day: &Weekday| Key {
        caption: Caption::Weekday(*day),
        button: Button::SetRecap { on: Some(*day), whole },
    };
    let ask =
        WEEK.iter().fold(Reply::new(Say::AskRecap), |reply, days| reply.keys(days.iter().map(key)));
    let Some(on) = book.reminders().recap_on else { return ask };
    let caption = if whole { Caption::RecapShort } else { Caption::RecapWhole };
    ask.key(caption, Button::SetRecap { on: Some(on), whole: !whole })
        .key(Caption::NoRecap, Button::SetRecap { on: None, whole })
}

pub fn set_ask_at(
    maker: &Maker,
    book: &Book,
    time: NaiveTime,
    tapped: Option<MessageId>,
) -> Outcome {
    set_hours(maker, book, Hours { ask_at: time, ..*book.hours() }, tapped)
}

pub fn set_day_turn(
    maker: &Maker,
    book: &Book,
    time: NaiveTime,
    tapped: Option<MessageId>,
) -> Outcome {
    // A day that turns in the evening would be asked about before it began.
    if time >= NaiveTime::MIN + TimeDelta::hours(12) {
        return refused(maker, Say::DayTurnTooLate { time });
    }
    set_hours(maker, book, Hours { day_turns_at: time, ..*book.hours() }, tapped)
}

pub fn set_zone(maker: &Maker, book: &Book, zone: Tz, tapped: Option<MessageId>) -> Outcome {
    set_hours(maker, book, Hours { zone, ..*book.hours() }, tapped)
}

fn set_hours(maker: &Maker, book: &Book, hours: Hours, tapped: Option<MessageId>) -> Outcome {
    let mut after = book.clone();
    let change = Change::HoursSet(hours);
    after.apply(&change);
    done(maker, &after, change, hours != *book.hours(), tapped)
}

pub fn set_nudges(
    maker: &Maker,
    book: &Book,
    at: Option<NaiveTime>,
    now: DateTime<Utc>,
    tapped: Option<MessageId>,
) -> Outcome {
    let changes = nudges::set(book, at, now);
    let mut after = book.clone();
    changes.iter().for_each(|change| after.apply(change));
    changes.into_iter().fold(listed(maker, &after, tapped), Outcome::change)
}

pub fn set_recap(
    maker: &Maker,
    book: &Book,
    (on, whole): (Option<Weekday>, bool),
    tapped: Option<MessageId>,
) -> Outcome {
    let reminders = Reminders { recap_on: on, recap_whole: whole, ..*book.reminders() };
    set_reminders(maker, book, reminders, tapped)
}

pub fn pause(maker: &Maker, book: &Book) -> Outcome {
    let said = Reply::new(Say::Paused).key(Caption::Resume, Button::Resume);
    set_paused(maker, book, true).say(said)
}

pub fn resume(
    maker: &Maker,
    book: &Book,
    now: DateTime<Utc>,
    tapped: Option<MessageId>,
) -> Outcome {
    let today = book.hours().day_at(now);
    let said = match book.plan().has(today) {
        true => Reply::new(Say::Resumed { time: book.hours().ask_at }),
        // Before the first day and after the last, no question comes.
        false => evening::refusal(book, today, now),
    };
    set_paused(maker, book, false).say(match tapped {
        Some(message) => said.at(Place::Change { slot: None, tapped: Some(message) }),
        None => said,
    })
}

fn set_paused(maker: &Maker, book: &Book, paused: bool) -> Outcome {
    let reminders = Reminders { paused, ..*book.reminders() };
    let outcome = maker.at(Step::Idle);
    match reminders == *book.reminders() {
        true => outcome,
        false => outcome.change(Change::RemindersSet(reminders)),
    }
}

fn set_reminders(
    maker: &Maker,
    book: &Book,
    reminders: Reminders,
    tapped: Option<MessageId>,
) -> Outcome {
    let mut after = book.clone();
    let change = Change::RemindersSet(reminders);
    after.apply(&change);
    done(maker, &after, change, reminders != *book.reminders(), tapped)
}

/// The settings as they are after a change.
fn done(
    maker: &Maker,
    after: &Book,
    change: Change,
    changed: bool,
    tapped: Option<MessageId>,
) -> Outcome {
    let outcome = listed(maker, after, tapped);
    if changed { outcome.change(change) } else { outcome }
}

fn listed(maker: &Maker, after: &Book, tapped: Option<MessageId>) -> Outcome {
    let reply = list(after);
    maker.at(Step::Idle).say(match tapped {
        Some(message) => reply.at(in_place(message)),
        None => reply,
    })
}

/// A typed value for the setting that was asked for; `None` where no step waits for one.
pub fn typed(
    maker: &Maker,
    book: &Book,
    text: &str,
    now: DateTime<Utc>,
    lexicon: &Lexicon,
) -> Option<Outcome> {
    let hour = || typed::time(text, lexicon);
    let no_hour = || refused(maker, Say::UnknownHour { typed: text.to_owned() });
    let either = typed::either_hour(text);
    Some(match maker.talk.step {
        Step::NewAskAt if either.is_some() => {
            which_hour(maker, either?, |time| Button::SetAskAt { time })
        }
        Step::NewAskAt => hour().map_or_else(no_hour, |time| set_ask_at(maker, book, time, None)),
        Step::NewDayTurn => {
            hour().map_or_else(no_hour, |time| set_day_turn(maker, book, time, None))
        }
        Step::NewNudgeAt if lexicon.is_no(text) => set_nudges(maker, book, None, now, None),
        Step::NewNudgeAt if either.is_some() => {
            which_hour(maker, either?, |time| Button::SetNudges { at: Some(time) })
        }
        Step::NewNudgeAt => {
            hour().map_or_else(no_hour, |time| set_nudges(maker, book, Some(time), now, None))
        }
        Step::NewRecapDay => recap_day_typed(maker, book, text, lexicon),
        Step::NewZone { zone } if lexicon.is_yes(text) => set_zone(maker, book, zone, None),
        Step::NewZone { .. } if lexicon.is_no(text) => {
            maker.at(Step::NewPlace).say(Reply::new(Say::AskPlace))
        }
        Step::NewPlace | Step::NewZone { .. } => place_typed(maker, text, now),
        // Tiers and notes may follow, so that only a yes or a no is taken for the answer.
        Step::NudgesWanted if lexicon.is_yes(text) => {
            nudges::answered(maker, book, Some(book.reminders().nudge_at), now, None)
        }
        Step::NudgesWanted if lexicon.is_no(text) => nudges::answered(maker, book, None, now, None),
        Step::NudgesWanted
        | Step::Idle
        | Step::Place
        | Step::ClockThere
        | Step::ZoneRight { .. }
        | Step::AskAt { .. }
        | Step::FirstDay { .. }
        | Step::Day { .. }
        | Step::Note { .. }
        | Step::Practice
        | Step::Erase
        | Step::Ball { .. }
        | Step::Weigh { .. }
        | Step::Yarn { .. }
        | Step::NewLine { .. }
        | Step::NewPerson
        | Step::Making { .. }
        | Step::ColourCode { .. }
        | Step::ColourName { .. }
        | Step::AnotherYarn { .. }
        | Step::NextBlanket
        | Step::MoveBlanket { .. }
        | Step::Scale { .. } => return None,
    })
}

/// The step waits for one of two hours.
fn which_hour(maker: &Maker, hours: [NaiveTime; 2], button: fn(NaiveTime) -> Button) -> Outcome {
    let keys = hours.map(|time| time_key(time, button(time)));
    let which = Reply::new(Say::WhichHour { hours }).keys(keys);
    maker.quiet().say(which.key(Caption::Back, Button::Settings))
}

/// The step still waits; *Back* leaves it, for somebody who meant something else.
fn refused(maker: &Maker, say: Say) -> Outcome {
    maker.quiet().say(Reply::new(say).key(Caption::Back, Button::Settings))
}

fn recap_day_typed(maker: &Maker, book: &Book, text: &str, lexicon: &Lexicon) -> Outcome {
    let whole = book.reminders().recap_whole;
    match typed::weekday(&text.trim().to_lowercase(), lexicon) {
        Some(day) => set_recap(maker, book, (Some(day), whole), None),
        None if lexicon.is_no(text) => set_recap(maker, book, (None, whole), None),
        None => refused(maker, Say::UnknownWeekday { typed: text.to_owned() }),
    }
}

fn place_typed(maker: &Maker, text: &str, now: DateTime<Utc>) -> Outcome {
    let typed = text.to_owned();
    let offer = |step, say, zones: &[Tz]| {
        let reply = zones.iter().fold(Reply::new(say), |reply, &zone| {
            let time = calendar::local(zone, now).time();
            reply.key(Caption::Place { city: places::city(zone), time }, Button::SetZone { zone })
        });
        let place = Place::New(Some(Slot::Settings));
        maker.at(step).say(reply.key(Caption::Back, Button::Settings).at(place))
    };
    let right = |zone| {
        let time = calendar::local(zone, now).time();
        let say = Say::ZoneRight { place: places::city(zone), time };
        offer(Step::NewZone { zone }, say, &[zone])
    };
    match places::find(text) {
        Found::Zone(zone) => right(zone),
        Found::Country(country, zones) => match places::apart(&zones, now).as_slice() {
            [zone] => right(*zone),
            zones => offer(Step::NewPlace, Say::WhichZone { country }, zones),
        },
        Found::Near(zone) => {
            offer(Step::NewZone { zone }, Say::UnknownPlaceNear { typed }, &[zone])
        }
        Found::Nothing => refused(maker, Say::NoSuchPlace { typed }),
    }
}

fn hours(hours: [u32; 3]) -> [NaiveTime; 3] {
    hours.map(|hour| NaiveTime::MIN + TimeDelta::hours(i64::from(hour)))
}

fn time_key(time: NaiveTime, button: Button) -> Key {
    Key { caption: Caption::Hour(time), button }
}

fn in_place(tapped: MessageId) -> Place {
    Place::Change { slot: Some(Slot::Settings), tapped: Some(tapped) }
}
