//! What yarn is on hand, and what a row of it weighs, by the maker's own scale.
//!
//! Weights are whole tenths of a gram. A weighing is everything on hand in one colour at once, so
//! two weighings with rows between them tell what a row takes, tails included. Never guesses what
//! a row takes, and never looks ahead.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};

use super::forecast::{Density, Pair};
use super::label::Label;

/// A weight, in tenths of a gram.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize, Debug)]
pub struct Tenths(pub u32);

impl Tenths {
    /// Ten kilograms: no maker has more of one colour.
    pub const MAX: Tenths = Tenths(100_000);

    pub fn grams(self) -> f64 {
        f64::from(self.0) / 10.0
    }
}

/// A length of yarn, in tenths of a metre.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize, Debug)]
pub struct Decimetres(pub u32);

impl Decimetres {
    /// Five kilometres: no ball is longer.
    pub const MAX: Decimetres = Decimetres(50_000);

    pub fn metres(self) -> f64 {
        f64::from(self.0) / 10.0
    }
}

/// What happened to the yarn of one colour, oldest first.
#[derive(Clone, PartialEq, Eq, Default, Debug)]
pub struct Ledger {
    entries: Vec<Entry>,
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Entry {
    pub kind: EntryKind,
    /// Rows stitched in this colour when it happened.
    pub rows: u32,
    pub at: DateTime<Utc>,
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub enum EntryKind {
    /// Balls came, all alike.
    Ball(Ball),
    /// All of the colour was weighed.
    Weighing(Tenths),
    /// The maker says that there is so much, without a scale: it tells nothing of a row.
    Correction(Tenths),
    /// Some of the colour was weighed before and after so many rows. All of it is as much as it
    /// was: rows take their yarn when they are crossed off.
    Tried { before: Tenths, after: Tenths, rows: u16 },
}

/// Balls of one lot, all alike.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Ball {
    pub count: u16,
    /// What the label says of one.
    pub each: Tenths,
    pub length_each: Option<Decimetres>,
    pub lot: Option<Label>,
    /// What all of them weigh on the maker's scale.
    pub weighed: Option<Tenths>,
}

impl Ball {
    /// No maker has a heavier ball.
    pub const EACH_MAX: Tenths = Tenths(20_000);

    /// One ball of this weight by its label.
    pub fn of(each: Tenths) -> Ball {
        Ball { count: 1, each, length_each: None, lot: None, weighed: None }
    }

    /// What they weigh: on the scale where they were on one, and else by their labels.
    pub fn tenths(&self) -> Tenths {
        self.weighed.unwrap_or(Tenths(self.each.0.saturating_mul(u32::from(self.count))))
    }

    /// By the label.
    pub fn density(&self) -> Option<Density> {
        Density::of_ball(self.each.grams(), self.length_each?.metres())
    }
}

/// The most balls and the most weighings, corrections and tries of one blanket.
pub const BALLS_MAX: u32 = 200;
pub const WEIGHINGS_MAX: u32 = 500;

/// How much of a colour is there by the newest entries, and how it is known.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Known {
    pub tenths: Tenths,
    /// Rows stitched in the colour at that time.
    pub rows: u32,
    /// Of that, what labels say.
    pub by_label: Tenths,
    /// It rests on a weighing, and not on what the maker said or a label says.
    pub weighed: bool,
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
    /// heavier by a ball alone, or by rows that were pulled back. The weight on a label may differ
    /// from the real one by a tenth.
    pub fn lighter_before(&self, now: Tenths, rows_now: u32) -> Option<Tenths> {
        let known = self.last_known()?;
        let pulled_back = rows_now < known.rows;
        let most = known.tenths.0.saturating_add(known.by_label.0 / 10);
        (known.weighed && !pulled_back && now.0 > most).then_some(known.tenths)
    }

    /// How much was there at the last weighing or correction, with the balls that came since, and
    /// the rows stitched then.
    pub fn last_known(&self) -> Option<Known> {
        let mut known: Option<Known> = None;
        for Entry { kind, rows, .. } in &self.entries {
            let read =
                |tenths, weighed| Some(Known { tenths, rows: *rows, by_label: Tenths(0), weighed });
            known = match kind {
                EntryKind::Weighing(tenths) => read(*tenths, true),
                EntryKind::Correction(tenths) => read(*tenths, false),
                EntryKind::Ball(ball) => Some(with_ball(known, ball, *rows)),
                EntryKind::Tried { .. } => known,
            };
        }
        known
    }

