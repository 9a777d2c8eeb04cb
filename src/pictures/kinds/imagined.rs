//! A year that nobody lived, for a maker who has a scale and no days yet. The same every time.

use super::super::facts::{Blanket, State, Tally};
use super::super::out::hashed;

/// Every day answered and every row worked: tiers that wander around the middle of the scale, a
/// few days at a time, drawn from an integer hash.
pub fn imagined(facts: &Blanket) -> Blanket {
    let tiers: Vec<usize> =
        facts.inks.keys.iter().filter(|key| key.tier.is_some()).map(|key| key.ink).collect();
    let joining = facts.inks.joining;
    let mut walk = Walk { at: (tiers.len() / 2) as i32, most: tiers.len() as i32 - 1, day: 0 };
    let mut year = facts.clone();
    for piece in &mut year.blocks {
        let (fillers, days) = (piece.block.fillers_before, piece.block.days());
        for (row, state) in (0_u16..).zip(&mut piece.rows) {
            let is_day = (fillers..fillers + days).contains(&row);
            let ink = if is_day { tiers.get(walk.next()).copied() } else { None };
            *state = State::Worked(ink.unwrap_or(joining));
        }
    }
    year.tally = Tally::default();
    year
}

/// Steps of at most two tiers, drawn back to the middle.
struct Walk {
    at: i32,
    most: i32,
    day: u32,
}

impl Walk {
    fn next(&mut self) -> usize {
        self.day += 1;
        let dice = hashed(self.day.wrapping_mul(0x9E37_79B9));
        let step = match dice % 16 {
            0..=5 => 0,
            6..=9 => 1,
            10..=13 => -1,
            14 => 2,
            _ => -2,
        };
        let middle = self.most / 2;
        let home = if (dice >> 8).is_multiple_of(3) { (middle - self.at).signum() } else { 0 };
        self.at = (self.at + step + home).clamp(0, self.most.max(0));
        usize::try_from(self.at).unwrap_or(0)
    }
}
