//! `/rows`: the next rows to work, crossing them off, and taking that back.

use chrono::{DateTime, Utc};

use super::{Asked, set_up_first};
use crate::blanket::{
    BlockNumber, Book, Change, RowColour, RowLine, RowNumber, Sitting, Standing, Stop, YarnId,
    sitting, workable,
};
use crate::chat::button::{BlockButton, Button, ColourSum};
use crate::chat::event::MessageId;
use crate::chat::outcome::{Key, Outcome, Place, Reply, Slot};
use crate::chat::say::{BlockSaid, Caption, Next, RowSaid, Rows, Say, StopSaid, Worked};
use crate::chat::typed;
use crate::chat::{Maker, blocks, place};

/// Rows in a list where the maker names no number.
const ROWS_DEFAULT: u16 = 12;

pub fn run(asked: &Asked<'_>) -> Outcome {
    let Asked { maker, argument, now, .. } = asked;
    let Some(book) = &maker.book else { return set_up_first(asked) };
    let quiet = Outcome::quiet(&maker.talk);
    let rows_max = match *argument {
        "" => Some(ROWS_DEFAULT),
        argument => typed::number(argument, 3)
            .and_then(|rows| u16::try_from(rows).ok())
            .filter(|rows| (1..=book.plan().rows_max()).contains(rows)),
    };
    match rows_max {
        Some(rows_max) => quiet.say(list(book, *now, rows_max).at(Place::New(Some(Slot::Rows)))),
        None => {
            let (typed, rows_max) = ((*argument).to_owned(), book.plan().rows_max());
            quiet.say(Reply::new(Say::UnknownRows { typed, rows_max }))
        }
    }
}

/// The list again, in place of the message that was tapped.
pub fn show(maker: &Maker, book: &Book, now: DateTime<Utc>, tapped: MessageId) -> Outcome {
    Outcome::quiet(&maker.talk).say(list(book, now, ROWS_DEFAULT).at(in_place(tapped)))
}

/// Crosses off rows `from` to `to`, if the work stands right below `from` and the list the maker
/// worked from showed the colours they have now. A repeated tap changes nothing and says the same.
pub fn worked(
    maker: &Maker,
    book: &Book,
    (block, from, to, colours): (BlockNumber, RowNumber, RowNumber, ColourSum),
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    let quiet = Outcome::quiet(&maker.talk);
    let before = worked_rows(book, block);
    if before == to.0 && stitched(book, block, from) == Some(colours) {
        return quiet.say(crossed_off(book, (block, from, to)).at(in_place(tapped)));
    }
    let yarns = workable(book, block, to)
        .filter(|yarns| from.0 == before + 1 && ColourSum::of(yarns) == colours);
    let Some(yarns) = yarns else { return moved(maker, book, block, now, tapped) };
    let change = Change::Worked { block, yarns, at: now };
    let mut after = book.clone();
    after.apply(&change);
    let reply = crossed_off(&after, (block, from, to)).at(in_place(tapped));
    quiet.change(change).say(reply)
}

/// Rows `from` to `to` are the newest worked ones.
fn crossed_off(book: &Book, (block, from, to): (BlockNumber, RowNumber, RowNumber)) -> Reply {
    let done = blocks::done(book, block);
    let finish = done.as_ref().map(|done| blocks::finish_keys(block, done.finished));
    let said = Worked { block: BlockSaid::of(book, block), from, to, next: next(book), done };
    let undo = Button::Undo { block, left: from.0.saturating_sub(1), was: to.0 };
    let reply = Reply::new(Say::RowsWorked(said)).keys([
        Key { caption: Caption::Undo, button: undo },
        Key { caption: Caption::NextRows, button: Button::Rows },
    ]);
    reply.keys(finish.unwrap_or_default())
}

/// The colours of the worked rows of a block from row `from` on.
fn stitched(book: &Book, block: BlockNumber, from: RowNumber) -> Option<ColourSum> {
    let rows = book.worked(block).get(usize::from(from.0.checked_sub(1)?)..)?;
    let yarns: Vec<YarnId> = rows.iter().map(|row| row.yarn).collect();
    (!yarns.is_empty()).then(|| ColourSum::of(&yarns))
}

