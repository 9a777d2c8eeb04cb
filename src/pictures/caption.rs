//! What a picture shows, as a value that wording puts into a sentence or two: everything a picture
//! shows is also said.

use chrono::NaiveDate;

use super::Picture;
use super::facts::{Bar, State, Tally};
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
    /// Each colour by its name.
    Yarn {
        colours: Vec<Bar>,
    },
    /// Each day with the name of its colour; `None` for an open day.
    Week {
        days: Vec<(NaiveDate, Option<String>)>,
    },
    /// Days of each tier in all months together, lowest tier first.
    Months {
        tiers: Vec<(String, u32)>,
        without: u32,
    },
    /// Whether the maker guessed how common each tier is.
    Imagined {
        guessed: bool,
    },
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
        Picture::Yarn(bars) => Caption::Yarn { colours: bars.to_vec() },
        Picture::Week(inks, days) => {
            let name = |state: &State| state.ink().map(|ink| inks.get(ink).name.clone());
            Caption::Week { days: days.iter().map(|(day, state)| (*day, name(state))).collect() }
        }
        Picture::Months(inks, months) => {
            let days = |key: usize| {
                let of = months.iter().flat_map(|month| &month.tiers);
                of.filter(|(tier, _)| *tier == key).map(|(_, days)| days).sum()
            };
            let tiers = inks.keys.iter().enumerate();
            let tiers = tiers.filter_map(|(key, said)| Some((said.tier.clone()?, days(key))));
            Caption::Months {
                tiers: tiers.collect(),
                without: months.iter().map(|month| month.without).sum(),
            }
        }
        Picture::Imagined(facts, _) => Caption::Imagined { guessed: facts.guessed },
    }
}

/// A blanket has at most two leap years of days, and a scale twelve tiers.
fn count(count: usize) -> u16 {
    u16::try_from(count).unwrap_or(u16::MAX)
}
