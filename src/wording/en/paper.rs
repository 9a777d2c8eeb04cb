//! A block on paper, in English.

use super::{Words, plain};
use crate::blanket::{FirstRow, OnPaper, Paper};
use crate::chat::button::PaperTap;

pub fn say(on_paper: OnPaper, left_handed: bool) -> Words {
    let first_row = match on_paper.first_row {
        FirstRow::Bottom => "Row 1 is at the bottom, as in the hand.",
        FirstRow::Top => "Row 1 is at the top.",
    };
    let hand = if left_handed { "left-handed" } else { "right-handed" };
    lines![
        format!("Paper: {}.", name(on_paper.paper)),
        first_row,
        format!("The arrows are for {hand} work."),
        "The sheet and the picture of a block are drawn like this. /block brings them.",
    ]
}

/// Beside the sheet of a block.
pub fn sheet(paper: Paper) -> String {
    format!(
        "The block on paper, {}: a box to tick for each row, with its side, date and yarn.\n\
         Rows of open days are blank.",
        name(paper)
    )
}

pub fn caption(tap: PaperTap) -> &'static str {
    match tap {
        PaperTap::Show => "Paper",
        PaperTap::Size(paper) => name(paper),
        PaperTap::FirstRow(FirstRow::Bottom) => "Row 1 at the bottom",
        PaperTap::FirstRow(FirstRow::Top) => "Row 1 at the top",
        PaperTap::LeftHanded(true) => "Left-handed",
        PaperTap::LeftHanded(false) => "Right-handed",
    }
}

fn name(paper: Paper) -> &'static str {
    match paper {
        Paper::A4 => "A4",
        Paper::A5 => "A5",
        Paper::Letter => "Letter",
    }
}
