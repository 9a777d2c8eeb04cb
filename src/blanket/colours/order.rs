//! The same yarns in another order: by lightness, or in small steps. An order never parts a bad
//! pair, since any two tiers can be neighbouring rows; it changes how the scale reads.

use super::{Rgb, difference, lab, lightness};

/// An order by L*, and the smallest step between neighbours in it.
#[derive(Clone, PartialEq, Debug)]
pub struct Lightness {
    /// Indices of the colours, lowest tier first.
    pub order: Vec<usize>,
    /// The smallest step in L*; from 5 on, every step can be seen in a black-and-white photo.
    pub smallest_step: f64,
}

/// An order in which neighbours look alike, and the sum of its steps in CIEDE2000.
#[derive(Clone, PartialEq, Debug)]
pub struct Path {
    pub order: Vec<usize>,
    pub length: f64,
}

/// Sorted by L*, from dark to light or from light to dark: whichever turns fewer pairs of the
/// order there is round.
pub fn by_lightness(colours: &[Rgb]) -> Lightness {
    let light: Vec<f64> = colours.iter().map(|rgb| lightness(*rgb)).collect();
    let mut up: Vec<usize> = (0..colours.len()).collect();
    up.sort_by(|one, other| light[*one].total_cmp(&light[*other]));
    let mut down: Vec<usize> = (0..colours.len()).collect();
    down.sort_by(|one, other| light[*other].total_cmp(&light[*one]));
    let order = if turned_round(&down) < turned_round(&up) { down } else { up };
    let steps = order.windows(2).map(|pair| (light[pair[0]] - light[pair[1]]).abs());
    let smallest_step = steps.fold(f64::INFINITY, f64::min);
    Lightness { order, smallest_step }
}

fn turned_round(order: &[usize]) -> usize {
    let later = |at: usize| order[at + 1..].iter().filter(move |other| **other < order[at]);
    (0..order.len()).map(|at| later(at).count()).sum()
}

/// The shortest path through all colours by CIEDE2000 in normal sight (Held and Karp 1962, exact;
/// 12 colours are 590,000 steps). It starts at the end nearer to the lowest tier's colour.
pub fn smooth(colours: &[Rgb]) -> Path {
    let count = colours.len();
    if count < 2 {
        return Path { order: (0..count).collect(), length: 0.0 };
    }
    let seen: Vec<[f64; 3]> = colours.iter().map(|rgb| lab(*rgb)).collect();
    let apart = |one: usize, other: usize| difference(seen[one], seen[other]);
    // The shortest path over a set of colours that ends at one of them, and the one before it.
    let mut best = vec![vec![(f64::INFINITY, count); count]; 1 << count];
    for start in 0..count {
        best[1 << start][start] = (0.0, count);
    }
    for set in 1..1_usize << count {
        for last in (0..count).filter(|last| set >> last & 1 == 1) {
            let (length, _) = best[set][last];
            for next in (0..count).filter(|next| set >> next & 1 == 0) {
                let longer = length + apart(last, next);
                let there = &mut best[set | 1 << next][next];
                if longer < there.0 {
                    *there = (longer, last);
                }
            }
        }
    }
    let all = (1 << count) - 1;
    let ends = (0..count).min_by(|one, other| best[all][*one].0.total_cmp(&best[all][*other].0));
    let end = ends.unwrap_or(0);
    let (mut order, mut set, mut at) = (Vec::new(), all, end);
    while at < count {
        order.push(at);
        let (_, before) = best[set][at];
        set &= !(1 << at);
        at = before;
    }
    let (first, last) = (order[0], order[count - 1]);
    if apart(last, 0) < apart(first, 0) {
        order.reverse();
    }
    Path { order, length: best[all][end].0 }
}