    /// The yarn used between weighings. A chain of readings is one pair, its first less its last,
    /// since neighbours share a reading; a ball with nothing but a label ends it, as the label may
    /// differ from the real weight, and so does a correction.
    pub fn pairs(&self) -> Vec<Pair> {
        let mut pairs = Vec::new();
        let mut chain: Option<Chain> = None;
        let mut nothing_before = true;
        for Entry { kind, rows, .. } in &self.entries {
            match kind {
                EntryKind::Weighing(now) => match &mut chain {
                    Some(chain) => chain.read(*now, *rows),
                    None => chain = Some(Chain::from(*now, *rows)),
                },
                EntryKind::Ball(Ball { weighed: Some(weighed), .. }) => match &mut chain {
                    Some(chain) => chain.gains(*weighed),
                    None if nothing_before => chain = Some(Chain::from(*weighed, *rows)),
                    None => {}
                },
                EntryKind::Ball(_) | EntryKind::Correction(_) => {
                    pairs.extend(chain.take().and_then(|chain| chain.pair()));
                }
                EntryKind::Tried { before, after, rows } => {
                    pairs.extend(pair(before.grams() - after.grams(), u32::from(*rows)));
                }
            }
            nothing_before &= matches!(kind, EntryKind::Tried { .. });
        }
        pairs.extend(chain.and_then(|chain| chain.pair()));
        pairs
    }

    /// Grams on hand after `rows_now` rows, at `grams_per_row` since the last weighing; at least
    /// none. Rows pulled back give their yarn back. `None` before anything was said about this
    /// colour.
    pub fn on_hand(&self, rows_now: u32, grams_per_row: Option<f64>) -> Option<f64> {
        let known = self.last_known()?;
        let since = f64::from(rows_now) - f64::from(known.rows);
        Some((known.tenths.grams() - since * grams_per_row.unwrap_or(0.0)).max(0.0))
    }

    /// The balls that came, oldest first.
    pub fn balls(&self) -> impl DoubleEndedIterator<Item = &Ball> {
        self.entries.iter().filter_map(|entry| match &entry.kind {
            EntryKind::Ball(ball) => Some(ball),
            EntryKind::Weighing(_) | EntryKind::Correction(_) | EntryKind::Tried { .. } => None,
        })
    }

    /// The lots that came, the newest first, each with its number of balls.
    pub fn lots(&self) -> Vec<(&Label, u32)> {
        let mut lots: Vec<(&Label, u32)> = Vec::new();
        for ball in self.balls().rev() {
            let Some(lot) = &ball.lot else { continue };
            match lots.iter_mut().find(|(named, _)| named.is(lot.as_str())) {
                Some((_, balls)) => *balls += u32::from(ball.count),
                None => lots.push((lot, u32::from(ball.count))),
            }
        }
        lots
    }
}

impl Entry {
    fn is_weighing(&self) -> bool {
        matches!(self.kind, EntryKind::Weighing(_))
    }
}

fn with_ball(known: Option<Known>, ball: &Ball, rows: u32) -> Known {
    let nothing = Known { tenths: Tenths(0), rows, by_label: Tenths(0), weighed: false };
    let before = known.unwrap_or(nothing);
    let add = |sum: Tenths, more: Tenths| Tenths(sum.0.saturating_add(more.0));
    let by_label = if ball.weighed.is_some() { Tenths(0) } else { ball.tenths() };
    Known {
        tenths: add(before.tenths, ball.tenths()),
        by_label: add(before.by_label, by_label),
        ..before
    }
}

/// Readings of one colour that follow each other, in tenths of a gram.
struct Chain {
    first: (i64, u32),
    last: (i64, u32),
    /// What came since the first reading and was weighed, up to the last reading and after it.
    gained: i64,
    pending: i64,
}

impl Chain {
    fn from(tenths: Tenths, rows: u32) -> Chain {
        let reading = (i64::from(tenths.0), rows);
        Chain { first: reading, last: reading, gained: 0, pending: 0 }
    }

    fn gains(&mut self, tenths: Tenths) {
        self.pending += i64::from(tenths.0);
    }

    fn read(&mut self, tenths: Tenths, rows: u32) {
        let now = i64::from(tenths.0);
        self.gained += match rows == self.last.1 {
            // No row was worked since: what is lighter now went elsewhere.
            true => now - self.last.0,
            false => self.pending,
        };
        self.pending = 0;
        self.last = (now, rows);
    }

    fn pair(&self) -> Option<Pair> {
        // At most some hundred kilograms.
        let tenths = (self.first.0 + self.gained - self.last.0) as f64;
        pair(tenths / 10.0, self.last.1.checked_sub(self.first.1)?)
    }
}

