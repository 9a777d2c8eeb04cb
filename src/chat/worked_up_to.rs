//! "Already worked up to block 3, row 12": crosses off everything up to there, after it was shown
//! back. "Worked 17": crosses off the block at hand up to its row 17.

use chrono::{DateTime, NaiveDate, Utc};

use super::button::{Button, Position};
use super::caption::Caption;
use super::commands::rows;
use super::event::MessageId;
use super::lexicon::Lexicon;
use super::outcome::{Key, Outcome, Place, Reply, Slot};
use super::say::Say;
use super::{Maker, blocks, typed};
use crate::blanket::{
    Block, BlockNumber, Book, Change, RowColour, RowLine, RowNumber, WorkedRow, YarnId, workable,
};

/// The block and the row somebody typed; `Some(None)` where one of them is left out, `None` where
/// the line does not speak of that.
pub fn read(text: &str, lexicon: &Lexicon) -> Option<Option<Position>> {
    let text = text.trim().to_lowercase();
    let rest = lexicon.worked_up_to.iter().find_map(|phrase| text.strip_prefix(phrase))?;
    let words: Vec<&str> = rest
        .split(|c: char| c.is_whitespace() || matches!(c, ',' | '.' | ':'))
        .filter(|word| !word.is_empty())
        .collect();
    let named = |names: &[&str]| words.iter().position(|word| names.contains(word));
    let (block, row) = (named(lexicon.block), named(lexicon.row));
    block.or(row)?;
    let number = |index: Option<usize>| {
        let number = typed::number(words.get(index? + 1)?, 4)?;
        u16::try_from(number).ok()
    };
    let position = number(block).zip(number(row));
    Some(position.map(|(block, row)| Position { block: BlockNumber(block), row: RowNumber(row) }))
}

