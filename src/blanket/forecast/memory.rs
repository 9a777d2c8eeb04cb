//! How much does a day resemble the days before it, and what does that do to a share of many days?
//!
//! The correlation of two days `lag` apart is taken as `fast * 0.6^lag + slow * w^lag`: a mood of
//! a few days, and a season of life of about ninety. Correlated days count for fewer (G. V. Bayley
//! and J. M. Hammersley, "The effective number of independent observations in an autocorrelated
//! time series", Supplement to the Journal of the Royal Statistical Society 8(2), 1946, pages 184
//! to 197). The constants were found by random search on simulated makers, other ones than those
//! of `tests/bench`.

/// What is kept of a mood from one day to the next.
pub(super) const FAST_KEEPS: f64 = 0.6;
/// What is kept of a season of life, which fades to 1/e in 90 days: exp(-1/90).
pub(super) const SLOW_KEEPS: f64 = 0.9889503892939223;
const FAST_EXPECTED: f64 = 0.15;
const SLOW_EXPECTED: f64 = 0.03;
/// Days the expected memory weighs against the maker's own.
const EXPECTED_WEIGHS: f64 = 120.0;
/// Fewer days say nothing about memory.
const DAYS_TO_LEARN: usize = 30;
/// Two whole weeks of lags, so that a rhythm of weeks averages out.
const SLOW_LAGS: std::ops::RangeInclusive<usize> = 8..=21;

/// The two parts of the correlation, as shares of a day's variance.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct Memory {
    pub fast: f64,
    pub slow: f64,
}

impl Memory {
    pub const EXPECTED: Memory = Memory { fast: FAST_EXPECTED, slow: SLOW_EXPECTED };

    /// Learnt from the tiers of consecutive days, of which `shares` are the shares.
    pub fn of(days: &[usize], shares: &[f64]) -> Memory {
        if days.len() < DAYS_TO_LEARN {
            return Memory::EXPECTED;
        }
        let own = days.len() as f64;
        let weigh = |expected: f64, seen: f64| {
            (EXPECTED_WEIGHS * expected + own * seen) / (EXPECTED_WEIGHS + own)
        };
        // The sample's own mean makes its correlations too low by about 1/t.
        let unbiased = |seen: f64| (seen + 1.0 / own).max(0.0);
        let slow_seen: f64 = SLOW_LAGS.map(|lag| correlation(days, shares, lag)).sum();
        let slow_seen = unbiased(slow_seen / SLOW_LAGS.count() as f64);
        let slow = weigh(SLOW_EXPECTED, slow_seen).min(0.5);
        let next_expected = FAST_EXPECTED * FAST_KEEPS + SLOW_EXPECTED;
        let next_day = weigh(next_expected, unbiased(correlation(days, shares, 1)));
        let fast = ((next_day - slow) / FAST_KEEPS).clamp(0.0, 0.6);
        Memory { fast: fast.min(0.95 - slow), slow }
    }

    /// The variance of the share of a span of days, in units of one day's variance.
    pub fn of_share(self, span: &Span) -> f64 {
        let own = 1.0 - self.fast - self.slow;
        let sum = own * span.days
            + self.fast * pairs(span.days, FAST_KEEPS, span.fast_kept)
            + self.slow * pairs(span.days, SLOW_KEEPS, span.slow_kept);
        sum / (span.days * span.days)
    }

    /// The covariance of the share of the `past` days with that of the days right after them.
    pub fn of_shares(self, past: &Span, span: &Span) -> f64 {
        let sum = self.fast * across(FAST_KEEPS, past.fast_kept, span.fast_kept)
            + self.slow * across(SLOW_KEEPS, past.slow_kept, span.slow_kept);
        sum / (past.days * span.days)
    }
}

/// A number of days, and what is kept from one end of them to the other. Powers are dear: a span
/// is made once and used for all of its sums.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct Span {
    pub days: f64,
    fast_kept: f64,
    slow_kept: f64,
}

