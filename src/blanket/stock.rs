//! What yarn is on hand, and what a row of it weighs, by the maker's own scale.
//!
//! Weights are whole tenths of a gram. A weighing is everything on hand in one colour at once, so
//! two weighings with rows between them tell what a row takes, tails included.

use chrono::{DateTime, Utc};

/// A weight, in tenths of a gram.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Debug)]
pub struct Tenths(pub u32);

impl Tenths {
    /// Ten kilograms: no maker has more of one colour.
    pub const MAX: Tenths = Tenths(100_000);

    pub fn grams(self) -> f64 {
        f64::from(self.0) / 10.0
    }
}

/// What happened to the yarn of one colour, oldest first.
#[derive(Clone, PartialEq, Eq, Default, Debug)]
pub struct Ledger {
    entries: Vec<Entry>,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Entry {
    pub kind: EntryKind,
    /// Rows stitched in this colour when it happened.
    pub rows: u32,
    pub at: DateTime<Utc>,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum EntryKind {
    /// A ball came, with the weight on its label.
    Ball(Tenths),
    /// All of the colour was weighed.
    Weighing(Tenths),
}

/// The most entries of one colour; a year has at most 500 weighings and 200 balls.
pub const ENTRIES_MAX: usize = 700;

/// Grams used over rows stitched, between weighings.
#[derive(Clone, Copy, PartialEq, Default, Debug)]
pub struct Use {
    pub grams: f64,
    pub rows: u32,
}

impl Use {
    /// Grams a row, `None` before two weighings with a row between them.
    pub fn grams_per_row(self) -> Option<f64> {
        (self.rows > 0).then(|| self.grams / f64::from(self.rows))
    }
}

impl std::ops::Add for Use {
    type Output = Use;

    fn add(self, other: Use) -> Use {
        Use { grams: self.grams + other.grams, rows: self.rows + other.rows }
    }
}

impl Ledger {
    pub const fn new() -> Ledger {
        Ledger { entries: Vec::new() }
    }

    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    pub fn push(&mut self, entry: Entry) {
        self.entries.push(entry);
    }

    /// Takes the newest entry back.
    pub fn pop(&mut self) {
        self.entries.pop();
    }

    pub fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }

    /// Rows stitched in this colour at the last weighing.
    pub fn rows_at_weighing(&self) -> Option<u32> {
        self.entries.iter().rfind(|entry| entry.is_weighing()).map(|entry| entry.rows)
    }

    /// What was there at most before a weighing of `now`, where that is less: a colour grows
    /// heavier only by a ball, or by rows that were pulled back. The weight on a label may differ
    /// from the real one, so that the first weighing is never too heavy.
    pub fn lighter_before(&self, now: Tenths, rows_now: u32) -> Option<Tenths> {
        let pulled_back = rows_now < self.rows_at_weighing()?;
        let (before, _) = self.last_known()?;
        (now > before && !pulled_back).then_some(before)
    }

    /// How much was there at the last weighing, with the balls that came since, and the rows
    /// stitched then.
    pub fn last_known(&self) -> Option<(Tenths, u32)> {
        let from = self.entries.iter().rposition(|entry| entry.is_weighing());
        let (start, rows) = match from {
            Some(index) => (index, self.entries[index].rows),
            None => (0, self.entries.first()?.rows),
        };
        let tenths = self.entries[start..].iter().map(|entry| entry.tenths().0).sum();
        Some((Tenths(tenths), rows))
    }

    /// The yarn used between one weighing and the next, over all pairs with rows between them.
    /// The first pair needs two weighings: the weight on a label may differ from the real one.
    pub fn measured(&self) -> Use {
        let mut sum = Use::default();
        let mut before: Option<(u32, u32)> = None;
        for entry in &self.entries {
            match (entry.kind, before) {
                (EntryKind::Ball(ball), Some((tenths, rows))) => {
                    before = Some((tenths + ball.0, rows));
                }
                (EntryKind::Ball(_), None) => {}
                (EntryKind::Weighing(now), earlier) => {
                    if let Some((tenths, rows)) = earlier
                        && entry.rows > rows
                        && tenths >= now.0
                    {
                        let grams = f64::from(tenths - now.0) / 10.0;
                        sum = sum + Use { grams, rows: entry.rows - rows };
                    }
                    before = Some((now.0, entry.rows));
                }
            }
        }
        sum
    }

    /// Grams on hand after `rows_now` rows, at `grams_per_row` since the last weighing; at least
    /// none. Rows pulled back give their yarn back. `None` before anything was said about this
    /// colour.
    pub fn on_hand(&self, rows_now: u32, grams_per_row: Option<f64>) -> Option<f64> {
        let (known, rows_then) = self.last_known()?;
        let since = f64::from(rows_now) - f64::from(rows_then);
        Some((known.grams() - since * grams_per_row.unwrap_or(0.0)).max(0.0))
    }
}

impl Entry {
    fn is_weighing(&self) -> bool {
        matches!(self.kind, EntryKind::Weighing(_))
    }

    fn tenths(&self) -> Tenths {
        match self.kind {
            EntryKind::Ball(tenths) | EntryKind::Weighing(tenths) => tenths,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ledger(entries: &[(EntryKind, u32)]) -> Ledger {
        let at = DateTime::UNIX_EPOCH;
        let entries = entries.iter().map(|&(kind, rows)| Entry { kind, rows, at }).collect();
        Ledger { entries }
    }

    #[test]
    fn two_weighings_tell_what_a_row_takes_and_balls_in_between_count() {
        use EntryKind::{Ball, Weighing};
        let check = |entries: &[(EntryKind, u32)], rows_now, per_row: Option<f64>, on_hand| {
            let ledger = ledger(entries);
            let measured = ledger.measured().grams_per_row();
            assert_eq!(measured, per_row, "{entries:?}");
            assert_eq!(ledger.on_hand(rows_now, measured), on_hand, "{entries:?}");
        };
        check(&[], 0, None, None);
        check(&[(Ball(Tenths(1000)), 0)], 9, None, Some(100.0));
        check(&[(Ball(Tenths(500)), 0), (Ball(Tenths(500)), 3)], 9, None, Some(100.0));
        // A label is no weighing: it does not tell what a row takes.
        check(&[(Ball(Tenths(1000)), 0), (Weighing(Tenths(900)), 8)], 8, None, Some(90.0));
        let pair = [(Weighing(Tenths(1000)), 0), (Weighing(Tenths(900)), 8)];
        check(&pair, 8, Some(1.25), Some(90.0));
        check(&pair, 12, Some(1.25), Some(85.0));
        check(&pair, 500, Some(1.25), Some(0.0));
        // Two rows were pulled back.
        check(&pair, 6, Some(1.25), Some(92.5));
        let refilled =
            [(Weighing(Tenths(100)), 0), (Ball(Tenths(500)), 4), (Weighing(Tenths(400)), 16)];
        check(&refilled, 16, Some(1.25), Some(40.0));
    }
}
