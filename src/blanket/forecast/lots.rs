//! Two dye lots of one colour: which blocks from which?
//!
//! Common practice (no source): buy one lot; where two must meet, do not change inside a block,
//! and if that cannot be, alternate them row by row, so that no edge between them shows.

/// What to do with two lots, named 0 and 1 in the order they were given.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum LotPlan {
    /// This lot is enough for all blocks left.
    One { lot: usize },
    /// The first `blocks` blocks from `lot`, all others from the other one.
    WholeBlocks { lot: usize, blocks: usize },
    /// Only together are they enough, and no whole blocks part them: alternate rows.
    Alternate,
    /// Not even together.
    TooLittle,
}

/// `lots_grams` is what is on hand of each lot, `blocks_grams` what each block left is to take of
/// the colour, in working order, margin and all. One lot is best. Of the ways to part the blocks
/// it takes the one where the lot that gets nearest to its end has the most to spare.
pub fn share_lots(lots_grams: [f64; 2], blocks_grams: &[f64]) -> LotPlan {
    let all: f64 = blocks_grams.iter().sum();
    // The smaller lot first: the larger one is of more use later.
    let smaller = if lots_grams[1] < lots_grams[0] { 1 } else { 0 };
    for lot in [smaller, 1 - smaller] {
        if lots_grams[lot] >= all {
            return LotPlan::One { lot };
        }
    }
    let mut best: Option<(f64, LotPlan)> = None;
    let mut first = 0.0;
    for (index, grams) in blocks_grams.iter().enumerate() {
        first += grams;
        for lot in [0, 1] {
            let spare = (lots_grams[lot] - first).min(lots_grams[1 - lot] - (all - first));
            let better = best.is_none_or(|(most, _)| spare > most);
            if spare >= 0.0 && better {
                best = Some((spare, LotPlan::WholeBlocks { lot, blocks: index + 1 }));
            }
        }
    }
    match best {
        Some((_, plan)) => plan,
        None if lots_grams[0] + lots_grams[1] >= all => LotPlan::Alternate,
        None => LotPlan::TooLittle,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lots_are_parted_between_blocks_wherever_they_can_be() {
        let check = |lots, blocks: &[f64], plan| {
            assert_eq!(share_lots(lots, blocks), plan, "{lots:?} for {blocks:?}");
        };
        check([40.0, 90.0], &[10.0, 10.0], LotPlan::One { lot: 0 });
        check([15.0, 90.0], &[10.0, 10.0], LotPlan::One { lot: 1 });
        check([0.0, 0.0], &[], LotPlan::One { lot: 0 });
        let split = |lot, blocks| LotPlan::WholeBlocks { lot, blocks };
        check([12.0, 22.0], &[10.0, 10.0, 10.0], split(0, 1));
        // Only when the larger lot begins does each block come from one lot.
        check([11.0, 25.0], &[20.0, 10.0], split(1, 1));
        check([15.0, 15.0], &[10.0, 10.0, 10.0], LotPlan::Alternate);
        check([15.0, 14.9], &[10.0, 10.0, 10.0], LotPlan::TooLittle);
    }

    #[test]
    fn of_two_ways_to_part_them_the_one_with_more_to_spare_is_taken() {
        let plan = share_lots([25.0, 25.0], &[10.0, 5.0, 5.0, 10.0]);
        assert_eq!(plan, LotPlan::WholeBlocks { lot: 0, blocks: 2 });
    }
}
