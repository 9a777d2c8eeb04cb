//! Every pair of colours in every view. Any two tiers can be neighbouring rows, so that every pair
//! counts, whatever the order.
//!
//! Bands for one-row stripes, by the axis model of Stone, Szafir and Setlur 2014 (CIC 22) over
//! 6,000 random pairs: a row 10 mm high, seen from 1 m, is told apart below a difference of 5 by
//! about half the viewers, from 10 on by nine in ten, from 20 on by all, and from 2 m as well.

use super::views::View;
use super::{APART, Rgb, difference, dim_lightness, lightness};

/// How far apart two colours are.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Band {
    /// They will look the same.
    Same,
    /// They can be told apart side by side and in bright light.
    Close,
    Different,
    /// They can be told apart from across a room.
    Clear,
}

/// Two colours, by their indices, the lower first, and how far apart they are.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Pair {
    pub one: usize,
    pub other: usize,
    pub apart: f64,
}

impl Band {
    /// Of a CIEDE2000 difference, or of a difference in L*.
    pub fn of(apart: f64) -> Band {
        match apart {
            apart if apart < 5.0 => Band::Same,
            apart if apart < APART => Band::Close,
            apart if apart < 20.0 => Band::Different,
            _ => Band::Clear,
        }
    }
}

impl Pair {
    pub fn band(&self) -> Band {
        Band::of(self.apart)
    }
}

/// CIEDE2000 of every pair in one view, the closest first.
pub fn in_view(colours: &[Rgb], view: View) -> Vec<Pair> {
    let seen: Vec<[f64; 3]> = colours.iter().map(|rgb| view.lab(*rgb)).collect();
    pairs(colours.len(), |one, other| difference(seen[one], seen[other]))
}

/// Differences in L* of every pair in a black-and-white photo, the closest first.
pub fn in_grey(colours: &[Rgb]) -> Vec<Pair> {
    by_light(colours, lightness)
}

/// The same in very dim light, where the eye sees no colours; an approximation.
pub fn in_dim_light(colours: &[Rgb]) -> Vec<Pair> {
    by_light(colours, dim_lightness)
}

fn by_light(colours: &[Rgb], light: fn(Rgb) -> f64) -> Vec<Pair> {
    let light: Vec<f64> = colours.iter().map(|rgb| light(*rgb)).collect();
    pairs(colours.len(), |one, other| (light[one] - light[other]).abs())
}

/// The smallest CIEDE2000 difference of two colours over the four views.
pub fn worst(one: Rgb, other: Rgb) -> f64 {
    let apart = |view: View| difference(view.lab(one), view.lab(other));
    View::ALL.into_iter().map(apart).fold(f64::INFINITY, f64::min)
}

/// Pairs that are below [`APART`] in at least one view, with their smallest difference, the closest
/// first.
pub fn bad_pairs(colours: &[Rgb]) -> Vec<Pair> {
    let mut pairs = pairs(colours.len(), |one, other| worst(colours[one], colours[other]));
    pairs.retain(|pair| pair.apart < APART);
    pairs
}

fn pairs(count: usize, apart: impl Fn(usize, usize) -> f64) -> Vec<Pair> {
    let all = (0..count).flat_map(|one| (one + 1..count).map(move |other| (one, other)));
    let mut all: Vec<Pair> =
        all.map(|(one, other)| Pair { one, other, apart: apart(one, other) }).collect();
    all.sort_by(|a, b| a.apart.total_cmp(&b.apart).then((a.one, a.other).cmp(&(b.one, b.other))));
    all
}
