//! A row that was stitched in one colour, and whose day has another now: it is left as it is, or
//! pulled back. Nothing changes by itself.

use chrono::{DateTime, NaiveDate, Utc};

use super::button::Button;
use super::caption::Caption;
use super::commands::rows;
use super::event::MessageId;
use super::outcome::{Key, Outcome, Place, Reply, Slot};
use super::say::{BlockSaid, Say};
use super::{Maker, evening};
use crate::blanket::{Block, BlockNumber, Book, Change, Finish, RowContent, RowNumber, YarnId};

/// The ways on where row `row` differs from its day. A block whose ends are woven in, or that is
/// joined, is not pulled back by a tap.
pub fn keys(book: &Book, day: NaiveDate, block: &Block, row: RowNumber) -> Vec<Key> {
    let mut keys = vec![Key { caption: Caption::LeaveRow(row), button: Button::LeaveRow { day } }];
    if !is_fixed(book, block.number) {
        let (left, was) = (row.0.saturating_sub(1), rows::worked_rows(book, block.number));
        keys.push(Key {
            caption: Caption::PullBack { to: RowNumber(left), rows: was.saturating_sub(left) },
            button: Button::PullBack { block: block.number, left, was },
        });
    }
    keys
}

/// The row stays as it was stitched.
pub fn leave(
    maker: &Maker,
    book: &Book,
    day: NaiveDate,
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    let place = Place::Change { slot: Some(Slot::Question(day)), tapped: Some(tapped) };
    let said = differing(book, day).and_then(|(row, yarn)| {
        let stitched_in = book.yarn_name(yarn)?.clone();
        let tier = book.tier_of(day)?.label.clone();
        Some(Say::RowLeft { row, stitched_in, day, tier })
    });
    match said {
        Some(say) => {
            maker.quiet().say(Reply::new(say).at(place).key(Caption::Change, Button::Ask { day }))
        }
        None => evening::leave(maker, book, day, now, tapped),
    }
}

/// Pulls a block back to its row `left`, if it stands at row `was` and the row above `left`
/// differs from its day. A repeated tap changes nothing and says the same.
pub fn pull_back(
    maker: &Maker,
    book: &Book,
    (block, left, was): (BlockNumber, u16, u16),
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    let stands = rows::worked_rows(book, block);
    let row = RowNumber(left.saturating_add(1));
    let known = book.plan().block(block).filter(|known| left < was && was <= known.rows);
    let day = known.and_then(|known| match book.plan().row(&known, row)?.content {
        RowContent::Day(day) => Some(day),
        RowContent::Filler => None,
    });
    let Some(day) = day else { return rows::moved(maker, book, block, now, tapped) };
    let repeated = stands == left;
    let may = stands == was && differing(book, day).is_some() && !is_fixed(book, block);
    if !repeated && !may {
        return rows::moved(maker, book, block, now, tapped);
    }
    let say =
        Say::RowsPulledOff { block: BlockSaid::of(book, block), from: row, to: RowNumber(was) };
    let place = Place::Change { slot: Some(Slot::Question(day)), tapped: Some(tapped) };
    let said = Reply::new(say).at(place).key(Caption::NextRows, Button::Rows);
    let outcome = maker.quiet().say(said);
    match may {
        true => outcome.change(Change::PulledBack { block, rows_left: left }),
        false => outcome,
    }
}

/// The row of a day that was stitched in another colour than the day has now, and that colour.
fn differing(book: &Book, day: NaiveDate) -> Option<(RowNumber, YarnId)> {
    let (block, row) = book.plan().row_of(day)?;
    let stitched = book.worked_row(block.number, row.number)?.yarn;
    book.differs(stitched, book.tier_of(day)?.yarn).then_some((row.number, stitched))
}

/// Whether a block is woven in or joined.
pub fn is_fixed(book: &Book, block: BlockNumber) -> bool {
    [Finish::Woven, Finish::Joined].into_iter().any(|finish| book.is_finished(block, finish))
}
