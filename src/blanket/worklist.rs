//! Which rows can be worked next, and where does the list stop?

use chrono::NaiveDate;

use super::blocks::{Block, BlockNumber, RowNumber};
use super::book::Book;
use super::rows::{RowColour, RowLine};
use super::scale::YarnId;

/// Where the work stands on a day.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Standing {
    At(Sitting),
    /// Every row of every block is worked.
    Finished,
}

/// The rows to be worked in one go: an unbroken run on top of the worked rows of one block.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Sitting {
    pub block: Block,
    /// Rows of the block already worked.
    pub worked: u16,
    pub lines: Vec<RowLine>,
    pub stop: Stop,
}

/// Why the list goes no further.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Stop {
    /// As many rows as were asked for; this one is next.
    Enough(RowNumber),
    /// Nobody can work over an open row.
    Open {
        row: RowNumber,
        day: NaiveDate,
    },
    ToCome {
        row: RowNumber,
        day: NaiveDate,
    },
    BlockDone,
}

/// The next rows of the lowest unfinished block, at most `rows_max` of them, up to the first row
/// whose day has no answer.
pub fn sitting(book: &Book, today: NaiveDate, rows_max: u16) -> Standing {
    let Some(block) = book.current_block() else { return Standing::Finished };
    let worked = u16::try_from(book.worked(block.number).len()).unwrap_or(block.rows);
    let mut lines = Vec::new();
    let mut stop = Stop::BlockDone;
    for number in (worked + 1..=block.rows).map(RowNumber) {
        let Some(line) = RowLine::of(book, &block, number) else { break };
        if let RowColour::Open { day } = line.colour {
            stop = match day > today {
                true => Stop::ToCome { row: number, day },
                false => Stop::Open { row: number, day },
            };
            break;
        }
        if lines.len() == usize::from(rows_max) {
            stop = Stop::Enough(number);
            break;
        }
        lines.push(line);
    }
    Standing::At(Sitting { block, worked, lines, stop })
}

/// The yarns of the rows from the top of the worked run up to `to`, if every one of them can be
/// worked: none is worked yet, none is open, none is to come.
pub fn workable(book: &Book, block: BlockNumber, to: RowNumber) -> Option<Vec<YarnId>> {
    let block = book.plan().block(block)?;
    let worked = u16::try_from(book.worked(block.number).len()).ok()?;
    if to.0 <= worked || to.0 > block.rows {
        return None;
    }
    (worked + 1..=to.0)
        .map(|number| RowLine::of(book, &block, RowNumber(number))?.colour.yarn())
        .collect()
}
