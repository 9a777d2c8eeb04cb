//! At which edge hangs the tail of the foundation, when the right side faces the maker?
//!
//! A right-handed maker works right to left, a left-handed one left to right, whichever side faces
//! them. A chain is worked back from the hook, so that its tail hangs where row 1 *ends*. A
//! long-tail cast-on leaves its tail at the tip of the needle, where row 1 *begins*; a knitted or
//! a cable cast-on, at the far end, where row 1 ends (common practice, no source).

use super::blocks::Side;
use super::fabric::Fabric;
use super::stitch::Craft;

/// An edge of a block, with row 1 at the bottom and the right side facing the maker.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Edge {
    Left,
    Right,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum StartTail {
    /// The tail of the starting chain.
    Chain(Edge),
    /// The tail of a long-tail cast-on; that of a knitted or a cable cast-on is at the other edge.
    CastOn { long_tail: Edge },
}

impl Edge {
    #[must_use]
    pub fn other(self) -> Edge {
        match self {
            Edge::Left => Edge::Right,
            Edge::Right => Edge::Left,
        }
    }
}

impl StartTail {
    pub fn of(fabric: &Fabric) -> StartTail {
        let begins = row_1_begins(fabric);
        match fabric.stitch.craft() {
            Craft::Crochet => StartTail::Chain(begins.other()),
            Craft::Knit => StartTail::CastOn { long_tail: begins },
        }
    }
}

/// Seen from the right side: a row worked on the wrong side begins at the other edge.
fn row_1_begins(fabric: &Fabric) -> Edge {
    let hand = if fabric.left_handed { Edge::Left } else { Edge::Right };
    match fabric.faces().first {
        Side::Right => hand,
        Side::Wrong => hand.other(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::blanket::stitch::Stitch;

    #[test]
    fn the_tail_hangs_where_the_hand_the_craft_and_the_side_of_row_1_put_it() {
        use Edge::{Left, Right};
        // Common practice, no source: a right-handed chain has its tail at the lower left of the
        // right side, where row 1 is on the right side.
        let crochet = [
            (false, Side::Right, Left),
            (true, Side::Right, Right),
            (false, Side::Wrong, Right),
            (true, Side::Wrong, Left),
        ];
        for (left_handed, first_side, edge) in crochet {
            let fabric = Fabric { left_handed, first_side, ..Fabric::DEFAULT };
            assert_eq!(StartTail::of(&fabric), StartTail::Chain(edge), "{fabric:?}");
            let knit = Fabric { stitch: Stitch::Stockinette, ..fabric };
            let long_tail = edge.other();
            assert_eq!(StartTail::of(&knit), StartTail::CastOn { long_tail }, "{knit:?}");
        }
        // Not turned, every row is on the right side, whatever the setting says.
        let cut = Fabric { turned: false, first_side: Side::Wrong, ..Fabric::DEFAULT };
        assert_eq!(StartTail::of(&cut), StartTail::Chain(Left));
    }
}
