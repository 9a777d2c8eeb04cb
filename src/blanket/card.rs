//! The one row that is worked next, and how it ends: what happens to the yarn for the row after it.

use chrono::NaiveDate;

use super::blocks::{Block, RowNumber};
use super::book::Book;
use super::rows::{Handling, RowColour, RowLine};
use super::scale::YarnId;
use super::worklist::{Sitting, Standing, Stop, sitting};

/// What is there to work.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Card {
    Row(RowCard),
    /// The next row is the row of a day without an answer.
    Waits {
        block: Block,
        row: RowNumber,
        day: NaiveDate,
        to_come: bool,
    },
    /// Every row of every block is worked.
    Finished,
}

/// The row right above the last worked one.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct RowCard {
    pub block: Block,
    pub line: RowLine,
    pub ending: Ending,
}

/// What comes after a row.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Ending {
    /// Nothing: it is the last row of its block.
    BlockDone,
    Waits {
        row: RowNumber,
        day: NaiveDate,
        to_come: bool,
    },
    Next {
        row: RowNumber,
        yarn: YarnId,
        handling: Handling,
        /// The row that picks this row's colour up from the edge where it was left.
        picked_up: Option<RowNumber>,
    },
}

pub fn card(book: &Book, today: NaiveDate) -> Card {
    let Sitting { block, lines, stop, .. } = match sitting(book, today, 1) {
        Standing::Finished => return Card::Finished,
        Standing::At(sitting) => sitting,
    };
    match (lines.first(), stop) {
        (Some(line), _) => {
            let ending = ending(book, today, &block, line.row.number);
            Card::Row(RowCard { block, line: *line, ending })
        }
        (None, Stop::Open { row, day }) => Card::Waits { block, row, day, to_come: false },
        (None, Stop::ToCome { row, day }) => Card::Waits { block, row, day, to_come: true },
        // A list without a row stops at a day: no block of this book is done, or it is finished.
        (None, Stop::Enough(_) | Stop::BlockDone) => Card::Finished,
    }
}

fn ending(book: &Book, today: NaiveDate, block: &Block, number: RowNumber) -> Ending {
    let row = RowNumber(number.0 + 1);
    let Some(next) = RowLine::of(book, block, row) else { return Ending::BlockDone };
    match next.colour {
        RowColour::Open { day } => Ending::Waits { row, day, to_come: day > today },
        RowColour::Day { yarn, .. } | RowColour::Filler { yarn } => {
            let picked_up = picked_up(book, block, number);
            Ending::Next { row, yarn, handling: next.handling, picked_up }
        }
    }
}

/// The row that carries the colour of row `number` up.
fn picked_up(book: &Book, block: &Block, number: RowNumber) -> Option<RowNumber> {
    let reach = book.fabric().carry_rows();
    let above = (number.0 + 2..=number.0.saturating_add(reach)).map(RowNumber);
    above.into_iter().find(|above| {
        let line = RowLine::of(book, block, *above);
        line.is_some_and(|line| line.handling == Handling::Carry { from: number })
    })
}
