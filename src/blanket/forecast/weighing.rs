//! What does a row take? Grams per row from the maker's own weighings, and how sure that is.
//!
//! A scale that shows steps of `d` grams is off by up to half a step at each reading, so that the
//! difference of two readings has the variance d^2/6; and rows differ among themselves by about
//! five per cent. Weighings that disagree by more than both allow widen the answer by the Birge
//! ratio (R. T. Birge, "The calculation of errors by the method of least squares", Physical Review
//! 40, 1932, pages 207 to 227).

/// The standard deviation of one row's yarn, as a share of it.
pub const ROW_CV: f64 = 0.05;
/// The share a pattern's or a formula's grams per row may be off by, one standard deviation.
const GUESS_CV: f64 = 0.25;
/// The least share by which one colour's rows may differ from another's.
const COLOUR_CV: f64 = 0.04;
/// A ratio above this says that a weighing or a count of rows is wrong.
const RATIO_MAX: f64 = 2.0;
/// Of the normal distribution: 90 % lie within, and 95 % within.
const Z_90: f64 = 1.645;
const Z_95: f64 = 1.959_963_984_540_054;

/// Grams one row takes, tails included, and the standard error of that.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct RowWeight {
    pub grams: f64,
    pub se_grams: f64,
}

impl RowWeight {
    /// Between which grams a row lies with a chance of 90 %.
    pub fn interval_90(self) -> (f64, f64) {
        let off = Z_90 * self.se_grams;
        ((self.grams - off).max(0.0), self.grams + off)
    }
}

/// All yarn of one colour weighed when so many rows had been stitched in it.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Reading {
    pub rows: u32,
    pub grams: f64,
}

/// Rows stitched between two readings, at least one, and the grams they took.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Pair {
    pub rows: u32,
    pub grams: f64,
}

impl Pair {
    /// A chain of readings on the same yarn, oldest first, is one pair, the first less the last:
    /// a reading shared by two pairs would make their errors depend on each other. `None` where
    /// no row was stitched or no yarn used between them.
    pub fn of_chain(readings: &[Reading]) -> Option<Pair> {
        let (first, last) = (readings.first()?, readings.last()?);
        let rows = last.rows.checked_sub(first.rows).filter(|rows| *rows > 0)?;
        let grams = first.grams - last.grams;
        (grams > 0.0).then_some(Pair { rows, grams })
    }
}

/// What is known about the grams of a row before this colour is weighed.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Prior(RowWeight);

impl Prior {
    /// By a pattern or a formula, which may be a quarter off.
    pub fn guess(grams: f64) -> Prior {
        Prior(RowWeight { grams, se_grams: GUESS_CV * grams })
    }

    /// By an estimate that comes with its own error, such as one from the size of a row.
    pub fn estimate(weight: RowWeight) -> Prior {
        Prior(weight)
    }

    /// By the weighings of the other colours.
    pub fn of_others(others: RowWeight) -> Prior {
        let se_grams = others.se_grams.max(COLOUR_CV * others.grams);
        Prior(RowWeight { se_grams, ..others })
    }

    /// What a row takes as long as this colour is not weighed.
    pub fn weight(self) -> RowWeight {
        self.0
    }
}

/// Grams per row by weighing.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Weighed {
    pub per_row: RowWeight,
    /// The Birge ratio of two or more pairs: about 1 where they agree as well as the scale allows.
    pub ratio: Option<f64>,
}

impl Weighed {
    /// The weighings differ by more than a scale and a hand do: a count of rows may be wrong.
    pub fn disagree(&self) -> bool {
        self.ratio.is_some_and(|ratio| ratio > RATIO_MAX)
    }
}

/// The best grams per row by all pairs, on a scale with steps of `step_grams`, together with what
/// was known before. `None` where there is no pair with rows and yarn.
pub fn combine(pairs: &[Pair], step_grams: f64, prior: Option<Prior>) -> Option<Weighed> {
    let total = |part: fn(&Pair) -> f64| pairs.iter().map(part).sum::<f64>();
    let start = total(|pair| pair.grams) / total(|pair| f64::from(pair.rows));
    if !(start.is_finite() && start > 0.0) {
        return None;
    }
    let variance = |pair: &Pair, grams: f64| {
        let row = ROW_CV * grams;
        step_grams * step_grams / 6.0 + f64::from(pair.rows) * row * row
    };
    let weighted = |grams: f64| {
        let of = |pair: &Pair| {
            let (rows, variance) = (f64::from(pair.rows), variance(pair, grams));
            (rows * pair.grams / variance, rows * rows / variance)
        };
        pairs.iter().map(of).fold((0.0, 0.0), |sum, each| (sum.0 + each.0, sum.1 + each.1))
    };
    // The variances need the answer: three passes settle it.
    let mut grams = start;
    let mut precision = 0.0;
    for _ in 0..3 {
        let (sum, rows) = weighted(grams);
        (grams, precision) = (sum / rows, rows);
    }
    let off = |pair: &Pair| {
        let off = pair.grams - f64::from(pair.rows) * grams;
        off * off / variance(pair, grams)
    };
    let freedom = pairs.len() as f64 - 1.0;
    let ratio = (pairs.len() > 1).then(|| (pairs.iter().map(off).sum::<f64>() / freedom).sqrt());
    let se_grams = ratio.unwrap_or(1.0).max(1.0) / precision.sqrt();
    let own = RowWeight { grams, se_grams };
    let per_row = prior.map_or(own, |prior| together(own, prior.0));
    Some(Weighed { per_row, ratio })
}

/// What a row takes by the weighings of several colours at once.
pub fn pooled(pairs: &[Pair], step_grams: f64) -> Option<RowWeight> {
    combine(pairs, step_grams, None).map(|weighed| weighed.per_row)
}

/// The average of two, each by its precision.
fn together(one: RowWeight, other: RowWeight) -> RowWeight {
    let precision = |weight: RowWeight| 1.0 / (weight.se_grams * weight.se_grams);
    let (own, its) = (precision(one), precision(other));
    RowWeight {
        grams: (own * one.grams + its * other.grams) / (own + its),
        se_grams: 1.0 / (own + its).sqrt(),
    }
}

/// How many rows to stitch between two weighings so that the grams per row are within 5 % with a
/// chance of 95 %; at least one. `None` for rows or steps without weight.
pub fn rows_to_weigh(grams_per_row: f64, step_grams: f64) -> Option<u32> {
    rows_to_weigh_at(grams_per_row, step_grams, ROW_CV)
}

/// Solves z^2 (d^2/6 + N (cv g)^2) = (0.05 N g)^2 for N.
pub(super) fn rows_to_weigh_at(grams_per_row: f64, step_grams: f64, cv: f64) -> Option<u32> {
    if !(grams_per_row > 0.0 && step_grams >= 0.0) {
        return None;
    }
    let spread = Z_95 * Z_95 * cv * cv;
    let steps = Z_95 * Z_95 * step_grams * step_grams / (6.0 * grams_per_row * grams_per_row);
    let rows = (spread + (spread * spread + 4.0 * 0.0025 * steps).sqrt()) / 0.005;
    // More rows than a blanket has are as good as no answer.
    (rows <= 10_000.0).then(|| rows.ceil().max(1.0) as u32)
}
