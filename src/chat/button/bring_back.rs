//! The buttons below a file that was sent, and how they travel.

use super::token::read_number;

/// The id names the file that was offered.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum BringBackTap {
    Go { id: i64 },
    Leave { id: i64 },
}

impl BringBackTap {
    /// The fields after the name of the button.
    pub(super) fn fields(self) -> String {
        match self {
            BringBackTap::Go { id } => format!("go|{id}"),
            BringBackTap::Leave { id } => format!("leave|{id}"),
        }
    }

    pub(super) fn read(fields: &[&str]) -> Option<BringBackTap> {
        Some(match fields {
            ["go", id] => BringBackTap::Go { id: read_number(id)? },
            ["leave", id] => BringBackTap::Leave { id: read_number(id)? },
            _ => return None,
        })
    }
}
