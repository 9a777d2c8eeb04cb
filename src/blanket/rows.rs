//! One row as the maker needs it: number, side, day, colour, and whether the yarn changes.

use chrono::NaiveDate;

use super::blocks::{Block, Faces, Row, RowContent, RowNumber};
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
    /// The colour was left at this edge at the end of row `from`, and is picked up there.
    Carry {
        from: RowNumber,
    },
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
        let carry_rows = book.fabric().carry_rows();
        let faces = book.plan().faces();
        // Only rows that a colour could be carried over matter.
        let reach = carry_rows / faces.rows_per_day + 2;
        let lowest = number.0.saturating_sub(reach).max(1);
        let mut yarns = vec![None; usize::from(lowest) - 1];
        for below in (lowest..number.0).map(RowNumber) {
            yarns.push(yarn_at(book, block, below));
        }
        yarns.push(colour.yarn());
        Some(RowLine { row, colour, handling: handling(&yarns, number, faces, carry_rows) })
    }
}

/// The colours of a block from row 1 up to its first open day: as stitched where it was, and else
/// as planned.
pub fn colours(book: &Book, block: &Block) -> Vec<Option<YarnId>> {
    let yarn = |number| yarn_at(book, block, RowNumber(number));
    (1..=block.rows).map(yarn).take_while(Option::is_some).collect()
}

fn yarn_at(book: &Book, block: &Block, number: RowNumber) -> Option<YarnId> {
    let stitched = book.worked_row(block.number, number).map(|worked| worked.yarn);
    let planned = || book.plan().row(block, number).and_then(|row| book.yarn_for(&row));
    stitched.or_else(planned)
}

/// What happens to the yarn at the start of row `number`, given the colours of the block up to it.
///
/// A colour that was left at the end of worked row r can go on in worked row r' only in turned
/// work, and only where r' - r is odd: at 1 it is kept, at 3 or 5 it may be carried.
pub fn handling(
    yarns: &[Option<YarnId>],
    number: RowNumber,
    faces: Faces,
    carry_rows: u16,
) -> Handling {
    if number.0 <= 1 {
        return Handling::Start;
    }
    let below = &yarns[..usize::from(number.0) - 1];
    let Some(now) = yarns[below.len()] else { return Handling::Change };
    let latest = below.iter().rposition(|yarn| *yarn == Some(now));
    let Some(from) = latest.and_then(|index| u16::try_from(index + 1).ok()).map(RowNumber) else {
        return Handling::Change;
    };
    let (begins, _) = faces.worked_rows(number);
    let (_, left) = faces.worked_rows(from);
    match begins - left {
        1 if faces.turned => Handling::Keep,
        gap if faces.turned && gap % 2 == 1 && gap <= carry_rows => Handling::Carry { from },
        _ => Handling::Change,
    }
}
