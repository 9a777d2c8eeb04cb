//! Worked weighings, each done a second time outside this program: rows that vary by 5 % on a
//! scale with steps of 1 g.

use crate::blanket::forecast::weighing::*;

fn pairs(told: &[(u32, f64)]) -> Vec<Pair> {
    told.iter().map(|&(rows, grams)| Pair { rows, grams }).collect()
}

fn close(one: f64, other: f64) {
    assert!((one - other).abs() < 1e-6, "{one} and {other}");
}

#[test]
fn weighings_give_the_worked_grams_and_errors_with_and_without_a_pattern() {
    let prior = Some(Prior::guess(8.5));
    let check = |told: &[(u32, f64)], own: (f64, f64), with_prior: (f64, f64), ratio| {
        let told = pairs(told);
        for (prior, expected) in [(None, own), (prior, with_prior)] {
            let weighed = combine(&told, 1.0, prior).unwrap();
            close(weighed.per_row.grams, expected.0);
            close(weighed.per_row.se_grams, expected.1);
            match (weighed.ratio, ratio) {
                (Some(ratio), Some(expected)) => close(ratio, expected),
                (ratio, expected) => assert_eq!(ratio, expected),
            }
            assert_eq!(weighed.disagree(), ratio.is_some_and(|ratio| ratio > 2.0));
        }
    };
    check(&[(4, 33.0)], (8.25, 0.230_121), (8.252_898, 0.228_784), None);
    let agree = [(4, 33.0), (6, 48.0), (3, 26.0)];
    check(&agree, (8.217_265, 0.181_885), (8.219_321, 0.181_223), Some(1.442_486));
    let apart = [(2, 15.0), (10, 84.0)];
    check(&apart, (8.284_182, 0.301_367), (8.288_437, 0.298_382), Some(2.353_194));
    let far_apart = [(5, 40.0), (5, 46.0)];
    check(&far_apart, (8.6, 0.6), (8.592_616, 0.577_424), Some(4.061_540));
}

#[test]
fn weighings_that_agree_by_luck_are_no_surer_than_the_scale() {
    let weighed = combine(&pairs(&[(4, 32.0), (4, 32.0)]), 1.0, None).unwrap();
    // Two differences of four rows, each off by the root of 1/6 + 4 * 0.4^2.
    close(weighed.per_row.se_grams, (1.0_f64 / 6.0 + 0.64).sqrt() / 32.0_f64.sqrt());
    assert_eq!(weighed.ratio, Some(0.0));
}

#[test]
fn a_chain_of_readings_is_one_pair_the_first_less_the_last() {
    let reading = |(rows, grams)| Reading { rows, grams };
    let chain = |told: &[(u32, f64)]| {
        Pair::of_chain(&told.iter().copied().map(reading).collect::<Vec<_>>())
    };
    let whole = chain(&[(10, 98.0), (14, 65.0), (20, 17.0), (23, 9.0)]);
    assert_eq!(whole, Some(Pair { rows: 13, grams: 89.0 }));
    for nothing in [&[][..], &[(10, 98.0)], &[(10, 98.0), (10, 90.0)], &[(10, 9.0), (12, 9.0)]] {
        assert_eq!(chain(nothing), None, "{nothing:?}");
    }
    assert_eq!(chain(&[(10, 98.0), (8, 90.0)]), None, "rows were pulled back");
}

#[test]
fn nothing_weighed_is_nothing_known() {
    assert_eq!(combine(&[], 1.0, Some(Prior::guess(8.0))), None);
    assert_eq!(combine(&pairs(&[(0, 0.0)]), 1.0, None), None);
    assert_eq!(combine(&pairs(&[(3, 0.0)]), 0.0, None), None);
}

#[test]
fn other_colours_are_trusted_to_four_per_cent_at_best() {
    let sure = RowWeight { grams: 8.0, se_grams: 0.1 };
    close(Prior::of_others(sure).weight().se_grams, 0.32);
    let unsure = RowWeight { grams: 8.0, se_grams: 0.5 };
    close(Prior::of_others(unsure).weight().se_grams, 0.5);
    let pooled = pooled(&pairs(&[(4, 33.0), (6, 48.0), (3, 26.0)]), 1.0).unwrap();
    close(pooled.grams, 8.217_265);
    let (low, high) = RowWeight { grams: 8.0, se_grams: 0.2 }.interval_90();
    close(low, 8.0 - 0.329);
    close(high, 8.0 + 0.329);
}

#[test]
fn light_rows_need_more_of_them_on_the_scale() {
    let coarse = [(0.7, 25), (1.0, 19), (1.5, 13), (4.0, 7), (8.0, 5)];
    let fine = [(0.7, 5), (1.0, 5), (1.5, 5), (4.0, 4), (8.0, 4)];
    for (step, table) in [(1.0, coarse), (0.1, fine)] {
        for (grams, rows) in table {
            assert_eq!(rows_to_weigh(grams, step), Some(rows), "{grams} g on {step} g");
        }
    }
    let heavy = [2.0, 4.0, 6.0, 8.0, 10.0, 15.0];
    for (step, cv, rows) in [
        (1.0, 0.03, [9, 5, 4, 3, 3, 2]),
        (1.0, 0.05, [11, 7, 6, 5, 5, 5]),
        (1.0, 0.08, [15, 12, 11, 11, 11, 10]),
        (0.1, 0.05, [5, 4, 4, 4, 4, 4]),
    ] {
        let ours = heavy.map(|grams| rows_to_weigh_at(grams, step, cv).unwrap());
        assert_eq!(ours, rows, "{step} g, {cv}");
    }
    assert_eq!(rows_to_weigh(0.0, 1.0), None);
    assert_eq!(rows_to_weigh(8.0, f64::NAN), None);
    assert_eq!(rows_to_weigh(1e-9, 1.0), None);
}
