//! Which of a maker's blankets an event is about, and turning to the next one when it has begun.
//!
//! The core is asked with that blanket in front, as if there were no other; what it changes is
//! then marked as a change of that one. So no command and no flow knows of several blankets.
//! Days decide first: a button or a line that names a day is about the blanket with that day.
//! Questions, open days, nudges and recaps are of the blanket logged now. The rest is of the one
//! in hand.

use chrono::{DateTime, NaiveDate, Utc};

use super::button::Button;
use super::caption::Caption;
use super::commands::Command;
use super::enclosed::Drawn;
use super::event::{Event, RepliedTo};
use super::lexicon::Lexicon;
use super::outcome::{Outcome, Place, Reply};
use super::say::Say;
use super::talk::Step;
use super::typed::{self, TypedDate};
use super::{Maker, blankets, many, people, place, worked_up_to, yarn};
use crate::blanket::{Book, Change, NoteId};

/// What follows from an event. The same maker, time and event always give the same outcome.
pub fn respond(maker: &Maker, now: DateTime<Utc>, event: &Event, lexicon: &Lexicon) -> Outcome {
    if is_old(maker, event) {
        if !shows(event) {
            let old = Reply::new(Say::OldButton).key(Caption::NextRows, Button::Rows);
            return maker.quiet().say(old);
        }
        // Below it: the buttons of the message that was tapped stay old.
        let mut outcome = of_some_blanket(maker, now, event, lexicon);
        outcome.replies.iter_mut().for_each(|reply| {
            if let Place::Change { slot, .. } = reply.place {
                reply.place = Place::New(slot);
            }
        });
        return outcome;
    }
    of_some_blanket(maker, now, event, lexicon)
}

fn of_some_blanket(maker: &Maker, now: DateTime<Utc>, event: &Event, lexicon: &Lexicon) -> Outcome {
    if maker.others.is_empty() {
        return super::respond::respond(maker, now, event, lexicon);
    }
    let (maker, turned) = turn(maker, now);
    let index = match about(&maker, now, event, lexicon) {
        About::Logged => None,
        About::Day(day) => maker.others.iter().position(|book| book.plan().has(day)),
        About::Note(note) => maker.others.iter().position(|book| book.note_of(note).is_some()),
        About::InHand => in_hand(&maker),
    };
    let mut outcome = match index {
        None => super::respond::respond(&maker, now, event, lexicon),
        Some(index) => of_another(&maker, index, now, event, lexicon),
    };
    // What comes from a file is of one blanket alone.
    if !matches!(event, Event::BookRead { .. }) {
        let shared = shared(&maker, index, &outcome.changes);
        outcome.changes.extend(shared);
    }
    outcome.changes.splice(0..0, turned);
    outcome
}

/// The blanket that has begun last is the one logged. The one before stays in hand while it has
/// rows to work, until the maker takes up the other.
fn turn(maker: &Maker, now: DateTime<Utc>) -> (Maker, Option<Change>) {
    let Some(book) = &maker.book else { return (maker.clone(), None) };
    let (before, over) = (book.plan().first_day(), book.plan().last_day());
    let begun = |next: &Book| {
        let first = next.plan().first_day();
        let today = next.hours().day_at(now);
        first > before && first <= today && over < book.hours().day_at(now)
    };
    let Some(index) = maker.others.iter().rposition(begun) else { return (maker.clone(), None) };
    let first_day = maker.others[index].plan().first_day();
    let mut turned = maker.about(index);
    let kept = maker.talk.in_hand.or(book.current_block().map(|_| before));
    let step = turned.talk.step;
    turned.talk = turned.talk.with_in_hand(kept.filter(|kept| *kept != first_day)).at(step);
    (turned, Some(Change::Logged { first_day }))
}

enum About {
    Logged,
    InHand,
    Day(NaiveDate),
    Note(NoteId),
}

/// A button about the blanket in hand, of a message from before another one was taken up or brought
/// back.
fn is_old(maker: &Maker, event: &Event) -> bool {
    let Event::Tapped { button: Ok(button), message } = event else { return false };
    let in_hand = matches!(tapped(maker, button), About::InHand);
    in_hand && maker.talk.in_hand_since.is_some_and(|since| message.0 < since)
}

/// It changes nothing, whichever blanket it is about.
fn shows(event: &Event) -> bool {
    let Event::Tapped { button: Ok(button), .. } = event else { return false };
    matches!(button, Button::Rows | Button::RowsToEnd | Button::Settings | Button::Draw(_))
}

fn in_hand(maker: &Maker) -> Option<usize> {
    let first = maker.talk.in_hand?;
    maker.others.iter().position(|book| book.plan().first_day() == first)
}

