//! The colours of the yarns: can they be told apart, which to change and to what, ready palettes,
//! other orders. Every change is followed by the check and can be undone by one tap.
//!
//! Never forbids a colour, and never changes a worked row.

mod another;
mod facts;
mod said;
mod screens;

use chrono::{DateTime, Utc};

use super::Maker;
use super::button::{Button, ColourTap};
use super::caption::Caption;
use super::event::MessageId;
use super::lexicon::Palette;
use super::outcome::{Key, Outcome, Place, Reply, Slot};
use super::say::Say;
use super::talk::{ColoursBefore, Step, Talk};
use crate::blanket::colours::{Rgb, read_hex};
use crate::blanket::{Book, Change, Label, Tier, TierId, Yarn, YarnId};

pub use another::{AnotherWait, AnotherYarn, typed};
pub use said::{
    AnotherSaid, Check, ColourCaption, ColourSaid, ColoursRefusal, ColoursSaid, Done, OrderSaid,
    OrdersSaid, PalettesSaid, Sight, SightSaid,
};

/// The button that leads here.
pub fn key() -> Key {
    screens::key(ColourCaption::Check, ColourTap::Check)
}

pub fn tapped(
    maker: &Maker,
    book: &Book,
    tap: &ColourTap,
    (message, now): (MessageId, DateTime<Utc>),
    palettes: &[Palette],
) -> Outcome {
    let place = in_place(message);
    let show = |step, reply: Reply| maker.at(step).say(reply.at(place));
    match tap {
        ColourTap::Check => show(Step::Idle, screens::check(book, None)),
        ColourTap::All => show(Step::Idle, screens::all(book)),
        ColourTap::One { yarn } => match book.yarn(*yarn) {
            Some(known) => show(Step::ColourCode { yarn: yarn.0 }, screens::one(book, known)),
            None => show(Step::Idle, screens::check(book, None)),
        },
        ColourTap::Name { yarn } => match book.yarn(*yarn) {
            Some(known) => show(Step::ColourName { yarn: yarn.0 }, screens::ask_name(known)),
            None => show(Step::Idle, screens::check(book, None)),
        },
        ColourTap::Recolour { to } => recolour(maker, book, to, now, place),
        ColourTap::Palettes => show(Step::Idle, screens::palettes(book, palettes)),
        ColourTap::Palette { number } => match palettes.get(usize::from(*number)) {
            Some(palette) => take(maker, book, palette, now, place),
            None => show(Step::Idle, screens::palettes(book, palettes)),
        },
        ColourTap::Orders => show(Step::Idle, screens::orders(book)),
        ColourTap::Order { yarns } => order(maker, book, yarns, now, place),
        ColourTap::Another { yarn } => another::ask_name(maker, book, *yarn, place),
        ColourTap::AnotherCode { draft } => another::code_again(maker, book, *draft, place),
        ColourTap::UseAnother { draft } => another::take(maker, book, *draft, place),
        ColourTap::Undo { id } => undo(maker, book, *id, place),
    }
}

/// A code was typed where one is waited for.
pub fn code_typed(maker: &Maker, book: &Book, yarn: u8, text: &str, now: DateTime<Utc>) -> Outcome {
    match read_hex(text) {
        Some(rgb) => recolour(maker, book, &[(YarnId(yarn), rgb)], now, anew()),
        None => {
            let back = ColourTap::One { yarn: YarnId(yarn) };
            refused(maker, ColoursRefusal::Code { typed: text.to_owned() }, back)
        }
    }
}

/// A name was typed where one is waited for.
pub fn name_typed(maker: &Maker, book: &Book, yarn: u8, text: &str, now: DateTime<Utc>) -> Outcome {
    let Some(known) = book.yarn(YarnId(yarn)) else {
        return maker.at(Step::Idle).say(screens::check(book, None).at(anew()));
    };
    let name = match read_name(book, text, Some(known.id)) {
        Ok(name) => name,
        Err(refusal) => return refused(maker, refusal, ColourTap::One { yarn: known.id }),
    };
    let rows = book.rows_in(known.id);
    let done = Done::Named { before: known.name.clone(), now: name.clone(), rows };
    let change = Change::YarnNamed(Yarn { name, ..known.clone() });
    changed(maker, book, vec![change], done, (now, anew()))
}

