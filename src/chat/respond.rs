//! The one way in: sends an event to the flow or the command it belongs to.

use std::borrow::Cow;

use chrono::{DateTime, NaiveDate, Utc};

use super::button::{Button, SetUpTap};
use super::commands::{self, Asked, Command, rows};
use super::event::{Due, Event, MessageId, RepliedTo};
use super::lexicon::Lexicon;
use super::outcome::{Outcome, Reply};
use super::say::Say;
use super::talk::{Step, YarnWait};
use super::typed::TypedDate;
use super::{
    Maker, blankets, blocks, colours, differing, drawn, evening, in_one_go, later, lines, making,
    many, not_sure, notes, nudges, paper, people, place, recap, row_by_row, scale, set_up_list,
    settings, setup, typed, worked_up_to, yarn,
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
            tapped(maker, button, *message, now, lexicon)
        }
        Event::Tapped { button: Err(_), .. } => old_button(maker, now),
        Event::NotText => quiet.say(Reply::new(Say::NotText)),
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
        | Step::NextBlanket
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
            !matches!(Command::named(&name, maker.owner), Some(Command::Erase | Command::Cancel))
        }),
        Event::Tapped { .. } => erasing,
        Event::Edited { .. }
        | Event::NotText
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
        | Step::NextBlanket
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
    match maker.talk.step {
        Step::Erase => return commands::confirm_erase(maker, text, lexicon),
        Step::Ball { yarn } => {
            return yarn::typed(maker, book, YarnWait::Ball { yarn }, text, now, lexicon);
        }
        Step::Weigh { yarn } => {
            return yarn::typed(maker, book, YarnWait::Weigh { yarn }, text, now, lexicon);
        }
        Step::Yarn { wait } => return yarn::typed(maker, book, wait, text, now, lexicon),
        Step::NewLine { tier } => return lines::typed(maker, book, tier, text, now),
        Step::NewPerson => return people::typed(maker, book, text, now),
        Step::Making { wait } => return making::typed(maker, book, wait, text, lexicon),
        Step::ColourCode { yarn } => return colours::code_typed(maker, book, yarn, text, now),
        Step::ColourName { yarn } => return colours::name_typed(maker, book, yarn, text, now),
        Step::Scale { wait } => return scale::typed(maker, book, wait, text, now, lexicon),
        Step::NextBlanket => return blankets::typed(maker, book, text, now, lexicon),
        Step::Note { day } => {
            // A reply names its day more exactly than the step does.
            let day = line.replied_to().unwrap_or(day);
            return notes::keep(maker, book, day, text, line.message);
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

fn tapped(
    maker: &Maker,
    button: &Button,
    message: MessageId,
    now: DateTime<Utc>,
    lexicon: &Lexicon,
) -> Outcome {
    match &maker.book {
        Some(book) => tapped_with_book(maker, book, button, (message, now), lexicon),
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
        | Button::Rows
        | Button::NotSure { .. }
        | Button::Compare { .. }
        | Button::Later { .. }
        | Button::PutOff { .. }
        | Button::Skip { .. }
        | Button::ForNow { .. }
        | Button::Assume { .. }
        | Button::AssumeAll { .. }
        | Button::KeepMany { .. }
        | Button::DropMany { .. }
        | Button::UndoMany { .. }
        | Button::WriteNote { .. }
        | Button::DeleteNote { .. }
        | Button::Recap { .. }
        | Button::Settings
        | Button::Describe { .. }
        | Button::DeleteLine { .. }
        | Button::Change { .. }
        | Button::SetAskAt { .. }
        | Button::SetDayTurn { .. }
        | Button::SetZone { .. }
        | Button::SetNudges { .. }
        | Button::Nudges { .. }
        | Button::SetRecap { .. }
        | Button::Resume
        | Button::WorkedUpTo { .. }
        | Button::UndoUpTo { .. }
        | Button::Making { .. }
        | Button::Colours(_)
        | Button::Scale(_)
        | Button::People(_)
        | Button::SetUp(_)
        | Button::RowsToEnd
        | Button::RowByRow(_)
        | Button::LeaveRow { .. }
        | Button::PullBack { .. }
        | Button::OfBlock(_)
        | Button::OfBlankets(_)
        | Button::OfYarn(_)
        | Button::Paper(_)
        | Button::Draw(_) => old_button(maker, now),
    }
}

fn tapped_with_book(
    maker: &Maker,
    book: &Book,
    button: &Button,
    (message, now): (MessageId, DateTime<Utc>),
    lexicon: &Lexicon,
) -> Outcome {
    let here = Some(message);
    match button {
        Button::Answer { day, tier } => evening::answer(maker, book, (*day, *tier), now, here),
        Button::Ask { day } => evening::ask_to_change(maker, book, *day, now, here),
        Button::Leave { day } => evening::leave(maker, book, *day, now, message),
        Button::Practice => setup::practice(book, message),
        Button::PracticeAnswer { tier } => {
            setup::practice_answered(book, *tier, here).unwrap_or_else(|| old_button(maker, now))
        }
        Button::Worked { block, from, to, colours } => {
            rows::worked(maker, book, (*block, *from, *to, *colours), now, message)
        }
        Button::Undo { block, left, was } => {
            rows::undo(maker, book, (*block, *left, *was), now, message)
        }
        Button::Rows => rows::show(maker, book, now, message),
        // A repeated tap on the last screen of set-up: the blanket it began is there already.
        Button::FirstDay { day, .. } if *day == book.plan().first_day() => maker.quiet(),
        Button::Agree { .. }
        | Button::Decline
        | Button::Zone { .. }
        | Button::ZoneRight { .. }
        | Button::OtherPlace
        | Button::AskAt { .. }
        | Button::FirstDay { .. } => old_button(maker, now),
        Button::NotSure { day } => not_sure::compare(maker, book, *day, now, message),
        Button::Compare { day, part } => not_sure::choose(maker, book, (*day, *part), now, message),
        Button::Later { day } => later::ask_when(maker, book, *day, now, message),
        Button::PutOff { day, until } => later::put_off(maker, book, (*day, *until), now, message),
        Button::Skip { day } => later::skip(maker, book, *day, now, message),
        Button::ForNow { day, on } => evening::for_now(maker, book, (*day, *on), now, message),
        Button::Assume { day } => evening::assume(maker, book, *day, now, message),
        Button::AssumeAll { first, last, count } => {
            in_one_go::assume_all(maker, book, (*first, *last, *count), now, message)
        }
        Button::KeepMany { id } => in_one_go::keep(maker, book, *id, now, message),
        Button::DropMany { id } => in_one_go::forget(maker, *id, message),
        Button::UndoMany { id } => in_one_go::undo(maker, book, *id, now, message),
        Button::WriteNote { day } => notes::ask(maker, book, *day),
        Button::DeleteNote { note } => notes::delete(maker, book, *note, message),
        Button::WorkedUpTo { from, to } => {
            worked_up_to::cross_off(maker, book, (*from, *to), now, message)
        }
        Button::UndoUpTo { from, to } => worked_up_to::undo(maker, book, (*from, *to), message),
        Button::Recap { on } => recap::show(maker, book, *on, now, message),
        Button::Settings => settings::show(maker, book, message),
        Button::Describe { tier } => lines::ask(maker, book, *tier, message),
        Button::DeleteLine { tier } => lines::delete(maker, book, *tier, now, message),
        Button::Change { setting } => settings::ask(maker, book, *setting, message),
        Button::SetAskAt { time } => settings::set_ask_at(maker, book, *time, here),
        Button::SetDayTurn { time } => settings::set_day_turn(maker, book, *time, here),
        Button::SetZone { zone } => settings::set_zone(maker, book, *zone, here),
        Button::SetNudges { at } => settings::set_nudges(maker, book, *at, now, here),
        Button::SetRecap { on, whole } => settings::set_recap(maker, book, (*on, *whole), here),
        Button::Nudges { at } => nudges::answered(maker, book, *at, now, here),
        Button::Resume => settings::resume(maker, book, now, here),
        Button::Making { act } => making::tapped(maker, book, *act, message),
        Button::Colours(tap) => colours::tapped(maker, book, tap, (message, now), lexicon.palettes),
        Button::Scale(tap) => scale::tapped(maker, book, *tap, now, message),
        Button::SetUp(tap) => tapped_in_list(maker, book, *tap, (message, now), lexicon),
        Button::People(tap) => people::tapped(maker, book, *tap, message),
        // The list of rows, row by row, and rows that differ from their day.
        Button::RowsToEnd => rows::show_to_end(maker, book, now, message),
        Button::RowByRow(tap) => row_by_row::tapped(maker, book, *tap, now, message),
        Button::LeaveRow { day } => differing::leave(maker, book, *day, now, message),
        Button::PullBack { block, left, was } => {
            differing::pull_back(maker, book, (*block, *left, *was), now, message)
        }
        Button::OfBlock(button) => blocks::tapped(maker, book, button, message, now),
        Button::OfYarn(button) => yarn::tapped(maker, book, *button, message, now),
        Button::OfBlankets(tap) => blankets::tapped(maker, book, *tap, message, now),
        Button::Paper(tap) => paper::tapped(maker, book, *tap, message),
        Button::Draw(drawn) => drawn::tapped(maker, book, *drawn, now),
    }
}

/// The list of further steps of set-up: a step is a tap on the button of its screen.
fn tapped_in_list(
    maker: &Maker,
    book: &Book,
    tap: SetUpTap,
    (message, now): (MessageId, DateTime<Utc>),
    lexicon: &Lexicon,
) -> Outcome {
    let SetUpTap::Go { step } = tap else {
        return set_up_list::tapped(maker, book, tap, message, lexicon);
    };
    let (maker, way) = (set_up_list::coming_from_it(maker), set_up_list::way(step));
    tapped_with_book(&maker, book, &way, (message, now), lexicon)
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
