//! What a message encloses: a file, named here by what it shows.
//!
//! The file is made when the message is sent, of the book as it is then; what waits is this name.

use std::fmt;

use chrono::NaiveDate;

use crate::blanket::BlockNumber;

/// A file that goes with a message.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Enclosed {
    /// The whole book, to be brought back.
    Book,
    /// Every day of the blanket with its tier and notes, as a table.
    DayTable,
    /// Every row of the blanket, as a table.
    RowTable,
    /// The blanket so far.
    Blanket(BlanketLook),
    /// A block, with its rows labelled.
    BlockPicture(BlockNumber),
    /// A block to print, with a box to tick for each row.
    Sheet(BlockNumber),
    /// A picture of what a message says in words.
    Drawn(Drawn),
}

/// Pictures of what a message says in words, that a button below it sends.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Drawn {
    /// Rows worked, waiting and on hand, for each colour.
    Yarn,
    /// The seven days before this one, side by side.
    Week { on: NaiveDate },
    /// The days of each month by tier.
    Year,
    /// Each tier with its yarn, as it is and as some eyes see it.
    Card,
    /// A year of invented days.
    Imagined,
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum BlanketLook {
    /// For counting.
    Flat,
    /// With the shape of stitches.
    Cloth,
    /// Larger, as a file.
    Big,
    /// In lines that stay sharp at any size, as a file.
    Lines,
}

impl BlanketLook {
    pub const ALL: [BlanketLook; 4] =
        [BlanketLook::Flat, BlanketLook::Cloth, BlanketLook::Big, BlanketLook::Lines];

    fn name(self) -> &'static str {
        match self {
            BlanketLook::Flat => "flat",
            BlanketLook::Cloth => "cloth",
            BlanketLook::Big => "big",
            BlanketLook::Lines => "lines",
        }
    }
}

impl Enclosed {
    /// Whether it is a picture or a page, which costs time to make. The others are texts, whose
    /// words are nobody's but the maker's.
    pub fn is_drawn(self) -> bool {
        match self {
            Enclosed::Book | Enclosed::DayTable | Enclosed::RowTable => false,
            Enclosed::Blanket(_)
            | Enclosed::BlockPicture(_)
            | Enclosed::Sheet(_)
            | Enclosed::Drawn(_) => true,
        }
    }

    /// Whether it shows the days of a recap: those of the blanket that is logged, whichever one is
    /// worked on.
    pub fn is_of_a_recap(self) -> bool {
        matches!(self, Enclosed::Drawn(Drawn::Week { .. } | Drawn::Year))
    }

    /// Back from how it is kept while the message waits.
    pub fn read(kept: &str) -> Option<Enclosed> {
        let number = |text: &str| text.parse().ok().map(BlockNumber);
        match kept.split_once(' ') {
            None if kept == "book" => Some(Enclosed::Book),
            Some(("day", "table")) => Some(Enclosed::DayTable),
            Some(("row", "table")) => Some(Enclosed::RowTable),
            Some(("blanket", name)) => {
                let look = BlanketLook::ALL.into_iter().find(|look| look.name() == name);
                look.map(Enclosed::Blanket)
            }
            Some(("block", block)) => number(block).map(Enclosed::BlockPicture),
            Some(("sheet", block)) => number(block).map(Enclosed::Sheet),
            Some(("drawn", what)) => Drawn::read(what).map(Enclosed::Drawn),
            Some(_) | None => None,
        }
    }
}

impl fmt::Display for Enclosed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Enclosed::Book => f.write_str("book"),
            Enclosed::DayTable => f.write_str("day table"),
            Enclosed::RowTable => f.write_str("row table"),
            Enclosed::Blanket(look) => write!(f, "blanket {}", look.name()),
            Enclosed::BlockPicture(block) => write!(f, "block {block}"),
            Enclosed::Sheet(block) => write!(f, "sheet {block}"),
            Enclosed::Drawn(drawn) => write!(f, "drawn {drawn}"),
        }
    }
}

impl Drawn {
    fn read(kept: &str) -> Option<Drawn> {
        match kept.split_once(' ') {
            None if kept == "yarn" => Some(Drawn::Yarn),
            None if kept == "year" => Some(Drawn::Year),
            None if kept == "card" => Some(Drawn::Card),
            None if kept == "imagined" => Some(Drawn::Imagined),
            Some(("week", on)) => on.parse().ok().map(|on| Drawn::Week { on }),
            Some(_) | None => None,
        }
    }
}

impl fmt::Display for Drawn {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Drawn::Yarn => f.write_str("yarn"),
            Drawn::Week { on } => write!(f, "week {on}"),
            Drawn::Year => f.write_str("year"),
            Drawn::Card => f.write_str("card"),
            Drawn::Imagined => f.write_str("imagined"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_kept_is_read_back() {
        let block = BlockNumber(12);
        let mut all = vec![Enclosed::Book, Enclosed::DayTable, Enclosed::RowTable];
        all.extend(BlanketLook::ALL.map(Enclosed::Blanket));
        all.extend([Enclosed::BlockPicture(block), Enclosed::Sheet(block)]);
        let on = NaiveDate::from_ymd_opt(2027, 1, 17).unwrap();
        all.extend([Drawn::Yarn, Drawn::Week { on }, Drawn::Year].map(Enclosed::Drawn));
        all.extend([Drawn::Card, Drawn::Imagined].map(Enclosed::Drawn));
        for enclosed in all {
            assert_eq!(Enclosed::read(&enclosed.to_string()), Some(enclosed));
        }
        for unknown in [
            "",
            "a table",
            "block",
            "block x",
            "sheet -1",
            "blanket",
            "blanket huge",
            "drawn",
            "drawn week",
        ] {
            assert_eq!(Enclosed::read(unknown), None, "{unknown}");
        }
    }
}