/// The row of the block at hand that somebody typed: "worked 17", "worked row 17". `Some(None)`
/// where it is no number, `None` where the line is about something else.
pub fn read_row(text: &str, lexicon: &Lexicon) -> Option<Option<RowNumber>> {
    let text = text.trim().to_lowercase();
    let mut words: Vec<&str> = text.split_whitespace().collect();
    if words.len() == 3 && lexicon.row.contains(&words[1]) {
        words.remove(1);
    }
    let [worked, number] = words.as_slice() else { return None };
    if !lexicon.worked.contains(worked) || !number.contains(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let number = typed::number(number.trim_end_matches('.'), 4);
    Some(number.and_then(|number| u16::try_from(number).ok()).map(RowNumber))
}

/// Crosses the block at hand off up to a row that was typed. It can be taken back.
pub fn cross_off_typed(
    maker: &Maker,
    book: &Book,
    row: Option<RowNumber>,
    now: DateTime<Utc>,
) -> Outcome {
    let quiet = maker.quiet();
    let Some(block) = book.current_block() else { return quiet.say(Reply::new(Say::BlanketDone)) };
    let Some(row) = row else { return quiet.say(Reply::new(no_such_row(book))) };
    let block = block.number;
    let from = RowNumber(worked_rows(book, block) + 1);
    let to = Position { block, row };
    let yarns = match plan(book, to, now) {
        Err(say) => return quiet.say(Reply::new(say)),
        Ok(changes) => changes.into_iter().find(|(number, _)| *number == block),
    };
    let Some((_, yarns)) = yarns else { return quiet.say(Reply::new(Say::WorkedAlready { to })) };
    let change = Change::Worked { block, yarns, at: now };
    let mut after = book.clone();
    after.apply(&change);
    let said = rows::crossed_off(&after, (block, from, row)).at(Place::New(Some(Slot::Rows)));
    quiet.change(change).say(said)
}

/// Shows what would be crossed off, or why it cannot be.
pub fn show_back(maker: &Maker, book: &Book, to: Option<Position>, now: DateTime<Utc>) -> Outcome {
    let quiet = maker.quiet();
    let Some(to) = to else { return quiet.say(Reply::new(no_such_row(book))) };
    let from = position(book);
    match plan(book, to, now) {
        Ok(changes) if changes.is_empty() => quiet.say(Reply::new(Say::WorkedAlready { to })),
        Ok(_) => quiet.say(Reply::new(Say::WorkedUpTo { from, to }).keys([
            Key { caption: Caption::CrossOff, button: Button::WorkedUpTo { from, to } },
            Key { caption: Caption::DoNotCrossOff, button: Button::Rows },
        ])),
        Err(say) => quiet.say(Reply::new(say)),
    }
}

/// Crosses off everything up to `to`, if the work stands where it stood when that was shown. A
/// repeated tap changes nothing and says the same.
pub fn cross_off(
    maker: &Maker,
    book: &Book,
    (from, to): (Position, Position),
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    let place = Place::Change { slot: None, tapped: Some(tapped) };
    let said = |after: &Book| {
        let done = blocks::done(after, to.block);
        let finish = done.as_ref().map(|done| blocks::finish_keys(to.block, done.finished));
        let reply = Reply::new(Say::CrossedOffUpTo { to, done }).at(place).keys([
            Key { caption: Caption::Undo, button: Button::UndoUpTo { from, to } },
            Key { caption: Caption::NextRows, button: Button::Rows },
        ]);
        reply.keys(finish.unwrap_or_default())
    };
    match plan(book, to, now) {
        Err(say) => maker.quiet().say(Reply::new(say).at(place)),
        Ok(changes) if changes.is_empty() && crossed_off(book, from, to) => {
            maker.quiet().say(said(book))
        }
        Ok(changes) if changes.is_empty() => {
            maker.quiet().say(Reply::new(Say::WorkedAlready { to }).at(place))
        }
        Ok(_) if position(book) != from => {
            let mut shown = show_back(maker, book, Some(to), now);
            shown.replies.iter_mut().for_each(|reply| reply.place = place);
            shown
        }
        Ok(changes) => {
            let worked = |(block, yarns)| Change::Worked { block, yarns, at: now };
            let changes: Vec<Change> = changes.into_iter().map(worked).collect();
            let mut after = book.clone();
            changes.iter().for_each(|change| after.apply(change));
            let mut outcome = maker.quiet().say(said(&after));
            outcome.changes = changes;
            outcome
        }
    }
}

/// Takes it back, if nothing was worked or taken back since. A repeated tap changes nothing and
/// says the same.
pub fn undo(
    maker: &Maker,
    book: &Book,
    (from, to): (Position, Position),
    tapped: MessageId,
) -> Outcome {
    let place = Place::Change { slot: None, tapped: Some(tapped) };
    let said = Reply::new(Say::TakenBackTo { from }).at(place).key(Caption::NextRows, Button::Rows);
    if position(book) == from {
        return maker.quiet().say(said);
    }
    // Rows that were crossed off together were so at one instant. A later block may have had rows
    // before.
    let at = |row: Option<&WorkedRow>| row.map(|row| row.at);
    let first = at(book.worked(from.block).get(usize::from(from.row.0)));
    let last = at(book.worked(to.block).last());
    if !crossed_off(book, from, to) || first != last {
        return maker.quiet().say(Reply::new(Say::ManyGone).at(place));
    }
    let mut outcome = maker.quiet().say(said);
    for number in (from.block.0..=to.block.0).rev().map(BlockNumber) {
        let before = book.worked(number).iter().take_while(|row| Some(row.at) != last).count();
        let before = u16::try_from(before).unwrap_or(u16::MAX);
        let rows_left = if number == from.block { from.row.0 } else { before };
        if worked_rows(book, number) > rows_left {
            outcome.changes.push(Change::PulledBack { block: number, rows_left });
        }
    }
    outcome
}

/// The button that crosses off everything up to `to`, where that can be done.
pub fn button(book: &Book, to: Position, now: DateTime<Utc>) -> Option<Button> {
    let changes = plan(book, to, now).ok()?;
    (!changes.is_empty()).then(|| Button::WorkedUpTo { from: position(book), to })
}

/// Whether the work stands right at `to`, above `from`.
fn crossed_off(book: &Book, from: Position, to: Position) -> bool {
    let above = (from.block, from.row) < (to.block, to.row);
    let blocks = (from.block.0..to.block.0).map(BlockNumber);
    let whole = |number: BlockNumber| {
        book.plan().block(number).is_some_and(|it| worked_rows(book, number) == it.rows)
    };
    let next = BlockNumber(to.block.0.saturating_add(1));
    let stands = worked_rows(book, to.block) == to.row.0 && worked_rows(book, next) == 0;
    above && stands && blocks.into_iter().all(whole)
}

fn no_such_row(book: &Book) -> Say {
    Say::NoSuchRow { blocks: book.plan().block_count(), rows: book.plan().rows_max() }
}

/// The rows of each block that are to be crossed off.
fn plan(book: &Book, to: Position, now: DateTime<Utc>) -> Result<Vec<BlockRows>, Say> {
    let last = book.plan().block(to.block).filter(|block| (1..=block.rows).contains(&to.row.0));
    let Some(last) = last else { return Err(no_such_row(book)) };
    let mut changes = Vec::new();
    for block in book.plan().blocks().take_while(|block| block.number <= last.number) {
        let row = if block.number == last.number { to.row } else { RowNumber(block.rows) };
        if worked_rows(book, block.number) >= row.0 {
            continue;
        }
        let Some(yarns) = workable(book, block.number, row) else {
            let day = first_open(book, &block);
            let to_come = day > book.hours().day_at(now);
            return Err(Say::RowWaits { block: block.number, day, to_come });
        };
        changes.push((block.number, yarns));
    }
    Ok(changes)
}

type BlockRows = (BlockNumber, Vec<YarnId>);

fn first_open(book: &Book, block: &Block) -> NaiveDate {
    let mut rows = (worked_rows(book, block.number) + 1..=block.rows).map(RowNumber);
    let open = rows.find_map(|number| match RowLine::of(book, block, number)?.colour {
        RowColour::Open { day } => Some(day),
        RowColour::Day { .. } | RowColour::Filler { .. } => None,
    });
    open.unwrap_or(block.last_day)
}

/// Where the work stands: the last worked row of the lowest unfinished block.
fn position(book: &Book) -> Position {
    let last = BlockNumber(book.plan().block_count());
    let block = book.current_block().map_or(last, |block| block.number);
    Position { block, row: RowNumber(worked_rows(book, block)) }
}

fn worked_rows(book: &Book, block: BlockNumber) -> u16 {
    u16::try_from(book.worked(block).len()).unwrap_or(u16::MAX)
}