fn of_another(
    maker: &Maker,
    index: usize,
    now: DateTime<Utc>,
    event: &Event,
    lexicon: &Lexicon,
) -> Outcome {
    let focused = maker.about(index);
    let mut outcome = super::respond::respond(&focused, now, event, lexicon);
    let book = &maker.others[index];
    let first_day = book.plan().first_day();
    outcome.changes = outcome.changes.into_iter().map(|change| change.of(first_day)).collect();
    if let Event::Typed { .. } = event
        && !outcome.replies.is_empty()
    {
        let said = blankets::BlanketsSaid::InHand(blankets::Years::of(book));
        outcome.replies.insert(0, Reply::new(Say::Blankets(said)).keys([blankets::key()]));
    }
    outcome
}

/// Hours, reminders, people and numbers are the maker's, whichever blanket they were set for.
fn shared(maker: &Maker, index: Option<usize>, changes: &[Change]) -> Vec<Change> {
    let sets = |change: &Change| {
        let change = match change {
            Change::Of { change, .. } => change,
            change => change,
        };
        matches!(change, Change::HoursSet(_) | Change::RemindersSet(_)).then(|| change.clone())
    };
    let begins = |change: &Change| {
        let Change::Of { change, .. } = change else { return false };
        matches!(**change, Change::Began(_))
    };
    // What begins takes its reminders with it.
    if changes.iter().any(begins) {
        return Vec::new();
    }
    let set: Vec<Change> = changes.iter().filter_map(sets).collect();
    let others = maker.others.iter().enumerate().filter(|(other, _)| Some(*other) != index);
    let of_others = others.flat_map(|(_, book)| {
        let first_day = book.plan().first_day();
        set.iter().map(move |change| change.clone().of(first_day))
    });
    let own = if index.is_some() { set.clone() } else { Vec::new() };
    of_others.chain(own).chain(people_alike(maker, changes)).collect()
}

/// What gives each other blanket the people and numbers that the one logged has after `changes`.
fn people_alike(maker: &Maker, changes: &[Change]) -> Vec<Change> {
    let of_people = |change: &&Change| {
        matches!(change, Change::PersonKept { .. } | Change::PersonRemoved { .. })
    };
    let Some(mut logged) = maker.book.clone() else { return Vec::new() };
    let mut set = changes.iter().filter(of_people).peekable();
    if set.peek().is_none() {
        return Vec::new();
    }
    set.for_each(|change| logged.apply(change));
    people::alike(&logged, &maker.others)
}

fn about(maker: &Maker, now: DateTime<Utc>, event: &Event, lexicon: &Lexicon) -> About {
    match event {
        Event::Typed { text, reply_to, .. } => {
            let replied = match reply_to {
                Some(RepliedTo::Day(day)) => Some(*day),
                Some(RepliedTo::Message(_)) | None => None,
            };
            match typed::command(text) {
                Some((name, argument)) => command(maker, &name, argument, now, lexicon),
                None => line(maker, text, replied, now, lexicon),
            }
        }
        Event::Tapped { button: Ok(button), .. } => tapped(maker, button),
        Event::Edited { message, .. } => About::Note(NoteId(message.0)),
        Event::Tapped { button: Err(_), .. }
        | Event::NotText
        | Event::Document { .. }
        | Event::BookRead { .. }
        | Event::Due(_)
        | Event::Blocked
        | Event::Unblocked => About::Logged,
    }
}

fn command(
    maker: &Maker,
    name: &str,
    argument: &str,
    now: DateTime<Utc>,
    lexicon: &Lexicon,
) -> About {
    match Command::named(name, maker.owner) {
        Some(
            Command::Rows
            | Command::Block
            | Command::Blanket
            | Command::Yarn
            | Command::Stitch
            | Command::Settings
            | Command::Export,
        ) => About::InHand,
        Some(Command::Today) => named_day(maker, argument, now, lexicon),
        Some(
            Command::Open
            | Command::Recap
            | Command::Pause
            | Command::Resume
            | Command::Privacy
            | Command::Help
            | Command::Cancel
            | Command::Erase
            | Command::Start
            | Command::Blankets
            | Command::Invite,
        )
        | None => About::Logged,
    }
}

/// The day a line names, alone or with a tier.
fn named_day(maker: &Maker, text: &str, now: DateTime<Utc>, lexicon: &Lexicon) -> About {
    let Some(book) = &maker.book else { return About::Logged };
    let today = book.hours().day_at(now);
    let digits = text.contains(|c: char| c.is_ascii_digit());
    match typed::date(text, today, Some(book.plan()), lexicon) {
        TypedDate::Day(day) if digits => About::Day(day),
        TypedDate::Day(_) | TypedDate::NoSuchDay | TypedDate::NotADate => About::Logged,
    }
}

