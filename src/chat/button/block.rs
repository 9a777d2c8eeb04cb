//! Buttons of a block: the place in it by its stripes, its list, and what is done with it; and the
//! fields of their tokens.

use super::Button;
use super::token::{read_flag, read_number};
use crate::blanket::stripes::Seen;
use crate::blanket::{BlockNumber, Finish, RowNumber, YarnId};

#[derive(Clone, PartialEq, Eq, Debug)]
pub enum BlockButton {
    /// Where am I, in the block in work?
    WhereAmI,
    /// The stripes of this block seen so far; none for the start over.
    Stripes {
        block: BlockNumber,
        seen: Seen,
    },
    /// Of the places that fit, the one whose top stripe has this row.
    TopStripe {
        block: BlockNumber,
        row: RowNumber,
        seen: Seen,
    },
    /// Of the places that fit, the one whose last worked row is this.
    AfterRow {
        block: BlockNumber,
        row: RowNumber,
        seen: Seen,
    },
    /// The block as a list.
    List {
        block: BlockNumber,
    },
    /// Its picture, and it on paper.
    Picture {
        block: BlockNumber,
    },
    Sheet {
        block: BlockNumber,
    },
    /// A line about each.
    All,
    /// This was done with a finished block, or it was not.
    Finish {
        block: BlockNumber,
        finish: Finish,
        done: bool,
    },
}

impl From<BlockButton> for Button {
    fn from(button: BlockButton) -> Button {
        Button::OfBlock(button)
    }
}

impl BlockButton {
    pub(super) fn fields(&self) -> String {
        match self {
            BlockButton::WhereAmI => "where".to_owned(),
            BlockButton::Stripes { block, seen } => format!("stripes|{block}|{}", codes(seen)),
            BlockButton::TopStripe { block, row, seen } => {
                format!("top|{block}|{row}|{}", codes(seen))
            }
            BlockButton::AfterRow { block, row, seen } => {
                format!("after|{block}|{row}|{}", codes(seen))
            }
            BlockButton::List { block } => format!("block|{block}"),
            BlockButton::Picture { block } => format!("drawn|{block}"),
            BlockButton::Sheet { block } => format!("sheet|{block}"),
            BlockButton::All => "blocks".to_owned(),
            BlockButton::Finish { block, finish, done } => {
                format!("finish|{block}|{}|{}", finish_code(*finish), u8::from(*done))
            }
        }
    }

    pub(super) fn read(name: &str, rest: &[&str]) -> Option<BlockButton> {
        Some(match (name, rest) {
            ("where", []) => BlockButton::WhereAmI,
            ("stripes", [block, stripes, lowest]) => {
                BlockButton::Stripes { block: number(block)?, seen: read_seen(stripes, lowest)? }
            }
            ("top", [block, row, stripes, lowest]) => BlockButton::TopStripe {
                block: number(block)?,
                row: RowNumber(read_number(row)?),
                seen: read_seen(stripes, lowest)?,
            },
            ("after", [block, row, stripes, lowest]) => BlockButton::AfterRow {
                block: number(block)?,
                row: RowNumber(read_number(row)?),
                seen: read_seen(stripes, lowest)?,
            },
            ("block", [block]) => BlockButton::List { block: number(block)? },
            ("drawn", [block]) => BlockButton::Picture { block: number(block)? },
            ("sheet", [block]) => BlockButton::Sheet { block: number(block)? },
            ("blocks", []) => BlockButton::All,
            ("finish", [block, finish, done]) => BlockButton::Finish {
                block: number(block)?,
                finish: read_finish(finish)?,
                done: read_flag(done)?,
            },
            _ => return None,
        })
    }
}

fn number(text: &str) -> Option<BlockNumber> {
    read_number(text).map(BlockNumber)
}

/// The yarns with points between them, and whether the last is the lowest.
fn codes(seen: &Seen) -> String {
    let yarns: Vec<String> = seen.stripes().iter().map(|yarn| yarn.0.to_string()).collect();
    format!("{}|{}", yarns.join("."), u8::from(seen.lowest()))
}

fn read_seen(yarns: &str, lowest: &str) -> Option<Seen> {
    let yarns = if yarns.is_empty() { Vec::new() } else { yarns.split('.').collect() };
    let yarns: Option<Vec<YarnId>> =
        yarns.into_iter().map(|yarn| read_number(yarn).map(YarnId)).collect();
    Seen::new(yarns?, read_flag(lowest)?)
}

fn finish_code(finish: Finish) -> &'static str {
    match finish {
        Finish::Woven => "woven",
        Finish::Joined => "joined",
    }
}

fn read_finish(text: &str) -> Option<Finish> {
    [Finish::Woven, Finish::Joined].into_iter().find(|finish| finish_code(*finish) == text)
}
