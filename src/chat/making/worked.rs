//! What a change of blocks or stitch would make of the rows that are worked: which would differ
//! from their place then, and which would be on another side in the lists.
//!
//! No worked row ever changes by that. It keeps its block, its number and its yarn.

use super::said::{MakingRefusal, WorkedSaid};
use super::shape::Shape;
use crate::blanket::{Block, BlockNumber, Book, Change, Plan, RowNumber};
use crate::chat::button::{Choice, Shown};
use crate::chat::say::BlockSaid;

/// So many blocks are named one by one.
pub const BLOCKS_NAMED_MAX: usize = 40;

/// Rows of the whole blanket that are worked.
pub fn rows_worked(book: &Book) -> usize {
    book.plan().blocks().map(|block| book.worked(block.number).len()).sum()
}

/// Whether every worked row has a place in this plan, and no finished block is unfinished by it.
///
/// # Errors
/// Which block has not, and what would be so.
pub fn fits(book: &Book, plan: &Plan) -> Result<(), MakingRefusal> {
    for (number, rows) in book.all_worked() {
        let before = book.plan().block(number);
        let of = BlockSaid::of(book, number);
        let worked = u16::try_from(rows.len()).unwrap_or(u16::MAX);
        match plan.block(number) {
            // Rows of a block that was cut away long ago have no place now either.
            None if before.is_none() => {}
            None => return Err(MakingRefusal::WorkedBlockGone { block: of }),
            Some(Block { rows, .. }) if worked > rows => {
                return Err(MakingRefusal::MoreWorked { block: of, worked, rows });
            }
            Some(Block { rows, .. }) => {
                let done = book.all_finished().any(|(finished, _)| finished == number);
                if done && rows > worked && before.is_some_and(|before| before.rows == worked) {
                    return Err(MakingRefusal::FinishedBlock { block: of, rows });
                }
            }
        }
    }
    Ok(())
}

/// What there is to say before the change; `after` is how the blanket would be made.
pub fn said(book: &Book, after: &Shape, choice: Choice) -> WorkedSaid {
    let changed = shaped(book, after);
    let differing = changed.differing();
    let named = differing.iter().take(BLOCKS_NAMED_MAX);
    let others = differing.iter().skip(BLOCKS_NAMED_MAX).map(|(_, rows)| rows.len()).sum();
    let stitch = book.fabric().stitch;
    WorkedSaid {
        choice,
        terms: book.fabric().terms,
        rows: rows_worked(book),
        differing: named.map(|(block, rows)| (BlockSaid::of(book, *block), runs(rows))).collect(),
        differing_in_others: others,
        turned_over: turned_over(book, &changed),
        stitched_in: (stitch != after.fabric.stitch).then_some(stitch),
    }
}

/// What a button carries of that, so that it does nothing once it would say something else.
pub fn shown(book: &Book, after: &Shape) -> Shown {
    let changed = shaped(book, after);
    let differing = changed.differing();
    let rows = differing.iter().flat_map(|(block, rows)| rows.iter().map(|row| (block.0, row.0)));
    let others = u16::try_from(turned_over(book, &changed)).unwrap_or(u16::MAX);
    Shown {
        rows: u16::try_from(rows_worked(book)).unwrap_or(u16::MAX),
        sum: rows.fold(others, |sum, (block, row)| {
            [block, row].into_iter().fold(sum, |sum, of| sum.wrapping_mul(40_503).wrapping_add(of))
        }),
    }
}

/// The book with the change applied.
pub fn shaped(book: &Book, after: &Shape) -> Book {
    let mut changed = book.clone();
    changed.apply(&after.change());
    changed
}

impl Shape {
    pub fn change(&self) -> Change {
        Change::Shaped { pieces: self.pieces, fabric: Box::new(self.fabric) }
    }
}

/// Worked rows that face the other way in the changed book.
fn turned_over(book: &Book, changed: &Book) -> usize {
    let faces = |book: &Book, block: BlockNumber, row| {
        let of = book.plan().block(block)?;
        Some(book.plan().row(&of, row)?.side)
    };
    let turned = |block: BlockNumber, rows: usize| {
        let rows = (1..=u16::try_from(rows).unwrap_or(u16::MAX)).map(RowNumber);
        rows.filter(move |row| faces(book, block, *row) != faces(changed, block, *row)).count()
    };
    let blocks = book.plan().blocks().map(|block| block.number);
    blocks.map(|block| turned(block, book.worked(block).len())).sum()
}

/// Rows that follow each other, as the first and the last.
fn runs(rows: &[RowNumber]) -> Vec<(RowNumber, RowNumber)> {
    let follow = |a: &RowNumber, b: &RowNumber| b.0 == a.0 + 1;
    let ends = |run: &[RowNumber]| Some((*run.first()?, *run.last()?));
    rows.chunk_by(follow).filter_map(ends).collect()
}
