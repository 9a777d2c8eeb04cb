//! What the check says of the yarns of a book.

use super::said::{Check, ColourSaid, Done, OrderSaid, Sight, SightSaid};
use crate::blanket::colours::{self, APART, Band, Pair, Rgb, View};
use crate::blanket::{Book, Change, Label, TierId, Yarn, YarnId};

/// More pairs of one sight would be a wall.
const PAIRS_MAX: usize = 4;

/// The yarns of the tiers, lowest first, each once, and the joining colour.
pub fn yarns(book: &Book) -> Vec<&Yarn> {
    let ids = of_tiers(book).into_iter().chain([book.joining()]);
    let mut yarns: Vec<&Yarn> = Vec::new();
    for yarn in ids.filter_map(|id| book.yarn(id)) {
        if !yarns.iter().any(|known| known.id == yarn.id) {
            yarns.push(yarn);
        }
    }
    yarns
}

/// Those, and after them the ones with worked rows or yarn on hand that nothing is worked in now.
pub fn with_earlier(book: &Book) -> Vec<&Yarn> {
    let mut yarns = yarns(book);
    let some = |yarn: &&Yarn| book.rows_in(yarn.id) > 0 || !book.ledger(yarn.id).is_empty();
    for yarn in book.yarns().iter().filter(some) {
        if !yarns.contains(&yarn) {
            yarns.push(yarn);
        }
    }
    yarns
}

pub fn of_tiers(book: &Book) -> Vec<YarnId> {
    book.scale().tiers().iter().map(|tier| tier.yarn).collect()
}

/// How many different yarns the tiers have.
pub fn tier_yarns(book: &Book) -> usize {
    let tiers = of_tiers(book);
    yarns(book).iter().filter(|yarn| tiers.contains(&yarn.id)).count()
}

pub fn rgbs(yarns: &[&Yarn]) -> Vec<Rgb> {
    yarns.iter().map(|yarn| yarn.rgb).collect()
}

pub fn check(book: &Book, done: Option<Done>) -> Check {
    let yarns = yarns(book);
    let rgbs = rgbs(&yarns);
    let name = |index: usize| yarns[index].name.clone();
    let eyes = View::ALL.map(|view| (Sight::Eye(view), colours::in_view(&rgbs, view)));
    let lights = [
        (Sight::GreyPhoto, colours::in_grey(&rgbs)),
        (Sight::DimLight, colours::in_dim_light(&rgbs)),
    ];
    let sights = eyes.into_iter().chain(lights);
    let together = together(&rgbs).into_iter().map(|(index, rgb)| (name(index), rgb)).collect();
    Check {
        done,
        sights: sights.map(|(sight, pairs)| seen(sight, &pairs, name)).collect(),
        shared: shared(book),
        change: colours::to_change(&rgbs).into_iter().map(name).collect(),
        together,
    }
}

/// The changes of several colours that leave no pair close.
pub fn together(rgbs: &[Rgb]) -> Vec<(usize, Rgb)> {
    let mend = colours::mend(rgbs).map(|mend| mend.changes).unwrap_or_default();
    if mend.len() > 1 { mend } else { Vec::new() }
}

fn seen(sight: Sight, pairs: &[Pair], name: impl Fn(usize) -> Label) -> SightSaid {
    let near: Vec<&Pair> = pairs.iter().filter(|pair| pair.apart < APART).collect();
    let shown = &near[..near.len().min(PAIRS_MAX)];
    let of = |band: Band| {
        let pairs = shown.iter().filter(|pair| pair.band() == band);
        pairs.map(|pair| (name(pair.one), name(pair.other))).collect()
    };
    let more = near.len() - shown.len();
    SightSaid { sight, same: of(Band::Same), close: of(Band::Close), more }
}

fn shared(book: &Book) -> Vec<(Label, Label, Label)> {
    let tiers = book.scale().tiers();
    let pairs = tiers.windows(2).enumerate().filter_map(|(index, pair)| {
        let twin = tiers[index + 1..].iter().find(|tier| tier.yarn == pair[0].yarn)?;
        let yarn = book.yarn_name(twin.yarn)?;
        Some((pair[0].label.clone(), twin.label.clone(), yarn.clone()))
    });
    pairs.take(PAIRS_MAX).collect()
}

/// One colour; what is offered is not known here.
pub fn one(book: &Book, yarn: &Yarn) -> ColourSaid {
    let others = yarns(book).into_iter().filter(|other| other.id != yarn.id);
    let near = others.filter(|other| colours::worst(other.rgb, yarn.rgb) < APART);
    let near = near.map(|other| other.name.clone()).collect();
    let rows = book.rows_in(yarn.id);
    ColourSaid { name: yarn.name.clone(), rgb: yarn.rgb, rows, near, shade: false, another: false }
}

/// Colours of the tiers, lowest first.
fn tier_rgbs(book: &Book) -> Vec<Rgb> {
    of_tiers(book).into_iter().filter_map(|id| book.yarn(id)).map(|yarn| yarn.rgb).collect()
}

/// The yarns of the tiers by lightness, and the smallest step there.
pub fn by_lightness(book: &Book) -> (Vec<YarnId>, f64) {
    let found = colours::by_lightness(&tier_rgbs(book));
    (ordered(book, &found.order), found.smallest_step)
}

/// The yarns of the tiers in small steps.
pub fn smooth(book: &Book) -> Vec<YarnId> {
    ordered(book, &colours::smooth(&tier_rgbs(book)).order)
}

fn ordered(book: &Book, order: &[usize]) -> Vec<YarnId> {
    let yarns = of_tiers(book);
    order.iter().map(|index| yarns[*index]).collect()
}

/// The tiers with these yarns, lowest first.
pub fn moved(book: &Book, yarns: &[YarnId]) -> Vec<(TierId, YarnId)> {
    let tiers = book.scale().tiers().iter().map(|tier| tier.id);
    tiers.zip(yarns.iter().copied()).collect()
}

/// An order that is offered; `None` where the yarns are in it.
pub fn order(book: &Book, yarns: &[YarnId]) -> Option<OrderSaid> {
    if yarns == of_tiers(book) {
        return None;
    }
    let mut after = book.clone();
    after.apply(&Change::TiersMoved { yarns: moved(book, yarns) });
    let names = yarns.iter().filter_map(|id| book.yarn_name(*id)).cloned().collect();
    Some(OrderSaid { yarns: names, differing: after.differing_rows() })
}
