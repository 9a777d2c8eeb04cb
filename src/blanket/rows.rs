//! One row as the maker needs it: number, side, day, colour, and whether the yarn changes.

use chrono::NaiveDate;

use super::blocks::{Block, Row, RowContent, RowNumber};
use super::book::Book;
use super::scale::{TierId, YarnId};

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct RowLine {
    pub row: Row,
    pub colour: RowColour,
    pub handling: Handling,
}

/// What a row is worked in.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum RowColour {
    Day { day: NaiveDate, tier: TierId, yarn: YarnId },
    Filler { yarn: YarnId },
    Open { day: NaiveDate },
}

/// What happens to the yarn at the start of a row.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Handling {
    /// The first row of a block.
    Start,
    /// The colour of the row below goes on.
    Keep,
    Change,
}

impl RowColour {
    pub fn yarn(self) -> Option<YarnId> {
        match self {
            RowColour::Day { yarn, .. } | RowColour::Filler { yarn } => Some(yarn),
            RowColour::Open { .. } => None,
        }
    }
}

impl RowLine {
    /// The line of row `number`, where the block has it.
    pub fn of(book: &Book, block: &Block, number: RowNumber) -> Option<RowLine> {
        let row = book.plan().row(block, number)?;
        let colour = match row.content {
            RowContent::Filler => RowColour::Filler { yarn: book.joining() },
            RowContent::Day(day) => match book.tier_of(day) {
                Some(tier) => RowColour::Day { day, tier: tier.id, yarn: tier.yarn },
                None => RowColour::Open { day },
            },
        };
        Some(RowLine { row, colour, handling: handling(book, block, &row, colour) })
    }
}

/// The row below counts as it was stitched, where it was, and else as it is planned.
fn handling(book: &Book, block: &Block, row: &Row, colour: RowColour) -> Handling {
    let Some(below) = row.number.0.checked_sub(1).filter(|&below| below > 0).map(RowNumber) else {
        return Handling::Start;
    };
    let stitched = book.worked_row(block.number, below).map(|worked| worked.yarn);
    let planned = || book.plan().row(block, below).and_then(|row| book.yarn_for(&row));
    match (stitched.or_else(planned), colour.yarn()) {
        (Some(before), Some(now)) if before == now => Handling::Keep,
        _ => Handling::Change,
    }
}
