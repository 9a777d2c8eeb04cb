//! The maker's own scale: its tiers, their order, the default tier, and the question. Screens
//! edited in place, one thing at a time; the last change can be undone by one tap.
//!
//! Never changes a day but those of a removed tier, which get the tier the maker names, and never
//! takes a row for unworked.

mod change;
mod kept;
mod read;
mod said;
mod screens;
mod shown;
mod undo;

use chrono::{DateTime, NaiveDate, Utc};

use super::Maker;
use super::button::ScaleTap;
use super::event::MessageId;
use super::lexicon::Lexicon;
use super::outcome::{Key, Outcome, Place, Reply, Slot};
use super::say::Say;
use super::talk::Step;
use crate::blanket::colours::read_hex;
use crate::blanket::{Book, OwnQuestion, TIERS_MAX, TierId, YARNS_MAX};

pub use kept::{MovedDay, NewTier, Rescaled, ScaleWait, What};
pub use said::{NameFault, ScaleCaption, ScaleDone, ScaleRefusal, ScaleSaid, TierInList};
pub use screens::{key, own_key};

type Tapped = Option<MessageId>;

pub fn tapped(
    maker: &Maker,
    book: &Book,
    tap: ScaleTap,
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    let tapped = Some(tapped);
    let show = |reply| idle(maker, reply, tapped);
    let wait = |wait, reply: Reply| maker.at(Step::Scale { wait }).say(reply.at(place(tapped)));
    match tap {
        ScaleTap::Open => idle(maker, screens::home(book, None), None),
        ScaleTap::Home => show(screens::home(book, None)),
        ScaleTap::Tier { tier } => show(screens::tier(book, tier, None)),
        ScaleTap::Rename { tier } => match screens::ask_label(book, tier) {
            Some(ask) => wait(ScaleWait::Label { tier: tier.0 }, ask),
            None => show(screens::home(book, None)),
        },
        ScaleTap::Move { tier, to } => change::move_to(maker, book, (tier, to), now, tapped),
        ScaleTap::Remove { tier } => change::remove(maker, book, (tier, None), now, tapped),
        ScaleTap::RemoveTo { tier, days_get } => {
            change::remove(maker, book, (tier, Some(days_get)), now, tapped)
        }
        ScaleTap::AskDefault => show(screens::ask_default(book)),
        ScaleTap::Default { tier } => change::make_default(maker, book, tier, now, tapped),
        ScaleTap::AskQuestion => wait(ScaleWait::Question, screens::ask_question(book)),
        ScaleTap::UsualQuestion => change::ask_so(maker, book, None, now, tapped),
        ScaleTap::AskWhere => match refusal_of_one_more(book) {
            Some(refusal) => refused(maker, refusal, screens::key(ScaleTap::Home), tapped),
            None => show(screens::ask_where(book)),
        },
        ScaleTap::Above { tier } => match refusal_of_one_more(book) {
            Some(refusal) => refused(maker, refusal, screens::key(ScaleTap::Home), tapped),
            None if tier.is_some_and(|tier| book.scale().tier(tier).is_none()) => {
                show(screens::ask_where(book))
            }
            None => {
                let above = tier.map(|tier| tier.0);
                wait(ScaleWait::NewLabel { above }, screens::ask_new_label(book, tier))
            }
        },
        ScaleTap::Yarn { draft, yarn } => match drafted(maker, draft) {
            Some(new) => change::add(maker, book, new, change::InYarn::Known(yarn), tapped),
            None => change::added_before(maker, book, draft, tapped),
        },
        ScaleTap::AskYarn { draft } => match drafted(maker, draft) {
            Some(new) => wait(ScaleWait::Yarn, screens::ask_yarn(book, new)),
            None => change::added_before(maker, book, draft, tapped),
        },
        ScaleTap::Colour { draft, rgb } => match drafted(maker, draft) {
            Some(new) => change::add(maker, book, new, change::InYarn::New(rgb), tapped),
            None => change::added_before(maker, book, draft, tapped),
        },
        ScaleTap::Undo { id } => undo::undo(maker, book, id, tapped),
    }
}