/// Takes a crossing off back, if nothing was worked or taken back since. A repeated tap changes
/// nothing and says the same.
pub fn undo(
    maker: &Maker,
    book: &Book,
    (block, left, was): (BlockNumber, u16, u16),
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    let stands = worked_rows(book, block);
    if left >= was || (stands != was && stands != left) || book.plan().block(block).is_none() {
        return moved(maker, book, block, now, tapped);
    }
    let say = Say::RowsPulledBack { block: BlockSaid::of(book, block), rows_left: left };
    let reply = Reply::new(say).at(in_place(tapped)).key(Caption::NextRows, Button::Rows);
    let outcome = Outcome::quiet(&maker.talk).say(reply);
    match stands == was {
        true => outcome.change(Change::PulledBack { block, rows_left: left }),
        false => outcome,
    }
}

/// An old list or button: says where the work stands, and changes nothing.
fn moved(
    maker: &Maker,
    book: &Book,
    block: BlockNumber,
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    if book.plan().block(block).is_none() {
        return show(maker, book, now, tapped);
    }
    let say =
        Say::RowsMoved { block: BlockSaid::of(book, block), worked: worked_rows(book, block) };
    let reply = Reply::new(say).at(in_place(tapped)).key(Caption::NextRows, Button::Rows);
    Outcome::quiet(&maker.talk).say(reply)
}

fn list(book: &Book, now: DateTime<Utc>, rows_max: u16) -> Reply {
    let today = book.hours().day_at(now);
    let Sitting { block, worked, lines, stop } = match sitting(book, today, rows_max) {
        Standing::Finished => return Reply::new(Say::BlanketDone),
        Standing::At(sitting) => sitting,
    };
    let ends = lines.first().zip(lines.last()).map(|(a, b)| (a.row.number, b.row.number));
    let said = Rows {
        block: BlockSaid::of(book, block.number),
        blocks: book.plan().block_count(),
        rows: block.rows,
        worked,
        lines: lines.iter().filter_map(|line| row_said(book, line)).collect(),
        stop: match stop {
            Stop::Enough(_) => StopSaid::Enough,
            Stop::Open { row, day } => StopSaid::Open { row, day },
            Stop::ToCome { row, day } => StopSaid::ToCome { row, day },
            Stop::BlockDone => StopSaid::BlockDone,
        },
    };
    let mut reply = Reply::new(Say::Rows(said));
    if let Some((from, to)) = ends {
        let block = block.number;
        let yarns: Vec<YarnId> = lines.iter().filter_map(|line| line.colour.yarn()).collect();
        let colours = ColourSum::of(&yarns);
        reply = reply.key(Caption::Worked, Button::Worked { block, from, to, colours });
    }
    let reply = match stop {
        Stop::Open { day, .. } => reply.key(Caption::AnswerDay(day), Button::Ask { day }),
        Stop::Enough(_) | Stop::ToCome { .. } | Stop::BlockDone => reply,
    };
    match place::has_stripes(book, &block) {
        true => reply.key(Caption::WhereAmI, BlockButton::WhereAmI.into()),
        false => reply,
    }
}

fn row_said(book: &Book, line: &RowLine) -> Option<RowSaid> {
    let day = match line.colour {
        RowColour::Day { day, .. } | RowColour::Open { day } => Some(day),
        RowColour::Filler { .. } => None,
    };
    Some(RowSaid {
        number: line.row.number,
        side: line.row.side,
        day,
        yarn: book.yarn_name(line.colour.yarn()?)?.clone(),
        handling: line.handling,
        how: day.and_then(|day| book.answer(day)).map(|answer| answer.how),
    })
}

fn next(book: &Book) -> Next {
    match book.current_block() {
        None => Next::Done,
        Some(block) => match worked_rows(book, block.number) {
            0 => Next::Block(BlockSaid::of(book, block.number)),
            worked => Next::Row { number: RowNumber(worked + 1), rows: block.rows },
        },
    }
}

fn worked_rows(book: &Book, block: BlockNumber) -> u16 {
    u16::try_from(book.worked(block).len()).unwrap_or(u16::MAX)
}

fn in_place(tapped: MessageId) -> Place {
    Place::Change { slot: Some(Slot::Rows), tapped: Some(tapped) }
}
