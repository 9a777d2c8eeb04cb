//! One row at a time: a card that shows the row after the last worked one, with its steps. Each
//! tap changes the card in place.

use chrono::{DateTime, NaiveDate, Utc};

use super::button::{Button, ColourSum, RowByRow};
use super::caption::Caption;
use super::commands::rows;
use super::event::MessageId;
use super::outcome::{Key, Outcome, Place, Reply, Slot};
use super::say::{BlockSaid, EndingSaid, RowToWork, RowWaiting, Say, Stopped};
use super::{Maker, blocks, evening, sitting};
use crate::blanket::{
    BlockNumber, Book, Card, Change, DayState, Ending, Finish, RowCard, RowNumber, card,
    last_worked, workable,
};

pub fn tapped(
    maker: &Maker,
    book: &Book,
    tap: RowByRow,
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    let place = Place::Change { slot: Some(Slot::RowByRow), tapped: Some(tapped) };
    let quiet = maker.quiet();
    match tap {
        RowByRow::Open => quiet.say(shown(book, now, false).at(Place::New(Some(Slot::RowByRow)))),
        RowByRow::GoOn => quiet.say(shown(book, now, false).at(place)),
        RowByRow::Stop => quiet.say(stopped(book).at(place)),
        RowByRow::Worked { block, row, colour } => {
            let done = worked(book, (block, row, colour), now);
            after(maker, book, done, now, place)
        }
        RowByRow::Back { block, row } => after(maker, book, back(book, block, row), now, place),
        RowByRow::Answer { day } => answer(maker, book, day, now, place),
    }
}

/// What a tap does: a change, nothing because it was done before, or nothing because it is old.
enum Done {
    Now(Change),
    Before,
    Stale,
}

fn worked(
    book: &Book,
    (block, row, colour): (BlockNumber, RowNumber, ColourSum),
    at: DateTime<Utc>,
) -> Done {
    let stands = rows::worked_rows(book, block);
    let stitched = book.worked_row(block, row).map(|row| ColourSum::of(&[row.yarn]));
    if stands == row.0 && stitched == Some(colour) {
        return Done::Before;
    }
    // The card shows the lowest block that is not finished.
    let shown = book.current_block().is_some_and(|current| current.number == block);
    let yarns = workable(book, block, row)
        .filter(|yarns| shown && stands + 1 == row.0 && ColourSum::of(yarns) == colour);
    yarns.map_or(Done::Stale, |yarns| Done::Now(Change::Worked { block, yarns, at }))
}

fn back(book: &Book, block: BlockNumber, row: RowNumber) -> Done {
    let left = row.0.saturating_sub(1);
    match last_worked(book) {
        last if last == Some((block, row)) && may_go_back(book, block) => {
            Done::Now(Change::PulledBack { block, rows_left: left })
        }
        _ if row.0 > 0 && rows::worked_rows(book, block) == left => Done::Before,
        _ => Done::Stale,
    }
}

/// A block whose ends are woven in, or that is joined, is finished.
fn may_go_back(book: &Book, block: BlockNumber) -> bool {
    ![Finish::Woven, Finish::Joined].into_iter().any(|finish| book.is_finished(block, finish))
}

fn after(maker: &Maker, book: &Book, done: Done, now: DateTime<Utc>, place: Place) -> Outcome {
    let quiet = maker.quiet();
    match done {
        Done::Before => quiet.say(shown(book, now, false).at(place)),
        Done::Stale => quiet.say(shown(book, now, true).at(place)),
        Done::Now(change) => {
            let mut after = book.clone();
            after.apply(&change);
            let finished = match &change {
                Change::Worked { block, .. } => blocks::whole(&after, *block),
                _ => None,
            };
            let outcome = quiet.change(change).say(shown(&after, now, false).at(place));
            finished.into_iter().fold(outcome, Outcome::say)
        }
    }
}

/// The question about the day that the card waits for, below the card; the card where that day
/// has an answer.
fn answer(maker: &Maker, book: &Book, day: NaiveDate, now: DateTime<Utc>, place: Place) -> Outcome {
    match book.day(day, book.hours().day_at(now)) {
        DayState::Kept(_) => maker.quiet().say(shown(book, now, false).at(place)),
        DayState::Open | DayState::ToCome | DayState::Outside => {
            evening::ask_to_change(maker, book, day, now, None)
        }
    }
}

