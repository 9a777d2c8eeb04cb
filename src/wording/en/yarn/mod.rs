//! Yarn in English: what is on hand, what was entered, and what becomes of it.

mod asks;
mod buying;
mod captions;
mod detail;
mod refusals;
pub(super) mod units;

use self::units::{cases, row_weight, rows, weight};
use super::dates::capital;
use super::{Span, Words, name, plain};
use crate::blanket::Label;
use crate::blanket::yarn::{KnownBy, PerRow, Units};
use crate::chat::yarn::said::{Entered, LastsSaid, YarnLine, YarnSaid};

pub use captions::caption;
pub use refusals::refused;

pub fn say(said: &YarnSaid, units: Units) -> Words {
    match said {
        YarnSaid::List { lines, example } => list(lines, example, units),
        YarnSaid::Detail(detail) => detail::detail(detail, units),
        YarnSaid::Entered { line, entered } => {
            let words =
                Words { lines: vec![on_hand(line, units)] }.and(self::entered(entered, units));
            words.and(plain(line.lasts.map(lasts)))
        }
        YarnSaid::WhichColour => lines!["Which colour?"],
        YarnSaid::AskGrams { yarn, ask } => asks::grams(yarn, *ask, units),
        YarnSaid::AskBall { yarn } => asks::ball(yarn, units),
        YarnSaid::AskRows { yarn } => asks::rows(yarn),
        YarnSaid::AskLabel { now } => asks::label(*now, units),
        YarnSaid::ToBuy(to_buy) => buying::to_buy(to_buy, units),
        YarnSaid::Settings(settings) => asks::settings(settings, units),
        YarnSaid::AskJoin { now, terms } => asks::join(*now, *terms),
        YarnSaid::Guess { tiers } => asks::guess(tiers),
        YarnSaid::AskCommon { tier } => {
            lines![format!("How often do you expect {}? A guess is enough.", name(tier))]
        }
    }
}

fn list(lines: &[YarnLine], example: &Label, units: Units) -> Words {
    if lines.is_empty() {
        return lines![
            "I know of no yarn yet.",
            format!("Tap a button, or type a colour and its grams, like {} 83.", name(example)),
        ];
    }
    let basis = lines.iter().find_map(|line| line.lasts?.basis);
    let head = match basis {
        Some(basis) => lines![format!("{}:", capital(buying::condition(basis)))],
        None => Words::default(),
    };
    let words = head.and(Words { lines: lines.iter().map(|line| brief(line, units)).collect() });
    let unknown = |line: &YarnLine| line.on_hand_grams.is_some() && line.rows_possible.is_none();
    let words = match lines.iter().any(unknown) {
        true => words.and(lines![
            "To know what a row takes: weigh a colour, work some rows in it, weigh it once more."
        ]),
        false => words,
    };
    words.and(lines!["Tap a colour for more."])
}

/// **Shingle:** 83 g, about 74 rows. 12 rows wait to be worked. It lasts in about 62 of 100 cases.
fn brief(line: &YarnLine, units: Units) -> Vec<Span> {
    let mut spans = on_hand(line, units);
    if let Some(lasts) = line.lasts {
        spans.push(Span::Plain(format!(" It lasts {}.", cases(lasts.chance))));
    }
    spans
}

/// If your days go on much as they have, it lasts in about 62 of 100 cases.
fn lasts(said: LastsSaid) -> String {
    let cases = cases(said.chance);
    match said.basis {
        Some(basis) => format!("{}, it lasts {cases}.", capital(buying::condition(basis))),
        None => format!("Its rows are known. What is there is enough {cases}."),
    }
}

/// What there is, and the rows that wait.
fn on_hand(line: &YarnLine, units: Units) -> Vec<Span> {
    let mut text = match (line.on_hand_grams, line.rows_possible) {
        (None, _) => " nothing entered yet.".to_owned(),
        (Some(grams), None) => format!(" {}.", weight(grams, units)),
        (Some(grams), Some(count)) => {
            format!(" {}, about {}.", weight(grams, units), rows(count))
        }
    };
    text.push_str(&match line.waiting_rows {
        0 => String::new(),
        1 => " 1 row waits to be worked.".to_owned(),
        waiting => format!(" {waiting} rows wait to be worked."),
    });
    if line.runs_short {
        text.push_str(" That is more than the yarn makes.");
    }
    vec![Span::Bold(format!("{}:", name(&line.yarn))), Span::Plain(text)]
}

fn entered(entered: &Entered, units: Units) -> Words {
    match entered {
        Entered::Balls { balls, lot, weighed } => added(*balls, lot.as_ref(), *weighed),
        Entered::Weighed { rows: None, advice, .. } => {
            let some =
                advice.map_or("some rows".to_owned(), |count| format!("about {}", rows(count)));
            lines![
                format!("Weighed. Work {some} in it, then weigh it once more."),
                "That tells what a row takes.",
            ]
        }
        Entered::Weighed { rows: Some(0), .. } => lines![
            "Weighed. No row was worked in this colour since the last time, so what a row takes \
             stays as it was."
        ],
        Entered::Weighed { rows: Some(count), per_row, .. } => {
            let worked = match count {
                1 => "Weighed. 1 row was worked in this colour since the last time.".to_owned(),
                count => {
                    format!("Weighed. {count} rows were worked in this colour since the last time.")
                }
            };
            lines![worked].and(takes(*per_row, units))
        }
        Entered::Corrected => {
            lines!["Set to that. This was no weighing: what a row takes stays as it was."]
        }
        Entered::Tried { rows: count, per_row } => {
            lines![format!("Kept: {} weighed.", rows(u32::from(*count)))]
                .and(takes(*per_row, units))
                .and(lines!["What is on hand stays as it was."])
        }
    }
}

/// What a row takes after a weighing.
fn takes(per_row: Option<PerRow>, units: Units) -> Words {
    let Some(per_row) = per_row else {
        return lines!["It does not tell yet what a row takes. The next weighing can."];
    };
    let takes = lines![format!("A row takes about {}.", row_weight(per_row.grams(), units))];
    match per_row.by {
        KnownBy::Weighings { disagree: true, .. } => takes.and(lines![DISAGREE]),
        KnownBy::Weighings { disagree: false, .. } | KnownBy::OtherColours | KnownBy::Fabric => {
            takes
        }
    }
}

const DISAGREE: &str = "Your weighings disagree. Check how many rows were worked between them.";

fn added(balls: u16, lot: Option<&(Label, u32)>, weighed: bool) -> Words {
    let first = match (balls, weighed) {
        (1, false) => "The ball is added. Its label may differ from its real weight.".to_owned(),
        (1, true) => "The ball is added, with its weight on the kitchen scale.".to_owned(),
        (balls, false) => {
            format!("{balls} balls are added. Their labels may differ from their real weight.")
        }
        (balls, true) => {
            format!("{balls} balls are added, with their weight on the kitchen scale.")
        }
    };
    let words = lines![first];
    let words = match lot {
        None => words,
        Some((lot, 1)) => words.and(lines![format!("It is your first ball of lot {}.", name(lot))]),
        Some((lot, count)) => {
            words.and(lines![format!("That makes {count} balls of lot {}.", name(lot))])
        }
    };
    match weighed {
        true => words,
        false => words.and(lines![
            "Weigh all of this colour before its next row: then later weighings tell more."
        ]),
    }
}
