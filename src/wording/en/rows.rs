//! Rows in English: the list for a sitting, and what was crossed off.

use super::dates::{brief, day_and_month, long, month};
use super::yarn::units::{number, weight};
use super::{Span, Words, blocks, mark, name, plain};
use crate::blanket::{Handling, How, Pace, Side, YarnEnds};
use crate::chat::say::{BlockSaid, BringSaid, MinutesSaid, Next, RowSaid, Rows, StopSaid, Worked};

pub fn list(said: &Rows) -> Words {
    let head = of_blocks(&said.block, said.blocks);
    let next = format!(" Next: row {} of {}.", said.worked + 1, said.rows);
    let words = Words { lines: vec![vec![Span::Bold(head), Span::Plain(next)]] };
    let mut more: Vec<String> = said.minutes.iter().map(minutes).collect();
    more.extend(bring(&said.bring));
    more.extend(said.runs.iter().filter_map(|run| run_line(run)));
    if !said.runs.is_empty() {
        more.push("RS is the right side. WS is the wrong side.".to_owned());
    }
    let lines: Vec<RowSaid> = said.runs.concat();
    more.extend(for_now(&lines));
    more.extend(said.bring.iter().filter_map(yarn_ends));
    more.extend(stop(said));
    more.extend(tap(&lines));
    words.and(plain(more))
}

/// "January, block 1 of 12."
pub fn of_blocks(block: &BlockSaid, blocks: u16) -> String {
    let number = block.number;
    match block.month {
        Some(of) => format!("{}, block {number} of {blocks}.", month(of)),
        None => format!("Block {number} of {blocks}."),
    }
}

/// How much the minutes are that the maker named.
fn minutes(said: &MinutesSaid) -> String {
    let MinutesSaid { minutes, rows, pace } = said;
    let named = if *minutes == 1 { "1 minute is".into() } else { format!("{minutes} minutes are") };
    let (each, measured) = match pace {
        Pace::Measured { seconds_a_row } => (row_time(*seconds_a_row), true),
        Pace::Assumed => (row_time(Pace::ASSUMED_SECONDS), false),
    };
    match (rows, measured) {
        (0, true) => format!("A row takes you about {each}: this is 1 row."),
        (0, false) => {
            format!("I count {each} a row until I have seen your pace: this is 1 row.")
        }
        (rows, true) => {
            format!("{named} about {} at your pace: {each} a row.", row_count(*rows))
        }
        (rows, false) => format!(
            "{named} about {}. I count {each} a row until I have seen your pace.",
            row_count(*rows)
        ),
    }
}

/// "5 minutes", "3.5 minutes", "45 seconds".
fn row_time(seconds: u32) -> String {
    match seconds {
        ..55 => format!("{seconds} seconds"),
        55..66 => "1 minute".to_owned(),
        66.. => format!("{} minutes", number(f64::from(seconds) / 60.0)),
    }
}

fn row_count(rows: u16) -> String {
    if rows == 1 { "1 row".to_owned() } else { format!("{rows} rows") }
}

/// Bring: Shingle for 4 rows, about 5 g; Kelp for 1 row.
fn bring(colours: &[BringSaid]) -> Option<String> {
    let colour = |said: &BringSaid| {
        let takes = said.per_row.map_or(String::new(), |per_row| {
            let about = if per_row.is_measured() { "about" } else { "perhaps" };
            let grams = per_row.grams() * f64::from(said.rows);
            format!(", {about} {}", weight(grams, said.units))
        });
        format!("{} for {}{takes}", name(&said.yarn), row_count(said.rows))
    };
    let colours: Vec<String> = colours.iter().map(colour).collect();
    (!colours.is_empty()).then(|| format!("Bring: {}.", colours.join("; ")))
}

fn yarn_ends(said: &BringSaid) -> Option<String> {
    let YarnEnds { rows_possible, row } = said.ends?;
    let yarn = name(&said.yarn);
    let makes = match rows_possible {
        0 => "less than a row".to_owned(),
        1 => "about 1 row".to_owned(),
        rows => format!("about {rows} rows"),
    };
    Some(format!("Your {yarn} on hand makes {makes}: it may end in row {row}."))
}

/// Before a row is worked, the maker hears that its tier is not settled.
pub fn for_now(lines: &[RowSaid]) -> Option<String> {
    let first = lines.iter().find(|row| row.how == Some(How::ForNow))?;
    let date = day_and_month(first.day?);
    Some(format!("\"For now\" is not settled. To change row {}, type /today {date}.", first.number))
}

/// Neighbouring rows in one colour: "12 WS Tue 12 Kelp, change", or
/// "12 WS to 14 WS, Tue 12 to Thu 14: Kelp, change, 3 rows".
fn run_line(run: &[RowSaid]) -> Option<String> {
    let (first, last) = (run.first()?, run.last()?);
    let (yarn, handling) = (name(&first.yarn), handling(first.handling));
    Some(match run {
        [row] => {
            let day = row.day.map_or("filler row".to_owned(), brief);
            let how = row.how.map_or("", mark);
            format!("{} {day} {yarn}{handling}{how}", numbered(row))
        }
        _ => {
            let (from, to, rows) = (numbered(first), numbered(last), run.len());
            format!("{from} to {to}, {}: {yarn}{handling}, {rows} rows{}", days(run), marks(run))
        }
    })
}

fn numbered(row: &RowSaid) -> String {
    match row.side {
        Side::Right => format!("{} RS", row.number),
        Side::Wrong => format!("{} WS", row.number),
    }
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

/// "Tue 12 to Thu 14", "Sun 31, 2 filler rows"
fn days(run: &[RowSaid]) -> String {
    let part = |rows: &[RowSaid]| match (rows[0].day, rows[rows.len() - 1].day) {
        (Some(first), Some(last)) if first < last => format!("{} to {}", brief(first), brief(last)),
        (Some(day), _) => brief(day),
        (None, _) if rows.len() == 1 => "filler row".to_owned(),
        (None, _) => format!("{} filler rows", rows.len()),
    };
    let parts = run.chunk_by(|a, b| a.day.is_some() == b.day.is_some());
    parts.map(part).collect::<Vec<_>>().join(", ")
}

/// Which rows of a run are kept for now, or set to the default tier.
fn marks(run: &[RowSaid]) -> String {
    let marked = |how: How, said: &str| {
        let rows = run.iter().filter(|row| row.how == Some(how));
        let rows: Vec<String> = rows.map(|row| row.number.to_string()).collect();
        match rows.len() {
            0 => String::new(),
            count if count == run.len() => format!(" ({said})"),
            _ => format!(" ({said}: {})", rows.join(", ")),
        }
    };
    format!("{}{}", marked(How::ForNow, "for now"), marked(How::Assumed, "set"))
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
    lines![done, next_text(next)]
}

pub fn next_text(next: &Next) -> String {
    match next {
        Next::Row { number, rows } => format!("Next: row {number} of {rows}."),
        Next::Block(block) => match block.month {
            Some(of) => format!("Next: block {}, {}.", block.number, month(of)),
            None => format!("Next: block {}.", block.number),
        },
        Next::Done => "Every row of the blanket is worked.".to_owned(),
    }
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

pub fn stands(block: &BlockSaid, worked: u16) -> String {
    let name = block_name(block);
    match worked {
        0 => format!("No row of {name} is worked."),
        1 => format!("Row 1 of {name} is worked."),
        _ => format!("Rows 1 to {worked} of {name} are worked."),
    }
}
