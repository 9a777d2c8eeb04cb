//! What a blanket is worked in: stitch, width, which way rows face, carrying, the swatch and how
//! the blocks are laid out.

use serde::{Deserialize, Serialize};

use super::blocks::{Faces, Side};
use super::size::{Layout, Size, Swatch};
use super::stitch::{Stitch, Width};

#[derive(Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub struct Fabric {
    pub stitch: Stitch,
    /// Stitches across a row; `None` where the maker did not say.
    pub width: Option<Width>,
    /// Where the work is not turned, each row is cut, and every row faces right.
    pub turned: bool,
    pub first_side: Side,
    pub carry: Carry,
    pub terms: Terms,
    pub left_handed: bool,
    pub swatch: Option<Swatch>,
    /// Blocks side by side in the whole blanket.
    pub columns: Option<u16>,
    /// Rounds of single crochet around the whole blanket.
    pub border_rounds: u16,
}

/// Over how many worked rows a colour may be carried up the side: from worked row r to r' where
/// r' - r is at most this. Carrying up to 5 is common practice (no source).
#[derive(Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Debug)]
#[serde(rename_all = "snake_case")]
pub enum Carry {
    /// Each run is cut.
    Never,
    Three,
    Five,
}

/// Whose names of the stitches are used.
#[derive(Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Debug)]
#[serde(rename_all = "snake_case")]
pub enum Terms {
    Us,
    Uk,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum FabricFault {
    /// This stitch does not allow this width.
    Width,
    /// This stitch has to be turned.
    Turned,
}

impl Carry {
    pub fn rows(self) -> u16 {
        match self {
            Carry::Never => 0,
            Carry::Three => 3,
            Carry::Five => 5,
        }
    }
}

impl Fabric {
    pub const COLUMNS_MAX: u16 = 40;
    pub const BORDER_ROUNDS_MAX: u16 = 30;

    /// Plain single crochet, turned, of a width and a gauge nobody named.
    pub const DEFAULT: Fabric = Fabric {
        stitch: Stitch::SingleCrochet,
        width: None,
        turned: true,
        first_side: Side::Right,
        carry: Carry::Never,
        terms: Terms::Us,
        left_handed: false,
        swatch: None,
        columns: None,
        border_rounds: 0,
    };

    /// # Errors
    /// What these settings cannot be together.
    pub fn check(&self) -> Result<(), FabricFault> {
        if self.width.is_some_and(|width| !self.stitch.allows(width)) {
            return Err(FabricFault::Width);
        }
        match self.turned || self.stitch.may_stay_unturned() {
            true => Ok(()),
            false => Err(FabricFault::Turned),
        }
    }

    /// Whether its numbers are some that a maker can choose.
    pub fn is_within_limits(&self) -> bool {
        let columns = |columns| (1..=Fabric::COLUMNS_MAX).contains(&columns);
        self.columns.is_none_or(columns)
            && self.border_rounds <= Fabric::BORDER_ROUNDS_MAX
            && self.swatch.is_none_or(|swatch| swatch.is_of_a_hand())
            && self.stitch.is_within_limits()
    }

    pub fn faces(&self) -> Faces {
        let first = if self.turned { self.first_side } else { Side::Right };
        Faces { first, turned: self.turned, rows_per_day: self.stitch.rows_per_day() }
    }

    /// Over how many worked rows a colour is carried: never where the work is not turned, since
    /// then each row is cut.
    pub fn carry_rows(&self) -> u16 {
        if self.turned { self.carry.rows() } else { 0 }
    }

    /// The size of a block of `rows` rows of the list.
    pub fn block_size(&self, rows: u16) -> Option<Size> {
        let worked = rows.saturating_mul(self.stitch.rows_per_day());
        Some(self.swatch?.block(self.width?, worked))
    }

    /// The whole blanket of `blocks` blocks of `rows` rows, border and all.
    pub fn blanket_size(&self, blocks: u16, rows: u16) -> Option<Size> {
        let layout = Layout::of(blocks, self.columns?)?;
        let border_cm = self.swatch?.rows_cm(self.border_rounds);
        Some(layout.whole(self.block_size(rows)?, border_cm))
    }
}
