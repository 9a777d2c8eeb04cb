//! How the maker says how the blanket is made: blocks, stitch, width, swatch and size. Screens
//! edited in place, one thing at a time; every change can be undone by one tap.
//!
//! Never changes a worked row: with rows worked, what blocks and stitch would make of them is shown
//! first, and the change waits for a tap.

mod facts;
mod keys;
mod read;
mod said;
mod screens;
mod shape;
mod ways;
mod worked;

use super::Maker;
use super::button::{Act, Button, Choice, Screen, Shown};
use super::caption::Caption;
use super::event::MessageId;
use super::lexicon::Lexicon;
use super::outcome::{Key, Outcome, Place, Reply, Slot};
use super::say::Say;
use super::talk::{Awaited, Step};
use crate::blanket::size::Basis;
use crate::blanket::stitch::Width;
use crate::blanket::{Book, Cut, Terms};

pub use said::{
    BlocksSaid, EndsSaid, Lost, MakingRefusal, MakingSaid, SizeSaid, SwatchSaid, WorkedSaid,
};
use shape::Shape;

/// The fewest and the most days of a block that is not a month.
pub const DAYS_OF_BLOCK: std::ops::RangeInclusive<u16> = 1..=60;

pub fn tapped(maker: &Maker, book: &Book, act: Act, tapped: MessageId) -> Outcome {
    match act {
        Act::Show(screen) => open(maker, book, screen, Some(tapped)),
        Act::Choose(choice) => {
            choose(maker, book, (choice, None), ways::of_choice(choice), Some(tapped))
        }
        Act::Change { choice, shown } => {
            choose(maker, book, (choice, Some(shown)), ways::of_choice(choice), Some(tapped))
        }
    }
}

/// Shows a screen, and waits for what is typed there.
pub fn open(maker: &Maker, book: &Book, screen: Screen, tapped: Option<MessageId>) -> Outcome {
    let screen = ways::of_this_blanket(book, screen);
    let wait = ways::waits(screen);
    let step = wait.map_or(Step::Idle, |wait| Step::Making { wait });
    let reply = screens::screen(book, screen, &Lost::default());
    maker.at(step).say(reply.at(place(tapped)))
}

/// Keeps a choice, and shows how it is now with a way back to how it was; or says why not, with a
/// way `back` to a screen. With rows worked it is kept if what it makes of them is what was shown.
fn choose(
    maker: &Maker,
    book: &Book,
    (choice, was_shown): (Choice, Option<Shown>),
    back: Screen,
    tapped: Option<MessageId>,
) -> Outcome {
    let screen = ways::of_choice(choice);
    let after = match shape::with(book, choice) {
        Ok(after) => after,
        Err(refusal) => return refused(maker, book, refusal, back, tapped),
    };
    let before = Shape::of(book);
    if after == before {
        let reply = screens::quiet(book, screen, &Lost::default());
        return maker.at(Step::Idle).say(reply.at(place(tapped)));
    }
    if to_be_shown(book, choice) && was_shown != Some(worked::shown(book, &after)) {
        return show_worked(maker, book, &after, choice, tapped);
    }
    let changed = worked::shaped(book, &after);
    let mut reply = screens::quiet(&changed, screen, &Lost::between(&before, &after));
    let undo = Button::Making { act: act(&changed, &before, shape::back(&before, choice)) };
    reply.keys.insert(0, vec![Key { caption: Caption::Undo, button: undo }]);
    maker.at(Step::Idle).change(after.change()).say(reply.at(place(tapped)))
}

/// Whether worked rows are to be looked at before this choice is kept.
fn to_be_shown(book: &Book, choice: Choice) -> bool {
    shape::moves_rows(choice) && worked::rows_worked(book) > 0
}

/// What a button does that makes the blanket so.
fn act(book: &Book, after: &Shape, choice: Choice) -> Act {
    match to_be_shown(book, choice) {
        true => Act::Change { choice, shown: worked::shown(book, after) },
        false => Act::Choose(choice),
    }
}

/// What a choice would make of worked rows. Nothing is changed; what was typed may be typed anew.
fn show_worked(
    maker: &Maker,
    book: &Book,
    after: &Shape,
    choice: Choice,
    tapped: Option<MessageId>,
) -> Outcome {
    let said = MakingSaid::Worked(worked::said(book, after, choice));
    let leave = Button::Making { act: Act::Show(ways::of_choice(choice)) };
    let reply = Reply::new(Say::Making(said))
        .keys([act_key(act(book, after, choice), book.fabric().terms)])
        .key(Caption::LeaveAsItIs, leave)
        .at(place(tapped));
    match tapped {
        Some(_) => maker.at(Step::Idle).say(reply),
        None => maker.quiet().say(reply),
    }
}

/// What was typed where a screen waits for it.
pub fn typed(maker: &Maker, book: &Book, wait: Awaited, text: &str, lexicon: &Lexicon) -> Outcome {
    let words = &lexicon.making;
    let back = ways::parent(ways::of(wait)).unwrap_or(Screen::Home);
    let choice = match wait {
        Awaited::Days => read::count(text, words.days).map(|days| Choice::Cut(Cut::Every(days))),
        Awaited::Rows => read::count(text, words.rows).map(Choice::Rows),
        Awaited::OwnWidths(craft) => {
            read::own(text, craft, words).map(|stitch| Choice::Stitch { stitch, turn: false })
        }
        Awaited::Width => {
            read::count(text, words.stitches).map(|across| Choice::Width(Some(Width(across))))
        }
        Awaited::Swatch(basis) => match read::swatch(text, basis, words) {
            Some(Ok(swatch)) => Some(Choice::Swatch(Some(swatch))),
            Some(Err(_)) => return refused(maker, book, MakingRefusal::Swatch, back, None),
            None => None,
        },
        Awaited::Columns => read::count(text, words.columns).map(|it| Choice::Columns(Some(it))),
        Awaited::Border => read::count(text, words.rounds).map(Choice::Border),
    };
    match choice {
        Some(choice) => choose(maker, book, (choice, None), back, None),
        None => refused(maker, book, screens::unread(book, wait, text), back, None),
    }
}

/// Nothing is changed. What was typed may be typed anew; *Back* leaves the step.
fn refused(
    maker: &Maker,
    book: &Book,
    refusal: MakingRefusal,
    back: Screen,
    tapped: Option<MessageId>,
) -> Outcome {
    let ways_on = keys::ways_on(book, &refusal);
    let reply = Reply::new(Say::MakingRefused(refusal)).keys(ways_on).keys([back_key(back)]);
    match tapped {
        Some(_) => maker.at(Step::Idle).say(reply.at(place(tapped))),
        None => maker.quiet().say(reply),
    }
}

/// The button that leads to a screen.
pub fn key(screen: Screen, book: &Book) -> Key {
    act_key(Act::Show(screen), book.fabric().terms)
}

fn act_key(act: Act, terms: Terms) -> Key {
    Key { caption: Caption::Making(act, terms), button: Button::Making { act } }
}

fn back_key(screen: Screen) -> Key {
    Key { caption: Caption::Back, button: Button::Making { act: Act::Show(screen) } }
}

fn place(tapped: Option<MessageId>) -> Place {
    match tapped {
        Some(message) => Place::Change { slot: Some(Slot::Settings), tapped: Some(message) },
        None => Place::New(Some(Slot::Settings)),
    }
}

/// What is measured over, where the maker did not say.
fn basis(book: &Book) -> Basis {
    book.fabric().swatch.map_or(Basis::TenCentimetres, |swatch| swatch.basis)
}
