//! How many ends are there to weave in, and what would carrying save?
//!
//! Turned, each run that is not carried leaves two ends; not turned, each worked row does (some
//! count both sides of every change: this is our definition).

use super::blocks::{Block, RowNumber};
use super::book::Book;
use super::fabric::Carry;
use super::rows::{self, Handling};

/// Of the rows of a block up to its first open day.
#[derive(Clone, Copy, PartialEq, Eq, Default, Debug)]
pub struct Ends {
    /// Rows counted.
    pub rows: u16,
    /// Neighbouring rows in one colour, as runs; not turned, every row is one.
    pub runs: u16,
    /// Runs whose yarn was carried up the side.
    pub carries: u16,
    pub ends: u16,
}

/// The ends of a block as the book says, and those that carrying up to 5 rows would save.
pub fn ends(book: &Book, block: &Block) -> Ends {
    counted(book, block, book.fabric().carry_rows())
}

/// How many ends fewer there would be with carrying up to 5 rows; 0 where the work is not turned.
pub fn saved_by_carrying(book: &Book, block: &Block) -> u16 {
    if !book.fabric().turned {
        return 0;
    }
    let carried = counted(book, block, Carry::Five.rows());
    ends(book, block).ends.saturating_sub(carried.ends)
}

fn counted(book: &Book, block: &Block, carry_rows: u16) -> Ends {
    let faces = book.plan().faces();
    let yarns = rows::colours(book, block);
    let mut counted = Ends::default();
    for (index, _) in yarns.iter().enumerate() {
        let number = RowNumber(u16::try_from(index + 1).unwrap_or(u16::MAX));
        let handling = rows::handling(&yarns, number, faces, carry_rows);
        counted.rows += 1;
        match handling {
            Handling::Keep => {}
            Handling::Start | Handling::Change => counted.runs += 1,
            Handling::Carry { .. } => {
                counted.runs += 1;
                counted.carries += 1;
            }
        }
    }
    counted.ends = match faces.turned {
        true => 2 * (counted.runs - counted.carries),
        false => 2 * counted.rows * faces.rows_per_day,
    };
    counted
}
