//! What do the days so far say about the days to come?

use super::memory::{Memory, Span};
use super::prior::{Common, expected_shares, smoothed};
use super::rows_to_come::RowsToCome;

/// Independent days the expectation weighs against the maker's own.
const EXPECTED_WEIGHS: f64 = 16.0;
/// Variance of the true share around what was expected, in units of one day's variance.
const EXPECTED_VARIANCE: f64 = 0.05;
/// Days after which the expectation is half the maker's own days, smoothed.
const SMOOTH_HALF: f64 = 32.0;

/// The days so far of one maker, ready to say what may come.
#[derive(Clone, PartialEq, Debug)]
pub struct Forecast {
    shares: Vec<f64>,
    memory: Memory,
    past: Span,
    /// The variance of the shares seen so far; `None` before the first day.
    past_variance: Option<f64>,
}

/// Why there is no forecast.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum ForecastFault {
    NoTiers,
    /// A day with a tier that is not on the scale.
    UnknownTier,
    /// Not one word for each tier.
    GuessOfOtherLength,
}

impl Forecast {
    /// From the tiers of all days with an answer or set by the maker, oldest first, as indices
    /// from 0 at the lowest: all of them take yarn. Days left out count as if they had not been.
    /// `guess` is the maker's word for each tier.
    ///
    /// # Errors
    /// A [`ForecastFault`] where these cannot be days of one scale.
    pub fn new(
        days: &[usize],
        tiers: usize,
        guess: Option<&[Common]>,
    ) -> Result<Forecast, ForecastFault> {
        if tiers == 0 {
            return Err(ForecastFault::NoTiers);
        }
        if days.iter().any(|tier| *tier >= tiers) {
            return Err(ForecastFault::UnknownTier);
        }
        if guess.is_some_and(|words| words.len() != tiers) {
            return Err(ForecastFault::GuessOfOtherLength);
        }
        let expected = expected_shares(tiers, guess);
        let mut seen = vec![0.0; tiers];
        for tier in days {
            seen[*tier] += 1.0 / days.len() as f64;
        }
        let memory = Memory::of(days, &seen);
        let past = Span::new(days.len() as f64);
        let past_variance = (!days.is_empty()).then(|| memory.of_share(&past));
        let own = past_variance.map_or(0.0, weight_of_own);
        let smooth = past.days / (past.days + SMOOTH_HALF);
        let neighbours = smoothed(&seen);
        let share = |tier: usize| {
            let believed = (1.0 - smooth) * expected[tier] + smooth * neighbours[tier];
            (1.0 - own) * believed + own * seen[tier]
        };
        let shares = (0..tiers).map(share).collect();
        Ok(Forecast { shares, memory, past, past_variance })
    }

    pub fn tiers(&self) -> usize {
        self.shares.len()
    }

    /// The expected share of each tier in the days to come; they sum to 1.
    pub fn shares(&self) -> &[f64] {
        &self.shares
    }

    /// How many of the next `days` days will be of this tier; of none for a tier that is not on
    /// the scale. Takes time and memory in proportion to `days`.
    pub fn to_come(&self, tier: usize, days: u32) -> RowsToCome {
        match self.shares.get(tier) {
            Some(share) => RowsToCome::beta_binomial(days, *share, self.likeness(days)),
            None => RowsToCome::none(),
        }
    }

    /// The same forecast with these tiers as one, tier 0, and all others as tier 1: of tiers worked
    /// in one colour, what counts is how many days are of any of them.
    #[must_use]
    pub fn together(&self, tiers: &[usize]) -> Forecast {
        let within = |of: bool| {
            let shares = self.shares.iter().enumerate();
            let sum: f64 =
                shares.filter(|(tier, _)| tiers.contains(tier) == of).map(|(_, share)| share).sum();
            // All of them may add up to a last digit more.
            sum.min(1.0)
        };
        Forecast { shares: vec![within(true), within(false)], ..self.clone() }
    }

    /// The correlation of two of the next `days` days, counting that their shares are uncertain.
    pub(super) fn likeness(&self, days: u32) -> f64 {
        if days < 2 {
            return 0.0;
        }
        let each = 1.0 / f64::from(days);
        ((self.variance(days) - each) / (1.0 - each)).clamp(1e-6, 0.95)
    }

    /// The variance of the share of the next `days` days (at least one) around what is expected,
    /// in units of one day's variance.
    pub(super) fn variance(&self, days: u32) -> f64 {
        let span = Span::new(f64::from(days));
        let future = self.memory.of_share(&span);
        let Some(past) = self.past_variance else { return future + EXPECTED_VARIANCE };
        let own = weight_of_own(past);
        future - 2.0 * own * self.memory.of_shares(&self.past, &span)
            + own * own * past
            + (1.0 - own) * (1.0 - own) * EXPECTED_VARIANCE
    }

    /// So many days, of whatever tiers, that taught nothing about memory.
    #[cfg(test)]
    pub(super) fn with_memory_expected(days: u32) -> Forecast {
        let (memory, past) = (Memory::EXPECTED, Span::new(f64::from(days)));
        let past_variance = Some(memory.of_share(&past));
        Forecast { shares: vec![1.0], memory, past, past_variance }
    }

    #[cfg(test)]
    pub(super) fn memory(&self) -> Memory {
        self.memory
    }

    /// How many independent days the days so far are worth.
    #[cfg(test)]
    pub(super) fn worth_days(&self) -> f64 {
        self.past_variance.map_or(0.0, |variance| 1.0 / variance)
    }
}

/// The weight of the shares seen against the shares believed. Their variance is one over the
/// number of independent days they are worth.
pub(super) fn weight_of_own(past_variance: f64) -> f64 {
    let worth_days = 1.0 / past_variance;
    worth_days / (worth_days + EXPECTED_WEIGHS)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_that_are_not_of_one_scale_give_no_forecast() {
        let words = [Common::Often, Common::Sometimes];
        let fault = |days: &[usize], tiers, guess| Forecast::new(days, tiers, guess).unwrap_err();
        assert_eq!(fault(&[], 0, None), ForecastFault::NoTiers);
        assert_eq!(fault(&[0, 3], 3, None), ForecastFault::UnknownTier);
        assert_eq!(fault(&[0], 3, Some(&words)), ForecastFault::GuessOfOtherLength);
        assert_eq!(Forecast::new(&[0, 2], 3, None).unwrap().to_come(3, 9), RowsToCome::none());
    }

    #[test]
    fn tiers_of_one_colour_are_one_tier_and_all_tiers_are_every_day() {
        let forecast = Forecast::new(&[0, 2, 1, 1, 3, 0], 4, None).unwrap();
        let two = forecast.together(&[0, 2]);
        let sum = forecast.shares()[0] + forecast.shares()[2];
        assert!((two.shares()[0] - sum).abs() < 1e-15 && two.tiers() == 2);
        assert_eq!(two.likeness(300), forecast.likeness(300));
        assert!(two.to_come(0, 300).quantile(0.9) > forecast.to_come(2, 300).quantile(0.9));
        let all = forecast.together(&[0, 1, 2, 3]).to_come(0, 300);
        assert!((all.chance_of(300) - 1.0).abs() < 1e-12 && all.quantile(0.1) == 300);
        let none = forecast.together(&[]).to_come(0, 300);
        assert_eq!((none.chance_of(0), none.mean()), (1.0, 0.0));
    }
}