/// The card; `stale` where the tap that led to it was for another row.
fn shown(book: &Book, now: DateTime<Utc>, stale: bool) -> Reply {
    let blocks = book.plan().block_count();
    match card(book, book.hours().day_at(now)) {
        Card::Row(row) => row_shown(book, &row, stale),
        Card::Waits { block, row, day, to_come } => {
            let held = (row.0 > 1).then(|| book.fabric().stitch.craft());
            let block = BlockSaid::of(book, block.number);
            let row = RowWaiting { block, blocks, row, day, to_come, held };
            let answer = Button::RowByRow(RowByRow::Answer { day });
            let go_on = Button::RowByRow(RowByRow::GoOn);
            let reply = Reply::new(Say::RowWaitsHere { row, stale });
            let reply = match to_come {
                true => reply,
                false => reply.key(Caption::AnswerDay(day), answer),
            };
            ways_on(reply.key(Caption::RowByRow, go_on), book, None)
        }
        Card::Finished => ways_on(Reply::new(Say::BlanketDone), book, None),
    }
}

fn row_shown(book: &Book, card: &RowCard, stale: bool) -> Reply {
    let RowCard { block, line, ending } = card;
    let (said, yarn) = match (sitting::row_said(book, line), line.colour.yarn()) {
        (Some(said), Some(yarn)) => (said, yarn),
        // A row on a card has a colour, and a colour of this book has a name.
        (_, _) => return Reply::new(Say::BlanketDone),
    };
    let row = RowToWork {
        block: BlockSaid::of(book, block.number),
        blocks: book.plan().block_count(),
        row: said,
        worked_rows: book.plan().faces().worked_rows(line.row.number),
        fabric: *book.fabric(),
        ending: ending_said(book, ending),
    };
    let worked = RowByRow::Worked {
        block: block.number,
        row: line.row.number,
        colour: ColourSum::of(&[yarn]),
    };
    let worked = Key { caption: Caption::Worked, button: Button::RowByRow(worked) };
    ways_on(Reply::new(Say::Row { row: Box::new(row), stale }), book, Some(worked))
}

fn ending_said(book: &Book, ending: &Ending) -> EndingSaid {
    match *ending {
        Ending::BlockDone => EndingSaid::BlockDone,
        Ending::Waits { row, day, to_come } => EndingSaid::Waits { row, day, to_come },
        Ending::Next { row, yarn, handling, picked_up } => match book.yarn_name(yarn) {
            Some(yarn) => EndingSaid::Next { row, yarn: yarn.clone(), handling, picked_up },
            None => EndingSaid::BlockDone,
        },
    }
}

/// *Worked*, *Back* and *Stop here*, each where it leads somewhere.
fn ways_on(reply: Reply, book: &Book, worked: Option<Key>) -> Reply {
    let last = last_worked(book).filter(|(block, _)| may_go_back(book, *block));
    let back = last.map(|(block, row)| Key {
        caption: Caption::Back,
        button: Button::RowByRow(RowByRow::Back { block, row }),
    });
    let stop = Key { caption: Caption::StopHere, button: Button::RowByRow(RowByRow::Stop) };
    reply.keys(worked.into_iter().chain(back)).keys([stop])
}

fn stopped(book: &Book) -> Reply {
    let next = rows::next(book);
    let current = book.current_block().map(|block| block.number);
    let Some(block) = last_worked(book).map(|(block, _)| block).or(current) else {
        return Reply::new(Say::BlanketDone);
    };
    let worked = rows::worked_rows(book, block);
    let in_block = current == Some(block) && worked > 0;
    let held = in_block.then(|| book.fabric().stitch.craft());
    let said = Stopped { block: BlockSaid::of(book, block), worked, next, held };
    Reply::new(Say::Stopped(said))
        .key(Caption::RowByRow, Button::RowByRow(RowByRow::GoOn))
        .key(Caption::NextRows, Button::Rows)
}