/// The name of this yarn, or of a new one.
fn read_name(book: &Book, text: &str, of: Option<YarnId>) -> Result<Label, ColoursRefusal> {
    let name = Label::parse(text).map_err(ColoursRefusal::Name)?;
    // What has no letter cannot be typed with its grams, nor told from a number.
    if !name.as_str().contains(char::is_alphabetic) {
        return Err(ColoursRefusal::NoLetters);
    }
    match book.yarns().iter().find(|other| Some(other.id) != of && other.name.is(text)) {
        Some(twin) => Err(ColoursRefusal::SameName { name: twin.name.clone() }),
        None => Ok(name),
    }
}

/// Nothing is changed. What was typed may be typed anew; *Back* leaves the step.
fn refused(maker: &Maker, refusal: ColoursRefusal, back: ColourTap) -> Outcome {
    maker.quiet().say(Reply::new(Say::ColoursRefused(refusal)).keys([screens::back(back)]))
}

fn recolour(
    maker: &Maker,
    book: &Book,
    to: &[(YarnId, Rgb)],
    now: DateTime<Utc>,
    place: Place,
) -> Outcome {
    let known = |(id, rgb): &(YarnId, Rgb)| Some(Yarn { rgb: *rgb, ..book.yarn(*id)?.clone() });
    let yarns: Vec<Yarn> = to.iter().filter_map(known).collect();
    let rows = yarns.iter().map(|yarn| book.rows_in(yarn.id)).sum();
    let to = yarns.iter().map(|yarn| (yarn.name.clone(), yarn.rgb)).collect();
    let changes = yarns.into_iter().map(Change::YarnNamed).collect();
    changed(maker, book, changes, Done::Recoloured { to, rows }, (now, place))
}

/// The yarns of the tiers get the names and colours of a palette; a smaller scale gets some of
/// them, spread over all.
fn take(
    maker: &Maker,
    book: &Book,
    palette: &Palette,
    now: DateTime<Utc>,
    place: Place,
) -> Outcome {
    let yarns: Vec<&Yarn> = facts::yarns(book);
    let palette_tiers = palette.of_tiers(facts::tier_yarns(book));
    let colour = |index: usize| palette_tiers.get(index).copied().unwrap_or(palette.joining);
    let others: Vec<&Yarn> = book.yarns().iter().filter(|yarn| !yarns.contains(yarn)).collect();
    let named = |(index, yarn): (usize, &&Yarn)| {
        let (name, rgb) = colour(index);
        let name = free_name(name, &others)?;
        Some(Change::YarnNamed(Yarn { name, rgb, ..(*yarn).clone() }))
    };
    let changes = yarns.iter().enumerate().filter_map(named).collect();
    let rows = yarns.iter().map(|yarn| book.rows_in(yarn.id)).sum();
    let done = Done::Palette { name: palette.name.to_owned(), rows };
    changed(maker, book, changes, done, (now, place))
}

/// A name no yarn has that is worked no more: with a number where one has it.
fn free_name(name: &str, others: &[&Yarn]) -> Option<Label> {
    let numbered = (2..).map(|number| format!("{name} {number}"));
    let mut names = std::iter::once(name.to_owned()).chain(numbered).take(others.len() + 1);
    let name = names.find(|name| others.iter().all(|other| !other.name.is(name)))?;
    Label::parse(&name).ok()
}

/// The yarns of the tiers in another order. Where they are other yarns by now, the orders of
/// those are shown instead.
fn order(
    maker: &Maker,
    book: &Book,
    yarns: &[YarnId],
    now: DateTime<Utc>,
    place: Place,
) -> Outcome {
    let sorted = |yarns: &[YarnId]| {
        let mut yarns = yarns.to_vec();
        yarns.sort();
        yarns
    };
    if sorted(yarns) != sorted(&facts::of_tiers(book)) {
        return maker.at(Step::Idle).say(screens::orders(book).at(place));
    }
    let change = Change::TiersMoved { yarns: facts::moved(book, yarns) };
    let mut after = book.clone();
    after.apply(&change);
    let done = Done::Ordered { differing: after.differing_rows() };
    changed(maker, book, vec![change], done, (now, place))
}

/// Keeps the changes, and shows the check of what is so now; nothing is undone where nothing
/// was changed.
fn changed(
    maker: &Maker,
    book: &Book,
    changes: Vec<Change>,
    done: Done,
    (now, place): (DateTime<Utc>, Place),
) -> Outcome {
    let mut after = book.clone();
    changes.iter().for_each(|change| after.apply(change));
    if after == *book {
        return maker.at(Step::Idle).say(screens::check(book, None).at(place));
    }
    kept(maker, book, changes, done, (maker.talk.fresh_id(now), place))
}

