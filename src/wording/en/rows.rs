//! Rows in English: the list for a sitting, and what was crossed off.

use super::dates::{brief, day_and_month, long, month};
use super::{Span, Words, blocks, mark, name, plain, side_code};
use crate::blanket::{Handling, How};
use crate::chat::say::{BlockSaid, Next, RowSaid, Rows, StopSaid, Worked};

pub fn list(said: &Rows) -> Words {
    let BlockSaid { number, month: of } = said.block;
    let head = match of {
        Some(of) => format!("{}, block {number} of {}.", month(of), said.blocks),
        None => format!("Block {number} of {}.", said.blocks),
    };
    let next = format!(" Next: row {} of {}.", said.worked + 1, said.rows);
    let words = Words { lines: vec![vec![Span::Bold(head), Span::Plain(next)]] };
    let mut more: Vec<String> = said.lines.iter().map(row_line).collect();
    if !said.lines.is_empty() {
        more.push("RS is the right side. WS is the wrong side.".to_owned());
    }
    more.extend(for_now(&said.lines));
    more.extend(stop(said));
    more.extend(tap(&said.lines));
    words.and(plain(more))
}

/// Before a row is worked, the maker hears that its tier is not settled.
fn for_now(lines: &[RowSaid]) -> Option<String> {
    let first = lines.iter().find(|row| row.how == Some(How::ForNow))?;
    let date = day_and_month(first.day?);
    Some(format!("\"For now\" is not settled. To change row {}, type /today {date}.", first.number))
}

fn row_line(row: &RowSaid) -> String {
    let side = side_code(row.side);
    let day = row.day.map_or("filler row".to_owned(), brief);
    let handling = handling(row.handling);
    let how = row.how.map_or("", mark);
    format!("{} {side} {day} {}{handling}{how}", row.number, name(&row.yarn))
}

/// What happens to the yarn at the start of a row, after its colour.
pub fn handling(handling: Handling) -> &'static str {
    match handling {
        Handling::Start => "",
        Handling::Keep => ", keep",
        Handling::Carry { .. } => ", carry",
        Handling::Change => ", change",
    }
}

fn stop(said: &Rows) -> Option<String> {
    match said.stop {
        StopSaid::Enough => None,
        StopSaid::Open { row, day } => Some(format!("Row {row} waits: {} is open.", long(day))),
        StopSaid::ToCome { row, day } => {
            Some(format!("Row {row} waits: {} has not come yet.", long(day)))
        }
        StopSaid::BlockDone => Some(format!("Row {} is the last row of this block.", said.rows)),
    }
}

fn tap(lines: &[RowSaid]) -> Option<String> {
    let (from, to) = (lines.first()?.number, lines.last()?.number);
    Some(match from == to {
        true => format!("Tap Worked when row {from} is worked."),
        false => format!("Tap Worked when rows {from} to {to} are worked."),
    })
}

pub fn worked(worked: &Worked) -> Words {
    let Worked { block, from, to, next, done: finished } = worked;
    let done = match from == to {
        true => format!("Row {from} of {} is worked.", block_name(block)),
        false => format!("Rows {from} to {to} of {} are worked.", block_name(block)),
    };
    if let Some(finished) = finished {
        let every = format!("Every row of {} is worked.", block_name(block));
        return lines![done, every].and(blocks::after_last_row(finished));
    }
    let next = match next {
        Next::Row { number, rows } => format!("Next: row {number} of {rows}."),
        Next::Block(block) => match block.month {
            Some(of) => format!("Next: block {}, {}.", block.number, month(of)),
            None => format!("Next: block {}.", block.number),
        },
        Next::Done => "Every row of the blanket is worked.".to_owned(),
    };
    lines![done, next]
}

/// The month a block is, or its number.
pub fn block_name(block: &BlockSaid) -> String {
    match block.month {
        Some(of) => month(of).to_owned(),
        None => format!("block {}", block.number),
    }
}

/// The same at the start of a sentence.
pub fn block_title(block: &BlockSaid) -> String {
    match block.month {
        Some(of) => month(of).to_owned(),
        None => format!("Block {}", block.number),
    }
}

pub fn pulled_back(block: &BlockSaid, rows_left: u16) -> Words {
    lines!["Taken back.", stands(block, rows_left)]
}

pub fn moved(block: &BlockSaid, worked: u16) -> Words {
    lines!["That message is out of date. Nothing was changed.", stands(block, worked)]
}

fn stands(block: &BlockSaid, worked: u16) -> String {
    let name = block_name(block);
    match worked {
        0 => format!("No row of {name} is worked."),
        1 => format!("Row 1 of {name} is worked."),
        _ => format!("Rows 1 to {worked} of {name} are worked."),
    }
}
