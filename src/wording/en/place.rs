//! *Where am I?* in English: the stripes from the top down, and the place they tell.

use super::dates::{long, quoted};
use super::rows::{block_name, block_title};
use super::{Span, Words, name, plain, side};
use crate::blanket::stitch::Craft;
use crate::blanket::{Edge, Label, RowNumber, StartTail};
use crate::chat::place::{AskStripe, NextRow, PlaceSaid, PlaceStep, WhichPlace};
use crate::chat::say::BlockSaid;

/// More names of colours than this would be a wall.
const NAMES_SHOWN_MAX: usize = 12;

pub fn ask(said: &AskStripe) -> Words {
    let AskStripe { block, seen, craft, fits } = said;
    let tool = match craft {
        Craft::Crochet => "hook",
        Craft::Knit => "needle",
    };
    let words = heading(format!("{}: find the place.", block_title(block)));
    let Some(last) = seen.last() else {
        return words.and(lines![
            format!("Tap the colour of the top stripe, next to the {tool}."),
            "A stripe is one or more rows in one colour. Leave out a row that is not finished.",
        ]);
    };
    let words = words.and(lines![format!("From the {tool} down: {}.", names(seen))]);
    let words = match fits {
        Some(fits) => words.and(lines![format!("That fits {fits} places. One more stripe helps.")]),
        None => words,
    };
    words.and(lines![format!("Tap the colour of the stripe below {}.", name(last))])
}

pub fn no_stripes(block: &BlockSaid, day: chrono::NaiveDate, to_come: bool) -> Words {
    let name = block_name(block);
    match to_come {
        true => lines![
            format!("I know no colour of {name}."),
            format!("Row 1 waits: {} has not come yet.", long(day)),
        ],
        false => lines![
            format!("I know no colour of {name}."),
            format!("Row 1 waits: {} is open.", long(day)),
        ],
    }
}

pub fn unknown(typed: &str, yarns: &[Label]) -> Words {
    let shown: Vec<String> = yarns.iter().take(NAMES_SHOWN_MAX).map(name).collect();
    let example: Vec<String> = yarns.iter().take(3).map(name).collect();
    lines![
        format!("I do not know the colour {}. Nothing was changed.", quoted(typed)),
        format!("Your colours are {}.", shown.join(", ")),
        format!("Type the stripes from the top down, like: where am I: {}", example.join(", ")),
    ]
}

pub fn unfit(block: &BlockSaid, seen: &[Label]) -> Words {
    lines![
        format!("No place in {} fits: {}.", block_name(block), names(seen)),
        "It may be another block, or a row may be worked in another colour.",
        "Nothing was changed.",
    ]
}

pub fn which(said: &WhichPlace) -> Words {
    let WhichPlace { block, places, more } = said;
    let place = |(first, last): &(RowNumber, RowNumber)| match first == last {
        true => format!("After row {first}."),
        false => format!("After one of rows {first} to {last}."),
    };
    let mut lines = vec![format!("These places in {} fit:", block_name(block))];
    lines.extend(places.iter().map(place));
    lines.extend(match more {
        0 => None,
        1 => Some("1 more place fits. It is further from where the list stands.".to_owned()),
        _ => Some(format!("{more} more places fit. They are further from where the list stands.")),
    });
    lines
        .push("To know which, count the rows from the start of the block. Then tap it.".to_owned());
    plain(lines)
}

pub fn top_rows(block: &BlockSaid, yarn: &Label, begins: RowNumber, ridges: bool) -> Words {
    let (yarn, rows) = (name(yarn), if ridges { "ridges" } else { "rows" });
    let mut lines = vec![
        format!("The top stripe of {} begins with row {begins}, in {yarn}.", block_name(block)),
        format!("How many {rows} of {yarn} are finished at the top?"),
    ];
    if ridges {
        lines.push("One ridge is one row of the list.".to_owned());
    }
    plain(lines)
}

pub fn found(said: &PlaceSaid) -> Words {
    let PlaceSaid { block, row, next, tail, worked, step } = said;
    let words = heading(format!("{}: after row {row}.", block_title(block)));
    let mut lines = vec![next_row(next), self::tail(*tail)];
    lines.push(match worked {
        0 => "In the list, no row of this block is worked.".to_owned(),
        1 => "In the list, row 1 is worked.".to_owned(),
        _ => format!("In the list, rows 1 to {worked} are worked."),
    });
    match step {
        PlaceStep::Same => lines.push("That is the same place.".to_owned()),
        PlaceStep::CrossOff { from } if from == row => {
            lines.push(format!("The button crosses off row {row}."));
        }
        PlaceStep::CrossOff { from } => {
            lines.push(format!("The button crosses off rows {from} to {row}."));
        }
        PlaceStep::TakeBack { rows: 1 } => lines.push("The button takes back 1 row.".to_owned()),
        PlaceStep::TakeBack { rows } => lines.push(format!("The button takes back {rows} rows.")),
        PlaceStep::CrossOffUpTo { to } => lines.push(format!(
            "The button crosses off every row up to block {}, row {}, earlier blocks too.",
            to.block, to.row
        )),
        PlaceStep::EarlierWait => {
            lines.push("Earlier blocks have rows that wait, so nothing can be crossed off.".into());
        }
    }
    words.and(plain(lines))
}

fn next_row(next: &NextRow) -> String {
    match next {
        NextRow::Row { number, side: facing, yarn } => {
            format!("Next: row {number}, {}, {}.", side(*facing), name(yarn))
        }
        NextRow::Waits { number, side: facing, day, to_come: true } => {
            let facing = side(*facing);
            format!("Next: row {number}, {facing}. It waits: {} has not come yet.", long(*day))
        }
        NextRow::Waits { number, side: facing, day, to_come: false } => {
            format!("Next: row {number}, {}. It waits: {} is open.", side(*facing), long(*day))
        }
        NextRow::BlockDone => "That is the last row of this block.".to_owned(),
    }
}

/// Common practice, so it begins with "usually".
fn tail(tail: StartTail) -> String {
    match tail {
        StartTail::Chain(edge) => format!(
            "Usually the right side faces you when the tail of the starting chain is at the lower \
             {}.",
            self::edge(edge)
        ),
        StartTail::CastOn { long_tail } => format!(
            "Usually the right side faces you when the tail of a long-tail cast-on is at the lower \
             {}, or that of a knitted or cable cast-on at the lower {}.",
            edge(long_tail),
            edge(long_tail.other())
        ),
    }
}

fn edge(edge: Edge) -> &'static str {
    match edge {
        Edge::Left => "left",
        Edge::Right => "right",
    }
}

fn heading(text: String) -> Words {
    Words { lines: vec![vec![Span::Bold(text)]] }
}

fn names(yarns: &[Label]) -> String {
    yarns.iter().map(name).collect::<Vec<_>>().join(", ")
}
