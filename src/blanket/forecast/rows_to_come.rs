//! How many of the days to come will be of one tier: a chance for each count.

/// A beta-binomial count, from 0 to the number of days.
#[derive(Clone, PartialEq, Debug)]
pub struct RowsToCome {
    mean: f64,
    chances: Vec<f64>,
}

/// Chances relative to that of the mean below which a tail is left out.
const TAIL: f64 = 1e-25;

impl RowsToCome {
    /// No day of this tier will come.
    pub fn none() -> RowsToCome {
        RowsToCome { mean: 0.0, chances: vec![1.0] }
    }

    /// `days` days, each of the tier with chance `share`, any two of them with the correlation
    /// `likeness` (over 0, below 1, and of no account for fewer than two days).
    pub(super) fn beta_binomial(days: u32, share: f64, likeness: f64) -> RowsToCome {
        let mut chances = vec![0.0; days as usize + 1];
        for_each_weight(days, share, likeness, |count, weight| chances[count] = weight);
        let sum: f64 = chances.iter().sum();
        for chance in &mut chances {
            *chance /= sum;
        }
        RowsToCome { mean: share * f64::from(days), chances }
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

/// Calls with each count that has a chance worth naming and its weight, in no order; the weights
/// are chances up to a common factor.
///
/// Goes up and down from the mean by the ratio of neighbours, (days - n)(a + n) / ((n + 1)(days -
/// n - 1 + b)), where a and b are the two parameters of the beta distribution. That needs no
/// special function, and nothing is lost where the chance of 0 is too small for a number.
#[inline]
pub(super) fn for_each_weight(
    days: u32,
    share: f64,
    likeness: f64,
    mut each: impl FnMut(usize, f64),
) {
    match days {
        0 => return each(0, 1.0),
        1 => {
            each(0, 1.0 - share);
            return each(1, share);
        }
        // All tiers together are every day, and none are no day.
        _ if share <= 0.0 => return each(0, 1.0),
        _ if share >= 1.0 => return each(days as usize, 1.0),
        _ => {}
    }
    let strength = 1.0 / likeness - 1.0;
    let (a, b) = (share * strength, (1.0 - share) * strength);
    let whole = f64::from(days);
    let from = ((share * whole) as usize).min(days as usize);
    each(from, 1.0);
    let (mut weight, mut count) = (1.0, from as f64);
    for next in from + 1..=days as usize {
        let ratio = (whole - count) * (a + count) / ((count + 1.0) * (whole - count - 1.0 + b));
        weight *= ratio;
        if weight < TAIL && ratio < 1.0 {
            break;
        }
        each(next, weight);
        count += 1.0;
    }
    let (mut weight, mut count) = (1.0, from as f64);
    for next in (0..from).rev() {
        count -= 1.0;
        let ratio = (count + 1.0) * (whole - count - 1.0 + b) / ((whole - count) * (a + count));
        weight *= ratio;
        if weight < TAIL && ratio < 1.0 {
            break;
        }
        each(next, weight);
    }
}

#[cfg(test)]
mod tests {
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
