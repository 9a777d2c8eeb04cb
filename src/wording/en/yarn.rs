//! Yarn in English: grams, rows, balls and weighings.

use super::dates::quoted;
use super::{Span, Words, name, plain};
use crate::blanket::Label;
use crate::chat::say::YarnLine;

/// More names of colours than this would be a wall.
const NAMES_SHOWN_MAX: usize = 12;

pub fn list(lines: &[YarnLine], example: &Label) -> Words {
    if lines.is_empty() {
        return lines![
            "I know of no yarn yet.",
            format!("Tap a button, or type a colour and its grams, like {} 83.", name(example)),
        ];
    }
    let words = Words { lines: lines.iter().map(line).collect() };
    match lines.iter().any(|line| line.on_hand_grams.is_some() && !line.measured) {
        true => words.and(lines![
            "To know what a row takes: weigh a colour, work some rows in it, weigh it once more."
        ]),
        false => words,
    }
}

/// **Shingle:** 83 g, about 74 rows. 12 rows wait to be worked.
fn line(line: &YarnLine) -> Vec<Span> {
    let mut text = match (line.on_hand_grams, line.rows_possible) {
        (None, _) => " nothing entered yet.".to_owned(),
        (Some(grams), None) => format!(" {} g.", number(grams)),
        (Some(grams), Some(rows)) => format!(" {} g, about {}.", number(grams), self::rows(rows)),
    };
    text.push_str(&match line.known_rows {
        0 => String::new(),
        1 => " 1 row waits to be worked.".to_owned(),
        known => format!(" {known} rows wait to be worked."),
    });
    if line.runs_short {
        text.push_str(" That is more than the yarn makes.");
    }
    let per_row = line.grams_per_row.filter(|_| line.on_hand_grams.is_some());
    match (per_row, line.measured) {
        (None, _) => {}
        (Some(grams), true) => text.push_str(&format!(" A row takes about {} g.", number(grams))),
        (Some(grams), false) => text.push_str(&format!(
            " A row takes about {} g, if it is as in your other colours.",
            number(grams)
        )),
    }
    vec![Span::Bold(format!("{}:", name(&line.yarn))), Span::Plain(text)]
}

fn rows(count: u32) -> String {
    if count == 1 { "1 row".to_owned() } else { format!("{count} rows") }
}

/// "83", "83.5": as it was typed. A half of a tenth is rounded up.
pub fn number(grams: f64) -> String {
    let text = format!("{:.1}", (grams * 10.0).round() / 10.0);
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}

pub fn stocked(line_said: &YarnLine, rows_since: Option<u32>, weighed: bool) -> Words {
    let words = Words { lines: vec![line(line_said)] };
    words.and(match (weighed, rows_since) {
        (false, _) => lines!["The ball is added. Its label may differ from its real weight."],
        (true, None) => lines![
            "Weighed. Work some rows in it, then weigh it once more.",
            "That tells what a row takes.",
        ],
        (true, Some(0)) => lines![
            "Weighed. No row was worked in this colour since the last time, so what a row takes \
             stays as it was."
        ],
        (true, Some(1)) => lines!["Weighed. 1 row was worked in this colour since the last time."],
        (true, Some(rows)) => {
            lines![format!("Weighed. {rows} rows were worked in this colour since the last time.")]
        }
    })
}

pub fn unknown(typed: &str, names: &[Label]) -> Words {
    let shown: Vec<String> = names.iter().take(NAMES_SHOWN_MAX).map(name).collect();
    let example = names.first().map(name).unwrap_or_default();
    lines![
        format!("I do not know the colour {}. Nothing was changed.", quoted(typed)),
        format!("Your colours are {}.", shown.join(", ")),
        format!("Type one and its grams, like {example} 83."),
    ]
}

pub fn ask_grams(yarn: &Label, weigh: bool) -> Words {
    match weigh {
        true => lines![
            format!("Put all your {} on the scale.", name(yarn)),
            "How many grams is it? Type a number, like 83 or 83.5.",
        ],
        false => lines![
            format!("How many grams of {} does the label say?", name(yarn)),
            "Type a number, like 50 or 100.",
        ],
    }
}

pub fn heavier(yarn: &Label, now: f64, before: f64) -> Words {
    let yarn = name(yarn);
    lines![
        format!(
            "{yarn} was {} g before, and {} g is more. Nothing was changed.",
            number(before),
            number(now)
        ),
        format!("If a ball came, add it first. Type it like: {yarn} +50"),
    ]
}
