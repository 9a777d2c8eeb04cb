//! `/rows`: the next rows to work, crossing them off, and taking that back.

use chrono::{DateTime, Utc};

use super::{Asked, set_up_first};
use crate::blanket::{BlockNumber, Book, Change, RowNumber, YarnId, workable};
use crate::chat::button::{Button, ColourSum};
use crate::chat::caption::Caption;
use crate::chat::event::MessageId;
use crate::chat::outcome::{Key, Outcome, Place, Reply, Slot};
use crate::chat::say::{BlockSaid, Next, Say, Worked};
use crate::chat::sitting::{Amount, list};
use crate::chat::{Maker, blocks};

pub fn run(asked: &Asked<'_>) -> Outcome {
    let Asked { maker, argument, now, lexicon } = asked;
    let Some(book) = &maker.book else { return set_up_first(asked) };
    let quiet = Outcome::quiet(&maker.talk);
    match Amount::read(argument, book, lexicon) {
        Some(amount) => quiet.say(list(book, *now, amount).at(Place::New(Some(Slot::Rows)))),
        None => {
            let (typed, rows_max) = ((*argument).to_owned(), book.plan().rows_max());
            quiet.say(Reply::new(Say::UnknownRows { typed, rows_max }))
        }
    }
}

/// The list again, in place of the message that was tapped.
pub fn show(maker: &Maker, book: &Book, now: DateTime<Utc>, tapped: MessageId) -> Outcome {
    Outcome::quiet(&maker.talk).say(list(book, now, Amount::DEFAULT).at(in_place(tapped)))
}

/// The list to the end of the block, in place of the message that was tapped.
pub fn show_to_end(maker: &Maker, book: &Book, now: DateTime<Utc>, tapped: MessageId) -> Outcome {
    Outcome::quiet(&maker.talk).say(list(book, now, Amount::ToBlockEnd).at(in_place(tapped)))
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
pub fn crossed_off(book: &Book, (block, from, to): (BlockNumber, RowNumber, RowNumber)) -> Reply {
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
pub fn moved(
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

/// What is worked next.
pub fn next(book: &Book) -> Next {
    match book.current_block() {
        None => Next::Done,
        Some(block) => match worked_rows(book, block.number) {
            0 => Next::Block(BlockSaid::of(book, block.number)),
            worked => Next::Row { number: RowNumber(worked + 1), rows: block.rows },
        },
    }
}

pub fn worked_rows(book: &Book, block: BlockNumber) -> u16 {
    u16::try_from(book.worked(block).len()).unwrap_or(u16::MAX)
}

fn in_place(tapped: MessageId) -> Place {
    Place::Change { slot: Some(Slot::Rows), tapped: Some(tapped) }
}
