//! A thousand made-up makers and colours, and what an independent program says of them
//! (`forecast/forecast_checks.py`, with scipy's distributions). CI works them out anew and
//! compares; here, what this program says is compared with what it wrote.

use duskrow::blanket::forecast::{Common, Forecast, Pair, RowWeight, Supply, combine};
use serde_json::{Value, json};

#[test]
fn a_thousand_forecasts_are_what_an_independent_program_says() {
    let cases = include_str!("forecast/forecast_cases.jsonl").lines();
    let (mut compared, mut run_outs, mut weighings) = (0, 0, 0);
    for (number, case) in (1..).zip(cases) {
        let case: Value = serde_json::from_str(case).unwrap();
        let theirs = case["answers"].as_object().unwrap();
        let ours = answers(&case);
        for (key, expected) in theirs {
            assert!(same(&ours[key], expected), "case {number}, {key}: {} {case}", ours[key]);
        }
        compared += 1;
        run_outs += u32::from(theirs.contains_key("run_out"));
        weighings += u32::from(theirs.contains_key("weighed"));
    }
    assert!(compared >= 1000 && run_outs >= 100 && weighings >= 500);
}

#[test]
fn an_answer_that_differs_is_noticed() {
    let check = |ours: Value, theirs: Value, expected| {
        assert_eq!(same(&ours, &theirs), expected, "{ours} and {theirs}");
    };
    check(json!({ "balls": [1, null] }), json!({ "balls": [1, null] }), true);
    check(json!({ "balls": [1, null] }), json!({ "balls": [1, 2] }), false);
    check(json!({ "balls": [1] }), json!({ "balls": [2] }), false);
    check(json!([1, 2]), json!([1]), false);
    check(json!(0.25), json!(0.250_000_001), true);
    check(json!(0.25), json!(0.250_000_1), false);
    check(json!(250.0), json!(250.000_01), false);
    check(json!({ "ratio": null }), json!({ "ratio": 1.5 }), false);
    check(json!({ "ratio": 1.5 }), json!({ "share": 1.5 }), false);
}

fn answers(case: &Value) -> Value {
    let tier = index(&case["tier"]);
    let forecast = forecast(case);
    let ahead = count(&case["ahead"]);
    let to_come = forecast.to_come(tier, ahead);
    let supply = supply(case);
    let balls = [0.5, 0.9, 0.98]
        .map(|target| supply.balls_to_buy(&to_come, number(&case["ball_grams"]), target));
    let run_out = supply.run_out(&forecast, tier, ahead);
    // At most two blankets long.
    let at_most_mean = to_come.at_most(to_come.mean() as u32);
    json!({
        "share": forecast.shares()[tier],
        "mean": to_come.mean(),
        "none": to_come.chance_of(0),
        "at_most_mean": at_most_mean,
        "likely": to_come.quantile(0.5),
        "plan_on": to_come.quantile(0.9),
        "enough": supply.chance(&to_come),
        "balls": balls,
        "run_out": [run_out.early, run_out.likely],
        "weighed": weighed(case),
    })
}

fn forecast(case: &Value) -> Forecast {
    let days = case["days"].as_str().unwrap().chars();
    let days: Vec<usize> = days.map(|digit| digit.to_digit(16).unwrap() as usize).collect();
    let words = case["words"].as_array();
    let words: Option<Vec<Common>> =
        words.map(|words| words.iter().map(|word| Common::ALL[index(word)]).collect());
    Forecast::new(&days, index(&case["tiers"]), words.as_deref()).unwrap()
}

fn supply(case: &Value) -> Supply {
    let per_row =
        RowWeight { grams: number(&case["row_grams"]), se_grams: number(&case["row_se_grams"]) };
    Supply {
        rows_per_day: count(&case["rows_per_day"]),
        kept_back_grams: number(&case["kept_grams"]),
        kept_back_se_grams: number(&case["kept_se_grams"]),
        ..Supply::new(number(&case["on_hand_grams"]), per_row, count(&case["known_rows"]))
    }
}

fn weighed(case: &Value) -> Option<Value> {
    let pairs = case["weighings"].as_array().unwrap().iter();
    let pairs: Vec<Pair> =
        pairs.map(|pair| Pair { rows: count(&pair[0]), grams: number(&pair[1]) }).collect();
    let weighed = combine(&pairs, number(&case["step_grams"]), None)?;
    let RowWeight { grams, se_grams } = weighed.per_row;
    Some(json!({ "grams": grams, "se_grams": se_grams, "ratio": weighed.ratio }))
}

/// Counts and what is missing exactly, other numbers to eight digits.
fn same(ours: &Value, theirs: &Value) -> bool {
    match (ours, theirs) {
        (Value::Array(ours), Value::Array(theirs)) => {
            ours.len() == theirs.len() && ours.iter().zip(theirs).all(|(a, b)| same(a, b))
        }
        (Value::Object(ours), Value::Object(theirs)) => {
            let same = |(key, ours)| theirs.get(key).is_some_and(|theirs| same(ours, theirs));
            ours.len() == theirs.len() && ours.iter().all(same)
        }
        (Value::Number(ours), Value::Number(theirs)) if theirs.is_f64() => {
            let (ours, theirs) = (ours.as_f64().unwrap(), theirs.as_f64().unwrap());
            (ours - theirs).abs() <= 1e-8 * theirs.abs().max(1.0)
        }
        (ours, theirs) => ours == theirs,
    }
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

fn count(value: &Value) -> u32 {
    u32::try_from(value.as_u64().unwrap()).unwrap()
}

fn index(value: &Value) -> usize {
    count(value) as usize
}