impl Span {
    pub fn new(days: f64) -> Span {
        let (fast_kept, slow_kept) = (libm::pow(FAST_KEEPS, days), libm::pow(SLOW_KEEPS, days));
        Span { days, fast_kept, slow_kept }
    }
}

/// The sum of `keeps^|i - j|` over all pairs of `days` days, each with itself too; `kept` is
/// `keeps^days`.
fn pairs(days: f64, keeps: f64, kept: f64) -> f64 {
    let lost = 1.0 - keeps;
    let steady = (days - 1.0) * keeps / lost;
    let ends = keeps * (keeps - kept) / (lost * lost);
    days + 2.0 * (steady - ends)
}

/// The sum of `keeps^(j - i)` over every day `i` of the past and every `j` of the days after it.
fn across(keeps: f64, past_kept: f64, kept: f64) -> f64 {
    let lost = 1.0 - keeps;
    keeps * (1.0 - past_kept) * (1.0 - kept) / (lost * lost)
}

/// The correlation of days `lag` apart, over all tiers at once; 0 where all days are equal.
///
/// With one indicator a tier, the product of two days is 1 where they are equal, less their
/// shares, plus the sum of the squared shares.
pub(super) fn correlation(days: &[usize], shares: &[f64], lag: usize) -> f64 {
    let squares: f64 = shares.iter().map(|share| share * share).sum();
    let product = |(one, other): (&usize, &usize)| {
        let equal = if one == other { 1.0 } else { 0.0 };
        equal - shares[*one] - shares[*other] + squares
    };
    let variance: f64 = days.iter().map(|day| product((day, day))).sum::<f64>();
    let variance = variance / days.len() as f64;
    if lag >= days.len() || variance < 1e-12 {
        return 0.0;
    }
    let sum: f64 = days[lag..].iter().zip(days).map(product).sum();
    sum / (days.len() - lag) as f64 / variance
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sums_over_pairs_are_the_sums_over_pairs() {
        for keeps in [0.3, FAST_KEEPS, SLOW_KEEPS] {
            for (past, days) in [(1, 1), (4, 3), (10, 10), (37, 120)] {
                let power = |lag: i32| libm::pow(keeps, f64::from(lag));
                let within: f64 =
                    (0..days).flat_map(|i| (0..days).map(move |j| power(i32::abs(i - j)))).sum();
                let over: f64 =
                    (0..past).flat_map(|i| (past..past + days).map(move |j| power(j - i))).sum();
                let (past, kept) = (power(past), power(days));
                assert!((pairs(f64::from(days), keeps, kept) - within).abs() < 1e-8 * within);
                assert!((across(keeps, past, kept) - over).abs() < 1e-8 * over);
            }
        }
        let power = |days: f64| libm::pow(0.6, days);
        assert!((pairs(10.0, 0.6, power(10.0)) - 32.545_349_632).abs() < 1e-6);
        assert!((across(0.6, power(4.0), power(3.0)) - 2.558_976).abs() < 1e-6);
        assert!((SLOW_KEEPS - libm::exp(-1.0 / 90.0)).abs() < 1e-15);
    }

    #[test]
    fn one_day_has_the_variance_of_one_day() {
        for memory in [Memory::EXPECTED, Memory { fast: 0.4, slow: 0.5 }] {
            assert!((memory.of_share(&Span::new(1.0)) - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn a_maker_of_long_spells_has_more_memory_than_one_of_quick_changes() {
        let shares = [0.5, 0.5];
        let spells: Vec<usize> = (0..120).map(|day| day / 10 % 2).collect();
        let changes: Vec<usize> = (0..120).map(|day| day % 2).collect();
        let (spells, changes) = (Memory::of(&spells, &shares), Memory::of(&changes, &shares));
        assert!(spells.fast > FAST_EXPECTED && changes.fast < FAST_EXPECTED);
    }
}