fn kept(
    maker: &Maker,
    book: &Book,
    changes: Vec<Change>,
    done: Done,
    (id, place): (i64, Place),
) -> Outcome {
    let mut after = book.clone();
    changes.iter().for_each(|change| after.apply(change));
    let reply = with_undo(screens::check(&after, Some(done)), id);
    let mut outcome = maker.at(Step::Idle);
    outcome.talk = Talk { colours_before: Some(before(book, id)), ..outcome.talk };
    changes.into_iter().fold(outcome, Outcome::change).say(reply.at(place))
}

fn with_undo(mut reply: Reply, id: i64) -> Reply {
    let undo = Button::Colours(ColourTap::Undo { id });
    reply.keys.insert(0, vec![Key { caption: Caption::Undo, button: undo }]);
    reply
}

fn before(book: &Book, id: i64) -> ColoursBefore {
    let yarn = |yarn: &Yarn| (yarn.id.0, yarn.name.to_string(), yarn.rgb);
    let tier = |tier: &Tier| (tier.id.0, tier.yarn.0);
    ColoursBefore {
        id,
        yarns: book.yarns().iter().map(yarn).collect(),
        tiers: book.scale().tiers().iter().map(tier).collect(),
        joining: Some(book.joining().0),
        added: None,
    }
}

/// Everything is as it was before the last change; a second tap finds it so. A yarn that was
/// added by it is gone, if nothing names it by now.
fn undo(maker: &Maker, book: &Book, id: i64, place: Place) -> Outcome {
    let Some(before) = maker.talk.colours_before.as_ref().filter(|before| before.id == id) else {
        let reply = Reply::new(Say::OldButton).keys([key()]);
        return maker.at(Step::Idle).say(reply.at(place));
    };
    if let Some(twin) = twin_of(book, before) {
        let refusal = Reply::new(Say::ColoursRefused(ColoursRefusal::NameTaken { name: twin }));
        return maker.at(Step::Idle).say(refusal.keys([key()]).at(place));
    }
    let yarns = before.yarns.iter().filter_map(|(id, name, rgb)| {
        let known = book.yarn(YarnId(*id))?;
        let yarn = Yarn { name: Label::kept(name.clone()), rgb: *rgb, ..known.clone() };
        (known != &yarn).then_some(Change::YarnNamed(yarn))
    });
    let tiers: Vec<(TierId, YarnId)> = before
        .tiers
        .iter()
        .map(|(tier, yarn)| (TierId(*tier), YarnId(*yarn)))
        .filter(|(tier, yarn)| {
            let differs = book.scale().tier(*tier).is_some_and(|tier| tier.yarn != *yarn);
            differs && book.yarn(*yarn).is_some()
        })
        .collect();
    let moved = (!tiers.is_empty()).then_some(Change::TiersMoved { yarns: tiers });
    let joining = before.joining.map(YarnId).filter(|yarn| book.yarn(*yarn).is_some());
    let joining = joining.filter(|yarn| *yarn != book.joining());
    let joined = joining.map(|yarn| Change::JoiningMoved { yarn });
    let mut changes: Vec<Change> = yarns.chain(moved).chain(joined).collect();
    let mut after = book.clone();
    changes.iter().for_each(|change| after.apply(change));
    if let Some(added) = before.added.and_then(|added| after.yarn(YarnId(added)).cloned()) {
        if after.is_used(added.id) {
            let refusal =
                Reply::new(Say::ColoursRefused(ColoursRefusal::Used { name: added.name }));
            return maker.at(Step::Idle).say(refusal.keys([key()]).at(place));
        }
        let removed = Change::YarnRemoved { yarn: added.id };
        after.apply(&removed);
        changes.push(removed);
    }
    let reply = screens::check(&after, Some(Done::Undone)).at(place);
    changes.into_iter().fold(maker.at(Step::Idle), Outcome::change).say(reply)
}

/// A name that a yarn would get back, and that one which came since has by now.
fn twin_of(book: &Book, before: &ColoursBefore) -> Option<Label> {
    let of_before = |yarn: &Yarn| before.yarns.iter().any(|(id, ..)| *id == yarn.id.0);
    let since = book.yarns().iter().filter(|yarn| !of_before(yarn));
    let mut since = since.filter(|yarn| before.added != Some(yarn.id.0)).map(|yarn| &yarn.name);
    since.find(|name| before.yarns.iter().any(|(_, old, _)| old == name.as_str())).cloned()
}

fn in_place(tapped: MessageId) -> Place {
    Place::Change { slot: Some(Slot::Settings), tapped: Some(tapped) }
}

fn anew() -> Place {
    Place::New(Some(Slot::Settings))
}
