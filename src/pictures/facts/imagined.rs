//! A year that nobody lived, to see a scale as a blanket. The same every time for the same shares.

use super::super::out::hashed;
use super::{Blanket, State, Tally};

/// A year of invented days, and what it rests on.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Imagined {
    pub year: Blanket,
    /// Whether the maker guessed how common each tier is.
    pub guessed: bool,
}

/// Every day answered and every row worked: of each tier as many days as its share says, lowest
/// tier first, in runs of one to three days that an integer hash puts in order.
pub fn imagine(mut year: Blanket, shares: &[f64]) -> Blanket {
    let tiers: Vec<usize> =
        year.inks.keys.iter().filter(|key| key.tier.is_some()).map(|key| key.ink).collect();
    let joining = year.inks.joining;
    let days = year.blocks.iter().map(|piece| u32::from(piece.block.days())).sum();
    let mut days = in_runs(&counts(shares, days)).into_iter();
    for piece in &mut year.blocks {
        let (fillers, count) = (piece.block.fillers_before, piece.block.days());
        for (row, state) in (0_u16..).zip(&mut piece.rows) {
            let is_day = (fillers..fillers + count).contains(&row);
            let tier = if is_day { days.next() } else { None };
            let ink = tier.and_then(|tier| tiers.get(tier).copied());
            *state = State::Worked(ink.unwrap_or(joining));
        }
    }
    year.tally = Tally::default();
    year.inks.earlier.clear();
    year
}

/// Days of each share: whole days, the rest to the largest remainders. They sum to `days`.
fn counts(shares: &[f64], days: u32) -> Vec<u32> {
    let exact: Vec<f64> = shares.iter().map(|share| share * f64::from(days)).collect();
    // Shares are from 0 to 1, and days at most two years.
    let mut counts: Vec<u32> = exact.iter().map(|days| *days as u32).collect();
    let mut order: Vec<usize> = (0..shares.len()).collect();
    let rest = |tier: &usize| exact[*tier].fract();
    order.sort_by(|one, other| rest(other).total_cmp(&rest(one)));
    let left = days.saturating_sub(counts.iter().sum());
    for tier in order.into_iter().cycle().take(left as usize) {
        counts[tier] += 1;
    }
    counts
}

/// The tier of each day.
fn in_runs(counts: &[u32]) -> Vec<usize> {
    let mut runs: Vec<(u32, usize, u32)> = Vec::new();
    for (tier, count) in counts.iter().enumerate() {
        let mut left = *count;
        while left > 0 {
            let number = u32::try_from(runs.len()).unwrap_or(u32::MAX);
            let dice = hashed(number.wrapping_mul(0x9E37_79B9) ^ 0x7F4A_7C15);
            let days = [1, 1, 2, 3][(dice >> 16) as usize % 4].min(left);
            runs.push((dice, tier, days));
            left -= days;
        }
    }
    runs.sort_unstable();
    runs.into_iter().flat_map(|(_, tier, days)| (0..days).map(move |_| tier)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_day_has_a_tier_and_every_share_its_days() {
        assert_eq!(counts(&[0.5, 0.25, 0.25], 365), [183, 91, 91]);
        assert_eq!(counts(&[1.0, 0.0], 366), [366, 0]);
        assert_eq!(counts(&[], 365), [0; 0]);
        let days = in_runs(&[183, 91, 91]);
        let of = |tier| days.iter().filter(|day| **day == tier).count();
        assert_eq!([of(0), of(1), of(2)], [183, 91, 91]);
        // Days come in runs, and runs of a tier are spread over the year.
        let changes = days.windows(2).filter(|pair| pair[0] != pair[1]).count();
        assert!((60..240).contains(&changes), "{changes}");
        assert!(days.chunks_exact(60).all(|part| part.contains(&0) && part.contains(&1)));
    }
}
