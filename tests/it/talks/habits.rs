//! Random makers and what they do, for the tests over many days.

use chrono::{NaiveDate, Weekday};
use chrono_tz::TZ_VARIANTS;
use proptest::prelude::*;
use proptest::sample::Index;

use super::talker::Talker;

/// A maker's settings on the first day.
#[derive(Clone, Debug)]
pub struct Start {
    zone: Index,
    ask_at: u32,
    nudge_at: u32,
    nudges: bool,
    recap: Option<u8>,
    first: u64,
}

impl Start {
    pub fn maker(&self) -> Talker {
        let zone = self.zone.get(&TZ_VARIANTS).name();
        let first = "2026-01-01".parse::<NaiveDate>().unwrap() + chrono::Days::new(self.first);
        let mut maker = Talker::in_zone(
            zone,
            &clock(self.ask_at),
            &format!("{first} 12:00"),
            &first.to_string(),
        );
        maker.sets(|reminders| {
            reminders.nudge_at = clock(self.nudge_at).parse().unwrap();
            reminders.recap_on = self.recap.map(|day| Weekday::try_from(day).unwrap());
        });
        if self.nudges { maker.with_nudges() } else { maker.without_nudges() }
    }
}

pub fn starts() -> impl Strategy<Value = Start> {
    let hours = (0..1440_u32, 0..1440_u32);
    let recap = prop::option::weighted(0.8, 0..7_u8);
    (any::<Index>(), hours, prop::bool::weighted(0.7), recap, 0..400_u64).prop_map(
        |(zone, (ask_at, nudge_at), nudges, recap, first)| Start {
            zone,
            ask_at,
            nudge_at,
            nudges,
            recap,
            first,
        },
    )
}

/// What a maker does between two looks at the clock.
#[derive(Clone, Debug)]
pub enum Deed {
    Types(String),
    /// Some button of some message.
    Taps(Index, Index),
    /// One button of the newest message.
    TapsNewest(Index),
    Token(String),
}

impl Deed {
    pub fn doing(&self, maker: &mut Talker) {
        match self {
            Deed::Types(line) => drop(maker.types(line)),
            Deed::Token(token) => drop(maker.taps_token(token)),
            Deed::Taps(message, key) if !maker.messages.is_empty() => {
                taps(maker, message.index(maker.messages.len()), *key);
            }
            Deed::TapsNewest(key) if !maker.messages.is_empty() => {
                taps(maker, maker.messages.len() - 1, *key);
            }
            Deed::Taps(..) | Deed::TapsNewest(_) => {}
        }
    }
}

fn taps(maker: &mut Talker, message: usize, key: Index) {
    let keys = maker.messages[message].keys.clone();
    if !keys.is_empty() {
        let (_, button) = key.get(&keys);
        maker.taps_button(button.clone(), message);
    }
}

/// Deeds that leave the settings as they are.
fn answers() -> impl Strategy<Value = Deed> {
    let lines = prop::sample::select(vec![
        "Smooth",
        "4",
        "zebra",
        "/open",
        "/today yesterday",
        "/rows",
        "/recap",
        "/yarn",
        "dentist zebra",
    ]);
    lines.prop_map(|line| Deed::Types(line.to_owned()))
}

/// As above, or the first taps of a question: a tier, *Not sure?*, *Later*, *Skip*.
pub fn evenings() -> impl Strategy<Value = Deed> {
    prop_oneof![answers(), any::<Index>().prop_map(Deed::TapsNewest)]
}

pub fn deeds() -> impl Strategy<Value = Deed> {
    let zone = any::<Index>().prop_map(|zone| format!("1|setzone|{}", zone.get(&TZ_VARIANTS)));
    let time = |name: &'static str, last: u32| {
        (0..last).prop_map(move |minute| format!("1|{name}|{}", clock(minute).replace(':', "")))
    };
    let recap = (0..7_u8).prop_map(|day| format!("1|setrecap|{day}|0"));
    prop_oneof![
        6 => answers(),
        6 => any::<Index>().prop_map(Deed::TapsNewest),
        4 => (any::<Index>(), any::<Index>()).prop_map(|(message, key)| Deed::Taps(message, key)),
        1 => prop_oneof![
            zone,
            time("setat", 1440),
            time("setturn", 720),
            time("setnudge", 1440),
            recap,
            Just("1|setnudge|".to_owned()),
        ].prop_map(Deed::Token),
        1 => prop::sample::select(vec!["/pause", "/resume", "/resume"])
            .prop_map(|line| Deed::Types(line.to_owned())),
    ]
}

fn clock(minute: u32) -> String {
    format!("{:02}:{:02}", minute / 60, minute % 60)
}
