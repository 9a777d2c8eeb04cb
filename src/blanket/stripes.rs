//! Where in a block is the work, by the colours of its top stripes?
//!
//! A stripe is a run of neighbouring rows in one colour: rows as they were stitched where they are
//! crossed off, else as planned, up to the first open day. The top stripe may be partly worked.

use super::blocks::{Block, RowNumber};
use super::book::Book;
use super::rows;
use super::scale::YarnId;

/// The stripes a maker sees, from the hook or the needle down: at most [`Seen::MAX`], and no two
/// neighbours alike.
#[derive(Clone, PartialEq, Eq, Default, Debug)]
pub struct Seen {
    stripes: Vec<YarnId>,
    lowest: bool,
}

/// Neighbouring rows in one colour.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Stripe {
    pub yarn: YarnId,
    pub first: RowNumber,
    pub last: RowNumber,
}

impl Seen {
    /// As many stripes as a place is told by, where they are enough.
    pub const MIN: usize = 3;
    pub const MAX: usize = 5;

    /// `lowest` where the last of them is the lowest of the block.
    pub fn new(stripes: Vec<YarnId>, lowest: bool) -> Option<Seen> {
        let alike = stripes.windows(2).any(|pair| pair[0] == pair[1]);
        let fits = stripes.len() <= Seen::MAX && !alike && !(lowest && stripes.is_empty());
        fits.then_some(Seen { stripes, lowest })
    }

    /// One more stripe below, where there can be one.
    pub fn and(&self, yarn: YarnId) -> Option<Seen> {
        let stripes = self.stripes.iter().copied().chain([yarn]).collect();
        if self.lowest { None } else { Seen::new(stripes, false) }
    }

    /// The same stripes, and no other below.
    pub fn to_the_lowest(&self) -> Option<Seen> {
        Seen::new(self.stripes.clone(), true)
    }

    /// From the top down.
    pub fn stripes(&self) -> &[YarnId] {
        &self.stripes
    }

    pub fn lowest(&self) -> bool {
        self.lowest
    }

    /// Whether a place that alone fits these may be named.
    pub fn is_enough(&self) -> bool {
        self.lowest || self.stripes.len() >= Seen::MIN
    }

    /// Whether no stripe can be asked for any more.
    pub fn is_full(&self) -> bool {
        self.lowest || self.stripes.len() >= Seen::MAX
    }
}

impl Stripe {
    pub fn has(&self, row: RowNumber) -> bool {
        (self.first..=self.last).contains(&row)
    }

    pub fn rows(&self) -> u16 {
        self.last.0 - self.first.0 + 1
    }
}

/// The stripes of a block from row 1 up, as far as its colours are known.
pub fn stripes(book: &Book, block: &Block) -> Vec<Stripe> {
    let mut stripes: Vec<Stripe> = Vec::new();
    for (number, yarn) in (1..).map(RowNumber).zip(rows::colours(book, block).into_iter().flatten())
    {
        match stripes.last_mut().filter(|below| below.yarn == yarn) {
            Some(below) => below.last = number,
            None => stripes.push(Stripe { yarn, first: number, last: number }),
        }
    }
    stripes
}

/// Every stripe of the block that can be the top one: whichever of its rows is the last one
/// worked, the work shows what was seen.
pub fn places(book: &Book, block: &Block, seen: &Seen) -> Vec<Stripe> {
    let stripes = stripes(book, block);
    let shows = |top: usize| {
        let below = stripes[..=top].iter().rev().map(|stripe| stripe.yarn);
        let enough = match seen.lowest {
            true => top + 1 == seen.stripes.len(),
            false => top + 1 >= seen.stripes.len(),
        };
        enough && below.zip(&seen.stripes).all(|(yarn, seen)| yarn == *seen)
    };
    (0..stripes.len()).filter(|top| shows(*top)).map(|top| stripes[top]).collect()
}
