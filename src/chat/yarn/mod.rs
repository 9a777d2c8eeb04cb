//! Yarn in the chat: what is on hand and whether it lasts, balls, weighings, what to buy.

mod entering;
mod looking;
mod read;
pub mod said;
mod settings;

use chrono::{DateTime, Utc};

use super::Maker;
use super::button::YarnButton;
use super::caption::Caption;
use super::event::MessageId;
use super::lexicon::Lexicon;
use super::outcome::{Key, Outcome, Place, Reply, Slot};
use super::say::Say;
use super::talk::{Step, YarnWait};
use crate::blanket::stock::{EntryKind, Tenths};
use crate::blanket::{Book, Yarn, YarnId};

pub use entering::entered;
pub use looking::list;
use read::Reader;
pub use said::{AskGrams, YarnCaption, YarnLine, YarnRefusal, YarnSaid};

/// What a line that speaks of yarn says of a colour, or why it cannot.
pub type Read = Result<(YarnId, EntryKind), YarnRefusal>;

pub fn tapped(
    maker: &Maker,
    book: &Book,
    button: YarnButton,
    tapped: MessageId,
    now: DateTime<Utc>,
) -> Outcome {
    let screen = |reply: Reply| maker.at(Step::Idle).say(reply.at(in_place(tapped)));
    match button {
        YarnButton::List => show(maker, book, tapped),
        YarnButton::Detail { yarn } => match looking::detail(book, yarn) {
            Some(reply) => screen(reply),
            None => show(maker, book, tapped),
        },
        YarnButton::ChooseBall => screen(choose(book, |yarn| YarnButton::Ball { yarn })),
        YarnButton::ChooseWeighing => screen(choose(book, |yarn| YarnButton::Weigh { yarn })),
        YarnButton::Ball { yarn } => {
            ask(maker, book, yarn, YarnWait::Ball { yarn: yarn.0 }, tapped)
        }
        YarnButton::Weigh { yarn } => {
            ask(maker, book, yarn, YarnWait::Weigh { yarn: yarn.0 }, tapped)
        }
        YarnButton::Before { yarn } => {
            ask(maker, book, yarn, YarnWait::Before { yarn: yarn.0 }, tapped)
        }
        YarnButton::AskCorrection { yarn } => {
            ask(maker, book, yarn, YarnWait::Correction { yarn: yarn.0 }, tapped)
        }
        YarnButton::Correct { yarn, tenths } => {
            let corrected = Ok((yarn, EntryKind::Correction(tenths.min(Tenths::MAX))));
            entered(maker, book, corrected, now)
        }
        YarnButton::Undo { yarn, entries } => entering::undo(maker, book, (yarn, entries), tapped),
        YarnButton::ToBuy => screen(looking::to_buy(book)),
        YarnButton::Settings => screen(settings::list(book)),
        YarnButton::Set(choice) => settings::set(maker, book, choice, tapped),
        YarnButton::AskJoin => screen(settings::ask_join(book)),
        YarnButton::AskLabel => {
            let step = Step::Yarn { wait: YarnWait::Label };
            maker.at(step).say(settings::ask_label(book).at(in_place(tapped)))
        }
        YarnButton::Guess => screen(settings::guess(book)),
        YarnButton::AskCommon { tier } => screen(settings::ask_common(book, tier)),
        YarnButton::NoGuess { tier } => settings::unset_common(maker, book, tier, tapped),
        YarnButton::Common { tier, common } => {
            settings::set_common(maker, book, (tier, common), tapped)
        }
    }
}

fn show(maker: &Maker, book: &Book, tapped: MessageId) -> Outcome {
    maker.at(Step::Idle).say(list(book).at(in_place(tapped)))
}

/// Which colour?
fn choose(book: &Book, button: impl Fn(YarnId) -> YarnButton) -> Reply {
    let reply = said(book, YarnSaid::WhichColour);
    colours(book, reply, button).keys([key(Caption::Back, YarnButton::List)])
}

/// A button for each colour, two a line.
fn colours(book: &Book, reply: Reply, button: impl Fn(YarnId) -> YarnButton) -> Reply {
    let key = |yarn: &Yarn| key(Caption::Name(yarn.name.to_string()), button(yarn.id));
    let keys: Vec<Key> = book.yarns().iter().map(key).collect();
    keys.chunks(2).fold(reply, |reply, pair| reply.keys(pair.to_vec()))
}

/// Asks for what is typed next, in place of the message that was tapped.
fn ask(maker: &Maker, book: &Book, yarn: YarnId, wait: YarnWait, tapped: MessageId) -> Outcome {
    match question(book, wait) {
        Some(reply) => {
            let back = key(Caption::Back, YarnButton::Detail { yarn });
            maker.at(step(wait)).say(reply.keys([back]).at(in_place(tapped)))
        }
        None => show(maker, book, tapped),
    }
}

