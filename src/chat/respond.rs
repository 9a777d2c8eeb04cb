//! The one way in: sends an event to the flow or the command it belongs to.

use std::borrow::Cow;

use chrono::{DateTime, NaiveDate, Utc};

use super::commands::{self, Asked, Command};
use super::event::{Due, Event, MessageId, RepliedTo};
use super::lexicon::Lexicon;
use super::outcome::{Outcome, Reply};
use super::say::Say;
use super::talk::{Step, YarnWait};
use super::typed::TypedDate;
use super::{
    Maker, blankets, bring_back, colours, evening, lines, making, many, notes, nudges, people,
    place, recap, scale, set_up_list, settings, setup, tapped, typed, worked_up_to, yarn,
};
use crate::blanket::{Book, DayState};

/// The longest typed line that is read at all.
const TYPED_CHARS_MAX: usize = 1000;

/// What follows from an event. The same maker, time and event always give the same outcome.
pub fn respond(maker: &Maker, now: DateTime<Utc>, event: &Event, lexicon: &Lexicon) -> Outcome {
    let maker = &leave_waiting(maker, event);
    set_up_list::with_way_back(maker, event, answered(maker, now, event, lexicon))
}

fn answered(maker: &Maker, now: DateTime<Utc>, event: &Event, lexicon: &Lexicon) -> Outcome {
    let quiet = Outcome::quiet(&maker.talk);
    match event {
        Event::Typed { text, message, reply_to } => {
            let line = Line { text, message: *message, reply_to: *reply_to };
            said(maker, &line, now, lexicon)
        }
        Event::Tapped { button: Ok(button), message } => {
            tapped::tapped(maker, button, *message, now, lexicon)
        }
        Event::Tapped { button: Err(_), .. } => tapped::old_button(maker, now),
        Event::NotText | Event::Document { .. } => quiet.say(Reply::new(Say::NotText)),
        Event::BookRead { file, tapped: None } => bring_back::offered(maker, file, now),
        Event::BookRead { file, tapped: Some(tapped) } => {
            bring_back::confirmed(maker, file, *tapped, now)
        }
        Event::Due(due) => match &maker.book {
            Some(book) => woken(maker, book, *due, now),
            None => quiet,
        },
        Event::Edited { message, text } => match &maker.book {
            Some(book) => notes::edited(maker, book, *message, text),
            None => quiet,
        },
        Event::Blocked | Event::Unblocked => quiet,
    }
}

fn woken(maker: &Maker, book: &Book, due: Due, now: DateTime<Utc>) -> Outcome {
    if book.reminders().paused {
        return maker.quiet();
    }
    match due {
        Due::Question(day) => evening::ask_due(maker, book, day, now),
        Due::Nudge(on) => nudges::nudge_due(maker, book, on, now),
        Due::Recap(on) => recap::recap_due(maker, book, on, now),
    }
}

/// A typed line, and where it stands in the chat.
struct Line<'a> {
    text: &'a str,
    message: MessageId,
    reply_to: Option<RepliedTo>,
}

impl Line<'_> {
    fn replied_to(&self) -> Option<NaiveDate> {
        match self.reply_to {
            Some(RepliedTo::Day(day)) => Some(day),
            Some(RepliedTo::Message(_)) | None => None,
        }
    }
}

/// A command leaves a step that waits for a line, so that the next line is not taken for it much
/// later; erasing is left by a tap as well. The commands that belong to a step stay in it.
fn leave_waiting<'a>(maker: &'a Maker, event: &Event) -> Cow<'a, Maker> {
    let erasing = maker.talk.step == Step::Erase;
    let waiting = match maker.talk.step {
        Step::Erase
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
        | Step::Making { .. }
        | Step::ColourCode { .. }
        | Step::ColourName { .. }
        | Step::AnotherYarn { .. }
        | Step::NextBlanket
        | Step::MoveBlanket { .. }
        | Step::Scale { .. } => true,
        Step::Idle
        | Step::Place
        | Step::ClockThere
        | Step::ZoneRight { .. }
        | Step::AskAt { .. }
        | Step::FirstDay { .. }
        | Step::Day { .. }
        | Step::Note { .. }
        | Step::Practice
        | Step::NudgesWanted => false,
    };
    let leaves = match event {
        Event::Typed { text, .. } => typed::command(text).is_some_and(|(name, _)| {
            let command = Command::named(&name, maker.owner);
            command.is_some_and(|it| !matches!(it, Command::Erase | Command::Cancel))
        }),
        Event::Tapped { .. } => erasing,
        Event::Edited { .. }
        | Event::NotText
        | Event::Document { .. }
        | Event::BookRead { .. }
        | Event::Blocked
        | Event::Unblocked
        | Event::Due(_) => false,
    };
    if !(leaves && waiting) {
        return Cow::Borrowed(maker);
    }
    let step = if maker.book.is_some() { Step::Idle } else { Step::Place };
    Cow::Owned(Maker { talk: maker.talk.at(step), ..maker.clone() })
}

