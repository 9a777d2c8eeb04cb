//! The words people type and the names a new scale begins with, as data handed to the parsers.
//! `wording` fills it in, one per language; the host's own line comes with it.

use crate::blanket::TIERS_MAX;

/// Lists of words are in small letters; the first of each is the one shown.
#[derive(Clone)]
pub struct Lexicon {
    /// January first: full names, then the short forms people type.
    pub months: [&'static [&'static str]; 12],
    /// Monday first.
    pub weekdays: [&'static [&'static str]; 7],
    pub today: &'static [&'static str],
    pub yesterday: &'static [&'static str],
    pub tomorrow: &'static [&'static str],
    pub yes: &'static [&'static str],
    pub no: &'static [&'static str],
    /// After an hour from 1 to 12: before noon, after noon.
    pub before_noon: &'static [&'static str],
    pub after_noon: &'static [&'static str],
    pub midnight: &'static [&'static str],
    pub noon: &'static [&'static str],
    /// Within a date, and for the reader alone: "the 14th of January".
    pub between: &'static [&'static str],
    /// Before a block and a row: "worked up to block 3, row 12".
    pub worked_up_to: &'static [&'static str],
    pub block: &'static [&'static str],
    pub row: &'static [&'static str],
    pub making: MakingWords,
    pub yarn: YarnWords,
    /// Before the number of a row: "worked 17".
    pub worked: &'static [&'static str],
    /// After a number: "40 min".
    pub minutes: &'static [&'static str],
    /// Asks for the place in a block.
    pub where_am_i: &'static [&'static str],
    /// After `/blanket`: with the shape of stitches; as large files.
    pub cloth: &'static [&'static str],
    pub big: &'static [&'static str],
    /// Every block.
    pub all: &'static [&'static str],
    /// The word that confirms erasing, as it must be typed.
    pub erase: &'static str,
    pub first_scale: FirstScale,
    pub palettes: &'static [Palette],
    /// What the person who runs the bot adds to the caution; not of the language, and plain text.
    pub local_line: Option<String>,
}

impl Lexicon {
    pub fn is_yes(&self, text: &str) -> bool {
        self.yes.contains(&text.trim().to_lowercase().as_str())
    }

    pub fn is_no(&self, text: &str) -> bool {
        self.no.contains(&text.trim().to_lowercase().as_str())
    }
}

/// Words beside numbers, typed where the bot asks how the blanket is made.
#[derive(Clone)]
pub struct MakingWords {
    pub days: &'static [&'static str],
    pub rows: &'static [&'static str],
    pub stitches: &'static [&'static str],
    pub columns: &'static [&'static str],
    pub rounds: &'static [&'static str],
    /// Between stitches and rows: "14 by 18".
    pub by: &'static [&'static str],
    /// Before a length: "14 x 18 over 10 cm".
    pub over: &'static [&'static str],
    pub centimetres: &'static [&'static str],
    pub inches: &'static [&'static str],
    /// "A multiple of 6 plus 1".
    pub multiple: &'static [&'static str],
    pub plus: &'static [&'static str],
}

/// Words beside weights and lengths of yarn.
#[derive(Clone)]
pub struct YarnWords {
    pub grams: &'static [&'static str],
    pub ounces: &'static [&'static str],
    pub metres: &'static [&'static str],
    pub yards: &'static [&'static str],
    pub rows: &'static [&'static str],
    /// Before the name of a dye lot: "lot 4471".
    pub lot: &'static [&'static str],
    /// Before what balls weigh on the scale: "weighs 52".
    pub weighs: &'static [&'static str],
    /// Between a weight before and one after: "90 to 83".
    pub to: &'static [&'static str],
    /// Before the rows that took it: "in 6 rows".
    pub within: &'static [&'static str],
}

/// The scale and colours a maker starts with.
#[derive(Clone)]
pub struct FirstScale {
    /// Lowest tier first: its label, its yarn's name and sRGB colour.
    pub tiers: &'static [(&'static str, &'static str, [u8; 3])],
    /// Index of the default tier.
    pub default: usize,
    pub joining: (&'static str, [u8; 3]),
}

/// Colours made up together, for a scale of any length and its joining colour.
#[derive(Clone)]
pub struct Palette {
    pub name: &'static str,
    /// Lowest tier first: a yarn's name and its sRGB colour.
    pub tiers: [(&'static str, [u8; 3]); TIERS_MAX],
    pub joining: (&'static str, [u8; 3]),
}

impl Palette {
    /// The colours of so many tiers: the lowest, the highest, and those evenly between them.
    pub fn of_tiers(&self, count: usize) -> Vec<(&'static str, [u8; 3])> {
        let gaps = count.saturating_sub(1).max(1);
        let at = |tier: usize| (tier * (TIERS_MAX - 1) + gaps / 2) / gaps;
        (0..count).filter_map(|tier| self.tiers.get(at(tier)).copied()).collect()
    }
}
