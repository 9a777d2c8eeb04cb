//! How many of the days to come will be of one tier: a chance for each count.

use std::ops::Range;

/// A beta-binomial count, from 0 to the number of days.
#[derive(Clone, PartialEq, Debug)]
pub struct RowsToCome {
    mean: f64,
    chances: Vec<f64>,
}

/// A weight below which a tail is left out.
const TAIL: f64 = 1e-25;

impl RowsToCome {
    /// No day of this tier will come.
    pub fn none() -> RowsToCome {
        RowsToCome { mean: 0.0, chances: vec![1.0] }
    }

    /// `days` days, each of the tier with chance `share`, any two of them with the correlation
    /// `likeness` (over 0, below 1, and of no account for fewer than two days).
    pub(super) fn beta_binomial(days: u32, share: f64, likeness: f64) -> RowsToCome {
        let mean = share * f64::from(days);
        match days {
            0 => return RowsToCome::none(),
            1 => return RowsToCome { mean, chances: vec![1.0 - share, share] },
            _ => {}
        }
        // From the mean, where no chance is too small for a number; the sum gives the scale.
        let counts = 0..days as usize + 1;
        let mut chances = vec![0.0; counts.len()];
        let from = (mean as usize).min(days as usize);
        let put = |count: usize, weight: f64| chances[count] = weight;
        BetaBinomial::new(days, share, likeness).each(&counts, from, 1.0, put);
        let sum: f64 = chances.iter().sum();
        for chance in &mut chances {
            *chance /= sum;
        }
        RowsToCome { mean, chances }
    }

    /// The most that can come: all the days.
    pub fn days(&self) -> u32 {
        // As long as the number it was made from, and one more.
        (self.chances.len() - 1) as u32
    }

    pub fn mean(&self) -> f64 {
        self.mean
    }

    /// The chance of exactly so many.
    pub fn chance_of(&self, count: u32) -> f64 {
        self.chances.get(count as usize).copied().unwrap_or(0.0)
    }

    /// The chance of each count, from 0 to [`RowsToCome::days`].
    pub fn chances(&self) -> &[f64] {
        &self.chances
    }

    /// The chance of at most so many.
    pub fn at_most(&self, count: u32) -> f64 {
        self.chances.iter().take(count as usize + 1).sum()
    }

    /// The smallest count that is not exceeded with this chance.
    pub fn quantile(&self, chance: f64) -> u32 {
        let mut sum = 0.0;
        let reached = self.chances.iter().position(|each| {
            sum += each;
            sum >= chance
        });
        reached.map_or(self.days(), |count| count as u32)
    }
}

/// Two days or more, and the two parameters of the beta distribution.
pub(super) struct BetaBinomial {
    days: f64,
    a: f64,
    b: f64,
}

impl BetaBinomial {
    pub fn new(days: u32, share: f64, likeness: f64) -> BetaBinomial {
        let strength = 1.0 / likeness - 1.0;
        BetaBinomial { days: f64::from(days), a: share * strength, b: (1.0 - share) * strength }
    }

    /// Calls with each of the counts that has a chance worth naming and its weight, in no order,
    /// going up and down from the count `from` with the weight `first`.
    ///
    /// The chances of n + 1 and n are as (days - n)(a + n) to (n + 1)(days - n - 1 + b).
    #[inline]
    pub fn each(
        &self,
        counts: &Range<usize>,
        from: usize,
        first: f64,
        mut call: impl FnMut(usize, f64),
    ) {
        let BetaBinomial { days, a, b } = *self;
        call(from, first);
        let (mut weight, mut n) = (first, from as f64);
        for count in from + 1..counts.end {
            let ratio = (days - n) * (a + n) / ((n + 1.0) * (days - n - 1.0 + b));
            weight *= ratio;
            if weight < TAIL && ratio < 1.0 {
                break;
            }
            call(count, weight);
            n += 1.0;
        }
        let (mut weight, mut n) = (first, from as f64);
        for count in (counts.start..from).rev() {
            n -= 1.0;
            let ratio = (n + 1.0) * (days - n - 1.0 + b) / ((days - n) * (a + n));
            weight *= ratio;
            if weight < TAIL && ratio < 1.0 {
                break;
            }
            call(count, weight);
        }
    }

    /// The chance of one count by itself, given the logarithms of the factorials up to `days`:
    /// days over count, times the beta function of (count + a, days - count + b) over that of
    /// (a, b).
    pub fn chance_of(&self, count: usize, ln_factorials: &[f64]) -> f64 {
        let BetaBinomial { days, a, b } = *self;
        let whole = days as usize;
        let n = count as f64;
        let ways = ln_factorials[whole] - ln_factorials[count] - ln_factorials[whole - count];
        let beta = |a: f64, b: f64| libm::lgamma(a) + libm::lgamma(b) - libm::lgamma(a + b);
        libm::exp(ways + beta(n + a, days - n + b) - beta(a, b))
    }
}

#[cfg(test)]
mod tests {
    use super::super::run_out::ln_factorials;
    use super::*;

    #[test]
    fn ten_days_have_the_chances_worked_by_hand() {
        // Share .3, likeness .1, from the defining product of the beta-binomial chances.
        let expected = [
            0.093_133, 0.164_352, 0.191_361, 0.180_331, 0.146_244, 0.104_053, 0.064_823, 0.034_652,
            0.015_186, 0.004_947, 0.000_919,
        ];
        let rows = RowsToCome::beta_binomial(10, 0.3, 0.1);
        for (count, expected) in (0..).zip(expected) {
            assert!((rows.chance_of(count) - expected).abs() < 1e-6, "{count}");
        }
        assert_eq!((rows.days(), rows.chance_of(11)), (10, 0.0));
        assert!((rows.at_most(1) - rows.chance_of(0) - rows.chance_of(1)).abs() < 1e-15);
    }

    #[test]
    fn no_day_and_one_day_need_no_likeness() {
        assert_eq!(RowsToCome::beta_binomial(0, 0.3, 0.0), RowsToCome::none());
        let one = RowsToCome::beta_binomial(1, 0.3, 0.0);
        assert_eq!((one.chance_of(0), one.chance_of(1)), (0.7, 0.3));
        assert_eq!((one.quantile(0.7), one.quantile(0.71)), (0, 1));
    }

    #[test]
    fn a_chance_by_itself_is_the_chance_among_all() {
        let logs = ln_factorials(732);
        for (days, share, likeness) in
            [(2, 0.3, 0.1), (365, 0.05, 0.04), (732, 0.9, 1e-6), (732, 0.001, 0.9)]
        {
            let rows = RowsToCome::beta_binomial(days, share, likeness);
            let one = BetaBinomial::new(days, share, likeness);
            for count in 0..=days {
                let alone = one.chance_of(count as usize, &logs);
                assert!((alone - rows.chance_of(count)).abs() < 1e-9, "{count} of {days}");
            }
        }
    }

    #[test]
    fn the_mean_of_the_chances_is_the_mean_even_where_they_pile_up_at_both_ends() {
        for likeness in [1e-6, 0.01, 0.1, 0.5, 0.95] {
            for share in [1e-4, 0.03, 0.3, 0.5, 0.97] {
                for days in [2, 3, 30, 365, 732] {
                    let rows = RowsToCome::beta_binomial(days, share, likeness);
                    let mean: f64 = (0..=days).map(|n| f64::from(n) * rows.chance_of(n)).sum();
                    assert!((mean - rows.mean()).abs() < 1e-9 * f64::from(days), "{mean}");
                }
            }
        }
    }
}
