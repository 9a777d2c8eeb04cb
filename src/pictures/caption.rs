//! What a picture shows, as a value that wording puts into a sentence or two: everything a picture
//! shows is also said.

use chrono::NaiveDate;

use super::Picture;
use super::facts::{State, Tally};
use crate::blanket::{Block, Cut};

#[derive(Clone, PartialEq, Debug)]
pub enum Caption {
    Blanket {
        blocks: u16,
        tally: Tally,
    },
    Block {
        block: Block,
        cut: Cut,
        blocks: u16,
        /// Rows worked from row 1, and rows in all.
        worked: u16,
        rows: u16,
        open: u16,
    },
    /// Tiers from the lowest, each with its yarn; then the joining colour.
    Palette {
        colours: Vec<(Option<String>, String)>,
    },
    Yarn {
        colours: u16,
        /// Names of those that the yarn on hand does not cover.
        short: Vec<String>,
    },
    /// Each day with the name of its colour; `None` for an open day.
    Week {
        days: Vec<(NaiveDate, Option<String>)>,
    },
    Months {
        answered: u32,
        without: u32,
    },
    Imagined,
}

pub fn caption(picture: &Picture<'_>) -> Caption {
    match *picture {
        Picture::Blanket(facts, _) => {
            Caption::Blanket { blocks: count(facts.blocks.len()), tally: facts.tally }
        }
        Picture::Block(facts, _) => {
            let having = |wanted: fn(&State) -> bool| {
                count(facts.rows.iter().filter(|row| wanted(&row.state)).count())
            };
            Caption::Block {
                block: facts.block,
                cut: facts.cut,
                blocks: facts.blocks,
                worked: having(|state| matches!(state, State::Worked(_))),
                rows: count(facts.rows.len()),
                open: having(|state| matches!(state, State::Open)),
            }
        }
        Picture::Palette(inks, _) => Caption::Palette {
            colours: (inks.keys.iter())
                .map(|key| (key.tier.clone(), inks.get(key.ink).name.clone()))
                .collect(),
        },
        Picture::Yarn(bars) => {
            let short = |bar: &&super::Bar| {
                bar.rows_on_hand.is_some_and(|on_hand| on_hand < bar.rows_waiting)
            };
            Caption::Yarn {
                colours: count(bars.len()),
                short: bars.iter().filter(short).map(|bar| bar.ink.name.clone()).collect(),
            }
        }
        Picture::Week(inks, days) => {
            let name = |state: &State| state.ink().map(|ink| inks.get(ink).name.clone());
            Caption::Week { days: days.iter().map(|(day, state)| (*day, name(state))).collect() }
        }
        Picture::Months(_, months) => Caption::Months {
            answered: months.iter().flat_map(|month| &month.tiers).map(|(_, days)| days).sum(),
            without: months.iter().map(|month| month.without).sum(),
        },
        Picture::Imagined(..) => Caption::Imagined,
    }
}

/// A blanket has at most two leap years of days, and a scale twelve tiers.
fn count(count: usize) -> u16 {
    u16::try_from(count).unwrap_or(u16::MAX)
}
