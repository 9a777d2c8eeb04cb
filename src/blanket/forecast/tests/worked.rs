//! Worked values of the forecast, each computed twice outside this program, by two separate
//! implementations in another language.

use crate::blanket::forecast::model::weight_of_own;
use crate::blanket::forecast::*;

const MAKER: &str = "223122333432212323432211223342";
const BLOCK: &str = "223123422133202321223343221232";

fn days(digits: &str) -> Vec<usize> {
    digits.bytes().map(|digit| usize::from(digit - b'0')).collect()
}

fn close(ours: &[f64], expected: &[f64]) {
    assert_eq!(ours.len(), expected.len());
    for (our, expected) in ours.iter().zip(expected) {
        assert!((our - expected).abs() < 1.0e-6, "{ours:?}, expected {expected}");
    }
}

fn words() -> [Common; 5] {
    use Common::{HardlyEver, MostDays, Often, Sometimes};
    [HardlyEver, Sometimes, MostDays, Often, Sometimes]
}

fn of(days: &[usize], tiers: usize, guess: Option<&[Common]>) -> Forecast {
    Forecast::new(days, tiers, guess).unwrap()
}

fn quantiles(forecast: &Forecast, horizon: u32, chance: f64) -> Vec<u32> {
    let of = |tier| forecast.to_come(tier, horizon).quantile(chance);
    (0..forecast.tiers()).map(of).collect()
}

/// Worth in days, weight of the own days, variance.
fn inside(forecast: &Forecast, horizon: u32) -> [f64; 3] {
    let worth = forecast.worth_days();
    [worth, weight_of_own(1.0 / worth), forecast.variance(horizon)]
}

#[test]
fn before_the_first_day_the_words_are_the_forecast() {
    let forecast = of(&[], 5, Some(&words()));
    close(&[forecast.variance(365), forecast.likeness(365)], &[0.065_092, 0.062_523]);
    close(forecast.shares(), &[0.025_641, 0.102_564, 0.512_821, 0.256_410, 0.102_564]);
    let middle = forecast.to_come(2, 365);
    close(&[middle.mean(), middle.at_most(180)], &[187.179_487, 0.443_910]);
    assert_eq!(middle.quantile(0.9), 248);
    let silent = of(&[], 5, None);
    close(silent.shares(), &[0.133_575, 0.229_215, 0.274_420, 0.229_215, 0.133_575]);
}

#[test]
fn two_weeks_with_words() {
    let forecast = of(&days(&MAKER[..14]), 5, Some(&words()));
    close(&inside(&forecast, 351), &[8.051_269, 0.334_754, 0.046_853]);
    close(&[forecast.likeness(351)], &[0.044_130]);
    close(forecast.shares(), &[0.024_372, 0.132_974, 0.442_864, 0.296_714, 0.103_076]);
    let never = |tier| forecast.to_come(tier, 351).chance_of(0);
    close(&[never(0), never(4)], &[0.218_741, 0.001_478]);
    assert_eq!(quantiles(&forecast, 351, 0.5), [4, 43, 155, 102, 32]);
    assert_eq!(quantiles(&forecast, 351, 0.9), [23, 82, 205, 151, 68]);
}

#[test]
fn a_month_without_words_learns_the_memory() {
    let maker = days(MAKER);
    let shares: Vec<f64> =
        (0..5).map(|tier| maker.iter().filter(|day| **day == tier).count() as f64 / 30.0).collect();
    let at = |lag| crate::blanket::forecast::memory::correlation(&maker, &shares, lag);
    close(&[at(1), (8..=21).map(at).sum::<f64>() / 14.0], &[-0.013_315, 0.047_676]);
    let forecast = of(&maker, 5, None);
    close(&[forecast.memory().fast, forecast.memory().slow], &[0.099_670, 0.040_202]);
    close(&inside(&forecast, 335), &[12.950_350, 0.447_330, 0.042_361]);
    close(&[forecast.likeness(335)], &[0.039_494]);
    close(forecast.shares(), &[0.054_007, 0.173_720, 0.352_922, 0.291_867, 0.127_484]);
    let means: Vec<f64> = (0..5).map(|tier| forecast.to_come(tier, 335).mean()).collect();
    close(&means, &[18.092_306, 58.196_219, 118.228_806, 97.775_581, 42.707_088]);
    assert_eq!(quantiles(&forecast, 335, 0.9), [39, 94, 162, 140, 74]);
    close(&[forecast.to_come(0, 335).chance_of(0)], &[0.027_410]);
}

