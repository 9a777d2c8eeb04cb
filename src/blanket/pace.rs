//! How long does a row take this maker?
//!
//! Measured from the times between rows that were crossed off one by one, or a few at a time. The
//! median, so that neither a phone call nor a double tap moves it much.

use chrono::{DateTime, Utc};

use super::book::Book;

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Pace {
    Measured {
        seconds_a_row: u32,
    },
    /// Too few rows were crossed off one by one: [`Pace::ASSUMED_SECONDS`] is counted.
    Assumed,
}

impl Pace {
    /// Five minutes a row (common practice, no source).
    pub const ASSUMED_SECONDS: u32 = 300;

    /// The most minutes of a sitting.
    pub const MINUTES_MAX: u16 = 600;

    pub fn seconds_a_row(self) -> u32 {
        match self {
            Pace::Measured { seconds_a_row } => seconds_a_row,
            Pace::Assumed => Pace::ASSUMED_SECONDS,
        }
    }

    /// Whole rows in so many minutes.
    pub fn rows_in(self, minutes: u16) -> u16 {
        let rows = u32::from(minutes) * 60 / self.seconds_a_row().max(1);
        u16::try_from(rows).unwrap_or(u16::MAX)
    }
}

/// A time a row under or over which it was no knitting or crocheting: a backlog that is crossed
/// off, or a break.
const SECONDS_A_ROW: std::ops::RangeInclusive<i64> = 20..=30 * 60;

/// The most rows crossed off at once that tell of a pace: more are a backlog.
const ROWS_AT_ONCE_MAX: usize = 4;

/// Fewer rows tell nothing; of more, the newest count.
const ROWS_MEASURED_MIN: usize = 5;
const ROWS_MEASURED_MAX: usize = 60;

/// The pace of the newest rows that were crossed off one by one, or a few at a time.
pub fn pace(book: &Book) -> Pace {
    let blocks = book.plan().blocks();
    let mut times: Vec<DateTime<Utc>> =
        blocks.flat_map(|block| book.worked(block.number)).map(|row| row.at).collect();
    times.sort_unstable();
    of(&times)
}

/// The pace of rows crossed off at these times, in order.
fn of(times: &[DateTime<Utc>]) -> Pace {
    let crossings: Vec<&[DateTime<Utc>]> = times.chunk_by(|a, b| a == b).collect();
    let mut measured: Vec<i64> = crossings
        .windows(2)
        .rev()
        .filter_map(|pair| {
            let rows = i64::try_from(pair[1].len()).ok()?;
            let each = (pair[1][0] - pair[0][0]).num_seconds() / rows;
            let counts = pair[1].len() <= ROWS_AT_ONCE_MAX && SECONDS_A_ROW.contains(&each);
            counts.then(|| std::iter::repeat_n(each, pair[1].len()))
        })
        .flatten()
        .take(ROWS_MEASURED_MAX)
        .collect();
    if measured.len() < ROWS_MEASURED_MIN {
        return Pace::Assumed;
    }
    measured.sort_unstable();
    let (below, above) = (measured[(measured.len() - 1) / 2], measured[measured.len() / 2]);
    let median = u32::try_from(i64::midpoint(below, above));
    median.map_or(Pace::Assumed, |seconds_a_row| Pace::Measured { seconds_a_row })
}

#[cfg(test)]
mod tests {
    use super::*;
    use chrono::TimeDelta;

    /// The pace after crossings of (seconds since the one before, rows).
    fn after(crossings: &[(i64, usize)]) -> Pace {
        let (mut at, mut times) = (DateTime::UNIX_EPOCH, Vec::new());
        for (gap, rows) in crossings {
            at += TimeDelta::seconds(*gap);
            times.extend(std::iter::repeat_n(at, *rows));
        }
        of(&times)
    }

    #[test]
    fn breaks_backlogs_and_double_taps_do_not_move_it() {
        let check = |crossings: &[(i64, usize)], seconds: Option<u32>| {
            let measured = seconds.map(|seconds_a_row| Pace::Measured { seconds_a_row });
            assert_eq!(after(crossings), measured.unwrap_or(Pace::Assumed), "{crossings:?}");
        };
        check(&[], None);
        check(&[(0, 33)], None);
        // Five rows have four gaps.
        check(&[(0, 1), (240, 1), (240, 1), (240, 1), (240, 1)], None);
        check(&[(0, 1), (240, 1), (240, 1), (240, 1), (240, 1), (240, 1)], Some(240));
        // A range of three rows tells as much as three rows.
        check(&[(0, 1), (720, 3), (480, 2)], Some(240));
        // A night, a phone call of 25 minutes, a backlog of ten rows, a tap after a second.
        let day = [(0, 1), (240, 1), (250, 1), (1500, 1), (40_000, 1), (1, 1), (90, 10), (260, 1)];
        check(&[&day[..], &[(230, 1), (240, 1)]].concat(), Some(245));
        // Whole sittings crossed off at once tell nothing.
        check(&[(0, 12), (9000, 12), (9000, 12)], None);
        // Three rows in a minute are no work; 31 minutes a row are a break.
        check(&[(0, 1), (57, 3), (57, 3), (57, 3)], None);
        check(&[(0, 1), (1860, 1), (1860, 1), (1860, 1), (1860, 1), (1860, 1)], None);
    }

    #[test]
    fn the_newest_rows_count() {
        let slow = std::iter::repeat_n((600, 1), 100);
        let fast = std::iter::repeat_n((180, 1), 60);
        let all: Vec<(i64, usize)> = slow.chain(fast).collect();
        assert_eq!(after(&all), Pace::Measured { seconds_a_row: 180 });
    }

    #[test]
    fn minutes_are_whole_rows_at_a_pace() {
        let pace = |seconds_a_row| Pace::Measured { seconds_a_row };
        for (pace, minutes, rows) in [
            (Pace::Assumed, 40, 8),
            (Pace::Assumed, 4, 0),
            (pace(240), 40, 10),
            (pace(241), 40, 9),
            (pace(20), 600, 1800),
            (pace(0), 1, 60),
        ] {
            assert_eq!(pace.rows_in(minutes), rows, "{pace:?}, {minutes}");
        }
    }
}
