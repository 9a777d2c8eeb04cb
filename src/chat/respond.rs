//! The one way in: sends an event to the flow or the command it belongs to.

use std::borrow::Cow;

use chrono::{DateTime, Utc};

use super::button::Button;
use super::commands::{self, Asked, Command, rows};
use super::event::{Due, Event, MessageId};
use super::lexicon::Lexicon;
use super::outcome::{Outcome, Reply};
use super::say::Say;
use super::talk::{Step, Talk};
use super::{Maker, evening, setup, typed};
use crate::blanket::{Book, DayState};

/// The longest typed line that is read at all.
const TYPED_CHARS_MAX: usize = 1000;

/// What follows from an event. The same maker, time and event always give the same outcome.
pub fn respond(maker: &Maker, now: DateTime<Utc>, event: &Event, lexicon: &Lexicon) -> Outcome {
    let maker = &leave_erasing(maker, event);
    let quiet = Outcome::quiet(&maker.talk);
    match event {
        Event::Typed { text, .. } => said(maker, text, now, lexicon),
        Event::Tapped { button: Ok(button), message } => {
            tapped(maker, button, *message, now, lexicon)
        }
        Event::Tapped { button: Err(_), .. } => old_button(maker, now),
        Event::NotText => quiet.say(Reply::new(Say::NotText)),
        Event::Due(Due::Question(day)) => match &maker.book {
            Some(book) => evening::ask_due(maker, book, *day, now),
            None => quiet,
        },
        Event::Edited { .. } | Event::Blocked | Event::Unblocked => quiet,
    }
}

/// Erasing is confirmed by the next line that is typed. A tap or another command leaves that flow,
/// so that the word cannot be taken for it much later.
fn leave_erasing<'a>(maker: &'a Maker, event: &Event) -> Cow<'a, Maker> {
    let leaves = match event {
        Event::Typed { text, .. } => typed::command(text).is_some_and(|(name, _)| {
            !matches!(Command::named(&name), Some(Command::Erase | Command::Cancel))
        }),
        Event::Tapped { .. } => true,
        Event::Edited { .. }
        | Event::NotText
        | Event::Blocked
        | Event::Unblocked
        | Event::Due(_) => false,
    };
    if !leaves || maker.talk.step != Step::Erase {
        return Cow::Borrowed(maker);
    }
    let step = if maker.book.is_some() { Step::Idle } else { Step::Place };
    Cow::Owned(Maker { talk: Talk { step }, ..maker.clone() })
}

fn said(maker: &Maker, text: &str, now: DateTime<Utc>, lexicon: &Lexicon) -> Outcome {
    let quiet = Outcome::quiet(&maker.talk);
    if text.chars().count() > TYPED_CHARS_MAX {
        return quiet.say(Reply::new(Say::TooLong));
    }
    if let Some((name, argument)) = typed::command(text) {
        return match Command::named(&name) {
            Some(command) => commands::run(command, &Asked { maker, argument, now, lexicon }),
            None => not_understood(maker, text),
        };
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
        Step::Practice | Step::Idle | Step::Day { .. } => answer_typed(maker, text, now),
    }
}

/// A tier's exact label or number answers the question asked last, or the day that is on.
fn answer_typed(maker: &Maker, text: &str, now: DateTime<Utc>) -> Outcome {
    let Some(book) = &maker.book else { return setup::again(maker, now) };
    let tier = book.scale().typed(text).map(|tier| tier.id);
    if let (Step::Practice, Some(tier)) = (&maker.talk.step, tier) {
        return setup::practice_answered(book, tier, None)
            .unwrap_or_else(|| Outcome::quiet(&maker.talk));
    }
    let today = book.hours().day_at(now);
    let day = match maker.talk.step {
        Step::Day { day } => Some(day),
        _ => (book.day(today, today) == DayState::Open).then_some(today),
    };
    match (day, tier) {
        (Some(day), Some(tier)) => evening::answer(maker, book, (day, tier), now, None),
        (Some(day), None) if maker.talk.step == (Step::Day { day }) => {
            let example = book.scale().default_tier().label.clone();
            let typed = text.to_owned();
            Outcome::quiet(&maker.talk).say(Reply::new(Say::UnknownTier { typed, day, example }))
        }
        // A tier for a day that has one: the tiers come with what is kept now.
        (None, Some(_)) => evening::ask_to_change(maker, book, today, now, None),
        (Some(_) | None, None) => not_understood(maker, text),
    }
}

