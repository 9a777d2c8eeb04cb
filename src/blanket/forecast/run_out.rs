//! After how many days to come may a colour be gone?

use std::ops::Range;

use super::model::Forecast;
use super::rows_to_come::BetaBinomial;
use super::supply::Supply;

/// The number of days to come whose rows, with all known rows, the yarn may not be enough for: 0
/// is among the known rows, 1 the first day to come. The last of these rows cannot be finished; it
/// may be stitched weeks after its day. `None` where the yarn lasts.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct RunOut {
    /// With a chance of at least 10 % the colour is gone by then.
    pub early: Option<u32>,
    /// With a chance of at least 50 %.
    pub likely: Option<u32>,
}

/// A chance this near to none or to certainty is taken for it.
const NONE: f64 = 1e-12;

impl Supply {
    /// When the colour of this tier may be gone, in the next `days` days.
    pub fn run_out(&self, forecast: &Forecast, tier: usize, days: u32) -> RunOut {
        let [early, likely] = self.first_short(forecast, tier, days, [0.1, 0.5]);
        RunOut { early, likely }
    }

    /// The first number of days to come after which the yarn is short with each of these chances,
    /// given in rising order. The first time a chance is reached is the first time its running
    /// maximum is. Every day is looked at: the chance of being short hardly ever falls from one
    /// day to the next, but that it never does is not certain, so that no day is skipped unseen.
    pub(super) fn first_short<const N: usize>(
        &self,
        forecast: &Forecast,
        tier: usize,
        days: u32,
        chances: [f64; N],
    ) -> [Option<u32>; N] {
        let mut found = [None; N];
        let Some(share) = forecast.shares().get(tier) else { return found };
        let scan = Scan::new(self, *share, days);
        let mut next = 0;
        for until in 0..=days {
            let likeness = forecast.likeness(until);
            if next < N && scan.short_at_most(until, likeness) < chances[next] {
                continue;
            }
            let short = scan.short_by(until, likeness);
            while next < N && short >= chances[next] {
                found[next] = Some(until);
                next += 1;
            }
            if next == N {
                break;
            }
        }
        found
    }
}

/// One colour over all days to come.
struct Scan {
    share: f64,
    /// The chance of being short for each count of days of the colour.
    short: Vec<f64>,
    /// For fewer days of the colour, none is short.
    safe: usize,
    /// From so many on, it is certain.
    sure: usize,
    ln_factorials: Vec<f64>,
}

impl Scan {
    fn new(supply: &Supply, share: f64, days: u32) -> Scan {
        let short: Vec<f64> = (0..=days).map(|count| supply.short_after(count)).collect();
        let safe = short.iter().position(|short| *short > NONE).unwrap_or(short.len());
        let sure = short.iter().rposition(|short| *short < 1.0 - NONE).map_or(0, |last| last + 1);
        Scan { share, short, safe, sure, ln_factorials: ln_factorials(days) }
    }

    /// What [`Scan::short_by`] cannot exceed, by Cantelli's inequality: a count lies above its
    /// mean by at least x with a chance of at most v / (v + x^2), where v is its variance.
    fn short_at_most(&self, days: u32, likeness: f64) -> f64 {
        if self.safe > days as usize {
            return NONE;
        }
        let days = f64::from(days);
        let over = self.safe as f64 - self.share * days;
        if over <= 0.0 {
            return 1.0;
        }
        let one = self.share * (1.0 - self.share);
        let variance = days * one * (1.0 + (days - 1.0).max(0.0) * likeness);
        NONE + variance / (variance + over * over)
    }

    /// The chance of being short after so many days: over the counts that may be short, or one
    /// less that over the counts that may be enough, whichever are fewer.
    fn short_by(&self, days: u32, likeness: f64) -> f64 {
        if days < 2 {
            let (none, one) = (self.short[0], self.short[days as usize]);
            return none + self.share * (one - none);
        }
        // Never, or every day: there is nothing to add up.
        if self.share <= 0.0 || self.share >= 1.0 {
            return self.short[if self.share >= 1.0 { days as usize } else { 0 }];
        }
        let all = days as usize + 1;
        let (safe, sure) = (self.safe.min(all), self.sure.min(all));
        if sure <= all - safe {
            return 1.0 - self.sum(days, likeness, &(0..sure), |short| 1.0 - short);
        }
        self.sum(days, likeness, &(safe..all), |short| short)
    }

    fn sum(&self, days: u32, likeness: f64, counts: &Range<usize>, of: fn(f64) -> f64) -> f64 {
        if counts.is_empty() {
            return 0.0;
        }
        let rows = BetaBinomial::new(days, self.share, likeness);
        let mean = (self.share * f64::from(days)) as usize;
        let from = mean.clamp(counts.start, counts.end - 1);
        let mut sum = 0.0;
        rows.each(counts, from, rows.chance_of(from, &self.ln_factorials), |count, chance| {
            sum += chance * of(self.short[count]);
        });
        sum
    }
}

/// The logarithm of each factorial, from that of 0.
pub(super) fn ln_factorials(until: u32) -> Vec<f64> {
    let mut sum = 0.0;
    let add = |count: u32| {
        sum += libm::log(f64::from(count.max(1)));
        sum
    };
    (0..=until).map(add).collect()
}

#[cfg(test)]
mod tests {
    use super::super::weighing::RowWeight;
    use super::*;

    #[test]
    fn a_colour_of_every_day_runs_out_by_division_and_one_of_none_never_does() {
        let forecast = Forecast::new(&[0, 1, 2, 1], 3, None).unwrap();
        let per_row = RowWeight { grams: 8.0, se_grams: 0.0 };
        let supply = Supply { row_noise_grams: 0.0, ..Supply::new(802.0, per_row, 0) };
        let run_out = |tiers: &[usize]| supply.run_out(&forecast.together(tiers), 0, 300);
        // 100 rows are 800 g, which two grams over make sure of.
        assert_eq!(run_out(&[0, 1, 2]), RunOut { early: Some(101), likely: Some(101) });
        assert_eq!(run_out(&[]), RunOut { early: None, likely: None });
    }

    #[test]
    fn the_bound_that_spares_a_day_is_never_below_the_chance() {
        let per_row = RowWeight { grams: 8.0, se_grams: 0.2 };
        let (mut bounds, mut days_spared) = (0, 0);
        for on_hand_grams in [0.0, 40.0, 200.0, 800.0, 2000.0] {
            for share in [0.01, 0.2, 0.7] {
                for likeness in [1e-6, 0.03, 0.4, 0.95] {
                    let scan = Scan::new(&Supply::new(on_hand_grams, per_row, 1), share, 400);
                    for days in (0..=400).step_by(7) {
                        let bound = scan.short_at_most(days, likeness);
                        let short = scan.short_by(days, likeness);
                        assert!(bound >= short - 1e-11, "{bound}, {short}: {days} days");
                        bounds += 1;
                        days_spared += i32::from(bound < 0.1);
                    }
                }
            }
        }
        assert!(days_spared > bounds / 4, "{days_spared} of {bounds}");
    }
}
