//! How large is it? Width and height from the maker's own swatch, the stitch counts nearest to a
//! square, and the whole blanket with its joins and border.
//!
//! Width is 10 n / sts10 and height 10 R / rows10 in centimetres, R counting worked rows
//! (arithmetic). There is no row gauge in any standard, so heights need a swatch.

use serde::{Deserialize, Serialize};

use super::stitch::{Craft, Stitch, Width};
use super::yarn_weight::{Gauge, YarnWeight};

/// Stitches and rows over ten centimetres, in tenths. Labels treat 4 inches as the same (1.6 %
/// more).
#[derive(Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub struct Swatch {
    stitch_tenths: u16,
    row_tenths: u16,
    pub basis: Basis,
}

/// What the maker measured over.
#[derive(Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Debug)]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    TenCentimetres,
    FourInches,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct SwatchFault;

/// Centimetres.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Size {
    pub width_cm: f64,
    pub height_cm: f64,
}

/// A stitch count, and how far from square a block of it is.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct NearSquare {
    pub width: Width,
    /// Width less height, in millimetres: positive where the block is too wide.
    pub residual_mm: f64,
    /// The same in per cent of the height.
    pub residual_percent: f64,
}

/// Blocks side by side and on top of each other.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Layout {
    pub columns: u16,
    pub rows: u16,
}

impl Swatch {
    pub const STITCHES: std::ops::RangeInclusive<f64> = 2.0..=80.0;
    pub const ROWS: std::ops::RangeInclusive<f64> = 2.0..=120.0;

    /// # Errors
    /// Where a number is not one a hand can make.
    pub fn new(stitches: f64, rows: f64, basis: Basis) -> Result<Swatch, SwatchFault> {
        if !Swatch::STITCHES.contains(&stitches) || !Swatch::ROWS.contains(&rows) {
            return Err(SwatchFault);
        }
        // At most 1,200 tenths.
        let tenths = |count: f64| (10.0 * count).round() as u16;
        Ok(Swatch { stitch_tenths: tenths(stitches), row_tenths: tenths(rows), basis })
    }

    /// From whole tenths of stitches and rows.
    ///
    /// # Errors
    /// As [`Swatch::new`].
    pub fn from_tenths(
        stitch_tenths: u16,
        row_tenths: u16,
        basis: Basis,
    ) -> Result<Swatch, SwatchFault> {
        Swatch::new(f64::from(stitch_tenths) / 10.0, f64::from(row_tenths) / 10.0, basis)
    }

    /// Whether [`Swatch::new`] would make it: one that was read from a text may be any.
    pub fn is_of_a_hand(&self) -> bool {
        Swatch::from_tenths(self.stitch_tenths, self.row_tenths, self.basis).is_ok()
    }

    /// Stitches and rows in whole tenths.
    pub fn tenths(&self) -> (u16, u16) {
        (self.stitch_tenths, self.row_tenths)
    }

    pub fn stitches_per_10cm(&self) -> f64 {
        f64::from(self.stitch_tenths) / 10.0
    }

    pub fn rows_per_10cm(&self) -> f64 {
        f64::from(self.row_tenths) / 10.0
    }

    /// The size of a block of `width` stitches and `rows` worked rows.
    pub fn block(&self, width: Width, rows: u16) -> Size {
        Size {
            width_cm: 10.0 * f64::from(width.0) / self.stitches_per_10cm(),
            height_cm: self.rows_cm(rows),
        }
    }

    /// The height of so many worked rows, in centimetres.
    pub fn rows_cm(&self, rows: u16) -> f64 {
        10.0 * f64::from(rows) / self.rows_per_10cm()
    }

    /// The stitch count that would make `rows` worked rows square, before a stitch allows it.
    pub fn square(&self, rows: u16) -> f64 {
        f64::from(rows) * self.stitches_per_10cm() / self.rows_per_10cm()
    }

    /// The nearest allowed stitch counts at or below and at or above square.
    pub fn near_square(&self, stitch: Stitch, rows: u16) -> Vec<NearSquare> {
        let exact = self.square(rows);
        let widths = || (1..=Stitch::WIDTH_MAX).map(Width).filter(|width| stitch.allows(*width));
        let below = widths().rev().find(|width| f64::from(width.0) <= exact);
        let above = widths().find(|width| f64::from(width.0) >= exact);
        let mut near: Vec<Width> = below.into_iter().chain(above).collect();
        near.dedup();
        let of = |width: Width| {
            let Size { width_cm, height_cm } = self.block(width, rows);
            NearSquare {
                width,
                residual_mm: 10.0 * (width_cm - height_cm),
                residual_percent: 100.0 * (width_cm - height_cm) / height_cm,
            }
        };
        near.into_iter().map(of).collect()
    }

    /// Yarn categories whose gauge in single crochet has this many stitches.
    pub fn crochet_categories(&self) -> Vec<(u8, Gauge)> {
        YarnWeight::of(self.stitches_per_10cm(), Craft::Crochet)
    }

