//! How the maker says how the blanket is made: blocks, stitch, width, swatch and size. Screens
//! edited in place, one thing at a time; every change can be undone by one tap.
//!
//! Never changes which day a worked row is of: with rows worked, blocks and stitch stay.

mod facts;
mod keys;
mod read;
mod said;
mod screens;
mod shape;
mod ways;

use super::Maker;
use super::button::{Act, Button, Choice, Screen};
use super::event::MessageId;
use super::lexicon::Lexicon;
use super::outcome::{Key, Outcome, Place, Reply, Slot};
use super::say::{Caption, Say};
use super::talk::{Awaited, Step};
use crate::blanket::size::Basis;
use crate::blanket::stitch::Width;
use crate::blanket::{Book, Change, Cut, Terms};

pub use said::{BlocksSaid, EndsSaid, Lost, MakingRefusal, MakingSaid, SizeSaid, SwatchSaid};
use shape::Shape;

/// The fewest and the most days of a block that is not a month.
pub const DAYS_OF_BLOCK: std::ops::RangeInclusive<u16> = 1..=60;
/// The largest multiple, and the most that is added to it, of a maker's own stitch.
pub const OWN_MAX: u16 = 100;

pub fn tapped(maker: &Maker, book: &Book, act: Act, tapped: MessageId) -> Outcome {
    match act {
        Act::Show(screen) => open(maker, book, screen, Some(tapped)),
        Act::Choose(choice) => choose(maker, book, choice, ways::of_choice(choice), Some(tapped)),
    }
}

/// Shows a screen, and waits for what is typed there.
pub fn open(maker: &Maker, book: &Book, screen: Screen, tapped: Option<MessageId>) -> Outcome {
    let screen = ways::of_this_blanket(book, screen);
    let wait = ways::waits(screen);
    if wait.is_some_and(moves_rows) {
        let rows = shape::rows_worked(book);
        if rows > 0 {
            let back = ways::parent(screen).unwrap_or(Screen::Home);
            return refused(maker, book, MakingRefusal::Worked { rows }, back, tapped);
        }
    }
    let step = wait.map_or(Step::Idle, |wait| Step::Making { wait });
    let reply = screens::screen(book, screen, &Lost::default());
    maker.at(step).say(reply.at(place(tapped)))
}

fn moves_rows(wait: Awaited) -> bool {
    match wait {
        Awaited::Days | Awaited::Rows | Awaited::OwnWidths(_) => true,
        Awaited::Width | Awaited::Swatch(_) | Awaited::Columns | Awaited::Border => false,
    }
}

/// Keeps a choice, and shows how it is now with a way back to how it was; or says why not, with a
/// way `back` to a screen.
fn choose(
    maker: &Maker,
    book: &Book,
    choice: Choice,
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
    let change = Change::Shaped { pieces: after.pieces, fabric: Box::new(after.fabric) };
    let mut changed = book.clone();
    changed.apply(&change);
    let mut reply = screens::quiet(&changed, screen, &Lost::between(&before, &after));
    let undo = Button::Making { act: Act::Choose(shape::back(&before, choice)) };
    reply.keys.insert(0, vec![Key { caption: Caption::Undo, button: undo }]);
    maker.at(Step::Idle).change(change).say(reply.at(place(tapped)))
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
        Some(choice) => choose(maker, book, choice, back, None),
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