#[test]
fn the_worth_of_days_of_expected_memory() {
    for (past, horizon, expected) in [
        (14, 351, [8.051_269, 0.334_754, 0.046_853]),
        (30, 335, [13.696_066, 0.461_208, 0.039_947]),
        (180, 185, [40.185_435, 0.715_229, 0.033_340]),
        (364, 1, [66.119_247, 0.805_161, 0.999_037]),
    ] {
        let forecast = Forecast::with_memory_expected(past);
        close(&inside(&forecast, horizon), &expected);
    }
}

fn known(on_hand_grams: f64) -> Supply {
    Supply {
        on_hand_se_grams: 0.41,
        row_noise_grams: 0.33,
        ..Supply::new(on_hand_grams, RowWeight { grams: 8.25, se_grams: 0.25 }, 4)
    }
}

#[test]
fn enough_and_balls_to_buy() {
    let to_come = of(&days(MAKER), 5, None).to_come(3, 335);
    let chances = [100.0, 400.0, 700.0, 1000.0, 1500.0].map(|grams| known(grams).chance(&to_come));
    close(&chances, &[0.000_006, 0.030_608, 0.316_624, 0.739_886, 0.989_789]);
    let balls =
        [0.5, 0.8, 0.9, 0.95].map(|chance| known(120.0).balls_to_buy(&to_come, 50.0, chance));
    assert_eq!(balls, [Some(15), Some(19), Some(22), Some(24)]);
}

#[test]
fn when_a_colour_runs_out() {
    let forecast = of(&days(MAKER), 5, None);
    let first = known(120.0).first_short(&forecast, 3, 335, [0.1, 0.5, 0.9]);
    assert_eq!(first, [Some(22), Some(38), Some(69)]);
    let run_out = known(120.0).run_out(&forecast, 3, 335);
    assert_eq!(run_out, RunOut { early: Some(22), likely: Some(38) });
    let lasts = RunOut { early: None, likely: None };
    assert_eq!(known(4000.0).run_out(&forecast, 3, 335), lasts);
    let already = RunOut { early: Some(0), likely: Some(0) };
    assert_eq!(known(30.0).run_out(&forecast, 3, 335), already);
}

#[test]
fn days_that_are_all_equal() {
    let few = of(&[1; 20], 3, None);
    close(&[few.variance(40), few.likeness(40)], &[0.076_416, 0.052_734]);
    close(few.shares(), &[0.166_058, 0.667_884, 0.166_058]);
    let more = of(&[1; 35], 3, None);
    close(&[more.memory().fast, more.memory().slow], &[0.116_129, 0.029_677]);
    close(&[more.worth_days(), more.variance(40)], &[15.836_226, 0.066_351]);
    close(more.shares(), &[0.137_739, 0.724_521, 0.137_739]);
}

#[test]
fn the_last_day_and_no_day() {
    let forecast = of(&days(MAKER), 5, None);
    close(&[forecast.variance(1)], &[0.995_848]);
    close(&[forecast.to_come(2, 1).chance_of(1)], &[0.352_922]);
    let none = forecast.to_come(3, 0);
    assert_eq!(none, RowsToCome::none());
    close(&[known(33.0).chance(&none), known(35.0).chance(&none)], &[0.5, 0.942_868]);
    // With the usual errors.
    let usual = Supply::new(35.0, RowWeight { grams: 8.25, se_grams: 0.25 }, 4);
    close(&[usual.chance(&none)], &[0.933_584]);
}

#[test]
fn half_a_year() {
    let forecast = of(&days(&BLOCK.repeat(6)), 5, None);
    close(&[forecast.memory().fast, forecast.memory().slow], &[0.057_188, 0.013_687]);
    close(&inside(&forecast, 185), &[70.474_967, 0.814_975, 0.020_949]);
    close(&[forecast.likeness(185)], &[0.015_628]);
    close(forecast.shares(), &[0.043_486, 0.146_426, 0.436_215, 0.293_629, 0.080_245]);
    assert_eq!(quantiles(&forecast, 185, 0.9), [15, 40, 98, 70, 25]);
}
