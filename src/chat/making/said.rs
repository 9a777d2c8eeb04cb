//! What is said about how the blanket is made, as meanings.

use super::shape::Shape;
use crate::blanket::size::{Basis, Layout, NearSquare, Size, Swatch};
use crate::blanket::stitch::{Stitch, Width, WidthFault};
use crate::blanket::yarn_weight::Gauge;
use crate::blanket::{BlockNumber, Cut, Fabric, Fillers, Pieces, RowNumber, Terms};
use crate::chat::button::{Choice, Screen};
use crate::chat::say::BlockSaid;
use crate::chat::talk::Awaited;

#[derive(Clone, PartialEq, Debug)]
pub enum MakingSaid {
    Home {
        blocks: BlocksSaid,
        fabric: Fabric,
        block: Option<Size>,
    },
    Blocks(BlocksSaid),
    AskCut,
    AskDays,
    /// One strip, before it begins: its worked rows, and its height by the maker's swatch or by
    /// an example.
    StripWarning {
        rows: u16,
        height_cm: f64,
        by_swatch: bool,
    },
    AskRows {
        least: u16,
        most: u16,
        now: u16,
    },
    AskFillers {
        fillers: Option<(u16, u16)>,
        now: Fillers,
    },
    AskShortEnds(BlocksSaid),
    Stitch {
        fabric: Fabric,
        lost: Lost,
    },
    /// Which form of this stitch.
    AskForm {
        of: Screen,
        terms: Terms,
    },
    AskOwnCraft,
    AskOwnWidths,
    Carry {
        fabric: Fabric,
        ends: Option<EndsSaid>,
    },
    Names {
        terms: Terms,
        left_handed: bool,
    },
    /// With an example where a width is asked for.
    Width {
        fabric: Fabric,
        asks: Option<u16>,
    },
    Swatch(SwatchSaid),
    Size(SizeSaid),
    AskColumns {
        blocks: u16,
        most: u16,
    },
    AskBorder {
        most: u16,
    },
    /// What a change would make of worked rows.
    Worked(WorkedSaid),
}

/// What a change of blocks or stitch would make of the rows that are worked.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct WorkedSaid {
    pub choice: Choice,
    pub terms: Terms,
    /// All worked rows.
    pub rows: usize,
    /// Those that would be in another yarn than their place calls for, or on a day without an
    /// answer: by block, as first and last row of each run.
    pub differing: Vec<(BlockSaid, Vec<(RowNumber, RowNumber)>)>,
    /// How many more of them there are, where they are too many blocks to name.
    pub differing_in_others: usize,
    /// Those that would be on the other side in the lists.
    pub turned_over: usize,
    /// The stitch they are worked in, where it would be another from then on.
    pub stitched_in: Option<Stitch>,
}

impl WorkedSaid {
    pub fn differing_rows(&self) -> usize {
        let runs = self.differing.iter().flat_map(|(_, runs)| runs);
        let rows = |(first, last): &(RowNumber, RowNumber)| usize::from(last.0 - first.0) + 1;
        runs.map(rows).sum::<usize>() + self.differing_in_others
    }
}

/// The blocks of a blanket.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct BlocksSaid {
    pub pieces: Pieces,
    pub blocks: u16,
    /// Days of the blanket.
    pub days: u16,
    /// The fewest and the most filler rows of a block that has all its days.
    pub fillers: Option<(u16, u16)>,
    /// A first or last block with few days, and how many.
    pub few: Vec<(BlockNumber, u16)>,
}

/// What a new stitch cannot go on with.
#[derive(Clone, Copy, PartialEq, Eq, Default, Debug)]
pub struct Lost {
    /// The width before, and the nearest ones that the stitch allows.
    pub width: Option<(Width, WidthFault)>,
    /// The swatch before, which was of another stitch.
    pub swatch: Option<Swatch>,
}

impl Lost {
    pub(super) fn between(before: &Shape, after: &Shape) -> Lost {
        if before.fabric.stitch == after.fabric.stitch {
            return Lost::default();
        }
        let width = before.fabric.width.filter(|_| after.fabric.width.is_none());
        let fault = |width| after.fabric.stitch.check(width).err().map(|fault| (width, fault));
        Lost {
            width: width.and_then(fault),
            swatch: before.fabric.swatch.filter(|_| after.fabric.swatch.is_none()),
        }
    }
}

/// Ends of a block up to its first open day, if nothing is carried, and if it is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct EndsSaid {
    pub block: BlockSaid,
    pub rows: u16,
    pub never: u16,
    pub three: u16,
    pub five: u16,
}

/// The swatch, and what it makes of a block.
#[derive(Clone, PartialEq, Debug)]
pub struct SwatchSaid {
    pub fabric: Fabric,
    /// What is asked for, over that much.
    pub asks: Option<Basis>,
    /// Worked rows of a block, their height, and the size with the width the maker said.
    pub rows: u16,
    pub height_cm: Option<f64>,
    pub block: Option<Size>,
    pub near_square: Vec<NearSquare>,
    /// Yarn categories with such a gauge, where the stitch is one the standard counts.
    pub categories: Vec<(u8, Gauge)>,
}

#[derive(Clone, PartialEq, Debug)]
pub struct SizeSaid {
    pub fabric: Fabric,
    pub cut: Cut,
    pub blocks: u16,
    pub block: Option<Size>,
    pub layout: Option<Layout>,
    pub whole: Option<Size>,
    pub seams_cm: f64,
    pub edge_cm: f64,
}

/// Why something cannot be so. Nothing is changed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum MakingRefusal {
    /// More rows are worked in a block than it would have.
    MoreWorked {
        block: BlockSaid,
        worked: u16,
        rows: u16,
    },
    /// Rows are worked in a block that would not be there.
    WorkedBlockGone {
        block: BlockSaid,
    },
    /// A block is woven in or joined, and would have more rows.
    FinishedBlock {
        block: BlockSaid,
        rows: u16,
    },
    Unread {
        typed: String,
        wait: Awaited,
        least: u16,
        most: u16,
        example: u16,
    },
    Days {
        most: u16,
    },
    Rows {
        least: u16,
        most: u16,
    },
    /// A strip has a row for each day.
    StripRows,
    /// This stitch has to be turned.
    Turned {
        stitch: Stitch,
        terms: Terms,
    },
    Width {
        width: Width,
        fault: WidthFault,
        stitch: Stitch,
        terms: Terms,
    },
    Own {
        most: u16,
    },
    Swatch,
    Columns {
        blocks: u16,
        most: u16,
    },
    Border {
        most: u16,
    },
}