/// What was typed where a screen waits for it.
pub fn typed(
    maker: &Maker,
    book: &Book,
    wait: ScaleWait,
    text: &str,
    now: DateTime<Utc>,
    lexicon: &Lexicon,
) -> Outcome {
    let today = book.hours().day_at(now);
    let name = || read::name(book, text, today, lexicon);
    let refuse = |fault, back| {
        let refusal = ScaleRefusal::Name { typed: text.to_owned(), wait, fault };
        refused(maker, refusal, screens::back(back), None)
    };
    match wait {
        ScaleWait::Label { tier } => {
            let tier = TierId(tier);
            match name() {
                Ok(label) => change::rename(maker, book, (tier, label), now),
                Err(fault) => refuse(fault, ScaleTap::Tier { tier }),
            }
        }
        ScaleWait::NewLabel { above } => match name() {
            Ok(label) => match book.scale().labelled(&label) {
                Some(taken) => refuse(NameFault::Taken(taken.label.clone()), ScaleTap::AskWhere),
                None => {
                    let id = maker.talk.fresh_id(now);
                    let new = NewTier { id, above, label: label.to_string(), yarn: None };
                    let ask = screens::ask_yarn(book, &new).at(place(None));
                    let mut outcome = maker.at(Step::Scale { wait: ScaleWait::Yarn }).say(ask);
                    outcome.talk.new_tier = Some(new);
                    outcome
                }
            },
            Err(fault) => refuse(fault, ScaleTap::AskWhere),
        },
        ScaleWait::Yarn => yarn_typed(maker, book, text, today, lexicon),
        ScaleWait::YarnColour => {
            let Some(new) = &maker.talk.new_tier else { return none_drafted(maker, book) };
            match read_hex(text) {
                Some(rgb) => change::add(maker, book, new, change::InYarn::New(rgb), None),
                None => {
                    let back = screens::back(ScaleTap::AskYarn { draft: new.id });
                    refused(maker, ScaleRefusal::Colour { typed: text.to_owned() }, back, None)
                }
            }
        }
        ScaleWait::Question => match OwnQuestion::parse(text) {
            Ok(question) => change::ask_so(maker, book, Some(question), now, None),
            Err(fault) => {
                let back = screens::back(ScaleTap::Home);
                refused(maker, ScaleRefusal::Question(fault), back, None)
            }
        },
    }
}

/// The yarn of the tier that is drafted: one that is there, or the name of a new one.
fn yarn_typed(
    maker: &Maker,
    book: &Book,
    text: &str,
    today: NaiveDate,
    lexicon: &Lexicon,
) -> Outcome {
    let Some(new) = &maker.talk.new_tier else { return none_drafted(maker, book) };
    if let Some(yarn) = book.yarns().iter().find(|yarn| yarn.name.is(text)) {
        return change::add(maker, book, new, change::InYarn::Known(yarn.id), None);
    }
    match read::name(book, text, today, lexicon) {
        Ok(_) if book.yarns().len() >= YARNS_MAX => {
            let back = screens::back(ScaleTap::AskYarn { draft: new.id });
            refused(maker, ScaleRefusal::YarnsFull { most: YARNS_MAX }, back, None)
        }
        Ok(yarn) => {
            let new = NewTier { yarn: Some(yarn.to_string()), ..new.clone() };
            let ask = screens::ask_colour(book, &yarn, new.id, lexicon).at(place(None));
            let mut outcome = maker.at(Step::Scale { wait: ScaleWait::YarnColour }).say(ask);
            outcome.talk.new_tier = Some(new);
            outcome
        }
        Err(fault) => {
            let (typed, wait) = (text.to_owned(), ScaleWait::Yarn);
            let refusal = ScaleRefusal::Name { typed, wait, fault };
            refused(maker, refusal, screens::back(ScaleTap::AskWhere), None)
        }
    }
}

/// Why there can be no other tier.
fn refusal_of_one_more(book: &Book) -> Option<ScaleRefusal> {
    match book.scale().tiers().len() {
        TIERS_MAX.. => Some(ScaleRefusal::Full { most: TIERS_MAX }),
        _ => book.fresh_tier_id().is_none().then_some(ScaleRefusal::AllUsed),
    }
}

fn drafted(maker: &Maker, id: i64) -> Option<&NewTier> {
    maker.talk.new_tier.as_ref().filter(|new| new.id == id)
}

fn none_drafted(maker: &Maker, book: &Book) -> Outcome {
    idle(maker, screens::home(book, None), None)
}

fn idle(maker: &Maker, reply: Reply, tapped: Option<MessageId>) -> Outcome {
    maker.at(Step::Idle).say(reply.at(place(tapped)))
}

/// Nothing is changed. What was typed may be typed anew; the button leaves the step.
fn refused(
    maker: &Maker,
    refusal: ScaleRefusal,
    way_out: Key,
    tapped: Option<MessageId>,
) -> Outcome {
    let reply = Reply::new(Say::ScaleRefused(refusal)).keys([way_out]);
    match tapped {
        Some(_) => idle(maker, reply, tapped),
        None => maker.quiet().say(reply),
    }
}

fn place(tapped: Option<MessageId>) -> Place {
    match tapped {
        Some(message) => Place::Change { slot: Some(Slot::Settings), tapped: Some(message) },
        None => Place::New(Some(Slot::Settings)),
    }
}
