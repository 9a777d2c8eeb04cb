//! How much yarn of a colour is there, what does a row take, and how many rows are known?

use super::blocks::RowContent;
use super::book::Book;
use super::scale::YarnId;
use super::stock::Use;

/// One colour, as far as it is known.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct YarnStatus {
    pub yarn: YarnId,
    /// Grams, less what the rows since the last weighing took; `None` where nothing was entered.
    pub on_hand_grams: Option<f64>,
    pub per_row: Option<PerRow>,
    /// Rows logged and not worked; for the joining colour, the filler rows of blocks with a logged
    /// day.
    pub known_rows: u32,
}

/// Grams a row takes, tails included.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum PerRow {
    /// By this colour's own weighings.
    Measured(f64),
    /// By the weighings of the other colours.
    LikeTheOthers(f64),
}

impl PerRow {
    pub fn grams(self) -> f64 {
        match self {
            PerRow::Measured(grams) | PerRow::LikeTheOthers(grams) => grams,
        }
    }

    /// What so many rows take.
    pub fn times(self, rows: u16) -> PerRow {
        let rows = f64::from(rows);
        match self {
            PerRow::Measured(grams) => PerRow::Measured(grams * rows),
            PerRow::LikeTheOthers(grams) => PerRow::LikeTheOthers(grams * rows),
        }
    }
}

impl YarnStatus {
    /// Whole rows the yarn on hand makes.
    pub fn rows_possible(&self) -> Option<u32> {
        let grams = self.per_row?.grams();
        // At most ten kilograms over at least a thousandth of a gram.
        (grams > 0.0).then_some(()).and(self.on_hand_grams).map(|hand| (hand / grams) as u32)
    }

    /// The rows that are known need more than is on hand.
    pub fn runs_short(&self) -> bool {
        self.rows_possible().is_some_and(|rows| rows < self.known_rows)
    }
}

/// Every colour of the book, in the book's order.
pub fn yarn_status(book: &Book) -> Vec<YarnStatus> {
    let uses = book.yarns().iter().map(|yarn| book.ledger(yarn.id).measured());
    let pooled = uses.fold(Use::default(), |sum, each| sum + each).grams_per_row();
    let of = |yarn: YarnId| {
        let own = book.ledger(yarn).measured().grams_per_row();
        let per_row = own.map(PerRow::Measured).or(pooled.map(PerRow::LikeTheOthers));
        let grams = per_row.map(PerRow::grams);
        YarnStatus {
            yarn,
            on_hand_grams: book.ledger(yarn).on_hand(book.rows_in(yarn), grams),
            per_row,
            known_rows: known_rows(book, yarn),
        }
    };
    book.yarns().iter().map(|yarn| of(yarn.id)).collect()
}

/// Logged rows that are not worked, in this yarn. Filler rows count with the first logged day of
/// their block: from then on the block will be worked.
fn known_rows(book: &Book, yarn: YarnId) -> u32 {
    let mut count = 0;
    for block in book.plan().blocks() {
        let worked = book.worked(block.number).len();
        let rows = book.plan().rows(&block);
        let begun = book.answers().range(block.first_day..=block.last_day).next().is_some();
        let waiting = rows.iter().skip(worked).filter(|row| match row.content {
            RowContent::Day(_) => book.yarn_for(row) == Some(yarn),
            RowContent::Filler => begun && book.joining() == yarn,
        });
        count += u32::try_from(waiting.count()).unwrap_or(u32::MAX);
    }
    count
}
