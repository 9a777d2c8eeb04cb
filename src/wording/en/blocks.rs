//! Whole blocks in English: a block as a list, a line about each, and what comes after the last
//! row.

use super::dates::{brief, month, quoted, short};
use super::rows::{block_name, block_title, handling};
use super::{Span, Words, mark, name, plain, side_code};
use crate::blanket::size::Size;
use crate::chat::blocks::FinishSaid;
use crate::chat::blocks::{BlockDone, BlockInBrief, BlockList, BlockRow, ColourSaid, EndsSaid};
use crate::chat::say::BlockSaid;

const CM_PER_INCH: f64 = 2.54;

pub fn list(said: &BlockList) -> Words {
    let BlockList { block, blocks, worked, lines, ends, size, finished } = said;
    let head = match block.month {
        Some(of) => format!("{}, block {} of {blocks}.", month(of), block.number),
        None => format!("Block {} of {blocks}.", block.number),
    };
    let rows = lines.len();
    let words = Words {
        lines: vec![vec![Span::Bold(head), Span::Plain(format!(" {}.", so_far(*worked, rows)))]],
    };
    let (done, to_work) = lines.split_at(usize::from(*worked).min(rows));
    let mut more = Vec::new();
    for (heading, rows) in [("Worked:", done), ("To work:", to_work)] {
        if !rows.is_empty() {
            more.push(heading.to_owned());
            more.extend(rows.iter().map(row_line));
        }
    }
    more.push("RS is the right side. WS is the wrong side.".to_owned());
    more.extend(ends_to_weave(*ends, *finished));
    more.extend(size.map(self::size));
    more.extend(finished.map(joined).unwrap_or_default());
    words.and(plain(more))
}

/// "12 WS Tue 12 Shingle, keep"
fn row_line(row: &BlockRow) -> String {
    let day = match (row.day, row.with_month) {
        (None, _) => "filler row".to_owned(),
        (Some(day), true) => short(day),
        (Some(day), false) => brief(day),
    };
    let colour = match &row.colour {
        ColourSaid::Yarn(yarn) => name(yarn),
        ColourSaid::Open => "is open".to_owned(),
        ColourSaid::ToCome => "has not come yet".to_owned(),
    };
    let handling = row.handling.map_or("", handling);
    let how = row.how.map_or("", mark);
    let now = row.now_in.as_ref().map(|now| format!(" (planned in {} now)", name(now)));
    let (number, side) = (row.number, side_code(row.side));
    format!("{number} {side} {day} {colour}{handling}{how}{}", now.unwrap_or_default())
}

fn ends_to_weave(ends: EndsSaid, finished: Option<FinishSaid>) -> Vec<String> {
    let EndsSaid { ends, rows, of, saved } = ends;
    let mut lines = vec![match finished.map(|finished| finished.woven) {
        _ if rows == 0 => return Vec::new(),
        Some(true) => format!("Its {ends} ends are woven in."),
        Some(false) => format!("Ends to weave in: {ends}."),
        None if rows == of => format!("Ends to weave in, in the whole block: {ends}."),
        None if rows == 1 => format!("Ends to weave in, of row 1: {ends}."),
        None => format!("Ends to weave in, of rows 1 to {rows}: {ends}."),
    }];
    if saved > 0 {
        lines.push(format!("Carrying at most 5 rows from here on leaves {saved} fewer."));
    }
    lines
}

fn joined(finished: FinishSaid) -> Vec<String> {
    let said = finished.joined.map(|joined| match joined {
        true => "It is joined.".to_owned(),
        false => "It is not joined.".to_owned(),
    });
    said.into_iter().collect()
}

pub fn brief_list(blocks: &[BlockInBrief]) -> Words {
    let line = |brief: &BlockInBrief| {
        let BlockInBrief { block, worked, rows, finished } = brief;
        let title = match block.month {
            Some(of) => format!("{}. {}", block.number, month(of)),
            None => block_title(block),
        };
        let finish = match finished {
            None => String::new(),
            Some(FinishSaid { woven, joined }) => {
                let woven = if *woven { ", woven in" } else { ", not woven in" };
                let joined = joined.map_or("", |it| if it { ", joined" } else { ", not joined" });
                format!("{woven}{joined}")
            }
        };
        format!("{title}: {}{finish}.", so_far(*worked, usize::from(*rows)).to_lowercase())
    };
    let heading = Words { lines: vec![vec![Span::Bold("All blocks".to_owned())]] };
    heading.and(plain(blocks.iter().map(line)))
}

fn so_far(worked: u16, rows: usize) -> String {
    match usize::from(worked) {
        0 if rows == 1 => "Its 1 row is not worked".to_owned(),
        1 if rows == 1 => "Its 1 row is worked".to_owned(),
        0 => format!("None of {rows} rows is worked"),
        all if all == rows => format!("All {rows} rows are worked"),
        1 => format!("1 of {rows} rows is worked"),
        worked => format!("{worked} of {rows} rows are worked"),
    }
}

/// After a tap on what was done with a block.
pub fn finish(done: &BlockDone) -> Words {
    let words = Words { lines: vec![vec![Span::Bold(format!("{}.", block_title(&done.block)))]] };
    words.and(after_last_row(done))
}

/// Its ends, its size, and what comes next.
pub fn after_last_row(done: &BlockDone) -> Words {
    let BlockDone { block: _, ends, size, finished, next } = done;
    let mut lines = vec![match finished.woven {
        true => format!("Its {ends} ends are woven in."),
        false => format!("Ends to weave in: {ends}."),
    }];
    lines.extend(size.map(self::size));
    if finished.joined == Some(true) {
        lines.push("It is joined.".to_owned());
    }
    let mut steps = Vec::new();
    if !finished.woven {
        steps.push("weave in the ends".to_owned());
    }
    if finished.joined == Some(false) {
        steps.push("join it".to_owned());
    }
    steps.extend(next.map(|next| match next.month {
        Some(of) => format!("block {}, {}", next.number, month(of)),
        None => format!("block {}", next.number),
    }));
    if !steps.is_empty() {
        lines.push(format!("Next: {}.", steps.join(", then ")));
    }
    if next.is_none() {
        lines.push("Every row of the blanket is worked.".to_owned());
    }
    plain(lines)
}

fn size(size: Size) -> String {
    let Size { width_cm: width, height_cm: height } = size;
    let (inches_wide, inches_high) = (width / CM_PER_INCH, height / CM_PER_INCH);
    format!("Size: {width:.1} by {height:.1} cm ({inches_wide:.1} by {inches_high:.1} in).")
}

pub fn unfinished(block: &BlockSaid, from: u16, to: u16) -> Words {
    let name = block_name(block);
    let left = match from == to {
        true => format!("Row {to} of {name} is to be worked first."),
        false => format!("Rows {from} to {to} of {name} are to be worked first."),
    };
    lines![left, "Nothing was changed."]
}

pub fn unknown(typed: &str, blocks: u16, example: &BlockSaid) -> Words {
    let not_known = format!("I do not know the block {}. Nothing was changed.", quoted(typed));
    let way = match (blocks, example.month) {
        (1, _) => "The blanket is 1 block. Type /block to see it.".to_owned(),
        (_, Some(of)) => {
            format!("Type a number from 1 to {blocks} or a month, like /block {}.", month(of))
        }
        (_, None) => format!("Type a number from 1 to {blocks}, like /block {}.", example.number),
    };
    lines![not_known, way]
}
