//! "Already worked up to block 3, row 12": crosses off everything up to there, after it was shown
//! back.

use chrono::{DateTime, NaiveDate, Utc};

use super::Maker;
use super::button::{Button, Position};
use super::event::MessageId;
use super::lexicon::Lexicon;
use super::outcome::{Key, Outcome, Place, Reply};
use super::say::{Caption, Say};
use crate::blanket::{BlockNumber, Book, Change, RowColour, RowLine, RowNumber, workable};

/// The block and the row somebody typed; `None` where the line does not speak of that.
pub fn read(text: &str, lexicon: &Lexicon) -> Option<Position> {
    let text = text.trim().to_lowercase();
    let rest = lexicon.worked_up_to.iter().find_map(|phrase| text.strip_prefix(phrase))?;
    let words: Vec<&str> = rest
        .split(|c: char| c.is_whitespace() || c == ',' || c == '.')
        .filter(|word| !word.is_empty())
        .collect();
    let after = |names: &[&str]| {
        let index = words.iter().position(|word| names.contains(word))?;
        words.get(index + 1)?.parse().ok()
    };
    Some(Position {
        block: BlockNumber(after(lexicon.block)?),
        row: RowNumber(after(lexicon.row)?),
    })
}

/// Shows what would be crossed off, or why it cannot be.
pub fn show_back(maker: &Maker, book: &Book, to: Position) -> Outcome {
    let quiet = maker.quiet();
    match plan(book, to) {
        Ok(changes) if changes.is_empty() => quiet.say(Reply::new(Say::WorkedAlready { to })),
        Ok(_) => quiet.say(Reply::new(Say::WorkedUpTo { from: position(book), to }).keys([
            Key { caption: Caption::CrossOff, button: Button::WorkedUpTo { to } },
            Key { caption: Caption::DoNotCrossOff, button: Button::Rows },
        ])),
        Err(say) => quiet.say(Reply::new(say)),
    }
}

pub fn cross_off(
    maker: &Maker,
    book: &Book,
    to: Position,
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    let place = Place::Change { slot: None, tapped: Some(tapped) };
    let from = position(book);
    let say = match plan(book, to) {
        Err(say) => return maker.quiet().say(Reply::new(say).at(place)),
        Ok(changes) if changes.is_empty() => Say::WorkedAlready { to },
        Ok(changes) => {
            let said = Reply::new(Say::CrossedOffUpTo { to }).at(place).keys([
                Key { caption: Caption::Undo, button: Button::UndoUpTo { from, to } },
                Key { caption: Caption::NextRows, button: Button::Rows },
            ]);
            let mut outcome = maker.quiet().say(said);
            for (block, yarns) in changes {
                outcome.changes.push(Change::Worked { block, yarns, at: now });
            }
            return outcome;
        }
    };
    maker.quiet().say(Reply::new(say).at(place))
}

/// Takes it back, if nothing was worked since.
pub fn undo(
    maker: &Maker,
    book: &Book,
    (from, to): (Position, Position),
    tapped: MessageId,
) -> Outcome {
    let place = Place::Change { slot: None, tapped: Some(tapped) };
    let said = Reply::new(Say::TakenBackTo { from }).at(place).key(Caption::NextRows, Button::Rows);
    let mut outcome = maker.quiet().say(said);
    if worked_rows(book, to.block) != to.row.0 || from.block > to.block {
        return maker.quiet().say(Reply::new(Say::ManyGone).at(place));
    }
    for number in (from.block.0..=to.block.0).rev().map(BlockNumber) {
        let rows_left = if number == from.block { from.row.0 } else { 0 };
        if worked_rows(book, number) > rows_left {
            outcome.changes.push(Change::PulledBack { block: number, rows_left });
        }
    }
    outcome
}

/// The rows of each block that are to be crossed off.
fn plan(book: &Book, to: Position) -> Result<Vec<(BlockNumber, Vec<crate::blanket::YarnId>)>, Say> {
    let last = book.plan().block(to.block).filter(|block| (1..=block.rows).contains(&to.row.0));
    let Some(last) = last else {
        let (blocks, rows) = (book.plan().block_count(), book.plan().rows_per_block());
        return Err(Say::NoSuchRow { blocks, rows });
    };
    let mut changes = Vec::new();
    for block in book.plan().blocks().take_while(|block| block.number <= last.number) {
        let row = if block.number == last.number { to.row } else { RowNumber(block.rows) };
        if worked_rows(book, block.number) >= row.0 {
            continue;
        }
        match workable(book, block.number, row) {
            Some(yarns) => changes.push((block.number, yarns)),
            None => {
                return Err(Say::RowWaits { block: block.number, day: first_open(book, &block) });
            }
        }
    }
    Ok(changes)
}

fn first_open(book: &Book, block: &crate::blanket::Block) -> NaiveDate {
    let open = (worked_rows(book, block.number) + 1..=block.rows).find_map(|number| {
        match RowLine::of(book, block, RowNumber(number))?.colour {
            RowColour::Open { day } => Some(day),
            RowColour::Day { .. } | RowColour::Filler { .. } => None,
        }
    });
    open.unwrap_or(block.last_day)
}

/// Where the work stands: the last worked row of the lowest unfinished block.
fn position(book: &Book) -> Position {
    let block = book.current_block().map_or(BlockNumber(book.plan().block_count()), |b| b.number);
    Position { block, row: RowNumber(worked_rows(book, block)) }
}

fn worked_rows(book: &Book, block: BlockNumber) -> u16 {
    u16::try_from(book.worked(block).len()).unwrap_or(u16::MAX)
}
