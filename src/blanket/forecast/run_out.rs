//! After how many days to come may a colour be gone?

use super::model::Forecast;
use super::rows_to_come::for_each_weight;
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

/// Below this a chance of being short is as good as none.
const NONE: f64 = 1e-9;

impl Supply {
    /// When the colour of this tier may be gone, in the next `days` days.
    pub fn run_out(&self, forecast: &Forecast, tier: usize, days: u32) -> RunOut {
        let [early, likely] = self.first_short(forecast, tier, days, [0.1, 0.5]);
        RunOut { early, likely }
    }

    /// The first number of days to come after which the yarn is short with each of these chances,
    /// given in rising order. The first time a chance is reached is the first time its running
    /// maximum is.
    pub(super) fn first_short<const N: usize>(
        &self,
        forecast: &Forecast,
        tier: usize,
        days: u32,
        chances: [f64; N],
    ) -> [Option<u32>; N] {
        let mut found = [None; N];
        let Some(share) = forecast.shares().get(tier) else { return found };
        let short: Vec<f64> = (0..=days).map(|count| self.short_after(count)).collect();
        // Up to so many days of the colour, none is short.
        let safe = short.iter().position(|short| *short > NONE).unwrap_or(short.len());
        let mut next = 0;
        for until in 0..=days {
            let likeness = forecast.likeness(until);
            let bound = short_at_most(until, *share, likeness, safe);
            while next < N && bound >= chances[next] {
                if short_by(until, *share, likeness, &short) < chances[next] {
                    break;
                }
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

/// The chance of being short after so many days.
fn short_by(days: u32, share: f64, likeness: f64, short: &[f64]) -> f64 {
    let (mut sum, mut all) = (0.0, 0.0);
    for_each_weight(days, share, likeness, |count, weight| {
        sum += weight * short[count];
        all += weight;
    });
    sum / all
}

/// What that chance cannot exceed, by Cantelli's inequality: a count lies above its mean by at
/// least x with a chance of at most v / (v + x^2), where v is its variance. It spares most days
/// the sum over all counts.
fn short_at_most(days: u32, share: f64, likeness: f64, safe: usize) -> f64 {
    if safe > days as usize {
        return NONE;
    }
    let days = f64::from(days);
    let over = safe as f64 - share * days;
    if over <= 0.0 {
        return 1.0;
    }
    let variance = days * share * (1.0 - share) * (1.0 + (days - 1.0).max(0.0) * likeness);
    NONE + variance / (variance + over * over)
}
