//! Yarn in English: grams, rows, balls and weighings.

use super::{Span, Words, name, plain};
use crate::blanket::Label;
use crate::chat::say::YarnLine;

pub fn list(lines: &[YarnLine]) -> Words {
    if lines.is_empty() {
        return lines![
            "I know of no yarn yet.",
            "Add a ball, or type a colour and its grams, like Shingle 83.",
        ];
    }
    let mut words = Words { lines: lines.iter().map(line).collect() };
    if lines.iter().any(|line| line.on_hand_grams.is_some() && !line.measured) {
        words.lines.extend(
            lines![
                "To know what a row takes: weigh a colour, work some rows in it, weigh it again."
            ]
            .lines,
        );
    }
    words
}

/// **Shingle:** 83 g, about 74 rows. 12 rows wait.
fn line(line: &YarnLine) -> Vec<Span> {
    let mut text = match (line.on_hand_grams, line.rows_possible) {
        (None, _) => " nothing entered yet.".to_owned(),
        (Some(grams), None) => format!(" {} g.", whole(grams)),
        (Some(grams), Some(rows)) => format!(" {} g, about {}.", whole(grams), self::rows(rows)),
    };
    text.push_str(&match line.known_rows {
        0 => String::new(),
        known => format!(" {} to work.", capital_rows(known)),
    });
    if line.runs_short {
        text.push_str(" That is more than the yarn makes.");
    }
    if let (Some(per_row), true) = (line.grams_per_row, line.on_hand_grams.is_some()) {
        text.push_str(&match line.measured {
            true => format!(" A row takes about {per_row:.1} g."),
            false => format!(" If a row takes as much as in your other colours, {per_row:.1} g."),
        });
    }
    vec![Span::Bold(format!("{}:", name(&line.yarn))), Span::Plain(text)]
}

fn rows(count: u32) -> String {
    if count == 1 { "1 row".to_owned() } else { format!("{count} rows") }
}

fn capital_rows(count: u32) -> String {
    if count == 1 { "1 row waits".to_owned() } else { format!("{count} rows wait") }
}

fn whole(grams: f64) -> String {
    format!("{grams:.0}")
}

pub fn stocked(line_said: &YarnLine, rows_since: Option<u32>, weighed: bool) -> Words {
    let mut words = Words { lines: vec![line(line_said)] };
    let more = match (weighed, rows_since, line_said.measured) {
        (false, ..) => lines!["The ball is added. Its label may differ from its real weight."],
        (true, None | Some(0), _) => {
            lines![
                "Weighed. Work some rows in it, then weigh it again: that tells what a row takes."
            ]
        }
        (true, Some(1), _) => lines!["Weighed after 1 row in this colour."],
        (true, Some(rows), _) => lines![format!("Weighed after {rows} rows in this colour.")],
    };
    words.lines.extend(more.lines);
    words
}

pub fn ask_grams(yarn: &Label, weigh: bool) -> Words {
    match weigh {
        true => lines![
            format!("Weigh all your {} at once.", name(yarn)),
            "How many grams? Type a number, like 83 or 83.5.",
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
        format!("{yarn} was {before:.1} g before, and {now:.1} g is more. Nothing was changed."),
        format!("If a ball came, add it first: {yarn} +50"),
    ]
}
