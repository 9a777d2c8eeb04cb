//! Is the yarn on hand enough, and how many balls would make it so?

use super::rows_to_come::RowsToCome;
use super::weighing::{ROW_CV, RowWeight};

/// More balls of one colour than anybody buys.
pub const BALLS_MAX: u32 = 200;

/// How far a weight of all yarn on hand is off, one standard deviation, in grams: the rounding of
/// a scale with steps of 1 g.
const ON_HAND_SE_GRAMS: f64 = 0.3;

/// The yarn of one colour, and what is known to need it.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Supply {
    pub on_hand_grams: f64,
    pub on_hand_se_grams: f64,
    pub per_row: RowWeight,
    /// By how much one row differs from another, one standard deviation, in grams.
    pub row_noise_grams: f64,
    /// Rows in this colour that are known and not worked: logged days and fillers.
    pub known_rows: u32,
    /// What one day to come makes: 1, or 2 where a day is two rows and the weight is for one.
    pub rows_per_day: u32,
    /// Grams kept for something else, such as joins and border.
    pub kept_back_grams: f64,
    pub kept_back_se_grams: f64,
}

impl Supply {
    /// One row a day, nothing kept back, and the usual errors: 0.3 g on the weight of what is on
    /// hand, 5 % from row to row.
    pub fn new(on_hand_grams: f64, per_row: RowWeight, known_rows: u32) -> Supply {
        Supply {
            on_hand_grams,
            on_hand_se_grams: ON_HAND_SE_GRAMS,
            per_row,
            row_noise_grams: ROW_CV * per_row.grams,
            known_rows,
            rows_per_day: 1,
            kept_back_grams: 0.0,
            kept_back_se_grams: 0.0,
        }
    }

    /// The chance that the yarn on hand is enough for all known rows and all rows to come. A need
    /// of nothing is certain to be met.
    pub fn chance(&self, to_come: &RowsToCome) -> f64 {
        let chances = to_come.chances().iter().enumerate();
        let enough = |(days, chance): (usize, &f64)| match *chance {
            0.0 => 0.0,
            chance => chance * (1.0 - self.short_after(days as u32)),
        };
        chances.map(enough).sum::<f64>().clamp(0.0, 1.0)
    }

    /// The fewest balls to buy so that the yarn is enough with this chance; `None` where
    /// [`BALLS_MAX`] would not do, or a ball has no weight.
    pub fn balls_to_buy(&self, to_come: &RowsToCome, ball_grams: f64, target: f64) -> Option<u32> {
        let enough = |balls: u32| {
            let on_hand_grams = self.on_hand_grams + f64::from(balls) * ball_grams;
            Supply { on_hand_grams, ..*self }.chance(to_come) >= target
        };
        if enough(0) {
            return Some(0);
        }
        if ball_grams.is_nan() || ball_grams <= 0.0 || !enough(BALLS_MAX) {
            return None;
        }
        // More yarn is never less of a chance, so halving finds the first that is enough.
        let (mut too_few, mut enough_balls) = (0, BALLS_MAX);
        while enough_balls - too_few > 1 {
            let middle = too_few.midpoint(enough_balls);
            if enough(middle) {
                enough_balls = middle;
            } else {
                too_few = middle;
            }
        }
        Some(enough_balls)
    }

    /// The most rows the yarn is enough for with this chance, whatever rows are known. 0.5 is the
    /// plain division; 0.9 is what to plan on. `None` where a row has no weight.
    pub fn rows_enough(&self, chance: f64) -> Option<u32> {
        let grams = self.per_row.grams;
        if !(grams > 0.0 && chance >= 0.5) {
            return None;
        }
        // Any chance from a half on needs at least the mean.
        let spare = (self.on_hand_grams - self.kept_back_grams).max(0.0);
        let most = (spare / grams).min(1e6) as u32;
        let enough = |rows: &u32| 1.0 - self.short_of(*rows) >= chance;
        Some((1..=most).rev().find(enough).unwrap_or(0))
    }

    /// The chance that the yarn is short when so many days of the colour have come.
    pub(super) fn short_after(&self, days: u32) -> f64 {
        self.short_of(self.known_rows.saturating_add(days.saturating_mul(self.rows_per_day)))
    }