fn tapped(
    maker: &Maker,
    button: &Button,
    message: MessageId,
    now: DateTime<Utc>,
    lexicon: &Lexicon,
) -> Outcome {
    match &maker.book {
        Some(book) => tapped_with_book(maker, book, button, message, now),
        None => tapped_in_setup(maker, button, message, now, lexicon),
    }
}

fn tapped_in_setup(
    maker: &Maker,
    button: &Button,
    message: MessageId,
    now: DateTime<Utc>,
    lexicon: &Lexicon,
) -> Outcome {
    match button {
        Button::Zone { zone } => setup::zone_chosen(*zone, now, message),
        Button::ZoneRight { zone } => setup::zone_kept(*zone, Some(message)),
        Button::OtherPlace => setup::other_place(Some(message)),
        Button::AskAt { zone, time } => setup::hour_kept(*zone, *time, now, Some(message)),
        Button::FirstDay { zone, time, day } => {
            setup::first_day_kept(maker, (*zone, *time), *day, now, lexicon, Some(message))
        }
        // A repeated tap on the consent screen: the step it led to is there already.
        Button::Agree { .. } | Button::Decline => Outcome::quiet(&maker.talk),
        Button::Answer { .. }
        | Button::Ask { .. }
        | Button::Leave { .. }
        | Button::Practice
        | Button::PracticeAnswer { .. }
        | Button::Worked { .. }
        | Button::Undo { .. }
        | Button::Rows => old_button(maker, now),
    }
}

fn tapped_with_book(
    maker: &Maker,
    book: &Book,
    button: &Button,
    message: MessageId,
    now: DateTime<Utc>,
) -> Outcome {
    match button {
        Button::Answer { day, tier } => {
            evening::answer(maker, book, (*day, *tier), now, Some(message))
        }
        Button::Ask { day } => evening::ask_to_change(maker, book, *day, now, Some(message)),
        Button::Leave { day } => evening::leave(maker, book, *day, now, message),
        Button::Practice => setup::practice(book, message),
        Button::PracticeAnswer { tier } => setup::practice_answered(book, *tier, Some(message))
            .unwrap_or_else(|| old_button(maker, now)),
        Button::Worked { block, from, to, colours } => {
            rows::worked(maker, book, (*block, *from, *to, *colours), now, message)
        }
        Button::Undo { block, left, was } => {
            rows::undo(maker, book, (*block, *left, *was), now, message)
        }
        Button::Rows => rows::show(maker, book, now, message),
        // A repeated tap on the last screen of set-up: the blanket it began is there already.
        Button::FirstDay { day, .. } if *day == book.plan().first_day() => {
            Outcome::quiet(&maker.talk)
        }
        Button::Agree { .. }
        | Button::Decline
        | Button::Zone { .. }
        | Button::ZoneRight { .. }
        | Button::OtherPlace
        | Button::AskAt { .. }
        | Button::FirstDay { .. } => old_button(maker, now),
    }
}

/// A button nobody can read any more, or of a step that is over: the day's own buttons come
/// instead.
fn old_button(maker: &Maker, now: DateTime<Utc>) -> Outcome {
    let fresh = match &maker.book {
        None => setup::again(maker, now),
        Some(book) => evening::show(maker, book, book.hours().day_at(now), now),
    };
    let mut outcome = Outcome { talk: maker.talk.clone(), ..fresh };
    if let (Some(_), Some(day)) = (&maker.book, open_day(maker, now)) {
        outcome.talk.step = Step::Day { day };
    }
    outcome.replies.insert(0, Reply::new(Say::OldButton));
    outcome
}

fn open_day(maker: &Maker, now: DateTime<Utc>) -> Option<chrono::NaiveDate> {
    let hours = maker.book.as_ref()?.hours();
    let today = hours.day_at(now);
    let open = maker.book.as_ref()?.day(today, today) == DayState::Open;
    (open && maker.talk.step == Step::Idle).then_some(today)
}

fn not_understood(maker: &Maker, text: &str) -> Outcome {
    let typed = text.to_owned();
    Outcome::quiet(&maker.talk).say(Reply::new(Say::NotUnderstood { typed }))
}