/// A pair that tells something: rows were worked, and they took yarn.
fn pair(grams: f64, rows: u32) -> Option<Pair> {
    (rows > 0 && grams > 0.0).then_some(Pair { rows, grams })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ledger(entries: &[(EntryKind, u32)]) -> Ledger {
        let at = DateTime::UNIX_EPOCH;
        let entries = entries.iter().cloned().map(|(kind, rows)| Entry { kind, rows, at });
        Ledger { entries: entries.collect() }
    }

    fn ball(tenths: u32) -> EntryKind {
        EntryKind::Ball(Ball::of(Tenths(tenths)))
    }

    fn weighed_ball(tenths: u32) -> EntryKind {
        let ball = Ball { weighed: Some(Tenths(tenths)), ..Ball::of(Tenths(500)) };
        EntryKind::Ball(ball)
    }

    fn weighing(tenths: u32) -> EntryKind {
        EntryKind::Weighing(Tenths(tenths))
    }

    #[test]
    fn weighings_with_rows_between_them_tell_what_a_row_takes() {
        let check = |entries: &[(EntryKind, u32)], expected: &[(f64, u32)]| {
            let pairs = ledger(entries).pairs();
            let pairs: Vec<(f64, u32)> = pairs.iter().map(|it| (it.grams, it.rows)).collect();
            assert_eq!(pairs, expected, "{entries:?}");
        };
        check(&[], &[]);
        // A label is no weighing.
        check(&[(ball(1000), 0), (weighing(900), 8)], &[]);
        check(&[(weighed_ball(1010), 0), (weighing(900), 8)], &[(11.0, 8)]);
        check(&[(weighing(1000), 0), (weighing(900), 8)], &[(10.0, 8)]);
        // A chain is one pair, first less last; rows pulled back are in it.
        check(&[(weighing(1000), 0), (weighing(900), 8), (weighing(850), 12)], &[(15.0, 12)]);
        check(&[(weighing(1000), 0), (weighing(900), 8), (weighing(920), 6)], &[(8.0, 6)]);
        // What went without a row went elsewhere.
        let gave_away = [(weighing(1000), 0), (weighing(900), 8), (weighing(500), 8)];
        check(&gave_away, &[(10.0, 8)]);
        // A ball by its label ends the chain, a weighed one does not.
        let refilled =
            |ball| [(weighing(200), 0), (weighing(100), 8), (ball, 8), (weighing(400), 16)];
        check(&refilled(ball(500)), &[(10.0, 8)]);
        check(&refilled(weighed_ball(500)), &[(30.0, 16)]);
        let corrected =
            [(weighing(200), 0), (weighing(100), 8), (EntryKind::Correction(Tenths(900)), 8)];
        check(&corrected, &[(10.0, 8)]);
        let tried = EntryKind::Tried { before: Tenths(500), after: Tenths(440), rows: 5 };
        check(&[(tried, 0)], &[(6.0, 5)]);
        // Rows that took nothing tell nothing, and neither do fewer rows than before.
        check(&[(weighing(100), 0), (weighing(100), 8)], &[]);
        check(&[(weighing(100), 8), (weighing(90), 2)], &[]);
    }

    #[test]
    fn what_is_on_hand_goes_with_the_rows_and_comes_back_with_them() {
        let check = |entries: &[(EntryKind, u32)], rows_now, per_row, on_hand| {
            assert_eq!(ledger(entries).on_hand(rows_now, per_row), on_hand, "{entries:?}");
        };
        check(&[], 0, None, None);
        check(&[(ball(1000), 0)], 9, None, Some(100.0));
        check(&[(ball(500), 0), (ball(500), 3)], 9, None, Some(100.0));
        let pair = [(weighing(1000), 0), (weighing(900), 8)];
        check(&pair, 8, Some(1.25), Some(90.0));
        check(&pair, 12, Some(1.25), Some(85.0));
        check(&pair, 500, Some(1.25), Some(0.0));
        check(&pair, 6, Some(1.25), Some(92.5));
        let corrected = [(weighing(900), 8), (EntryKind::Correction(Tenths(400)), 8)];
        check(&corrected, 12, Some(1.25), Some(35.0));
        let tried = EntryKind::Tried { before: Tenths(500), after: Tenths(440), rows: 5 };
        check(&[(weighing(900), 8), (tried, 8)], 8, Some(1.2), Some(90.0));
    }

    #[test]
    fn a_colour_grows_by_a_ball_or_by_rows_pulled_back() {
        let check = |entries: &[(EntryKind, u32)], now, rows_now, before: Option<u32>| {
            let lighter = ledger(entries).lighter_before(Tenths(now), rows_now);
            assert_eq!(lighter, before.map(Tenths), "{entries:?} {now}");
        };
        check(&[(weighing(830), 0)], 831, 0, Some(830));
        check(&[(weighing(830), 0)], 830, 0, None);
        check(&[(weighing(830), 4)], 850, 3, None);
        // A label may be a tenth off, and is no weighing.
        check(&[(ball(500), 0)], 800, 0, None);
        check(&[(weighing(830), 0), (ball(500), 0)], 1380, 0, None);
        check(&[(weighing(830), 0), (ball(500), 0)], 1381, 0, Some(1330));
        check(&[(EntryKind::Correction(Tenths(700)), 0)], 900, 0, None);
    }

    #[test]
    fn lots_are_counted_whatever_the_capitals() {
        let lot = |name: &str, count| {
            let lot = Label::parse(name).ok();
            (EntryKind::Ball(Ball { count, lot, ..Ball::of(Tenths(500)) }), 0)
        };
        let ledger = ledger(&[lot("a7", 2), (ball(500), 0), lot("B1", 1), lot("A7", 1)]);
        let lots: Vec<(&str, u32)> =
            ledger.lots().into_iter().map(|(lot, balls)| (lot.as_str(), balls)).collect();
        assert_eq!(lots, [("A7", 3), ("B1", 1)]);
    }
}
