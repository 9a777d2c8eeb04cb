//! The place that was found: the row that is next, how the right side is told, and what would make
//! the list say the same.

use chrono::{DateTime, NaiveDate, Utc};

use super::{start_over, worked_rows};
use crate::blanket::{
    Block, Book, Label, RowColour, RowLine, RowNumber, Side, StartTail, workable,
};
use crate::chat::button::{Button, ColourSum, Position};
use crate::chat::caption::Caption;
use crate::chat::outcome::{Key, Reply};
use crate::chat::say::{BlockSaid, Say};
use crate::chat::worked_up_to;

/// The place that was found.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PlaceSaid {
    pub block: BlockSaid,
    pub row: RowNumber,
    pub next: NextRow,
    pub tail: StartTail,
    /// Rows that the list has as worked.
    pub worked: u16,
    pub step: PlaceStep,
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub enum NextRow {
    Row { number: RowNumber, side: Side, yarn: Label },
    Waits { number: RowNumber, side: Side, day: NaiveDate, to_come: bool },
    BlockDone,
}

/// What would make the list say the same.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum PlaceStep {
    /// It does.
    Same,
    CrossOff {
        from: RowNumber,
    },
    TakeBack {
        rows: u16,
    },
    /// Rows of earlier blocks are crossed off as well.
    CrossOffUpTo {
        to: Position,
    },
    /// Rows of earlier blocks cannot be crossed off.
    EarlierWait,
}

/// What is said of the place, and the button for the step.
pub fn place_found(book: &Book, block: &Block, row: RowNumber, now: DateTime<Utc>) -> Reply {
    let worked = worked_rows(book, block.number);
    let (step, key) = step(book, block, row, now);
    let said = PlaceSaid {
        block: BlockSaid::of(book, block.number),
        row,
        next: next_row(book, block, row, now),
        tail: StartTail::of(book.fabric()),
        worked,
        step,
    };
    let reply = Reply::new(Say::Place(said)).keys(key);
    start_over(reply.key(Caption::NextRows, Button::Rows), block)
}

fn next_row(book: &Book, block: &Block, row: RowNumber, now: DateTime<Utc>) -> NextRow {
    let number = RowNumber(row.0 + 1);
    let Some(line) = RowLine::of(book, block, number) else { return NextRow::BlockDone };
    let side = line.row.side;
    match line.colour {
        RowColour::Open { day } => {
            let to_come = day > book.hours().day_at(now);
            NextRow::Waits { number, side, day, to_come }
        }
        RowColour::Day { yarn, .. } | RowColour::Filler { yarn } => match book.yarn_name(yarn) {
            Some(yarn) => NextRow::Row { number, side, yarn: yarn.clone() },
            None => NextRow::BlockDone,
        },
    }
}

/// What would make the list say so, and the button that does it.
fn step(
    book: &Book,
    block: &Block,
    row: RowNumber,
    now: DateTime<Utc>,
) -> (PlaceStep, Option<Key>) {
    let (number, worked) = (block.number, worked_rows(book, block.number));
    if worked == row.0 {
        return (PlaceStep::Same, None);
    }
    if worked > row.0 {
        let button = Button::Undo { block: number, left: row.0, was: worked };
        let step = PlaceStep::TakeBack { rows: worked - row.0 };
        return (step, Some(Key { caption: Caption::TakeBackTo(row), button }));
    }
    if book.current_block().is_some_and(|current| current.number < number) {
        let to = Position { block: number, row };
        return match worked_up_to::button(book, to, now) {
            Some(button) => {
                let key = Key { caption: Caption::CrossOff, button };
                (PlaceStep::CrossOffUpTo { to }, Some(key))
            }
            None => (PlaceStep::EarlierWait, None),
        };
    }
    let from = RowNumber(worked + 1);
    let key = workable(book, number, row).map(|yarns| Key {
        caption: Caption::CrossOffRows { from, to: row },
        button: Button::Worked { block: number, from, to: row, colours: ColourSum::of(&yarns) },
    });
    (PlaceStep::CrossOff { from }, key)
}
