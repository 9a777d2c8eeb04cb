//! What must hold of every forecast, tried on many.

use proptest::prelude::*;

use crate::blanket::forecast::*;

fn forecasts() -> impl Strategy<Value = (Forecast, usize)> {
    let words = prop::sample::select(Common::ALL.to_vec());
    (2..=12_usize).prop_flat_map(move |tiers| {
        let days = prop::collection::vec(0..tiers, 0..400);
        let guess = prop::option::of(prop::collection::vec(words.clone(), tiers));
        (days, guess, 0..tiers).prop_map(move |(days, guess, tier)| {
            (Forecast::new(&days, tiers, guess.as_deref()).unwrap(), tier)
        })
    })
}

fn supplies() -> impl Strategy<Value = Supply> {
    (0.0..1500.0, 0.5..20.0, 0.0..0.3, 0..30_u32, 1..=2_u32).prop_map(
        |(on_hand, grams, off, known, rows_per_day)| {
            let per_row = RowWeight { grams, se_grams: off * grams };
            Supply { rows_per_day, ..Supply::new(on_hand, per_row, known) }
        },
    )
}

/// Every chance worked out by itself, and the largest so far kept.
fn run_out_slowly(supply: &Supply, forecast: &Forecast, tier: usize, days: u32) -> RunOut {
    let mut found = RunOut { early: None, likely: None };
    let mut largest: f64 = 0.0;
    for until in 0..=days {
        largest = largest.max(1.0 - supply.chance(&forecast.to_come(tier, until)));
        if largest >= 0.1 {
            found.early = found.early.or(Some(until));
        }
        if largest >= 0.5 {
            found.likely = found.likely.or(Some(until));
        }
    }
    found
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, ..ProptestConfig::default() })]

    #[test]
    fn chances_sum_to_one_and_shares_too(
        (forecast, tier) in forecasts(), days in 0..740_u32,
    ) {
        let to_come = forecast.to_come(tier, days);
        let sum: f64 = to_come.chances().iter().sum();
        prop_assert!((sum - 1.0).abs() < 1e-10);
        prop_assert!(to_come.chances().iter().all(|chance| *chance >= 0.0));
        prop_assert!((forecast.shares().iter().sum::<f64>() - 1.0).abs() < 1e-10);
    }

    #[test]
    fn more_days_to_come_never_need_fewer_rows(
        (forecast, tier) in forecasts(), days in 0..400_u32, chance in 0.5..0.99,
    ) {
        let fewer = forecast.to_come(tier, days).quantile(chance);
        let more = forecast.to_come(tier, days + 1).quantile(chance);
        prop_assert!(fewer <= more, "{fewer}, then {more}");
    }

    #[test]
    fn more_on_hand_never_lowers_the_chance(
        (forecast, tier) in forecasts(), supply in supplies(), days in 0..400_u32,
        more in 0.0..100.0,
    ) {
        let to_come = forecast.to_come(tier, days);
        let richer = Supply { on_hand_grams: supply.on_hand_grams + more, ..supply };
        prop_assert!(supply.chance(&to_come) <= richer.chance(&to_come) + 1e-12);
    }

    #[test]
    fn the_balls_to_buy_are_the_fewest_that_are_enough(
        (forecast, tier) in forecasts(), supply in supplies(), days in 0..400_u32,
        target in 0.5..0.99,
    ) {
        let to_come = forecast.to_come(tier, days);
        let with = |balls: u32| {
            let on_hand_grams = supply.on_hand_grams + 50.0 * f64::from(balls);
            Supply { on_hand_grams, ..supply }.chance(&to_come)
        };
        match supply.balls_to_buy(&to_come, 50.0, target) {
            Some(balls) => {
                prop_assert!(with(balls) >= target);
                prop_assert!(balls == 0 || with(balls - 1) < target);
            }
            None => prop_assert!(with(BALLS_MAX) < target),
        }
    }

    #[test]
    fn the_quick_way_to_the_day_a_colour_is_gone_is_the_slow_one(
        (forecast, tier) in forecasts(), supply in supplies(), days in 0..160_u32,
        of_need in 0.0..2.0,
    ) {
        let rows = f64::from(supply.known_rows) + forecast.to_come(tier, days).mean();
        let on_hand_grams = of_need * rows * supply.per_row.grams;
        let supply = Supply { on_hand_grams, ..supply };
        let quick = supply.run_out(&forecast, tier, days);
        prop_assert_eq!(quick, run_out_slowly(&supply, &forecast, tier, days));
    }
}
