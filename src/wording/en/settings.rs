//! Settings in English, and what is kept about a maker.

use chrono::{NaiveTime, Timelike};

use super::captions::weekday;
use super::dates::clock;
use super::days::own_words;
use super::{Words, care, plain};
use crate::chat::say::{SettingsSaid, TierSaid};

pub fn list(said: &SettingsSaid) -> Words {
    let recap = match &said.recap {
        None => "Weekly recap: none.".to_owned(),
        Some((day, at, whole)) => {
            let how = match whole {
                true => "All of it comes at once.",
                false => "One line comes, and a button that shows the rest.",
            };
            format!("Weekly recap: {} at {}. {how}", weekday(*day), clock(*at))
        }
    };
    let words = lines![
        format!("I ask every day at {}.", clock(said.ask_at)),
        format!("Place: {}.", said.place),
        day_turn(said.day_turns_at),
        nudges(said.nudge_at),
        recap,
    ];
    match said.paused {
        true => words.and(lines![PAUSED]),
        false => words,
    }
}

const PAUSED: &str = "Paused: I send no question, no nudge and no recap.";

pub fn paused() -> Words {
    lines![
        PAUSED,
        "To end the pause, tap the button or type /resume.",
        "You can answer your days with /today at any time.",
    ]
}

pub fn ask_recap() -> Words {
    lines![
        "On which day should the weekly recap come? Tap or type a day.",
        "If all of it comes at once, a locked screen may show it.",
    ]
}

fn day_turn(at: NaiveTime) -> String {
    match at == NaiveTime::MIN {
        true => "A day ends at midnight.".to_owned(),
        false => {
            format!("A day ends at {}. Before that hour, I count it as the day before.", clock(at))
        }
    }
}

fn nudges(at: Option<NaiveTime>) -> String {
    match at {
        Some(at) => format!("Nudges: one quiet message at {} when a day is open.", clock(at)),
        None => "Nudges: none.".to_owned(),
    }
}

pub fn ask_nudges(at: NaiveTime) -> Words {
    lines![
        format!("If a day stays open, I can send one quiet message at {} the next day.", clock(at)),
        "It is called a nudge. Do you want it?",
    ]
}

pub fn nudges_set(at: Option<NaiveTime>) -> Words {
    let set = match at {
        Some(at) => lines![
            format!("I send one quiet message at {} when a day is open.", clock(at)),
            "If many days stay open, it comes once a week.",
        ],
        None => lines!["I send no nudges."],
    };
    set.and(lines!["To change that, type /settings."])
}

pub fn ask_day_turn() -> Words {
    lines![
        "At which hour does your day end?",
        "With 04:00, the night up to 4 belongs to the day before.",
        "Tap or type an hour before noon.",
    ]
}

pub fn privacy() -> Words {
    lines![
        "Kept on this server: your account number, your answers with the ones before them, your \
         notes, rows, yarn, people and settings.",
        "Whoever runs the server can read them. I give them to nobody else.",
        "Bot chats are not end-to-end encrypted: the platform can read them too.",
        "Deleting a message here does not delete what is kept.",
        "/export sends you your days and rows as files.",
        "/erase deletes everything about you here.",
    ]
    .and(care::caution())
}

pub fn tier_lines(tiers: &[TierSaid]) -> Words {
    let words = plain(tiers.iter().filter_map(own_words));
    let words = match tiers.iter().all(|tier| tier.line.is_none()) {
        true => lines!["No tier has words of yours yet."],
        false => words,
    };
    words.and(lines![
        "They are shown when you are not sure, or tap What do these mean? under the question.",
        "Tap a tier to write what such a day is like.",
    ])
}

/// "9 can be 09:00 or 21:00."
pub fn which_hour(hours: [NaiveTime; 2]) -> Words {
    let [one, other] = hours.map(clock);
    let typed = match hours[0].hour() % 12 {
        0 => 12,
        hour => hour,
    };
    lines![
        format!("{typed} can be {one} or {other}. Nothing was changed."),
        "Tap one, or type it like 21:00 or 9 pm.",
    ]
}