fn line(
    maker: &Maker,
    text: &str,
    replied: Option<NaiveDate>,
    now: DateTime<Utc>,
    lexicon: &Lexicon,
) -> About {
    if let Some(day) = replied {
        return About::Day(day);
    }
    match maker.talk.step {
        Step::Erase
        | Step::NextBlanket
        | Step::MoveBlanket { .. }
        | Step::NudgesWanted
        | Step::NewPerson
        | Step::Practice => return About::Logged,
        Step::Note { day } => return About::Day(day),
        Step::Idle
        | Step::Place
        | Step::ClockThere
        | Step::ZoneRight { .. }
        | Step::AskAt { .. }
        | Step::FirstDay { .. }
        | Step::Day { .. } => {}
        Step::Ball { .. }
        | Step::Weigh { .. }
        | Step::Yarn { .. }
        | Step::NewAskAt
        | Step::NewPlace
        | Step::NewZone { .. }
        | Step::NewDayTurn
        | Step::NewNudgeAt
        | Step::NewRecapDay
        | Step::NewLine { .. }
        | Step::Making { .. }
        | Step::ColourCode { .. }
        | Step::ColourName { .. }
        | Step::AnotherYarn { .. }
        | Step::Scale { .. } => return About::InHand,
    }
    if let Some(days) = days_of_another(maker, text, now, lexicon) {
        return days;
    }
    if let About::Day(day) = named_day(maker, text, now, lexicon) {
        return About::Day(day);
    }
    let of_work = maker.in_hand().is_some_and(|book| {
        place::read(book, text, lexicon).is_some()
            || worked_up_to::read(text, lexicon).is_some()
            || worked_up_to::read_row(text, lexicon).is_some()
            || yarn::read(book, text, lexicon).is_some()
    });
    if of_work {
        return About::InHand;
    }
    if let Step::Day { day } = maker.talk.step { About::Day(day) } else { About::Logged }
}

/// Days with tiers, all of them of one other blanket.
fn days_of_another(
    maker: &Maker,
    text: &str,
    now: DateTime<Utc>,
    lexicon: &Lexicon,
) -> Option<About> {
    let logged = maker.book.as_ref()?;
    let today = logged.hours().day_at(now);
    if let Some(Ok(days)) = many::read(logged, text, today, lexicon)
        && days.iter().any(|(day, _)| logged.plan().has(*day))
    {
        return Some(About::Logged);
    }
    maker.others.iter().rev().find_map(|book| {
        let days = many::read(book, text, today, lexicon)?.ok()?;
        let (first, _) = *days.first()?;
        days.iter().all(|(day, _)| book.plan().has(*day)).then_some(About::Day(first))
    })
}

fn tapped(maker: &Maker, button: &Button) -> About {
    let draft = || maker.talk.draft.as_ref().and_then(|draft| draft.days.first());
    let undo = || maker.talk.undo.as_ref().and_then(|undo| undo.days.first());
    let day = |day: Option<NaiveDate>| day.map_or(About::Logged, About::Day);
    match button {
        Button::Answer { day, .. }
        | Button::Ask { day }
        | Button::Leave { day }
        | Button::NotSure { day }
        | Button::Meanings { day, .. }
        | Button::Compare { day, .. }
        | Button::Later { day }
        | Button::PutOff { day, .. }
        | Button::Skip { day }
        | Button::ForNow { day, .. }
        | Button::Assume { day }
        | Button::AssumeAll { first: day, .. }
        | Button::WriteNote { day }
        | Button::LeaveRow { day }
        | Button::Recap { on: day } => About::Day(*day),
        Button::KeepMany { .. } | Button::DropMany { .. } => day(draft().map(|(day, _)| *day)),
        Button::UndoMany { .. } => day(undo().map(|undo| undo.day)),
        Button::DeleteNote { note } => About::Note(*note),
        Button::Agree { .. }
        | Button::Decline
        | Button::Zone { .. }
        | Button::ZoneRight { .. }
        | Button::OtherPlace
        | Button::AskAt { .. }
        | Button::FirstDay { .. }
        | Button::Practice
        | Button::PracticeAnswer { .. }
        | Button::PracticeMeanings
        | Button::Nudges { .. }
        | Button::Resume
        // /help shows them, whichever blanket is in hand.
        | Button::People(_)
        | Button::Draw(Drawn::Week { .. } | Drawn::Year)
        | Button::BringBack(_)
        | Button::OfBlankets(_) => About::Logged,
        Button::Worked { .. }
        | Button::Undo { .. }
        | Button::Rows
        | Button::Settings
        | Button::Describe { .. }
        | Button::DeleteLine { .. }
        | Button::Change { .. }
        | Button::SetAskAt { .. }
        | Button::SetDayTurn { .. }
        | Button::SetZone { .. }
        | Button::SetNudges { .. }
        | Button::SetRecap { .. }
        | Button::WorkedUpTo { .. }
        | Button::UndoUpTo { .. }
        | Button::Making { .. }
        | Button::Colours(_)
        | Button::Scale(_)
        | Button::RowsToEnd
        | Button::RowByRow(_)
        | Button::PullBack { .. }
        | Button::OfBlock(_)
        | Button::OfYarn(_)
        | Button::SetUp(_)
        | Button::Paper(_)
        | Button::Draw(Drawn::Yarn | Drawn::Card | Drawn::Imagined) => About::InHand,
    }
}