fn said(maker: &Maker, line: &Line<'_>, now: DateTime<Utc>, lexicon: &Lexicon) -> Outcome {
    let text = line.text;
    if let Some((name, argument)) = typed::command(text) {
        return match Command::named(&name, maker.owner) {
            Some(command) => commands::run(command, &Asked { maker, argument, now, lexicon }),
            None => not_understood(maker, text),
        };
    }
    if let Some(book) = &maker.book {
        return said_with_book(maker, book, line, now, lexicon);
    }
    if text.chars().count() > TYPED_CHARS_MAX {
        return maker.quiet().say(Reply::new(Say::TooLong { max: TYPED_CHARS_MAX }));
    }
    match maker.talk.step {
        Step::Place => setup::place_typed(maker, text, now),
        Step::ClockThere => setup::clock_typed(maker, text, now, lexicon),
        Step::ZoneRight { zone } if lexicon.is_yes(text) => setup::zone_kept(zone, None),
        // "No" is also the code of a country.
        Step::ZoneRight { .. } if lexicon.is_no(text) => setup::other_place(None),
        Step::ZoneRight { .. } => setup::place_typed(maker, text, now),
        Step::AskAt { zone } => setup::hour_typed(maker, zone, text, now, lexicon),
        Step::FirstDay { zone, ask_at } => {
            setup::first_day_typed(maker, (zone, ask_at), text, now, lexicon)
        }
        Step::Erase => commands::confirm_erase(maker, text, lexicon),
        Step::Idle
        | Step::Day { .. }
        | Step::Note { .. }
        | Step::Practice
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
        | Step::Scale { .. } => setup::again(maker, now),
    }
}

