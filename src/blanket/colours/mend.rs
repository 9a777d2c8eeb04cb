//! Which colours to change where pairs are bad, and what to change them to.

use super::check::{bad_pairs, worst};
use super::space::{from_oklab, oklab};
use super::{APART, Rgb};

/// What to change one colour to: the nearest darker and the nearest lighter one of its hue that is
/// no bad pair with any other.
#[derive(Clone, Copy, PartialEq, Eq, Default, Debug)]
pub struct Shade {
    pub darker: Option<Rgb>,
    pub lighter: Option<Rgb>,
}

/// Colours to change, by their indices, and what to change each to.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Mend {
    pub changes: Vec<(usize, Rgb)>,
}

/// Steps of OKLab lightness that are tried.
const STEPS: i32 = 100;
const CHROMA_STEP: f64 = 0.95;

/// The smallest set of colours that touches every bad pair, by index; of several, the one that
/// leaves the others furthest apart, then the one with the lowest indices. At most 13 colours are
/// a scale and its joining colour, so that every set is tried.
pub fn to_change(colours: &[Rgb]) -> Vec<usize> {
    let bad: Vec<u32> =
        bad_pairs(colours).iter().map(|pair| 1 << pair.one | 1 << pair.other).collect();
    let covers = |set: &u32| bad.iter().all(|pair| pair & set != 0);
    let members = |set: u32| (0..colours.len()).filter(move |index| set >> index & 1 == 1);
    let least = (0..1_u32 << colours.len()).filter(covers).map(u32::count_ones).min().unwrap_or(0);
    let apart: Vec<Vec<f64>> = colours
        .iter()
        .map(|one| colours.iter().map(|other| worst(*one, *other)).collect())
        .collect();
    let left_apart = |set: u32| {
        let left = members(!set);
        let pairs = left.flat_map(|one| members(!set).map(move |other| (one, other)));
        let apart = pairs.filter(|(one, other)| one < other).map(|(one, other)| apart[one][other]);
        apart.fold(f64::INFINITY, f64::min)
    };
    let sets = (0..1_u32 << colours.len()).filter(|set| set.count_ones() == least && covers(set));
    let lowest = |one: &u32, other: &u32| members(*other).cmp(members(*one));
    let best = sets.max_by(|one, other| {
        left_apart(*one).total_cmp(&left_apart(*other)).then_with(|| lowest(one, other))
    });
    best.map(|set| members(set).collect()).unwrap_or_default()
}

/// What a colour can be changed to, the others staying as they are.
pub fn shades(colours: &[Rgb], index: usize) -> Shade {
    let others: Vec<Rgb> = others(colours, &[index]).collect();
    let towards = |sign| nearest(colours[index], sign, &others).map(|(_, rgb)| rgb);
    Shade { darker: towards(-1), lighter: towards(1) }
}

/// Changes every colour of [`to_change`], one after the other and the nearest shade of each, so
/// that no pair is bad; in the opposite order where that fails; `None` where another hue is needed.
pub fn mend(colours: &[Rgb]) -> Option<Mend> {
    let set = to_change(colours);
    let backwards: Vec<usize> = set.iter().rev().copied().collect();
    [set, backwards].into_iter().find_map(|set| one_by_one(colours, &set))
}

fn one_by_one(colours: &[Rgb], set: &[usize]) -> Option<Mend> {
    let mut changed = colours.to_vec();
    let mut changes = Vec::new();
    for (at, index) in set.iter().enumerate() {
        // Those that are changed later make room by themselves.
        let others: Vec<Rgb> = others(&changed, &set[at..]).collect();
        let towards = |sign| nearest(changed[*index], sign, &others);
        let (darker, lighter) = (towards(-1), towards(1));
        let step = |found: &Option<(i32, Rgb)>| found.map_or(i32::MAX, |(step, _)| step);
        let found = if step(&lighter) < step(&darker) { lighter } else { darker };
        let (_, rgb) = found?;
        changed[*index] = rgb;
        changes.push((*index, rgb));
    }
    Some(Mend { changes })
}

fn others<'a>(colours: &'a [Rgb], without: &'a [usize]) -> impl Iterator<Item = Rgb> + 'a {
    let others = colours.iter().enumerate().filter(|(index, _)| !without.contains(index));
    others.map(|(_, rgb)| *rgb)
}

/// The nearest colour of the same OKLCh hue, lighter or darker by steps of 0.01, that is no bad
/// pair with any of the others. Its chroma is kept, as far as a screen can show it.
fn nearest(rgb: Rgb, sign: i32, others: &[Rgb]) -> Option<(i32, Rgb)> {
    let [l, a, b] = oklab(rgb);
    (1..=STEPS).find_map(|step| {
        let l = l + f64::from(sign * step) / 100.0;
        let shade = shown(l, a, b).filter(|_| (0.0..=1.0).contains(&l))?;
        others.iter().all(|other| worst(shade, *other) >= APART).then_some((step, shade))
    })
}

/// The lightness as it is, with as much of the chroma as a screen can show.
fn shown(l: f64, a: f64, b: f64) -> Option<Rgb> {
    let chroma = std::iter::successors(Some(1.0), |chroma| Some(chroma * CHROMA_STEP));
    chroma.take(200).find_map(|chroma| from_oklab([l, a * chroma, b * chroma]))
}
