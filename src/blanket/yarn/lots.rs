//! Two lots of one colour: how much is there of each, and which blocks are worked in which?
//!
//! Which lot a row was worked in is not kept: the older one is taken to be used first.

use crate::blanket::blocks::{BlockNumber, RowContent};
use crate::blanket::book::Book;
use crate::blanket::forecast::{LotPlan, share_lots};
use crate::blanket::label::Label;
use crate::blanket::stock::Ball;

use super::outlook::Outlook;

#[derive(Clone, PartialEq, Debug)]
pub struct TwoLots {
    /// The older and the newer one, and the grams of each.
    pub lots: [(Label, f64); 2],
    pub plan: LotPlan,
    /// The last block of the lot that begins, where the plan parts blocks.
    pub until: Option<BlockNumber>,
}

/// `None` unless all balls are of two lots, and it is known what a row takes.
pub fn two_lots(book: &Book, outlook: &Outlook) -> Option<TwoLots> {
    let ledger = book.ledger(outlook.status.yarn);
    let lots = ledger.lots();
    let [(newer, _), (older, _)] = lots.as_slice() else { return None };
    if ledger.balls().any(|ball| ball.lot.is_none()) {
        return None;
    }
    let of_newer = |ball: &&Ball| ball.lot.as_ref().is_some_and(|lot| lot.is(newer.as_str()));
    let came: f64 = ledger.balls().filter(of_newer).map(|ball| ball.tenths().grams()).sum();
    let on_hand = outlook.status.on_hand_grams?;
    let newer_grams = came.min(on_hand);
    let lots = [((*older).clone(), on_hand - newer_grams), ((*newer).clone(), newer_grams)];
    let blocks = blocks_grams(book, outlook)?;
    let grams: Vec<f64> = blocks.iter().map(|(_, grams)| *grams).collect();
    let plan = share_lots([lots[0].1, lots[1].1], &grams);
    let until = match plan {
        LotPlan::WholeBlocks { blocks: first, .. } => {
            blocks.get(first - 1).map(|(block, _)| *block)
        }
        LotPlan::One { .. } | LotPlan::Alternate | LotPlan::TooLittle => None,
    };
    Some(TwoLots { lots, plan, until })
}

/// What each block with rows left is expected to take of a colour.
fn blocks_grams(book: &Book, outlook: &Outlook) -> Option<Vec<(BlockNumber, f64)>> {
    let yarn = outlook.status.yarn;
    let each = outlook.status.per_row?.grams();
    let left = book.plan().blocks().filter_map(|block| {
        let worked = book.worked(block.number).len();
        let rows = book.plan().rows(&block);
        let rows = rows.iter().skip(worked).map(|row| match (book.yarn_for(row), row.content) {
            (Some(known), _) => f64::from(u8::from(known == yarn)),
            (None, RowContent::Day(_)) => outlook.share,
            (None, RowContent::Filler) => 0.0,
        });
        let takes = each * rows.sum::<f64>();
        (takes > 0.0).then_some((block.number, takes))
    });
    Some(left.collect())
}