/// The step decides what a line is; where no step waits for one, the line itself does: pasted
/// days, rows worked, a weighing, a tier, else a note.
fn said_with_book(
    maker: &Maker,
    book: &Book,
    line: &Line<'_>,
    now: DateTime<Utc>,
    lexicon: &Lexicon,
) -> Outcome {
    let text = line.text;
    if let Some(outcome) = settings::typed(maker, book, text, now, lexicon) {
        return outcome;
    }
    let of_yarn = |wait| yarn::typed(maker, book, wait, text, now, lexicon);
    match maker.talk.step {
        Step::Erase => return commands::confirm_erase(maker, text, lexicon),
        Step::Ball { yarn } => return of_yarn(YarnWait::Ball { yarn }),
        Step::Weigh { yarn } => return of_yarn(YarnWait::Weigh { yarn }),
        Step::Yarn { wait } => return of_yarn(wait),
        Step::NewLine { tier } => return lines::typed(maker, book, tier, text, now),
        Step::NewPerson => return people::typed(maker, book, text, now),
        Step::Making { wait } => return making::typed(maker, book, wait, text, lexicon),
        Step::ColourCode { yarn } => return colours::code_typed(maker, book, yarn, text, now),
        Step::ColourName { yarn } => return colours::name_typed(maker, book, yarn, text, now),
        Step::AnotherYarn { wait } => return colours::typed(maker, book, wait, text, now),
        Step::Scale { wait } => return scale::typed(maker, book, wait, text, now, lexicon),
        Step::NextBlanket | Step::MoveBlanket { .. } => {
            return blankets::typed(maker, book, text, now, lexicon);
        }
        Step::Note { day } => {
            // A reply names its day more exactly than the step does.
            return notes::keep(maker, book, line.replied_to().unwrap_or(day), text, line.message);
        }
        Step::Idle
        | Step::Place
        | Step::ClockThere
        | Step::ZoneRight { .. }
        | Step::AskAt { .. }
        | Step::FirstDay { .. }
        | Step::Day { .. }
        | Step::Practice
        | Step::NewAskAt
        | Step::NewPlace
        | Step::NewZone { .. }
        | Step::NewDayTurn
        | Step::NewNudgeAt
        | Step::NewRecapDay
        | Step::NudgesWanted => {}
    }
    // The step that waits for this word was left meanwhile: it is asked for once more, since as a
    // note it would be the opposite of what was wanted.
    if text.trim() == lexicon.erase {
        return commands::run(Command::Erase, &Asked { maker, argument: "", now, lexicon });
    }
    let today = book.hours().day_at(now);
    match many::read(book, text, today, lexicon) {
        Some(Ok(days)) if days.len() == 1 => {
            return evening::answer(maker, book, days[0], now, None);
        }
        Some(days) => return many::show_back(maker, book, days, now),
        None => {}
    }
    // A date alone asks to see that day.
    if text.contains(|c: char| c.is_ascii_digit())
        && let TypedDate::Day(day) = typed::date(text, today, Some(book.plan()), lexicon)
    {
        return evening::show(maker, book, day, now);
    }
    if let Some(seen) = place::read(book, text, lexicon) {
        return place::typed(maker, book, seen, now);
    }
    if let Some(to) = worked_up_to::read(text, lexicon) {
        return worked_up_to::show_back(maker, book, to, now);
    }
    if let Some(row) = worked_up_to::read_row(text, lexicon) {
        return worked_up_to::cross_off_typed(maker, book, row, now);
    }
    match yarn::read(book, text, lexicon) {
        Some(read) => yarn::entered(maker, book, read, now),
        None => tier_or_note(maker, book, line, now),
    }
}

/// A tier's exact label or number answers the question replied to, the one asked last, or the day
/// that is on. A line that is nearly a tier is asked about. Anything else is a note.
fn tier_or_note(maker: &Maker, book: &Book, line: &Line<'_>, now: DateTime<Utc>) -> Outcome {
    let text = line.text;
    let today = book.hours().day_at(now);
    let tier = book.scale().typed(text).map(|tier| tier.id);
    if maker.talk.step == Step::Practice {
        let answered = tier.and_then(|tier| setup::practice_answered(book, tier, None));
        return answered.unwrap_or_else(|| not_understood(maker, text));
    }
    let replied_to = line.replied_to();
    let asked = if let Step::Day { day } = maker.talk.step { Some(day) } else { None };
    let state = book.day(today, today);
    let open_today = (state == DayState::Open).then_some(today);
    match (replied_to.or(asked).or(open_today), tier) {
        (Some(day), Some(tier)) => evening::answer(maker, book, (day, tier), now, None),
        // A tier for a day that has one: the tiers come with what is kept now.
        (None, Some(_)) => evening::ask_to_change(maker, book, today, now, None),
        (None, None) if state == DayState::Outside && book.scale().nearly(text) => {
            maker.quiet().say(evening::refusal(book, today, now))
        }
        (day, None) if replied_to.is_none() && book.scale().nearly(text) => {
            let example = book.scale().default_tier().label.clone();
            let (day, typed) = (day.unwrap_or(today), text.to_owned());
            maker.quiet().say(Reply::new(Say::UnknownTier { typed, day, example }))
        }
        (_, None) => match replied_to.or(asked).or(book.last_kept()) {
            Some(day) => notes::keep(maker, book, day, text, line.message),
            None => not_understood(maker, text),
        },
    }
}

pub(super) fn open_day(maker: &Maker, now: DateTime<Utc>) -> Option<chrono::NaiveDate> {
    let hours = maker.book.as_ref()?.hours();
    let today = hours.day_at(now);
    let open = maker.book.as_ref()?.day(today, today) == DayState::Open;
    (open && maker.talk.step == Step::Idle).then_some(today)
}

fn not_understood(maker: &Maker, text: &str) -> Outcome {
    let typed = text.to_owned();
    Outcome::quiet(&maker.talk).say(Reply::new(Say::NotUnderstood { typed }))
}
