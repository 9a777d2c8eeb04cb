//! How a maker wants a block on paper: the size of the sheet, and where row 1 stands.

use serde::{Deserialize, Serialize};

/// Read and written whole; what is not in it is as the program begins.
#[derive(Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, Debug)]
#[serde(default, deny_unknown_fields)]
pub struct OnPaper {
    pub paper: Paper,
    pub first_row: FirstRow,
}

/// Paper, upright.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize, Debug)]
#[serde(rename_all = "snake_case")]
pub enum Paper {
    #[default]
    A4,
    A5,
    Letter,
}

/// Where row 1 stands on the sheet and in the picture of a block.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize, Debug)]
#[serde(rename_all = "snake_case")]
pub enum FirstRow {
    /// As in the hand.
    #[default]
    Bottom,
    Top,
}

impl Paper {
    pub const ALL: [Paper; 3] = [Paper::A4, Paper::A5, Paper::Letter];
}

impl FirstRow {
    pub const ALL: [FirstRow; 2] = [FirstRow::Bottom, FirstRow::Top];
}