    /// The chance that the yarn is short of so many rows. Errors in the grams per row add up over
    /// rows; the differences among rows partly cancel.
    fn short_of(&self, rows: u32) -> f64 {
        let rows = f64::from(rows);
        let need = rows * self.per_row.grams + self.kept_back_grams;
        if need <= 0.0 {
            return 0.0;
        }
        let square = |grams: f64| grams * grams;
        let variance = square(rows * self.per_row.se_grams)
            + rows * square(self.row_noise_grams)
            + square(self.on_hand_se_grams)
            + square(self.kept_back_se_grams);
        let spare = self.on_hand_grams - need;
        if variance <= 0.0 {
            return if spare < 0.0 { 1.0 } else { 0.0 };
        }
        normal_above(spare / variance.sqrt())
    }
}

/// The chance each of so many colours needs so that all of them are enough with about 90 %: the
/// chances of running short add up to at most a tenth.
pub fn target_per_colour(colours: u32) -> f64 {
    1.0 - 0.1 / f64::from(colours.max(1))
}

/// The chance that a standard normal number is above this one.
fn normal_above(z: f64) -> f64 {
    // Beyond nine the answer is 0 or 1 to eighteen digits.
    if z > 9.0 {
        return 0.0;
    }
    if z < -9.0 {
        return 1.0;
    }
    0.5 * libm::erfc(z * std::f64::consts::FRAC_1_SQRT_2)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn supply(on_hand_grams: f64, grams: f64, se_grams: f64) -> Supply {
        Supply::new(on_hand_grams, RowWeight { grams, se_grams }, 0)
    }

    #[test]
    fn a_need_of_nothing_is_certain_even_with_nothing_on_hand() {
        let none = RowsToCome::none();
        assert_eq!(supply(0.0, 8.0, 0.3).chance(&none), 1.0);
        assert_eq!(supply(0.0, 8.0, 0.3).balls_to_buy(&none, 50.0, 0.99), Some(0));
        let kept = Supply { kept_back_grams: 5.0, ..supply(5.0, 8.0, 0.3) };
        assert_eq!(kept.chance(&none), 0.5);
    }

    #[test]
    fn published_cases_of_planning_by_weight() {
        // Published: a ball of 100 g at 15 g a row with 10 g kept back makes 6 rows.
        let ball = Supply { kept_back_grams: 10.0, ..supply(100.0, 15.0, 0.0) };
        assert_eq!(ball.rows_enough(0.5), Some(6));
        // Published: of 22 g left at 2 g a row, plan on 8 to 10 rows, not on 11.
        assert_eq!(supply(22.0, 2.0, 0.1).rows_enough(0.5), Some(11));
        assert_eq!(supply(22.0, 2.0, 0.1).rows_enough(0.9), Some(10));
        assert_eq!(supply(22.0, 2.0, 0.5).rows_enough(0.9), Some(8));
    }

    #[test]
    fn rows_without_weight_and_balls_without_weight_have_no_answer() {
        assert_eq!(supply(22.0, 0.0, 0.0).rows_enough(0.9), None);
        let known = Supply { known_rows: 3, ..supply(0.0, 8.0, 0.2) };
        let none = RowsToCome::none();
        for ball in [0.0, -50.0, f64::NAN, 0.001] {
            assert_eq!(known.balls_to_buy(&none, ball, 0.9), None, "{ball}");
        }
        // 24 g and 1.2816 times 0.964 g of error are 25.24 g: 195 times 0.13 g, not 194.
        assert_eq!(known.balls_to_buy(&none, 0.13, 0.9), Some(195));
    }

    #[test]
    fn without_any_error_enough_is_exactly_enough() {
        let exact = |on_hand_grams| Supply {
            on_hand_se_grams: 0.0,
            row_noise_grams: 0.0,
            known_rows: 4,
            ..supply(on_hand_grams, 2.5, 0.0)
        };
        assert_eq!(exact(10.0).chance(&RowsToCome::none()), 1.0);
        assert_eq!(exact(9.9).chance(&RowsToCome::none()), 0.0);
    }

    #[test]
    fn more_colours_need_more_of_a_chance_each() {
        assert_eq!(target_per_colour(1), 0.9);
        assert_eq!(target_per_colour(5), 0.98);
        assert_eq!(target_per_colour(0), 0.9);
    }
}
