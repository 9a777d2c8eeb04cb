//! Every row of a block, worked or not: what it was stitched in, or what it is to be worked in.

use super::blocks::{Block, Row, RowNumber};
use super::book::Book;
use super::rows::{self, Handling, RowColour, RowLine};
use super::scale::YarnId;

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct BlockLine {
    pub row: Row,
    /// As the book says now.
    pub colour: RowColour,
    /// The yarn it was stitched in, where it was.
    pub stitched: Option<YarnId>,
    /// The yarn the row would be worked in now, where it was stitched in another.
    pub now_in: Option<YarnId>,
    /// `None` above an open row, where nobody can say.
    pub handling: Option<Handling>,
}

impl BlockLine {
    /// What the row was stitched in, and else what it is to be worked in.
    pub fn yarn(&self) -> Option<YarnId> {
        self.stitched.or(self.colour.yarn())
    }
}

/// The rows of a block, from row 1.
pub fn block_lines(book: &Book, block: &Block) -> Vec<BlockLine> {
    let colours = rows::colours(book, block);
    let (faces, carry_rows) = (book.plan().faces(), book.fabric().carry_rows());
    let line = |number: RowNumber| {
        let RowLine { row, colour, .. } = RowLine::of(book, block, number)?;
        let known = usize::from(number.0) <= colours.len();
        let stitched = book.worked_row(block.number, number).map(|worked| worked.yarn);
        let differs = |now: &YarnId| stitched.is_some_and(|then| book.differs(then, *now));
        Some(BlockLine {
            row,
            colour,
            stitched,
            now_in: colour.yarn().filter(differs),
            handling: known.then(|| rows::handling(&colours, number, faces, carry_rows)),
        })
    };
    (1..=block.rows).filter_map(|number| line(RowNumber(number))).collect()
}
