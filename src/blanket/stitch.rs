//! The stitches a blanket of rows is worked in: which widths they allow, how a block begins, and
//! what every row has.
//!
//! US terms. Widths and counts are common practice (no source) and arithmetic; the linen stitch
//! works every single crochet into a chain-1 space of the row below, but for row 1 and the edges.

use serde::{Deserialize, Serialize};

/// Number of stitches across a row.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, Debug)]
pub struct Width(pub u16);

#[derive(Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Debug)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Stitch {
    Linen(LinenEdge),
    SingleCrochet,
    HalfDouble {
        chain_counts: bool,
    },
    Double {
        chain_counts: bool,
    },
    Garter {
        day_is_ridge: bool,
    },
    Stockinette,
    /// The maker's own: widths are a multiple of `multiple` and `offset` more.
    Own {
        multiple: u16,
        offset: u16,
        craft: Craft,
    },
}

#[derive(Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Debug)]
#[serde(rename_all = "snake_case")]
pub enum LinenEdge {
    /// Chain 2, turn: a one-row repeat.
    ChainTwo,
    /// Single crochet at both edges: odd and even rows differ.
    Single,
    /// Single crochet at the end: a one-row repeat.
    SingleAtEnd,
}

#[derive(Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Debug)]
#[serde(rename_all = "snake_case")]
pub enum Craft {
    Crochet,
    Knit,
}

/// What is counted in a row, and what makes it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct RowCount {
    pub stitches: u16,
    /// Chain-1 spaces between them.
    pub spaces: u16,
    /// The turning chain of the row below stands for one stitch more.
    pub and_chain: bool,
}

/// How a block begins.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Foundation {
    /// So many chains; the first stitch goes in this one from the hook.
    Chain {
        chains: u16,
        first_in: u16,
    },
    CastOn(u16),
    /// As the maker's own pattern says.
    Own,
}

/// Why a width cannot be worked: the nearest ones that can.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct WidthFault {
    pub below: Option<Width>,
    pub above: Option<Width>,
}

impl Stitch {
    pub const WIDTH_MAX: u16 = 400;
    /// The largest multiple, and the most that is added to it, of a maker's own stitch.
    pub const OWN_MAX: u16 = 100;

    pub fn craft(self) -> Craft {
        match self {
            Stitch::Linen(_)
            | Stitch::SingleCrochet
            | Stitch::HalfDouble { .. }
            | Stitch::Double { .. } => Craft::Crochet,
            Stitch::Garter { .. } | Stitch::Stockinette => Craft::Knit,
            Stitch::Own { craft, .. } => craft,
        }
    }

    pub fn allows(self, width: Width) -> bool {
        let n = width.0;
        let fits = match self {
            Stitch::Linen(LinenEdge::ChainTwo) => n >= 2 && n.is_multiple_of(2),
            Stitch::Linen(LinenEdge::Single) => n >= 5 && n % 2 == 1,
            Stitch::Linen(LinenEdge::SingleAtEnd) => n >= 3 && n % 2 == 1,
            Stitch::SingleCrochet
            | Stitch::HalfDouble { .. }
            | Stitch::Double { .. }
            | Stitch::Garter { .. }
            | Stitch::Stockinette => n >= 2,
            Stitch::Own { multiple, offset, .. } => {
                n >= 2 && n >= offset && multiple > 0 && (n - offset).is_multiple_of(multiple)
            }
        };
        fits && n <= Stitch::WIDTH_MAX
    }

    /// Whether its numbers are some that a maker can choose.
    pub fn is_within_limits(self) -> bool {
        match self {
            Stitch::Own { multiple, offset, .. } => {
                (1..=Stitch::OWN_MAX).contains(&multiple) && offset <= Stitch::OWN_MAX
            }
            Stitch::Linen(_)
            | Stitch::SingleCrochet
            | Stitch::HalfDouble { .. }
            | Stitch::Double { .. }
            | Stitch::Garter { .. }
            | Stitch::Stockinette => true,
        }
    }

    /// # Errors
    /// The nearest widths that can be worked, where this one cannot.
    pub fn check(self, width: Width) -> Result<(), WidthFault> {
        if self.allows(width) {
            return Ok(());
        }
        let below = (0..width.0).rev().map(Width).find(|width| self.allows(*width));
        let above = (width.0.saturating_add(1)..=Stitch::WIDTH_MAX).map(Width);
        Err(WidthFault { below, above: above.into_iter().find(|width| self.allows(*width)) })
    }

