//! Samples about settings, pauses and what is kept.

use chrono::{NaiveTime, TimeDelta, Weekday};
use duskrow::blanket::{BlockNumber, FirstRow, OnPaper, Paper};
use duskrow::chat::bring_back;
use duskrow::chat::button::SetUpStep;
use duskrow::chat::enclosed::{BlanketLook, Drawn, Enclosed};
use duskrow::chat::say::{PeopleDone, Say, SettingsSaid, TierSaid};

use super::blankets::last_year;
use super::label;
use crate::store::day;

/// A tier and its words.
pub fn tier(name: &str, line: Option<&str>) -> TierSaid {
    TierSaid { tier: label(name), line: line.map(str::to_owned) }
}

pub fn tiers() -> Vec<TierSaid> {
    vec![tier("Rough", Some("slept badly, kept to bed")), tier("Smooth", None)]
}

fn line() -> String {
    "Ida next door, 555 0134".to_owned()
}

pub fn people() -> Vec<String> {
    vec![line(), "Dr. Moss, 555 0190".to_owned()]
}

pub fn every_say() -> Vec<Say> {
    let hour = |hour| NaiveTime::MIN + TimeDelta::hours(hour);
    let said = SettingsSaid {
        ask_at: hour(21),
        place: "Lisbon".to_owned(),
        day_turns_at: hour(4),
        nudge_at: Some(hour(10)),
        recap: Some((Weekday::Sun, hour(18), false)),
        paused: false,
    };
    let paused = SettingsSaid { nudge_at: None, recap: None, paused: true, ..said.clone() };
    let whole = SettingsSaid { recap: Some((Weekday::Wed, hour(18), true)), ..said.clone() };
    vec![
        Say::Settings(said),
        Say::Settings(paused),
        Say::Settings(whole),
        Say::TierLines { tiers: tiers() },
        Say::TierLines { tiers: vec![tier("Smooth", None)] },
        Say::AskTierLine { tier: label("Smooth") },
        Say::EmptyTierLine,
        Say::LongTierLine { max: 100 },
        Say::People { lines: Vec::new(), most: 5, done: None },
        Say::People { lines: people(), most: 5, done: Some(PeopleDone::Full) },
        Say::People { lines: people(), most: 5, done: Some(PeopleDone::Kept { line: line() }) },
        Say::People { lines: people(), most: 5, done: Some(PeopleDone::Removed { line: line() }) },
        Say::AskPerson,
        Say::SetUpList { steps: SetUpStep::ALL.map(|step| (step, false)).to_vec() },
        Say::SetUpList { steps: SetUpStep::ALL.map(|step| (step, true)).to_vec() },
        Say::SetUpLater,
        Say::AskDayTurn,
        Say::DayTurnTooLate { time: hour(13) },
        Say::AskNudges { at: hour(10) },
        Say::NudgesSet { at: Some(hour(10)) },
        Say::NudgesSet { at: None },
        Say::AskNudgeHour,
        Say::AskRecap,
        Say::Paper { on_paper: OnPaper::default(), left_handed: false },
        Say::Paper {
            on_paper: OnPaper { paper: Paper::Letter, first_row: FirstRow::Top },
            left_handed: true,
        },
        Say::Paused,
        Say::Resumed { time: hour(21) },
        Say::Privacy,
        Say::File(Enclosed::Blanket(BlanketLook::Flat)),
        Say::File(Enclosed::BlockPicture(BlockNumber(3))),
        Say::File(Enclosed::Sheet(BlockNumber(3))),
        Say::File(Enclosed::Drawn(Drawn::Yarn)),
        Say::File(Enclosed::Drawn(Drawn::Week { on: day("2027-01-17") })),
        Say::File(Enclosed::Drawn(Drawn::Year)),
        Say::File(Enclosed::Drawn(Drawn::Card)),
        Say::File(Enclosed::Drawn(Drawn::Imagined)),
        Say::UnknownLook { typed: "huge".to_owned() },
        Say::File(Enclosed::Book),
        Say::BookHandedOut { on: day("2027-07-14"), years: last_year() },
        Say::BookBroughtBack {
            on: day("2027-07-14"),
            years: last_year(),
            shown_by: bring_back::ShownBy::Nothing,
        },
        Say::File(Enclosed::DayTable),
        Say::File(Enclosed::RowTable),
    ]
}
