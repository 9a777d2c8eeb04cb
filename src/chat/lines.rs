//! The maker's own line about days of each tier: written, changed and deleted in the settings.

use chrono::{DateTime, Utc};

use super::Maker;
use super::button::{Button, Setting};
use super::caption::Caption;
use super::event::MessageId;
use super::outcome::{Outcome, Place, Reply, Slot};
use super::say::{Say, TierSaid};
use super::talk::Step;
use crate::blanket::{Book, Change, LineFault, TIER_LINE_CHARS_MAX, Tier, TierId, TierLine};

/// Every tier with its line, and a button for each.
pub fn list(book: &Book) -> Reply {
    let tiers = book.scale().tiers();
    let said = Say::TierLines { tiers: said(book, tiers) };
    let reply = tiers.iter().fold(Reply::new(said), |reply, tier| {
        let caption = Caption::Name(tier.label.to_string());
        reply.key(caption, Button::Describe { tier: tier.id })
    });
    reply.at(Place::New(Some(Slot::Settings)))
}

/// Tiers with the lines they have.
pub fn said(book: &Book, tiers: &[Tier]) -> Vec<TierSaid> {
    let line = |tier: &Tier| book.tier_line(tier.id).map(|line| line.as_str().to_owned());
    tiers.iter().map(|tier| TierSaid { tier: tier.label.clone(), line: line(tier) }).collect()
}

/// Asks for the line of a tier.
pub fn ask(maker: &Maker, book: &Book, tier: TierId, tapped: MessageId) -> Outcome {
    let Some(known) = book.scale().tier(tier) else { return show(maker, book, Some(tapped)) };
    let mut ask = Reply::new(Say::AskTierLine { tier: known.label.clone() }).at(in_place(tapped));
    if book.tier_line(tier).is_some() {
        ask = ask.key(Caption::DeleteLine, Button::DeleteLine { tier });
    }
    let back = Button::Change { setting: Setting::TierLines };
    maker.at(Step::NewLine { tier: tier.0 }).say(ask.key(Caption::Back, back))
}

/// Keeps a typed line.
pub fn typed(maker: &Maker, book: &Book, tier: u8, text: &str, now: DateTime<Utc>) -> Outcome {
    let tier = TierId(tier);
    if book.scale().tier(tier).is_none() {
        return show(maker, book, None);
    }
    match TierLine::parse(text) {
        Ok(line) => described(maker, book, (tier, Some(line)), now, None),
        Err(fault) => {
            let say = match fault {
                LineFault::Empty => Say::EmptyTierLine,
                LineFault::TooLong => Say::LongTierLine { max: TIER_LINE_CHARS_MAX },
            };
            let back = Button::Change { setting: Setting::TierLines };
            maker.quiet().say(Reply::new(say).key(Caption::Back, back))
        }
    }
}

pub fn delete(
    maker: &Maker,
    book: &Book,
    tier: TierId,
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    described(maker, book, (tier, None), now, Some(tapped))
}

fn described(
    maker: &Maker,
    book: &Book,
    (tier, line): (TierId, Option<TierLine>),
    at: DateTime<Utc>,
    tapped: Option<MessageId>,
) -> Outcome {
    if book.tier_line(tier) == line.as_ref() {
        return show(maker, book, tapped);
    }
    let change = Change::Described { tier, line, at };
    let mut after = book.clone();
    after.apply(&change);
    show(maker, &after, tapped).change(change)
}

fn show(maker: &Maker, book: &Book, tapped: Option<MessageId>) -> Outcome {
    let reply = list(book).key(Caption::Back, Button::Settings);
    maker.at(Step::Idle).say(match tapped {
        Some(message) => reply.at(in_place(message)),
        None => reply,
    })
}

fn in_place(tapped: MessageId) -> Place {
    Place::Change { slot: Some(Slot::Settings), tapped: Some(tapped) }
}