    /// The same for stockinette.
    pub fn knit_categories(&self) -> Vec<(u8, Gauge)> {
        YarnWeight::of(self.stitches_per_10cm(), Craft::Knit)
    }
}

impl Layout {
    /// So many blocks in so many columns, and in no more than there are blocks; the last row of
    /// blocks may not be full.
    pub fn of(blocks: u16, columns: u16) -> Option<Layout> {
        let columns = columns.min(blocks);
        (columns > 0).then(|| Layout { columns, rows: blocks.div_ceil(columns) })
    }

    pub fn blocks(self) -> u16 {
        self.columns.saturating_mul(self.rows)
    }

    /// Length of all seams between blocks, in centimetres.
    pub fn seams_cm(self, block: Size) -> f64 {
        self.seams_of_cm(self.blocks(), block)
    }

    /// The same where the last row is not full: each block but those of one row has a seam below
    /// it, and each but one in a row has one beside it.
    pub fn seams_of_cm(self, blocks: u16, block: Size) -> f64 {
        let below = f64::from(blocks.saturating_sub(self.columns));
        let beside = f64::from(blocks.saturating_sub(self.rows));
        below * block.width_cm + beside * block.height_cm
    }

    /// Length of the outer edge, in centimetres.
    pub fn perimeter_cm(self, block: Size) -> f64 {
        let (columns, rows) = (f64::from(self.columns), f64::from(self.rows));
        2.0 * (columns * block.width_cm + rows * block.height_cm)
    }

    /// The whole blanket, with a border of `border_cm` on every side.
    pub fn whole(self, block: Size, border_cm: f64) -> Size {
        Size {
            width_cm: f64::from(self.columns) * block.width_cm + 2.0 * border_cm,
            height_cm: f64::from(self.rows) * block.height_cm + 2.0 * border_cm,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::blanket::stitch::LinenEdge;

    fn swatch(stitches: f64, rows: f64) -> Swatch {
        Swatch::new(stitches, rows, Basis::FourInches).unwrap()
    }

    #[test]
    fn fifty_stitches_at_14_by_18_want_64_rows() {
        // A published worked example in a technique article.
        let rows = 50.0 * 18.0 / 14.0;
        assert_eq!(f64::round(rows), 64.0);
        assert!((swatch(14.0, 18.0).square(64) - 50.0).abs() < 0.5);
    }

    #[test]
    fn the_counts_next_to_square_are_the_ones_the_stitch_allows() {
        let near = swatch(16.0, 20.0).near_square(Stitch::Linen(LinenEdge::ChainTwo), 33);
        // 33 x 16 / 20 = 26.4: 26 and 28 are even.
        assert_eq!(near.iter().map(|near| near.width.0).collect::<Vec<_>>(), [26, 28]);
        assert!((near[0].residual_mm + 2.5).abs() < 1e-9);
        assert!((near[1].residual_mm - 10.0).abs() < 1e-9);
        let exact = swatch(20.0, 20.0).near_square(Stitch::SingleCrochet, 33);
        assert_eq!(exact.len(), 1);
        assert_eq!((exact[0].width, exact[0].residual_mm), (Width(33), 0.0));
    }

    #[test]
    fn seams_and_edges_of_square_blocks_are_counted_in_block_sides() {
        let side = Size { width_cm: 1.0, height_cm: 1.0 };
        let check = |columns, rows, seams, perimeter| {
            let layout = Layout { columns, rows };
            assert_eq!((layout.seams_cm(side), layout.perimeter_cm(side)), (seams, perimeter));
        };
        check(3, 4, 17.0, 14.0);
        check(4, 3, 17.0, 14.0);
        check(2, 6, 16.0, 16.0);
        check(1, 12, 11.0, 26.0);
    }

    #[test]
    fn thirteen_blocks_in_four_columns_have_one_in_the_last_row() {
        let side = Size { width_cm: 1.0, height_cm: 1.0 };
        let layout = Layout::of(13, 4).unwrap();
        assert_eq!(layout, Layout { columns: 4, rows: 4 });
        // Beside: three full rows of 3 seams. Below: 4 and 4 and, above the last block, 1.
        assert_eq!(layout.seams_of_cm(13, side), 9.0 + 9.0);
        assert_eq!(Layout::of(2, 5), Some(Layout { columns: 2, rows: 1 }));
        assert_eq!(Layout::of(2, 0), None);
    }

    #[test]
    fn one_strip_of_365_rows_at_16_a_10_cm_is_228_cm() {
        let size = swatch(14.0, 16.0).block(Width(30), 365);
        assert!((size.height_cm - 228.125).abs() < 1e-9);
    }

    #[test]
    fn a_gauge_no_hand_can_make_is_refused() {
        for (stitches, rows) in [(0.0, 20.0), (900.0, 20.0), (14.0, 0.0), (14.0, f64::NAN)] {
            assert_eq!(Swatch::new(stitches, rows, Basis::TenCentimetres), Err(SwatchFault));
        }
    }
}
