//! One row at a time in English: its steps, its colour, and how it ends.

use super::dates::{capital, long};
use super::rows::{block_name, for_now, next_text, of_blocks, stands};
use super::stitches::{last_row, set_up, steps};
use super::{Span, Words, mark, name, plain, side};
use crate::blanket::stitch::Craft;
use crate::blanket::{Handling, Label, RowNumber, Side};
use crate::chat::say::{BlockSaid, EndingSaid, RowSaid, RowToWork, RowWaiting, Stopped};

/// Tails are 15 cm each (common practice, no source).
const TAIL_CM: u16 = 15;

pub fn row(said: &RowToWork, stale: bool) -> Words {
    let RowToWork { row, fabric, worked_rows: (first, last), .. } = said;
    let yarn = name(&row.yarn);
    let ridge = if last > first { ", a ridge of 2 rows" } else { "" };
    let head = format!("Row {}{ridge}. {}. {yarn}.", row.number, capital(side(row.side)));
    let day = row.day.map_or("Filler row".to_owned(), long);
    let how = row.how.map_or("", mark);
    let mut lines = vec![format!("{} {day}{how}.", of_blocks(&said.block, said.blocks))];
    lines.extend(begins(said));
    let mut facing = row.side;
    for worked_row in *first..=*last {
        let again = if worked_row > *first { "Turn. " } else { "" };
        lines.push(format!("{again}{}", steps(fabric, worked_row, facing)));
        facing = other(facing);
    }
    lines.extend(ends(said));
    lines.extend(for_now(std::slice::from_ref(row)));
    lines.extend(out_of_date(stale));
    Words { lines: vec![vec![Span::Bold(head)]] }.and(plain(lines))
}

/// What happens to the yarn at the start of the row.
fn begins(said: &RowToWork) -> Option<String> {
    let RowToWork { row: RowSaid { number, yarn, handling, .. }, fabric, .. } = said;
    let (yarn, below) = (name(yarn), number.0.saturating_sub(1));
    Some(match (handling, fabric.stitch.craft()) {
        (Handling::Start, _) => set_up(fabric, &yarn),
        (Handling::Keep, _) => format!("Keep: {yarn} goes on from row {below}."),
        (Handling::Carry { from }, _) => format!("Carry: {yarn} comes up from row {from}."),
        (Handling::Change, Craft::Knit) => format!("Change: start the row with {yarn}."),
        (Handling::Change, Craft::Crochet) => match fabric.turned {
            true => format!(
                "Change: {yarn} comes in with the last pull-through of row {below}. If another \
                 colour is on the hook, take out that loop and use {yarn}."
            ),
            false => format!("Join {yarn} in the first stitch."),
        },
    })
}

/// In crochet the new colour enters on the last pull-through of the row before; in knitting it
/// starts the new row (common practice, no source). Not turned, every row is cut.
fn ends(said: &RowToWork) -> Vec<String> {
    let RowToWork { row, fabric, ending, .. } = said;
    let old = name(&row.yarn);
    let cut = format!("Cut {old}, with a tail of {TAIL_CM} cm.");
    match ending {
        EndingSaid::BlockDone => {
            vec!["It is the last row of the block.".to_owned(), last_row(fabric).to_owned()]
        }
        EndingSaid::Waits { row, day, to_come } => {
            let waits = waits(*row, *day, *to_come);
            match (fabric.stitch.craft(), fabric.turned) {
                (_, false) => vec![cut, waits],
                (Craft::Crochet, true) => {
                    vec![format!("Last stitch: {}", held(Craft::Crochet)), waits]
                }
                (Craft::Knit, true) => vec![capital(held(Craft::Knit)), waits],
            }
        }
        EndingSaid::Next { row, yarn, .. } if !fabric.turned => {
            vec![cut, format!("Row {row} starts with {} at the same edge.", name(yarn))]
        }
        EndingSaid::Next { row, handling: Handling::Keep, .. } => {
            vec![format!("Row {row} is {old} too: keep it.")]
        }
        EndingSaid::Next { yarn, handling, picked_up, .. } => {
            let left = match picked_up {
                Some(row) => format!("Do not cut {old}: row {row} picks it up."),
                None => cut,
            };
            vec![changes(fabric.stitch.craft(), yarn, *handling), left]
        }
    }
}

fn changes(craft: Craft, yarn: &Label, handling: Handling) -> String {
    let yarn = name(yarn);
    let carried = match handling {
        Handling::Carry { from } => format!(", carried up from row {from}"),
        Handling::Start | Handling::Keep | Handling::Change => String::new(),
    };
    match craft {
        Craft::Crochet => format!("Last stitch: pull through with {yarn}{carried}."),
        Craft::Knit => format!("Start the next row with {yarn}{carried}."),
    }
}

/// What holds the stitches until the work goes on.
fn held(craft: Craft) -> &'static str {
    match craft {
        Craft::Crochet => "leave the loop on a marker.",
        Craft::Knit => "leave the stitches on the needle.",
    }
}

fn waits(row: RowNumber, day: chrono::NaiveDate, to_come: bool) -> String {
    match to_come {
        true => format!("Row {row} waits: {} has not come yet.", long(day)),
        false => format!("Row {row} waits: {} is open.", long(day)),
    }
}

pub fn waiting(said: &RowWaiting, stale: bool) -> Words {
    let RowWaiting { block, blocks, row, day, to_come, held: holding } = said;
    let head = vec![Span::Bold(waits(*row, *day, *to_come))];
    let mut lines = vec![of_blocks(block, *blocks)];
    lines.extend(holding.map(|craft| capital(held(craft))));
    lines.extend(out_of_date(stale));
    Words { lines: vec![head] }.and(plain(lines))
}

fn out_of_date(stale: bool) -> Option<String> {
    stale.then(|| "That tap was for another row. Nothing was changed.".to_owned())
}

pub fn stopped(said: &Stopped) -> Words {
    let Stopped { block, worked, next, held: holding } = said;
    let mut lines = vec![stands(block, *worked), next_text(next)];
    lines.extend(holding.map(|craft| capital(held(craft))));
    Words { lines: vec![vec![Span::Bold("You stop here.".to_owned())]] }.and(plain(lines))
}

pub fn pulled_off(block: &BlockSaid, from: RowNumber, to: RowNumber) -> Words {
    let of = block_name(block);
    let rows = (to.0 + 1).saturating_sub(from.0);
    let done = match rows {
        1 => format!("Row {from} of {of} is pulled back: 1 row."),
        _ => format!("Rows {from} to {to} of {of} are pulled back: {rows} rows."),
    };
    let left = stands(block, from.0.saturating_sub(1));
    lines![done, left, "The yarn of what was pulled back counts as on hand."]
}

fn other(side: Side) -> Side {
    match side {
        Side::Right => Side::Wrong,
        Side::Wrong => Side::Right,
    }
}
