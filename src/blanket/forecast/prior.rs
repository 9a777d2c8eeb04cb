//! How often is each tier expected before the days have said anything?

use serde::{Deserialize, Serialize};

/// How common a maker expects a tier to be, in their own words.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, Debug)]
#[serde(rename_all = "snake_case")]
pub enum Common {
    HardlyEver,
    Sometimes,
    Often,
    MostDays,
}

impl Common {
    pub const ALL: [Common; 4] =
        [Common::HardlyEver, Common::Sometimes, Common::Often, Common::MostDays];

    /// Its weight against the other tiers' words.
    pub fn weight(self) -> f64 {
        match self {
            Common::HardlyEver => 1.0,
            Common::Sometimes => 4.0,
            Common::Often => 10.0,
            Common::MostDays => 20.0,
        }
    }
}

/// The share of each tier, lowest first, before any day is known: by the maker's words where there
/// are some. They sum to 1.
pub fn expected_shares(tiers: usize, words: Option<&[Common]>) -> Vec<f64> {
    words.map_or_else(|| by_place(tiers), by_words)
}

/// The share of each tier by the maker's words; they sum to 1.
fn by_words(words: &[Common]) -> Vec<f64> {
    normalised(words.iter().map(|word| word.weight()).collect())
}

/// The share of each tier where the maker has said nothing: most in the middle of the scale, with
/// a standard deviation of a third of its length.
fn by_place(tiers: usize) -> Vec<f64> {
    let middle = (tiers as f64 - 1.0) / 2.0;
    let width = tiers as f64 / 3.0;
    let share = |tier: usize| {
        let off = (tier as f64 - middle) / width;
        libm::exp(-off * off / 2.0)
    };
    normalised((0..tiers).map(share).collect())
}

/// Shares with a part of each tier given to its neighbours on the scale: a day named one step off
/// is no surprise. Every tier gives away exactly what it had.
pub(super) fn smoothed(shares: &[f64]) -> Vec<f64> {
    let near = |from: usize, to: usize| {
        let steps = from.abs_diff(to) as f64;
        libm::exp(-steps * steps / 2.0)
    };
    let mut smooth = vec![0.0; shares.len()];
    for (from, share) in shares.iter().enumerate() {
        let given: f64 = (0..shares.len()).map(|to| near(from, to)).sum();
        for (to, sum) in smooth.iter_mut().enumerate() {
            *sum += share * near(from, to) / given;
        }
    }
    smooth
}

fn normalised(weights: Vec<f64>) -> Vec<f64> {
    let sum: f64 = weights.iter().sum();
    weights.into_iter().map(|weight| weight / sum).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn smoothing_moves_shares_to_neighbours_and_loses_none() {
        let smooth = smoothed(&[0.0, 1.0, 0.0, 0.0]);
        assert!((smooth.iter().sum::<f64>() - 1.0).abs() < 1e-12);
        assert_eq!(smooth[0], smooth[2]);
        assert!(smooth[1] > smooth[2] && smooth[2] > smooth[3] && smooth[3] > 0.0);
    }

    #[test]
    fn without_words_the_middle_of_the_scale_is_expected_most() {
        for tiers in 1..=12 {
            let shares = by_place(tiers);
            assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-12);
            for tier in 0..tiers {
                assert!((shares[tier] - shares[tiers - 1 - tier]).abs() < 1e-12);
                assert!(shares[tier] <= shares[(tiers - 1) / 2] + 1e-12);
            }
        }
    }
}