    /// Whether a block may be worked without turning. Linen worked so needs single crochet at
    /// both edges: the chain-2 edge puts chains over spaces, and the other edge slants.
    pub fn may_stay_unturned(self) -> bool {
        match self {
            Stitch::Linen(edge) => edge == LinenEdge::Single,
            Stitch::SingleCrochet
            | Stitch::HalfDouble { .. }
            | Stitch::Double { .. }
            | Stitch::Own { .. } => true,
            // Flat knitting is turned.
            Stitch::Garter { .. } | Stitch::Stockinette => false,
        }
    }

    pub fn foundation(self, width: Width) -> Foundation {
        let n = width.0;
        let chain = |more: u16, first_in| Foundation::Chain { chains: n + more, first_in };
        match self {
            Stitch::Linen(LinenEdge::ChainTwo) => chain(2, 4),
            Stitch::Linen(LinenEdge::Single | LinenEdge::SingleAtEnd) | Stitch::SingleCrochet => {
                chain(1, 2)
            }
            Stitch::HalfDouble { chain_counts: true } => chain(1, 3),
            Stitch::HalfDouble { chain_counts: false } => chain(2, 3),
            Stitch::Double { chain_counts: true } => chain(2, 4),
            Stitch::Double { chain_counts: false } => chain(3, 4),
            Stitch::Garter { .. } | Stitch::Stockinette => Foundation::CastOn(n),
            Stitch::Own { .. } => Foundation::Own,
        }
    }

    /// Chains at the turn; 0 for knitting.
    pub fn turning_chain(self) -> u16 {
        match self {
            Stitch::Linen(LinenEdge::ChainTwo) | Stitch::HalfDouble { .. } => 2,
            Stitch::Linen(LinenEdge::Single | LinenEdge::SingleAtEnd) | Stitch::SingleCrochet => 1,
            Stitch::Double { .. } => 3,
            Stitch::Garter { .. } | Stitch::Stockinette | Stitch::Own { .. } => 0,
        }
    }

    /// What worked row `row`, from 1, has when it is done; `None` for the maker's own.
    pub fn count(self, width: Width, row: u16) -> Option<RowCount> {
        let n = width.0;
        let (stitches, spaces, and_chain) = match self {
            Stitch::Linen(LinenEdge::ChainTwo) => (n / 2, n / 2, false),
            Stitch::Linen(LinenEdge::Single) if row % 2 == 1 => (n / 2 + 1, n / 2, false),
            Stitch::Linen(LinenEdge::Single) => (n / 2 + 2, n / 2 - 1, false),
            Stitch::Linen(LinenEdge::SingleAtEnd) => (n / 2 + 1, n / 2, false),
            Stitch::HalfDouble { chain_counts: true } | Stitch::Double { chain_counts: true } => {
                (n - 1, 0, true)
            }
            Stitch::SingleCrochet
            | Stitch::HalfDouble { chain_counts: false }
            | Stitch::Double { chain_counts: false }
            | Stitch::Garter { .. }
            | Stitch::Stockinette => (n, 0, false),
            Stitch::Own { .. } => return None,
        };
        Some(RowCount { stitches, spaces, and_chain })
    }

    /// Worked rows that one day takes.
    pub fn rows_per_day(self) -> u16 {
        match self {
            Stitch::Garter { day_is_ridge: true } => 2,
            Stitch::Garter { day_is_ridge: false }
            | Stitch::Linen(_)
            | Stitch::SingleCrochet
            | Stitch::HalfDouble { .. }
            | Stitch::Double { .. }
            | Stitch::Stockinette
            | Stitch::Own { .. } => 1,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn linen_of_40_stitches_starts_on_42_chains_and_26_chains_make_12_a_row() {
        let linen = Stitch::Linen(LinenEdge::ChainTwo);
        assert_eq!(linen.foundation(Width(40)), Foundation::Chain { chains: 42, first_in: 4 });
        assert_eq!(linen.foundation(Width(24)), Foundation::Chain { chains: 26, first_in: 4 });
        let count = linen.count(Width(24), 7).unwrap();
        assert_eq!((count.stitches, count.spaces), (12, 12));
    }

    #[test]
    fn a_width_that_does_not_fit_names_its_neighbours() {
        let check = |stitch: Stitch, width, below: Option<u16>, above: Option<u16>| {
            let fault = stitch.check(Width(width)).unwrap_err();
            assert_eq!((fault.below, fault.above), (below.map(Width), above.map(Width)));
        };
        check(Stitch::Linen(LinenEdge::ChainTwo), 25, Some(24), Some(26));
        check(Stitch::Linen(LinenEdge::Single), 24, Some(23), Some(25));
        check(Stitch::SingleCrochet, 1, None, Some(2));
        check(Stitch::SingleCrochet, 900, Some(400), None);
        let own = Stitch::Own { multiple: 6, offset: 1, craft: Craft::Knit };
        check(own, 30, Some(25), Some(31));
        assert!(own.check(Width(31)).is_ok());
    }
}
