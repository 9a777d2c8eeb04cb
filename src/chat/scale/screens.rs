//! The screens of the maker's own scale, and their buttons.

use super::kept::NewTier;
use super::said::{ScaleCaption, ScaleDone, ScaleSaid, TierInList};
use crate::blanket::{Book, Label, RowNumber, Tier, TierId, YarnId};
use crate::chat::button::{Button, ScaleTap};
use crate::chat::caption::Caption;
use crate::chat::lexicon::Lexicon;
use crate::chat::outcome::{Key, Reply};
use crate::chat::say::Say;

/// All tiers; what was done comes first, with its *Undo*.
pub fn home(book: &Book, done: Option<(ScaleDone, Option<i64>)>) -> Reply {
    let tiers = book.scale().tiers().iter().filter_map(|tier| in_list(book, tier)).collect();
    let question = book.question().cloned();
    let (done, undo) = done.map_or((None, None), |(done, undo)| (Some(done), undo));
    let reply = Reply::new(Say::Scale(Box::new(ScaleSaid::Home { tiers, question, done })));
    let reply = reply.keys(undo.map(undo_key));
    tier_keys(reply, book, |tier| ScaleTap::Tier { tier: tier.id })
        .keys([key_of(ScaleCaption::AddTier, ScaleTap::AskWhere)])
        .keys([
            key_of(ScaleCaption::DefaultTier, ScaleTap::AskDefault),
            key_of(ScaleCaption::Question, ScaleTap::AskQuestion),
        ])
        .key(Caption::Back, Button::Settings)
}

/// One tier; all of them where there is no such tier.
pub fn tier(book: &Book, id: TierId, done: Option<(ScaleDone, Option<i64>)>) -> Reply {
    let scale = book.scale();
    let known = scale.tier(id).and_then(|tier| in_list(book, tier)).zip(scale.index(id));
    let Some((tier, index)) = known else { return home(book, done) };
    let (done, undo) = done.map_or((None, None), |(done, undo)| (Some(done), undo));
    let tiers = scale.tiers().len();
    let (place, days) = (index + 1, days_of(book, id));
    let said = ScaleSaid::Tier { tier, place, tiers, days, done };
    let to = |to: usize| ScaleTap::Move { tier: id, to: u8::try_from(to).unwrap_or(u8::MAX) };
    let lower = index.checked_sub(1).map(|at| key_of(ScaleCaption::MoveLower, to(at)));
    let higher = (place < tiers).then(|| key_of(ScaleCaption::MoveHigher, to(place)));
    Reply::new(Say::Scale(Box::new(said)))
        .keys(undo.map(undo_key))
        .keys([key_of(ScaleCaption::Rename, ScaleTap::Rename { tier: id })])
        .keys(lower.into_iter().chain(higher))
        .keys([key_of(ScaleCaption::Remove, ScaleTap::Remove { tier: id })])
        .keys([back(ScaleTap::Home)])
}

/// Asks for the new label of a tier; `None` where there is no such tier.
pub fn ask_label(book: &Book, id: TierId) -> Option<Reply> {
    let label = book.scale().tier(id)?.label.clone();
    let said = ScaleSaid::AskLabel { tier: label, days: days_of(book, id) };
    Some(Reply::new(Say::Scale(Box::new(said))).keys([back(ScaleTap::Tier { tier: id })]))
}

pub fn ask_default(book: &Book) -> Reply {
    let now = book.scale().default_tier().label.clone();
    let reply = Reply::new(Say::Scale(Box::new(ScaleSaid::AskDefault { now })));
    tier_keys(reply, book, |tier| ScaleTap::Default { tier: tier.id }).keys([back(ScaleTap::Home)])
}

pub fn ask_question(book: &Book) -> Reply {
    let now = book.question().cloned();
    let usual = now.is_some().then(|| key_of(ScaleCaption::UsualQuestion, ScaleTap::UsualQuestion));
    let said = ScaleSaid::AskQuestion { now };
    Reply::new(Say::Scale(Box::new(said))).keys(usual).keys([back(ScaleTap::Home)])
}

pub fn ask_where(book: &Book) -> Reply {
    let reply = Reply::new(Say::Scale(Box::new(ScaleSaid::AskWhere)))
        .keys([key_of(ScaleCaption::AsLowest, ScaleTap::Above { tier: None })]);
    let above = |reply: Reply, tier: &Tier| {
        let tap = ScaleTap::Above { tier: Some(tier.id) };
        reply.keys([key_of(ScaleCaption::Above(tier.label.clone()), tap)])
    };
    book.scale().tiers().iter().fold(reply, above).keys([back(ScaleTap::Home)])
}

