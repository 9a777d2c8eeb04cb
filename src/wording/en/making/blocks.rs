//! Blocks in English: where they end, their rows, and where filler rows are.

use super::{Words, count, few, heading, plain, size};
use crate::blanket::{Cut, Fillers};
use crate::chat::making::BlocksSaid;

/// Two lines of all there is to say.
pub fn short(said: &BlocksSaid) -> Vec<String> {
    whole(said).into_iter().take(2).collect()
}

pub fn whole(said: &BlocksSaid) -> Vec<String> {
    let BlocksSaid { pieces, blocks, days, fillers, .. } = said;
    let there_are = match blocks {
        1 => "There is 1.".to_owned(),
        _ => format!("There are {blocks}."),
    };
    let first = match pieces.cut {
        Cut::Months => format!("Each block is a calendar month. {there_are}"),
        Cut::FromStart => format!("Each block is a month from the first day on. {there_are}"),
        Cut::Every(length) => format!("Each block is {}. {there_are}", count(length, "day")),
        Cut::Strip => {
            return vec![format!("One strip of {}, one for each day.", count(*days, "row"))];
        }
    };
    let rows = count(pieces.rows, "row");
    let second = match fillers {
        None => format!("A block has {rows}."),
        Some((_, 0)) => format!("A block has {rows} and no filler row."),
        Some((least, most)) => {
            format!("A block has {rows}. {}", fillers_of_block(*least, *most))
        }
    };
    let mut lines = vec![first, second];
    if !matches!(fillers, Some((_, 0))) {
        lines.push(where_fillers(pieces.fillers).to_owned());
    }
    if let Some(few) = few(said) {
        lines.push(few);
        lines.push(match pieces.short_ends {
            true => "Such a block is worked short: a row for each of its days.".to_owned(),
            false => format!("Such a block has {rows} too."),
        });
    }
    lines
}

fn fillers_of_block(least: u16, most: u16) -> String {
    match (least, most) {
        (1, 1) => "1 of them is a filler row.".to_owned(),
        (least, most) if least == most => format!("{least} of them are filler rows."),
        (least, most) => format!("{least} to {most} of them are filler rows."),
    }
}

fn where_fillers(fillers: Fillers) -> &'static str {
    match fillers {
        Fillers::After => "Filler rows come after the last day.",
        Fillers::FirstAndLast => "One filler row comes first, the others after the last day.",
        Fillers::Before => "Filler rows come before the first day.",
        Fillers::Balanced => {
            "Half of the filler rows come before the first day, half after the last."
        }
    }
}

pub fn ask_cut() -> Words {
    lines![
        "Where does one block end and the next begin?",
        "Calendar months: a block begins on the 1st of each month.",
        "Months from the first day: a blanket from the 15th has blocks from the 15th.",
        "Every so many days: each block has the same number of days.",
        "One strip: the whole blanket is one piece.",
    ]
}

pub fn strip(rows: u16, height_cm: f64, by_swatch: bool) -> Words {
    let height = size::length(height_cm);
    let measured = match by_swatch {
        true => format!("By your swatch it would be {height} high."),
        false => format!(
            "There is no swatch yet. For example, at 16 rows over 10 cm it would be {height} high."
        ),
    };
    lines![
        format!("One strip would be {} in one piece.", count(rows, "row")),
        measured,
        "Nothing is changed yet.",
    ]
}

pub fn ask_fillers(fillers: Option<(u16, u16)>, now: Fillers) -> Words {
    let many = match fillers {
        None => Words::default(),
        Some((_, 0)) => lines!["A block has no filler row now."],
        Some((1, 1)) => lines!["A block has 1 filler row."],
        Some((least, most)) if least == most => lines![format!("A block has {least} filler rows.")],
        Some((least, most)) => lines![format!("A block has {least} to {most} filler rows.")],
    };
    heading("Filler rows").and(lines![format!("Now: {}.", caption(now))]).and(many).and(lines![
        "After the last day: all of them come after it.",
        "First and last: row 1 is a filler row. The others come after the last day.",
        "Before the first day: all of them come before it.",
        "Half and half: as many before the first day as after the last. An odd one comes after.",
    ])
}

pub fn caption(fillers: Fillers) -> &'static str {
    match fillers {
        Fillers::After => "After the last day",
        Fillers::FirstAndLast => "First and last",
        Fillers::Before => "Before the first day",
        Fillers::Balanced => "Half and half",
    }
}

pub fn ask_short_ends(said: &BlocksSaid) -> Words {
    let few =
        few(said).unwrap_or_else(|| "In this blanket every block has all its days.".to_owned());
    let rows = said.pieces.rows;
    let now = match said.pieces.short_ends {
        true => "Now: worked short.",
        false => "Now: it keeps its rows.",
    };
    heading("First and last block").and(lines![
        now,
        "A first or last block can have few days.",
        few,
        format!("Keep its rows: filler rows bring it to {rows} rows, as high as the others."),
        "Work it short: it has a row for each of its days, and no filler row.",
    ])
}
