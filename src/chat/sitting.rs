//! The list of the next rows: how many, in which colours, what yarn they take, where it stops.

use chrono::{DateTime, Utc};

use super::button::{BlockButton, Button, ColourSum, RowByRow};
use super::caption::Caption;
use super::lexicon::Lexicon;
use super::outcome::Reply;
use super::say::{BlockSaid, BringSaid, MinutesSaid, RowSaid, Rows, Say, StopSaid};
use super::{place, typed};
use crate::blanket::{
    Book, Pace, RowColour, RowLine, Sitting, Standing, Stop, YarnId, bring, pace, runs, sitting,
};

/// Rows in a list where the maker names no number.
const ROWS_DEFAULT: u16 = 12;

/// How much is worked in one go.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Amount {
    Rows(u16),
    Minutes(u16),
    ToBlockEnd,
}

impl Amount {
    pub const DEFAULT: Amount = Amount::Rows(ROWS_DEFAULT);

    /// "12", "40 min", "block", or nothing; `None` for anything else.
    pub fn read(text: &str, book: &Book, lexicon: &Lexicon) -> Option<Amount> {
        let text = text.trim().to_lowercase();
        if lexicon.block.contains(&text.as_str()) {
            return Some(Amount::ToBlockEnd);
        }
        let digits = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
        let (number, unit) = (&text[..digits], text[digits..].trim().trim_end_matches('.'));
        let number = || typed::number(number, 3).and_then(|number| u16::try_from(number).ok());
        match unit {
            "" if text.is_empty() => Some(Amount::DEFAULT),
            "" => number()
                .filter(|rows| (1..=book.plan().rows_max()).contains(rows))
                .map(Amount::Rows),
            unit if lexicon.minutes.contains(&unit) => number()
                .filter(|minutes| (1..=Pace::MINUTES_MAX).contains(minutes))
                .map(Amount::Minutes),
            _ => None,
        }
    }
}

/// The next rows, with a button that crosses them off.
pub fn list(book: &Book, now: DateTime<Utc>, amount: Amount) -> Reply {
    let today = book.hours().day_at(now);
    let (rows_max, minutes) = match amount {
        Amount::Rows(rows) => (rows, None),
        Amount::ToBlockEnd => (u16::MAX, None),
        Amount::Minutes(minutes) => {
            let pace = pace(book);
            let rows = pace.rows_in(minutes);
            // Less than a row is worked by nobody.
            (rows.max(1), Some(MinutesSaid { minutes, rows, pace }))
        }
    };
    let Sitting { block, worked, lines, stop } = match sitting(book, today, rows_max) {
        Standing::Finished => return Reply::new(Say::BlanketDone),
        Standing::At(sitting) => sitting,
    };
    let said = Rows {
        block: BlockSaid::of(book, block.number),
        blocks: book.plan().block_count(),
        rows: block.rows,
        worked,
        minutes,
        bring: bring_said(book, &lines),
        runs: runs(&lines)
            .map(|run| run.iter().filter_map(|line| row_said(book, line)).collect())
            .collect(),
        stop: match stop {
            Stop::Enough(_) => StopSaid::Enough,
            Stop::Open { row, day } => StopSaid::Open { row, day },
            Stop::ToCome { row, day } => StopSaid::ToCome { row, day },
            Stop::BlockDone => StopSaid::BlockDone,
        },
    };
    let mut reply = Reply::new(Say::Rows(said));
    if let Some((first, last)) = lines.first().zip(lines.last()) {
        let (block, from, to) = (block.number, first.row.number, last.row.number);
        let yarns: Vec<YarnId> = lines.iter().filter_map(|line| line.colour.yarn()).collect();
        let colours = ColourSum::of(&yarns);
        reply = reply
            .key(Caption::Worked, Button::Worked { block, from, to, colours })
            .key(Caption::RowByRow, Button::RowByRow(RowByRow::Open));
    }
    let reply = match stop {
        Stop::Open { day, .. } => reply.key(Caption::AnswerDay(day), Button::Ask { day }),
        Stop::Enough(_) => reply.key(Caption::ToBlockEnd, Button::RowsToEnd),
        Stop::ToCome { .. } | Stop::BlockDone => reply,
    };
    match place::has_stripes(book, &block) {
        true => reply.key(Caption::WhereAmI, BlockButton::WhereAmI.into()),
        false => reply,
    }
}

fn bring_said(book: &Book, lines: &[RowLine]) -> Vec<BringSaid> {
    let known = bring(book, lines).into_iter();
    let said = known.filter_map(|it| {
        let yarn = book.yarn_name(it.yarn)?.clone();
        let units = book.yarn_settings().units;
        Some(BringSaid { yarn, rows: it.rows, per_row: it.per_row, units, ends: it.ends })
    });
    said.collect()
}

pub fn row_said(book: &Book, line: &RowLine) -> Option<RowSaid> {
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
