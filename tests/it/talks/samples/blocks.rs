//! Samples about whole blocks: a list, a line about each, and what comes after the last row.

use duskrow::blanket::size::Size;
use duskrow::blanket::{BlockNumber, Handling, How, RowNumber, Side};
use duskrow::chat::blocks::FinishSaid;
use duskrow::chat::blocks::{BlockDone, BlockInBrief, BlockList, BlockRow, ColourSaid, EndsSaid};
use duskrow::chat::button::Position;
use duskrow::chat::say::{BlockSaid, Next, Say, Worked};

use super::{day, label};

const SIZE: Size = Size { width_cm: 26.42, height_cm: 41.25 };

pub fn unknown(typed: String, blocks: u16) -> Say {
    Say::UnknownBlock { typed, blocks, example: january() }
}

pub fn every_say() -> Vec<Say> {
    let numbered = BlockSaid { number: BlockNumber(7), month: None };
    let typed = || "foo".to_owned();
    let row = RowNumber;
    let mut all = vec![
        unknown(typed(), 1),
        Say::UnknownBlock { typed: typed(), blocks: 26, example: numbered },
        Say::BlockUnfinished { block: january(), from: row(18), to: row(33) },
        Say::BlockUnfinished { block: numbered, from: row(33), to: row(33) },
    ];
    let finishes = [(true, Some(true)), (true, Some(false)), (false, Some(false)), (false, None)];
    for (woven, joined) in finishes {
        let finished = Some(FinishSaid { woven, joined });
        all.push(Say::Block(list(3, EndsSaid { ends: 6, rows: 3, of: 3, saved: 0 }, finished)));
        let done = BlockDone {
            block: january(),
            ends: 38,
            size: joined.map(|_| SIZE),
            finished: FinishSaid { woven, joined },
            next: joined.filter(|joined| !joined).map(|_| numbered),
        };
        all.push(Say::BlockFinish(done.clone()));
        let to = Position { block: BlockNumber(1), row: row(33) };
        all.push(Say::CrossedOffUpTo { to, done: Some(done.clone()) });
        let (block, next) = (january(), Next::Done);
        let done = Some(done);
        all.push(Say::RowsWorked(Worked { block, from: row(25), to: row(33), next, done }));
    }
    for (worked, rows, saved) in [(0, 0, 0), (1, 1, 0), (2, 2, 2), (2, 3, 6)] {
        all.push(Say::Block(list(worked, EndsSaid { ends: 6, rows, of: 3, saved }, None)));
    }
    let brief = |block, worked, finished| BlockInBrief { block, worked, rows: 33, finished };
    let finished = |woven, joined| Some(FinishSaid { woven, joined });
    all.push(Say::Blocks {
        blocks: vec![
            brief(january(), 33, finished(true, Some(false))),
            brief(january(), 33, finished(false, Some(true))),
            brief(numbered, 1, None),
            brief(numbered, 0, None),
        ],
    });
    all
}

fn list(worked: u16, ends: EndsSaid, finished: Option<FinishSaid>) -> BlockList {
    let row = |number, colour, with_month| BlockRow {
        number: RowNumber(number),
        side: Side::Right,
        day: (number > 1).then(day),
        with_month,
        colour,
        now_in: (number == 1).then(|| label("Kelp")),
        handling: (number < 3).then_some(Handling::Change),
        how: (number == 2).then_some(How::ForNow),
    };
    let lines = vec![
        row(1, ColourSaid::Yarn(label("Net Float")), false),
        row(2, ColourSaid::Open, true),
        row(3, ColourSaid::ToCome, false),
    ];
    BlockList { block: january(), blocks: 12, worked, lines, ends, size: Some(SIZE), finished }
}

fn january() -> BlockSaid {
    BlockSaid { number: BlockNumber(1), month: Some(day()) }
}