/// The steps that were there first have names of their own.
fn step(wait: YarnWait) -> Step {
    match wait {
        YarnWait::Ball { yarn } => Step::Ball { yarn },
        YarnWait::Weigh { yarn } => Step::Weigh { yarn },
        YarnWait::Correction { .. }
        | YarnWait::Before { .. }
        | YarnWait::Rows { .. }
        | YarnWait::After { .. }
        | YarnWait::Label => Step::Yarn { wait },
    }
}

/// What is asked where a step waits; `None` for a colour this blanket does not have.
fn question(book: &Book, wait: YarnWait) -> Option<Reply> {
    let name = |yarn: u8| book.yarn_name(YarnId(yarn)).cloned();
    let grams = |yarn, ask| Some(YarnSaid::AskGrams { yarn: name(yarn)?, ask });
    let asked = match wait {
        YarnWait::Ball { yarn } => name(yarn).map(|yarn| YarnSaid::AskBall { yarn }),
        YarnWait::Weigh { yarn } => grams(yarn, AskGrams::All),
        YarnWait::Correction { yarn } => grams(yarn, AskGrams::Correction),
        YarnWait::Before { yarn } => grams(yarn, AskGrams::Before),
        YarnWait::Rows { yarn, .. } => name(yarn).map(|yarn| YarnSaid::AskRows { yarn }),
        YarnWait::After { yarn, rows, .. } => grams(yarn, AskGrams::After { rows }),
        YarnWait::Label => return Some(settings::ask_label(book)),
    };
    asked.map(|asked| said(book, asked))
}

/// A line that speaks of yarn; `None` where it does not.
pub fn read(book: &Book, text: &str, lexicon: &Lexicon) -> Option<Read> {
    read::line(book, text, reader(book, lexicon))
}

/// What to say to a line where no colour of this blanket is named.
pub fn unknown(book: &Book, typed: &str) -> Reply {
    refusal(book, read::unknown(book, typed))
}

fn reader<'a>(book: &Book, lexicon: &'a Lexicon) -> Reader<'a> {
    Reader { words: &lexicon.yarn, units: book.yarn_settings().units }
}

/// What was asked for, or a whole line about a colour.
pub fn typed(
    maker: &Maker,
    book: &Book,
    wait: YarnWait,
    text: &str,
    now: DateTime<Utc>,
    lexicon: &Lexicon,
) -> Outcome {
    if let Some(read) = read(book, text, lexicon) {
        return entered(maker, book, read, now);
    }
    let reader = reader(book, lexicon);
    let weight = || reader.weight(text, text);
    let goes_on = |wait| match question(book, wait) {
        Some(reply) => maker.at(step(wait)).say(reply.keys([key(Caption::Back, YarnButton::List)])),
        None => maker.at(Step::Idle),
    };
    let kind = match wait {
        YarnWait::Ball { yarn } => {
            let ball = reader.ball(text.trim().trim_start_matches('+'));
            ball.map(|ball| (yarn, EntryKind::Ball(ball)))
        }
        YarnWait::Weigh { yarn } => weight().map(|tenths| (yarn, EntryKind::Weighing(tenths))),
        YarnWait::Correction { yarn } => {
            weight().map(|tenths| (yarn, EntryKind::Correction(tenths)))
        }
        YarnWait::Before { yarn } => match weight() {
            Ok(before) => return goes_on(YarnWait::Rows { yarn, before: before.0 }),
            Err(refusal) => Err(refusal),
        },
        YarnWait::Rows { yarn, before } => match reader.rows(text) {
            Ok(rows) => return goes_on(YarnWait::After { yarn, before, rows }),
            Err(refusal) => Err(refusal),
        },
        YarnWait::After { yarn, before, rows } => {
            weight().map(|after| (yarn, EntryKind::Tried { before: Tenths(before), after, rows }))
        }
        YarnWait::Label => match reader.label(text) {
            Ok(label) => return settings::set_label(maker, book, label),
            Err(refusal) => Err(refusal),
        },
    };
    match kind {
        Ok((yarn, kind)) => entered(maker, book, Ok((YarnId(yarn), kind)), now),
        Err(refused) => {
            let reply = refusal(book, refused);
            maker.quiet().say(reply.keys([key(Caption::Back, YarnButton::List)]))
        }
    }
}

fn said(book: &Book, said: YarnSaid) -> Reply {
    Reply::new(Say::Yarn(book.yarn_settings().units, Box::new(said)))
        .at(Place::New(Some(Slot::Yarn)))
}

fn refusal(book: &Book, refusal: YarnRefusal) -> Reply {
    Reply::new(Say::YarnRefused(book.yarn_settings().units, refusal))
}

fn key(caption: Caption, button: YarnButton) -> Key {
    Key { caption, button: button.into() }
}

fn yarn_key(caption: YarnCaption, button: YarnButton) -> Key {
    key(Caption::Yarn(caption), button)
}

fn in_place(tapped: MessageId) -> Place {
    Place::Change { slot: Some(Slot::Yarn), tapped: Some(tapped) }
}
