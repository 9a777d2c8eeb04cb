//! Samples about yarn: what is on hand, balls, weighings.

use duskrow::chat::say::{Say, YarnLine};

use super::label;

pub fn every_say() -> Vec<Say> {
    let weighed = || YarnLine {
        yarn: label("Shingle"),
        on_hand_grams: Some(83.5),
        grams_per_row: Some(1.13),
        measured: true,
        rows_possible: Some(73),
        known_rows: 1,
        runs_short: false,
    };
    let like_others = || YarnLine {
        yarn: label("Kelp"),
        measured: false,
        known_rows: 90,
        runs_short: true,
        ..weighed()
    };
    let unknown = || YarnLine {
        yarn: label("Brick"),
        on_hand_grams: None,
        grams_per_row: None,
        measured: false,
        rows_possible: None,
        known_rows: 3,
        runs_short: false,
    };
    let stocked = |line, rows_since, weighed| Say::Stocked { line, rows_since, weighed };
    vec![
        Say::Yarn { lines: vec![], example: label("Shingle") },
        Say::Yarn { lines: vec![weighed(), like_others(), unknown()], example: label("Shingle") },
        Say::WhichYarn,
        Say::AskGrams { yarn: label("Shingle"), weigh: true },
        Say::AskGrams { yarn: label("Shingle"), weigh: false },
        Say::Heavier { yarn: label("Shingle"), now: 90.0, before: 83.5 },
        Say::TooManyEntries { yarn: label("Shingle"), max: 700 },
        stocked(like_others(), None, false),
        stocked(unknown(), None, true),
        stocked(weighed(), Some(0), true),
        stocked(weighed(), Some(1), true),
        stocked(weighed(), Some(8), true),
    ]
}
