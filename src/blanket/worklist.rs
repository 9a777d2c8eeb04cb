//! Which rows can be worked next, where does the list stop, and what yarn do they take?

use chrono::NaiveDate;

use super::blocks::{Block, BlockNumber, RowNumber};
use super::book::Book;
use super::rows::{RowColour, RowLine};
use super::scale::YarnId;
use super::yarn::{PerRow, yarn_status};

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

/// Neighbouring rows in one colour, as groups.
pub fn runs(lines: &[RowLine]) -> impl Iterator<Item = &[RowLine]> {
    lines.chunk_by(|a, b| a.colour.yarn() == b.colour.yarn())
}

/// One colour of a sitting.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Bring {
    pub yarn: YarnId,
    pub rows: u16,
    /// What a row takes, where that is known.
    pub per_row: Option<PerRow>,
    /// Where the yarn on hand makes fewer rows.
    pub ends: Option<YarnEnds>,
}

/// Where the yarn on hand of a colour may end.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct YarnEnds {
    /// Whole rows that it makes.
    pub rows_possible: u32,
    /// The first row it does not make.
    pub row: RowNumber,
}

/// The yarn of a sitting, in the order it is used.
pub fn bring(book: &Book, lines: &[RowLine]) -> Vec<Bring> {
    let known = yarn_status(book);
    let mut found: Vec<Bring> = Vec::new();
    for line in lines {
        let Some(yarn) = line.colour.yarn() else { continue };
        let at = found.iter().position(|bring| bring.yarn == yarn).unwrap_or_else(|| {
            found.push(Bring { yarn, rows: 0, per_row: None, ends: None });
            found.len() - 1
        });
        let bring = &mut found[at];
        bring.rows += 1;
        let Some(status) = known.iter().find(|status| status.yarn == yarn) else { continue };
        bring.per_row = status.per_row;
        if let Some(rows_possible) = status.rows_possible()
            && u32::from(bring.rows) == rows_possible + 1
        {
            bring.ends = Some(YarnEnds { rows_possible, row: line.row.number });
        }
    }
    found
}

/// The last worked row of all: of the current block, or else of the one before it.
pub fn last_worked(book: &Book) -> Option<(BlockNumber, RowNumber)> {
    let current = book.current_block().map_or(u16::MAX, |block| block.number.0);
    let blocks: Vec<Block> = book.plan().blocks().collect();
    blocks.iter().rev().filter(|block| block.number.0 <= current).find_map(|block| {
        let worked = u16::try_from(book.worked(block.number).len()).ok()?;
        (worked > 0).then_some((block.number, RowNumber(worked)))
    })
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
