//! How much yarn do rows, tails, seams and borders take, before anything is weighed?
//!
//! Lengths in centimetres of yarn. One published measurement has 12.4 cm of yarn in a square
//! centimetre of single crochet; others differ by a fifth. Mattress stitch at three times the seam
//! is published; the other multiples are common practice or worked out from the stitches (no
//! source). Stitch counts are arithmetic.

use super::density::Density;
use super::weighing::RowWeight;

/// Centimetres of yarn in a square centimetre of single crochet.
const CM_PER_CM2: f64 = 12.4;
/// The share of it in linen stitch: an estimate, not measured.
const LINEN: f64 = 0.75;
/// The share by which a row may differ from that, one standard deviation.
const ROW_OFF: f64 = 0.2;
const TAIL_CM: f64 = 15.0;
/// Centimetres of chain yarn for a centimetre of width.
const CHAIN: f64 = 5.0;
/// Of single crochet along an edge, for each centimetre of it.
const EDGE: Range = Range { low_cm: 5.5, high_cm: 8.0 };

/// Centimetres of yarn, between two estimates.
#[derive(Clone, Copy, PartialEq, Default, Debug)]
pub struct Range {
    pub low_cm: f64,
    pub high_cm: f64,
}

/// Grams and their standard error, to keep back of a supply.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Amount {
    pub grams: f64,
    pub se_grams: f64,
}

/// How two blocks are joined.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Join {
    Mattress,
    Whip,
    SlipStitch,
    SingleCrochet,
}

impl Range {
    const fn exactly(cm: f64) -> Range {
        Range { low_cm: cm, high_cm: cm }
    }

    fn times(self, factor: f64) -> Range {
        Range { low_cm: factor * self.low_cm, high_cm: factor * self.high_cm }
    }

    #[must_use]
    pub fn plus(self, other: Range) -> Range {
        Range { low_cm: self.low_cm + other.low_cm, high_cm: self.high_cm + other.high_cm }
    }

    /// The middle, give or take half the way to the ends.
    pub fn weight(self, yarn: Density) -> Amount {
        Amount {
            grams: yarn.grams(f64::midpoint(self.low_cm, self.high_cm)),
            se_grams: yarn.grams((self.high_cm - self.low_cm) / 4.0),
        }
    }

    /// What a row of such a length weighs. Half of the range is one standard error here: it is
    /// from a single measurement of other hands.
    pub fn row_weight(self, yarn: Density) -> RowWeight {
        let Amount { grams, se_grams } = self.weight(yarn);
        RowWeight { grams, se_grams: 2.0 * se_grams }
    }
}

impl Join {
    pub const ALL: [Join; 4] = [Join::Mattress, Join::Whip, Join::SlipStitch, Join::SingleCrochet];

    /// Yarn for each centimetre of seam.
    fn multiple(self) -> Range {
        match self {
            Join::Mattress | Join::Whip => Range::exactly(3.0),
            Join::SlipStitch => Range::exactly(5.0),
            Join::SingleCrochet => EDGE,
        }
    }
}

/// One row of single crochet, or of linen stitch, without its tails.
pub fn row_cm(width_cm: f64, row_height_cm: f64, linen: bool) -> Range {
    let share = if linen { LINEN } else { 1.0 };
    let cm = CM_PER_CM2 * width_cm * row_height_cm * share;
    Range { low_cm: (1.0 - ROW_OFF) * cm, high_cm: (1.0 + ROW_OFF) * cm }
}

/// Two tails for each run of rows in one colour.
pub fn tails_cm(runs: u32) -> f64 {
    2.0 * TAIL_CM * f64::from(runs)
}

/// The foundation chain of one block.
pub fn foundation_cm(width_cm: f64) -> f64 {
    CHAIN * width_cm
}

/// Joining blocks along so many seams of a length together, with two tails a seam.
pub fn seams_cm(join: Join, length_cm: f64, seams: u32) -> Range {
    join.multiple().times(length_cm).plus(Range::exactly(tails_cm(seams)))
}

/// A border of so many rounds of single crochet around an edge of this length.
pub fn border_cm(perimeter_cm: f64, rounds: u32) -> Range {
    EDGE.times(perimeter_cm * f64::from(rounds))
}

/// Single crochets of the first round: along the top and the side without their corner stitches,
/// and three in each corner.
pub fn border_first_round(top: u32, side: u32) -> u32 {
    border_round(top, side, 1)
}

/// Single crochets of any round, from 1: each has eight more than the one inside it.
pub fn border_round(top: u32, side: u32, round: u32) -> u32 {
    let later = round.saturating_sub(1).saturating_mul(8);
    top.saturating_add(side).saturating_mul(2).saturating_add(12).saturating_add(later)
}

/// Stitches to pick up along the ends of so many rows, so that the edge lies flat.
pub fn picked_up(rows: u32, stitches_per_10cm: f64, rows_per_10cm: f64) -> Option<u32> {
    let stitches = f64::from(rows) * stitches_per_10cm / rows_per_10cm;
    (stitches.is_finite() && (0.0..=1e6).contains(&stitches)).then(|| stitches.round() as u32)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_is_estimated_from_its_area_and_linen_takes_three_quarters() {
        // 20 cm wide, 0.625 cm high: 12.5 square centimetres, 155 cm of yarn.
        let single = row_cm(20.0, 0.625, false);
        assert!((single.low_cm - 124.0).abs() < 1e-9 && (single.high_cm - 186.0).abs() < 1e-9);
        assert!((row_cm(20.0, 0.625, true).low_cm - 93.0).abs() < 1e-9);
        // At 400 tex that is 0.62 g, give or take a fifth.
        let row = single.row_weight(Density::from_tex(400.0).unwrap());
        assert!((row.grams - 0.62).abs() < 1e-9 && (row.se_grams - 0.124).abs() < 1e-9);
    }

    #[test]
    fn tails_are_a_fifth_of_a_narrow_row() {
        // Common practice, no source: at 21 cm wide two tails of 15 cm add about 20 %.
        let row = 12.4 * 21.0 * 0.6;
        assert!((tails_cm(1) / row - 0.2).abs() < 0.02);
        // The worst year of one strip: 365 runs, 109.5 m of tails.
        assert_eq!(tails_cm(365), 10_950.0);
    }

    #[test]
    fn seams_take_their_multiple_and_two_tails_each() {
        let take = |join| seams_cm(join, 100.0, 2);
        assert_eq!(take(Join::Mattress), Range::exactly(360.0));
        assert_eq!(take(Join::Whip), Range::exactly(360.0));
        assert_eq!(take(Join::SlipStitch), Range::exactly(560.0));
        assert_eq!(take(Join::SingleCrochet), Range { low_cm: 610.0, high_cm: 860.0 });
        assert_eq!(foundation_cm(20.0), 100.0);
        assert_eq!(border_cm(240.0, 2), Range { low_cm: 2640.0, high_cm: 3840.0 });
    }

    #[test]
    fn each_round_of_a_border_has_eight_more() {
        // Three in each corner stitch instead of one, twice two edges between them.
        assert_eq!(border_first_round(30, 40), 2 * 30 + 2 * 40 + 12);
        assert_eq!(border_round(30, 40, 3), border_first_round(30, 40) + 16);
        assert_eq!(picked_up(64, 14.0, 18.0), Some(50));
        assert_eq!(picked_up(64, 14.0, 0.0), None);
    }
}
