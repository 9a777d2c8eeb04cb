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

/// How many ends carrying up to 5 rows would save from where the work stands; 0 where the work is
/// not turned. A colour can be carried only from the top row or from one to come: below, its yarn
/// is cut.
pub fn saved_by_carrying(book: &Book, block: &Block) -> u16 {
    let (faces, carry_rows) = (book.plan().faces(), book.fabric().carry_rows());
    if !faces.turned {
        return 0;
    }
    let yarns = rows::colours(book, block);
    let worked = u16::try_from(book.worked(block.number).len()).unwrap_or(u16::MAX);
    let count = u16::try_from(yarns.len()).unwrap_or(u16::MAX);
    let carried = |number, rows| match rows::handling(&yarns, number, faces, rows) {
        Handling::Carry { from } => from.0 >= worked,
        Handling::Start | Handling::Keep | Handling::Change => false,
    };
    let to_work = (worked.saturating_add(1)..=count).map(RowNumber);
    let saves =
        |number: &RowNumber| carried(*number, Carry::Five.rows()) && !carried(*number, carry_rows);
    u16::try_from(2 * to_work.filter(saves).count()).unwrap_or(u16::MAX)
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
