//! What a tapped button comes to: each leads to the file of its command or flow.

use chrono::{DateTime, Utc};

use super::button::{Button, SetUpTap};
use super::commands::rows;
use super::event::MessageId;
use super::lexicon::Lexicon;
use super::outcome::{Outcome, Reply};
use super::respond::open_day;
use super::say::Say;
use super::talk::Step;
use super::{
    Maker, blankets, blocks, bring_back, colours, differing, drawn, evening, in_one_go, later,
    lines, making, meanings, not_sure, notes, nudges, paper, people, recap, row_by_row, scale,
    set_up_list, settings, setup, worked_up_to, yarn,
};
use crate::blanket::Book;

pub fn tapped(
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
        Button::BringBack(tap) => bring_back::tapped(maker, *tap, message),
        Button::Answer { .. }
        | Button::Ask { .. }
        | Button::Leave { .. }
        | Button::Practice
        | Button::PracticeAnswer { .. }
        | Button::Worked { .. }
        | Button::Undo { .. }
        | Button::Rows
        | Button::NotSure { .. }
        | Button::Meanings { .. }
        | Button::PracticeMeanings
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

#[expect(clippy::too_many_lines, reason = "an arm for each button, and nothing else")]
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
        Button::Meanings { day, asked_in } => {
            meanings::show(maker, book, (*day, *asked_in), now, message)
        }
        Button::PracticeMeanings => setup::practice_with_meanings(book, message),
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
        Button::BringBack(tap) => bring_back::tapped(maker, *tap, message),
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
pub fn old_button(maker: &Maker, now: DateTime<Utc>) -> Outcome {
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
