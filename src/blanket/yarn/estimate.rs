//! What does a row take before anything was weighed?
//!
//! By width, row height and the metres of a ball, with its tails. Never a guess for a stitch
//! nobody measured.

use crate::blanket::book::Book;
use crate::blanket::ends::ends;
use crate::blanket::forecast::{Density, row_cm, tails_cm};
use crate::blanket::scale::YarnId;
use crate::blanket::stitch::Stitch;
use crate::blanket::stock::Ball;

use super::settings::BallLabel;

/// By how much of itself an estimate may be off: one measurement is published, others differ by
/// this.
pub const ESTIMATE_OFF: f64 = 0.2;

/// Fewer rows tell nothing of how often a colour changes.
const ROWS_TOLD_MIN: u32 = 14;

/// What would settle an estimate.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Lacking {
    /// No measurement of this stitch is known: the scale alone can tell.
    Measurement,
    Width,
    Swatch,
    /// How many metres a ball has.
    Metres,
    Columns,
    Join,
}

/// Grams a row of this colour takes, tails included.
///
/// # Errors
/// What is not known yet.
pub fn grams_per_row(book: &Book, yarn: YarnId) -> Result<f64, Vec<Lacking>> {
    let fabric = book.fabric();
    let linen = match fabric.stitch {
        Stitch::SingleCrochet => false,
        Stitch::Linen(_) => true,
        Stitch::HalfDouble { .. }
        | Stitch::Double { .. }
        | Stitch::Garter { .. }
        | Stitch::Stockinette
        | Stitch::Own { .. } => return Err(vec![Lacking::Measurement]),
    };
    match (fabric.block_size(1), density(book, yarn)) {
        (Some(row), Some(density)) => {
            let row = row_cm(row.width_cm, row.height_cm, linen);
            let tails_cm = runs_per_row(book) * tails_cm(1);
            Ok(density.grams(row.low_cm.midpoint(row.high_cm) + tails_cm))
        }
        (_, density) => {
            let lacks = [
                (Lacking::Width, fabric.width.is_none()),
                (Lacking::Swatch, fabric.swatch.is_none()),
                (Lacking::Metres, density.is_none()),
            ];
            Err(lacks.into_iter().filter(|(_, lacks)| *lacks).map(|(what, _)| what).collect())
        }
    }
}

/// By the label of this colour's newest ball, or of the ball the maker buys, or of any other.
pub fn density(book: &Book, yarn: YarnId) -> Option<Density> {
    let newest = |yarn| book.ledger(yarn).balls().rev().find_map(Ball::density);
    let bought = book.yarn_settings().ball.and_then(BallLabel::density);
    newest(yarn).or(bought).or_else(|| book.yarns().iter().find_map(|yarn| newest(yarn.id)))
}

/// Runs of a row, each with two tails, as often as the colour has changed so far; before that is
/// known, every row is a run.
fn runs_per_row(book: &Book) -> f64 {
    let counted: Vec<_> = book.plan().blocks().map(|block| ends(book, &block)).collect();
    let rows: u32 = counted.iter().map(|it| u32::from(it.rows)).sum();
    let ends: u32 = counted.iter().map(|it| u32::from(it.ends)).sum();
    match rows {
        ..ROWS_TOLD_MIN => 1.0,
        rows => f64::from(ends) / 2.0 / f64::from(rows),
    }
}
