//! How the blanket is made, in English: blocks, stitch, width, swatch and size.

mod blocks;
mod captions;
pub mod names;
mod refusals;
mod size;
mod stitch;
mod worked;

use super::dates::capital;
use super::{Span, Words, plain};
use crate::chat::making::{BlocksSaid, MakingSaid};

pub use captions::caption;
pub use refusals::refused;

pub fn say(said: &MakingSaid) -> Words {
    match said {
        MakingSaid::Home { blocks, fabric, block } => {
            let mut lines = blocks::short(blocks);
            lines.extend(stitch::short(fabric));
            lines.extend(block.map(|block| format!("A block is {}.", size::size(block))));
            heading("How the blanket is made").and(plain(lines))
        }
        MakingSaid::Blocks(said) => heading("Blocks").and(plain(blocks::whole(said))),
        MakingSaid::AskCut => blocks::ask_cut(),
        MakingSaid::AskDays => {
            lines!["How many days does a block have?", "Type a number from 1 to 60, like 10.",]
        }
        MakingSaid::StripWarning { rows, height_cm, by_swatch } => {
            blocks::strip(*rows, *height_cm, *by_swatch)
        }
        MakingSaid::AskRows { least, most, now } => lines![
            format!("How many rows does a block have? Now: {now}."),
            format!("It has a row for each day, so {least} or more. The others are filler rows."),
            format!("Type a number from {least} to {most}."),
        ],
        MakingSaid::AskFillers { fillers, now } => blocks::ask_fillers(*fillers, *now),
        MakingSaid::AskShortEnds(said) => blocks::ask_short_ends(said),
        MakingSaid::Stitch { fabric, lost } => stitch::whole(fabric, lost),
        MakingSaid::AskForm { of, terms } => stitch::ask_form(*of, *terms),
        MakingSaid::AskOwnCraft => lines!["Is your own stitch crochet or knitting?"],
        MakingSaid::AskOwnWidths => lines![
            "Which widths does your stitch allow?",
            "Type the multiple and what is added, like 6 + 1 for 7, 13, 19.",
        ],
        MakingSaid::Carry { fabric, ends } => stitch::carry(fabric, ends.as_ref()),
        MakingSaid::Names { terms, left_handed } => stitch::names(*terms, *left_handed),
        MakingSaid::Width { fabric, asks } => stitch::width(fabric, *asks),
        MakingSaid::Swatch(said) => size::swatch(said),
        MakingSaid::Size(said) => size::blanket(said),
        MakingSaid::AskColumns { blocks, most } => lines![
            format!("How many blocks side by side? There are {}.", count(*blocks, "block")),
            format!("Tap a number, or type one from 1 to {most}."),
        ],
        MakingSaid::AskBorder { most } => lines![
            "How many rounds does the border have?",
            format!("Tap a number, or type one from 0 to {most}."),
        ],
        MakingSaid::Worked(said) => worked::shown(said),
    }
}

fn heading(text: &str) -> Words {
    Words { lines: vec![vec![Span::Bold(text.to_owned())]] }
}

/// "1 row", "33 rows".
fn count(number: u16, of: &str) -> String {
    match number {
        1 => format!("1 {of}"),
        _ => format!("{number} {of}s"),
    }
}

/// "14", "14.5".
fn decimal(number: f64) -> String {
    let text = format!("{number:.1}");
    text.strip_suffix(".0").map(str::to_owned).unwrap_or(text)
}

/// The blocks with few days: "Block 1 has 17 days. Block 13 has 14 days."
fn few(said: &BlocksSaid) -> Option<String> {
    let days = |(number, days): &(_, u16)| format!("Block {number} has {}.", count(*days, "day"));
    let all: Vec<String> = said.few.iter().map(days).collect();
    (!all.is_empty()).then(|| all.join(" "))
}
