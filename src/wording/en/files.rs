//! What stands beside a file, in English.

use super::{Words, plain};
use crate::chat::enclosed::Enclosed;

pub fn beside(enclosed: Enclosed) -> Words {
    match enclosed {
        Enclosed::DayTable => lines![
            "Your days as a table: every day so far, its tier and its notes.",
            "Whoever has this file can read it.",
        ],
        Enclosed::RowTable => {
            lines!["Your rows as a table: every row, its side and its yarn, worked or not."]
        }
    }
}
