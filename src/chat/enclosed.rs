//! What a message encloses: a file, named here by what it shows.
//!
//! The file is made when the message is sent, of the book as it is then; what waits is this name.

use std::fmt;

/// A file that goes with a message.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Enclosed {
    /// Every day of the blanket with its tier and notes, as a table.
    DayTable,
    /// Every row of the blanket, as a table.
    RowTable,
}

impl Enclosed {
    /// As it is kept while the message waits.
    pub fn read(kept: &str) -> Option<Enclosed> {
        match kept {
            "day table" => Some(Enclosed::DayTable),
            "row table" => Some(Enclosed::RowTable),
            _ => None,
        }
    }
}

impl fmt::Display for Enclosed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Enclosed::DayTable => "day table",
            Enclosed::RowTable => "row table",
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_kept_is_read_back() {
        for enclosed in [Enclosed::DayTable, Enclosed::RowTable] {
            assert_eq!(Enclosed::read(&enclosed.to_string()), Some(enclosed));
        }
        assert_eq!(Enclosed::read("a table"), None);
    }
}
