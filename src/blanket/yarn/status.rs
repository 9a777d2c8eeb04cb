//! How much yarn of a colour is there, what does a row take, and for what is it needed?

use crate::blanket::book::Book;
use crate::blanket::forecast::{Pair, Prior, RowWeight, combine, pooled};
use crate::blanket::scale::YarnId;

use super::estimate::grams_per_row;
use super::need::{Need, need};

/// One colour, as far as it is known.
#[derive(Clone, PartialEq, Debug)]
pub struct YarnStatus {
    pub yarn: YarnId,
    /// Grams, less what the rows since the last weighing took; `None` where nothing was entered.
    pub on_hand_grams: Option<f64>,
    pub per_row: Option<PerRow>,
    /// Rows worked since the last weighing; fewer than none where rows were pulled back.
    pub rows_since: i64,
    pub need: Need,
}

/// What a row takes, tails included.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct PerRow {
    pub weight: RowWeight,
    pub by: KnownBy,
}

/// How it is known what a row takes.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum KnownBy {
    /// By this colour's own weighings; where they disagree, a count of rows may be wrong.
    Weighings {
        pairs: usize,
        disagree: bool,
    },
    OtherColours,
    /// By width, row height and the metres of a ball.
    Fabric,
}

impl PerRow {
    pub fn grams(self) -> f64 {
        self.weight.grams
    }

    pub fn is_measured(self) -> bool {
        matches!(self.by, KnownBy::Weighings { .. })
    }
}

impl YarnStatus {
    /// Whole rows the yarn on hand makes.
    pub fn rows_possible(&self) -> Option<u32> {
        let grams = self.per_row?.grams();
        // At most some hundred kilograms over at least a thousandth of a gram.
        (grams > 0.0).then_some(()).and(self.on_hand_grams).map(|hand| (hand / grams) as u32)
    }

    /// The rows that wait need more than is on hand.
    pub fn runs_short(&self) -> bool {
        self.rows_possible().is_some_and(|rows| rows < self.need.waiting)
    }
}

/// Every colour of the book, in the book's order.
pub fn yarn_status(book: &Book) -> Vec<YarnStatus> {
    let pairs: Vec<(YarnId, Vec<Pair>)> =
        book.yarns().iter().map(|yarn| (yarn.id, book.ledger(yarn.id).pairs())).collect();
    let status = |(yarn, own): &(YarnId, Vec<Pair>)| {
        let others = pairs.iter().filter(|(other, _)| other != yarn);
        let others: Vec<Pair> = others.flat_map(|(_, pairs)| pairs).copied().collect();
        let per_row = per_row(book, *yarn, own, &others);
        let rows_now = book.rows_in(*yarn);
        let since = book
            .ledger(*yarn)
            .last_known()
            .map_or(0, |known| i64::from(rows_now) - i64::from(known.rows));
        YarnStatus {
            yarn: *yarn,
            on_hand_grams: book.ledger(*yarn).on_hand(rows_now, per_row.map(PerRow::grams)),
            per_row,
            rows_since: since,
            need: need(book, *yarn),
        }
    };
    pairs.iter().map(status).collect()
}

/// By the colour's own weighings, together with what was known before; else by the other colours;
/// else by the fabric.
fn per_row(book: &Book, yarn: YarnId, own: &[Pair], others: &[Pair]) -> Option<PerRow> {
    let step = book.yarn_settings().scale.grams();
    let of_others = pooled(others, step).map(Prior::of_others);
    let estimated = || grams_per_row(book, yarn).ok().map(Prior::guess);
    let prior = of_others.or_else(estimated);
    if let Some(weighed) = combine(own, step, prior) {
        let by = KnownBy::Weighings { pairs: own.len(), disagree: weighed.disagree() };
        return Some(PerRow { weight: weighed.per_row, by });
    }
    let by = if of_others.is_some() { KnownBy::OtherColours } else { KnownBy::Fabric };
    prior.map(|prior| PerRow { weight: prior.weight(), by })
}
