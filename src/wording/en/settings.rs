//! Settings in English, and what is kept about a maker.

use super::captions::weekday;
use super::dates::clock;
use super::{CAUTION, Words, plain};
use crate::chat::say::SettingsSaid;

pub fn list(said: &SettingsSaid) -> Words {
    let nudges = match said.nudge_at {
        Some(at) => format!("Nudges: one quiet message at {} when a day is open.", clock(at)),
        None => "Nudges: none.".to_owned(),
    };
    let recap = match &said.recap {
        None => "Weekly recap: none.".to_owned(),
        Some((day, at, true)) => {
            format!("Weekly recap: {} at {}, all of it at once.", weekday(*day), clock(*at))
        }
        Some((day, at, false)) => {
            format!("Weekly recap: {} at {}, one line first.", weekday(*day), clock(*at))
        }
    };
    let mut words = lines![
        format!("I ask every day at {}.", clock(said.ask_at)),
        format!("Place: {}.", said.place),
        format!(
            "A day ends at {}. Before that, today is the day before.",
            clock(said.day_turns_at)
        ),
        nudges,
        recap,
    ];
    if said.paused {
        words.lines.extend(lines!["Paused: I send nothing of myself."].lines);
    }
    words
}

pub fn privacy() -> Words {
    lines![
        "Kept on this server: your account number, your answers with the ones before them, your \
         notes, rows, yarn and settings.",
        "Whoever runs the server can read them. Nobody else gets them from me.",
        "Chats with bots are not end-to-end encrypted: the platform can read them too.",
        "Deleting a message in this chat does not delete what is kept.",
        "/erase deletes everything kept about you here.",
        CAUTION,
    ]
}
