//! Whole blocks: one as a list, all of them in a line each, and what was done with those whose
//! rows are all worked.

use chrono::{DateTime, NaiveDate, Utc};

use super::Maker;
use super::button::{BlockButton, Button};
use super::caption::Caption;
use super::enclosed::Enclosed;
use super::event::MessageId;
use super::outcome::{Key, Outcome, Place, Reply, Slot};
use super::place::{self, has_stripes, in_work};
use super::say::{BlockSaid, Say};
use crate::blanket::size::Size;
use crate::blanket::stripes::Seen;
use crate::blanket::{Block, BlockLine, BlockNumber, Book, Change, Cut, Finish, Handling, How};
use crate::blanket::{Label, RowColour, RowNumber, Side, block_lines, ends, saved_by_carrying};

/// A block as a list.
#[derive(Clone, PartialEq, Debug)]
pub struct BlockList {
    pub block: BlockSaid,
    pub blocks: u16,
    pub worked: u16,
    pub lines: Vec<BlockRow>,
    pub ends: EndsSaid,
    pub size: Option<Size>,
    /// Where every row is worked.
    pub finished: Option<FinishSaid>,
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub struct BlockRow {
    pub number: RowNumber,
    pub side: Side,
    /// `None` for a filler row.
    pub day: Option<NaiveDate>,
    /// The dates of the block are of more than one month.
    pub with_month: bool,
    pub colour: ColourSaid,
    /// The yarn it would be worked in now, where it was stitched in another.
    pub now_in: Option<Label>,
    pub handling: Option<Handling>,
    pub how: Option<How>,
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub enum ColourSaid {
    Yarn(Label),
    Open,
    ToCome,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct EndsSaid {
    pub ends: u16,
    /// Rows counted, of those the block has.
    pub rows: u16,
    pub of: u16,
    /// Ends that carrying would save from here on.
    pub saved: u16,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct FinishSaid {
    pub woven: bool,
    /// `None` where there is no other block to join it to.
    pub joined: Option<bool>,
}

/// A block whose rows are all worked, and what comes next.
#[derive(Clone, PartialEq, Debug)]
pub struct BlockDone {
    pub block: BlockSaid,
    pub ends: u16,
    pub size: Option<Size>,
    pub finished: FinishSaid,
    /// The block to be worked next; `None` where every row of the blanket is worked.
    pub next: Option<BlockSaid>,
}

/// One line about a block.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct BlockInBrief {
    pub block: BlockSaid,
    pub worked: u16,
    pub rows: u16,
    pub finished: Option<FinishSaid>,
}

/// A button of a block.
pub fn tapped(
    maker: &Maker,
    book: &Book,
    button: &BlockButton,
    message: MessageId,
    now: DateTime<Utc>,
) -> Outcome {
    match button {
        BlockButton::WhereAmI => place::start(maker, book, now),
        BlockButton::Stripes { block, seen } => {
            place::tapped(maker, book, (*block, seen), now, message)
        }
        BlockButton::TopStripe { block, row, seen } => {
            place::top_stripe(maker, book, (*block, *row, seen), now, message)
        }
        BlockButton::AfterRow { block, row, seen } => {
            place::after_row(maker, book, (*block, *row, seen), now, message)
        }
        BlockButton::List { block } => show(maker, book, *block, now, message),
        BlockButton::Picture { block } => {
            drawn(maker, book, *block, Enclosed::BlockPicture(*block))
        }
        BlockButton::Sheet { block } => drawn(maker, book, *block, Enclosed::Sheet(*block)),
        BlockButton::All => show_all(maker, book, message),
        BlockButton::Finish { block, finish: what, done } => {
            finish(maker, book, (*block, *what, *done), message)
        }
    }
}

/// One block as a list, in place of the message that was tapped. The block in work, where this one
/// is gone.
pub fn show(
    maker: &Maker,
    book: &Book,
    block: BlockNumber,
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    let block = book.plan().block(block).or_else(|| in_work(book));
    let Some(block) = block else { return maker.quiet() };
    maker.quiet().say(list(book, &block, now).at(in_place(tapped)))
}

pub fn show_all(maker: &Maker, book: &Book, tapped: MessageId) -> Outcome {
    maker.quiet().say(all(book).at(in_place(tapped)))
}

/// One block as a list.
pub fn list(book: &Book, block: &Block, now: DateTime<Utc>) -> Reply {
    let counted = ends(book, block);
    let finished = finished(book, block);
    let lines = block_lines(book, block);
    let said = BlockList {
        block: BlockSaid::of(book, block.number),
        blocks: book.plan().block_count(),
        worked: worked_rows(book, block.number),
        lines: lines.iter().filter_map(|line| row_said(book, line, now)).collect(),
        ends: EndsSaid {
            ends: counted.ends,
            rows: counted.rows,
            of: block.rows,
            saved: saved_by_carrying(book, block),
        },
        size: book.fabric().block_size(block.rows),
        finished,
    };
    let mut reply = Reply::new(Say::Block(said));
    if let Some(finished) = finished {
        reply = reply.keys(finish_keys(block.number, finished));
    }
    let beside = |number: Option<u16>, caption| {
        let block =
            number.map(BlockNumber).filter(|number| book.plan().block(*number).is_some())?;
        Some(Key { caption, button: BlockButton::List { block }.into() })
    };
    reply = reply.keys([
        Key {
            caption: Caption::Picture,
            button: BlockButton::Picture { block: block.number }.into(),
        },
        Key {
            caption: Caption::BlockSheet,
            button: BlockButton::Sheet { block: block.number }.into(),
        },
    ]);
    let previous = beside(block.number.0.checked_sub(1), Caption::PreviousBlock);
    let next = beside(block.number.0.checked_add(1), Caption::NextBlock);
    reply = reply.keys(previous.into_iter().chain(next));
    if book.plan().block_count() > 1 {
        reply = reply.key(Caption::AllBlocks, BlockButton::All.into());
    }
    if has_stripes(book, block) && finished.is_none() {
        let seen = Seen::default();
        reply =
            reply.key(Caption::WhereAmI, BlockButton::Stripes { block: block.number, seen }.into());
    }
    reply
}

/// A file about a block that is there.
fn drawn(maker: &Maker, book: &Book, block: BlockNumber, enclosed: Enclosed) -> Outcome {
    match book.plan().block(block) {
        Some(_) => maker.quiet().say(Reply::new(Say::File(enclosed)).with(enclosed)),
        None => maker.quiet(),
    }
}

/// Every block in a line.
pub fn all(book: &Book) -> Reply {
    let brief = |block: Block| BlockInBrief {
        block: BlockSaid::of(book, block.number),
        worked: worked_rows(book, block.number),
        rows: block.rows,
        finished: finished(book, &block),
    };
    let blocks = book.plan().blocks().map(brief).collect();
    let reply = Reply::new(Say::Blocks { blocks });
    match in_work(book) {
        Some(block) => reply.key(
            Caption::ShowBlock(BlockSaid::of(book, block.number)),
            BlockButton::List { block: block.number }.into(),
        ),
        None => reply,
    }
}

/// Keeps what was done with a block, or that it was not. A repeated tap changes nothing and says
/// the same.
pub fn finish(
    maker: &Maker,
    book: &Book,
    (number, finish, on): (BlockNumber, Finish, bool),
    tapped: MessageId,
) -> Outcome {
    let place = Place::Change { slot: None, tapped: Some(tapped) };
    let quiet = maker.quiet();
    let Some(block) = book.plan().block(number) else {
        return quiet.say(Reply::new(Say::OldButton).at(place));
    };
    let show = Key {
        caption: Caption::ShowBlock(BlockSaid::of(book, number)),
        button: BlockButton::List { block: number }.into(),
    };
    let Some(before) = finished(book, &block) else {
        let from = RowNumber(worked_rows(book, number) + 1);
        let (block_said, to) = (BlockSaid::of(book, number), RowNumber(block.rows));
        let said = Say::BlockUnfinished { block: block_said, from, to };
        return quiet.say(Reply::new(said).at(place).keys([show]));
    };
    let stands = match finish {
        Finish::Woven => Some(before.woven),
        Finish::Joined => before.joined,
    };
    let change = Change::Finished { block: number, finish, done: on };
    let mut after = book.clone();
    let changes = stands.is_some_and(|stands| stands != on);
    if changes {
        after.apply(&change);
    }
    let Some(done) = done(&after, number) else { return quiet };
    let keys = finish_keys(number, done.finished);
    let next = Key { caption: Caption::NextRows, button: Button::Rows };
    let reply = Reply::new(Say::BlockFinish(done)).at(place).keys(keys).keys([show, next]);
    let outcome = quiet.say(reply);
    if changes { outcome.change(change) } else { outcome }
}

/// What there is to say of a block once every row of it is worked.
pub fn done(book: &Book, number: BlockNumber) -> Option<BlockDone> {
    let block = book.plan().block(number)?;
    Some(BlockDone {
        block: BlockSaid::of(book, number),
        ends: ends(book, &block).ends,
        size: book.fabric().block_size(block.rows),
        finished: finished(book, &block)?,
        next: book.current_block().map(|next| BlockSaid::of(book, next.number)),
    })
}

/// The same as a message of its own, where a block was just finished.
pub fn whole(book: &Book, number: BlockNumber) -> Option<Reply> {
    let done = done(book, number)?;
    let keys = finish_keys(number, done.finished);
    let place = Place::New(Some(Slot::Block));
    Some(Reply::new(Say::BlockFinish(done)).at(place).keys(keys))
}

/// The buttons for what can be said of a finished block.
pub fn finish_keys(block: BlockNumber, finished: FinishSaid) -> Vec<Key> {
    let key = |finish, on, caption| Key {
        caption,
        button: BlockButton::Finish { block, finish, done: on }.into(),
    };
    let mut keys = vec![match finished.woven {
        true => key(Finish::Woven, false, Caption::NotWoven),
        false => key(Finish::Woven, true, Caption::Woven),
    }];
    keys.extend(finished.joined.map(|joined| match joined {
        true => key(Finish::Joined, false, Caption::NotJoined),
        false => key(Finish::Joined, true, Caption::Joined),
    }));
    keys
}

fn finished(book: &Book, block: &Block) -> Option<FinishSaid> {
    let other = book.plan().block_count() > 1;
    (worked_rows(book, block.number) >= block.rows).then(|| FinishSaid {
        woven: book.is_finished(block.number, Finish::Woven),
        joined: other.then(|| book.is_finished(block.number, Finish::Joined)),
    })
}

fn row_said(book: &Book, line: &BlockLine, now: DateTime<Utc>) -> Option<BlockRow> {
    let day = match line.colour {
        RowColour::Day { day, .. } | RowColour::Open { day } => Some(day),
        RowColour::Filler { .. } => None,
    };
    let name = |yarn| book.yarn_name(yarn).cloned();
    let colour = match (line.yarn(), day) {
        (Some(yarn), _) => ColourSaid::Yarn(name(yarn)?),
        (None, Some(day)) if day > book.hours().day_at(now) => ColourSaid::ToCome,
        (None, _) => ColourSaid::Open,
    };
    let how = day.filter(|_| line.stitched.is_none()).and_then(|day| book.answer(day));
    Some(BlockRow {
        number: line.row.number,
        side: line.row.side,
        day,
        with_month: book.plan().pieces().cut != Cut::Months,
        colour,
        now_in: line.now_in.and_then(name),
        handling: line.handling,
        how: how.map(|answer| answer.how),
    })
}

fn worked_rows(book: &Book, block: BlockNumber) -> u16 {
    u16::try_from(book.worked(block).len()).unwrap_or(u16::MAX)
}

fn in_place(tapped: MessageId) -> Place {
    Place::Change { slot: Some(Slot::Block), tapped: Some(tapped) }
}