pub fn ask_new_label(book: &Book, above: Option<TierId>) -> Reply {
    let above = above.and_then(|tier| book.scale().tier(tier)).map(|tier| tier.label.clone());
    let said = ScaleSaid::AskNewLabel { above };
    Reply::new(Say::Scale(Box::new(said))).keys([back(ScaleTap::AskWhere)])
}

/// Asks for the yarn of a tier that has a label.
pub fn ask_yarn(book: &Book, new: &NewTier) -> Reply {
    let Ok(tier) = Label::parse(&new.label) else { return home(book, None) };
    let reply = Reply::new(Say::Scale(Box::new(ScaleSaid::AskYarn { tier })));
    let one = |reply: Reply, yarn: &crate::blanket::Yarn| {
        let tap = ScaleTap::Yarn { draft: new.id, yarn: yarn.id };
        reply.key(Caption::Name(yarn.name.to_string()), Button::Scale(tap))
    };
    book.yarns().iter().fold(reply, one).keys([back(ScaleTap::AskWhere)])
}

/// Asks for the colour of a new yarn. Colours of the first scale that no yarn has can be tapped.
pub fn ask_colour(book: &Book, yarn: &Label, draft: i64, lexicon: &Lexicon) -> Reply {
    let first = &lexicon.first_scale;
    let palette = first.tiers.iter().map(|(_, name, rgb)| (*name, *rgb)).chain([first.joining]);
    let free = palette.filter(|(_, rgb)| book.yarns().iter().all(|yarn| yarn.rgb != *rgb));
    let keys: Vec<Key> = free
        .map(|(name, rgb)| Key {
            caption: Caption::Name(name.to_owned()),
            button: Button::Scale(ScaleTap::Colour { draft, rgb }),
        })
        .collect();
    let said = ScaleSaid::AskColour { yarn: yarn.clone(), offers: !keys.is_empty() };
    let reply = Reply::new(Say::Scale(Box::new(said)));
    let reply = keys.into_iter().fold(reply, |reply, key| reply.keys([key]));
    reply.keys([back(ScaleTap::AskYarn { draft })])
}

/// Which tier do the days of this one get?
pub fn ask_remove(book: &Book, tier: &Tier) -> Reply {
    let id = tier.id;
    let worked = worked_rows(book, id).count();
    let said = ScaleSaid::AskRemove { tier: tier.label.clone(), days: days_of(book, id), worked };
    let others = |reply: Reply, other: &Tier| {
        let tap = ScaleTap::RemoveTo { tier: id, days_get: other.id };
        reply.key(Caption::Name(other.label.to_string()), Button::Scale(tap))
    };
    let tiers = book.scale().tiers().iter().filter(|other| other.id != id);
    tiers
        .fold(Reply::new(Say::Scale(Box::new(said))), others)
        .keys([back(ScaleTap::Tier { tier: id })])
}

/// Days that have this tier.
pub fn days_of(book: &Book, tier: TierId) -> usize {
    book.answers().values().filter(|answer| answer.tier == tier).count()
}

/// The yarns of the worked rows whose day has this tier.
pub fn worked_rows(book: &Book, tier: TierId) -> impl Iterator<Item = YarnId> + '_ {
    let days = book.answers().iter().filter(move |(_, answer)| answer.tier == tier);
    days.filter_map(|(day, _)| {
        let (block, row) = book.plan().row_of(*day)?;
        let number: RowNumber = row.number;
        book.worked_row(block.number, number).map(|row| row.yarn)
    })
}

/// The button under the settings.
pub fn key(tap: ScaleTap) -> Key {
    key_of(ScaleCaption::Scale, tap)
}

/// The button at the end of set-up.
pub fn own_key() -> Key {
    key_of(ScaleCaption::MyOwnScale, ScaleTap::Open)
}

pub fn back(tap: ScaleTap) -> Key {
    Key { caption: Caption::Back, button: Button::Scale(tap) }
}

pub fn default_key() -> Key {
    key_of(ScaleCaption::DefaultTier, ScaleTap::AskDefault)
}

fn undo_key(id: i64) -> Key {
    Key { caption: Caption::Undo, button: Button::Scale(ScaleTap::Undo { id }) }
}

fn key_of(caption: ScaleCaption, tap: ScaleTap) -> Key {
    Key { caption: Caption::Scale(caption), button: Button::Scale(tap) }
}

fn tier_keys(reply: Reply, book: &Book, tap: impl Fn(&Tier) -> ScaleTap) -> Reply {
    book.scale().tiers().iter().fold(reply, |reply, tier| {
        reply.key(Caption::Name(tier.label.to_string()), Button::Scale(tap(tier)))
    })
}

fn in_list(book: &Book, tier: &Tier) -> Option<TierInList> {
    let yarn = book.yarn_name(tier.yarn)?.clone();
    let default = tier.id == book.scale().default_tier().id;
    Some(TierInList { label: tier.label.clone(), yarn, default })
}
