//! What time is it, where the computer's clock may be wrong? The wall clock is held against the
//! monotonic one, and after a jump against the platform's, before anything is asked or sent.
//!
//! A computer without a clock of its own wakes up in the past, a laptop sleeps for a night, a wrong
//! time server sends it into next year: the wall clock alone cannot tell which of these it was.

use std::sync::{MutexGuard, PoisonError};
use std::time::Duration;

use chrono::{DateTime, TimeDelta, Utc};

use super::App;

/// Clocks that differ by no more than this count as agreeing.
const LEEWAY: TimeDelta = TimeDelta::minutes(10);

#[derive(Default)]
pub struct Timekeeper {
    told: Option<Told>,
    /// Nobody knows the time until the platform is heard.
    in_doubt: bool,
    /// The last thing said about it in the log.
    said: Option<Verdict>,
}

/// The clocks at the last answer of the platform.
#[derive(Clone, Copy)]
struct Told {
    /// The time it was: the wall clock's, or the platform's where these two did not agree.
    at: DateTime<Utc>,
    wall: DateTime<Utc>,
    monotonic: Duration,
}

/// One look at both clocks of this computer.
#[derive(Clone, Copy)]
pub struct Reading {
    pub wall: DateTime<Utc>,
    pub monotonic: Duration,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Verdict {
    Agrees,
    /// The wall clock is this far from the platform's, which is gone by meanwhile.
    Differs(TimeDelta),
}

impl Timekeeper {
    /// The time it is: the wall clock's, as long as it goes as the monotonic clock does. Where it
    /// has jumped, what it would show without the jump.
    pub fn read(&mut self, reading: Reading) -> DateTime<Utc> {
        let Some(told) = self.told else {
            self.in_doubt = true;
            return reading.wall;
        };
        let gone_by = reading.monotonic.saturating_sub(told.monotonic);
        let gone_by = TimeDelta::from_std(gone_by).unwrap_or(TimeDelta::MAX);
        let has_jumped = (reading.wall - told.wall - gone_by).abs() > LEEWAY;
        self.in_doubt |= has_jumped;
        match !has_jumped && told.at == told.wall {
            true => reading.wall,
            false => told.at + gone_by,
        }
    }

    /// The platform answered, and perhaps said what time it is. Without that, the wall clock is
    /// believed again.
    pub fn told(&mut self, platform: Option<DateTime<Utc>>, reading: Reading) -> Verdict {
        let Reading { wall, monotonic } = reading;
        let differs = platform.map(|at| wall - at).filter(|by| by.abs() > LEEWAY);
        let at = if differs.is_some() { platform.unwrap_or(wall) } else { wall };
        self.told = Some(Told { at, wall, monotonic });
        self.in_doubt = false;
        differs.map_or(Verdict::Agrees, Verdict::Differs)
    }
}

impl App {
    /// The time it is, as well as can be known.
    pub fn now(&self) -> DateTime<Utc> {
        self.look_at_the_clocks().0
    }

    /// Whether nobody knows the time, so that nothing should be asked or sent.
    pub(super) fn time_is_in_doubt(&self) -> bool {
        self.look_at_the_clocks().1
    }

    /// The time, and whether it is in doubt. Whoever sees a jump first has the platform asked.
    fn look_at_the_clocks(&self) -> (DateTime<Utc>, bool) {
        let reading = self.reading();
        let mut keeper = self.timekeeper();
        let was_in_doubt = keeper.in_doubt;
        let now = keeper.read(reading);
        if keeper.in_doubt && !was_in_doubt && keeper.told.is_some() {
            tracing::warn!("the clock has jumped; nothing is sent until the platform answers");
            self.doubted.notify_one();
        }
        (now, keeper.in_doubt)
    }

    /// The platform answered, and said what time it is there.
    pub(super) fn told_the_time(&self, platform: Option<DateTime<Utc>>) {
        let reading = self.reading();
        let mut keeper = self.timekeeper();
        let was_in_doubt = keeper.in_doubt;
        let verdict = keeper.told(platform, reading);
        let news = match (verdict, keeper.said) {
            (Verdict::Agrees, None | Some(Verdict::Agrees)) => false,
            (Verdict::Differs(_), Some(Verdict::Differs(_))) => false,
            (Verdict::Agrees | Verdict::Differs(_), _) => true,
        };
        keeper.said = Some(verdict);
        drop(keeper);
        match verdict {
            Verdict::Differs(by) if news => tracing::error!(
                minutes = by.num_minutes(),
                "this computer's clock is wrong by so many minutes; the platform's is gone by"
            ),
            Verdict::Agrees if news => tracing::info!("this computer's clock is right again"),
            Verdict::Agrees | Verdict::Differs(_) => {}
        }
        if was_in_doubt {
            self.stirred.notify_one();
            self.woken.notify_one();
        }
    }

    fn reading(&self) -> Reading {
        Reading { wall: self.clock.now(), monotonic: self.clock.monotonic() }
    }

    fn timekeeper(&self) -> MutexGuard<'_, Timekeeper> {
        self.timekeeper.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(minutes: i64) -> DateTime<Utc> {
        DateTime::UNIX_EPOCH + TimeDelta::minutes(minutes)
    }

    fn reading(wall: i64, gone_by: u64) -> Reading {
        Reading { wall: at(wall), monotonic: Duration::from_secs(60 * gone_by) }
    }

    #[test]
    fn before_the_platform_is_heard_nobody_knows_the_time() {
        let mut keeper = Timekeeper::default();
        assert_eq!(keeper.read(reading(500, 0)), at(500));
        assert!(keeper.in_doubt);
        assert_eq!(keeper.told(Some(at(501)), reading(500, 0)), Verdict::Agrees);
        assert_eq!(keeper.read(reading(530, 30)), at(530));
        assert!(!keeper.in_doubt);
    }

    #[test]
    fn a_jump_counts_only_once_the_platform_agrees() {
        for jump in [-1440, -11, 11, 60, 525_600] {
            let mut keeper = Timekeeper::default();
            keeper.told(Some(at(0)), reading(0, 0));
            assert_eq!(keeper.read(reading(20 + jump, 20)), at(20), "as if it had not jumped");
            assert!(keeper.in_doubt);
            // The clock had been wrong, or the computer had slept.
            let verdict = keeper.told(Some(at(25 + jump)), reading(25 + jump, 25));
            assert_eq!(verdict, Verdict::Agrees);
            assert_eq!(keeper.read(reading(30 + jump, 30)), at(30 + jump));
            assert!(!keeper.in_doubt);
        }
    }

    #[test]
    fn a_clock_that_is_wrong_is_not_gone_by_and_is_again_once_it_is_right() {
        for jump in [-1440, 60, 525_600] {
            let mut keeper = Timekeeper::default();
            keeper.told(Some(at(0)), reading(0, 0));
            let verdict = keeper.told(Some(at(1)), reading(1 + jump, 1));
            assert_eq!(verdict, Verdict::Differs(TimeDelta::minutes(jump)));
            assert_eq!(keeper.read(reading(40 + jump, 40)), at(40));
            assert!(!keeper.in_doubt, "the platform said what time it is");
            assert_eq!(keeper.read(reading(41, 41)), at(41));
            assert!(keeper.in_doubt, "the clock was set right, which is a jump like any other");
            assert_eq!(keeper.told(Some(at(42)), reading(42, 42)), Verdict::Agrees);
        }
    }

    #[test]
    fn small_steps_are_followed_and_do_not_add_up_unseen() {
        let mut keeper = Timekeeper::default();
        keeper.told(Some(at(0)), reading(0, 0));
        assert_eq!(keeper.read(reading(14, 5)), at(14));
        assert!(!keeper.in_doubt);
        assert_eq!(keeper.read(reading(24, 6)), at(6), "nine minutes twice");
        assert!(keeper.in_doubt);
    }

    #[test]
    fn a_platform_that_does_not_say_the_time_leaves_it_to_the_wall_clock() {
        let mut keeper = Timekeeper::default();
        assert_eq!(keeper.told(None, reading(7, 0)), Verdict::Agrees);
        assert_eq!(keeper.read(reading(100, 3)), at(3 + 7));
        assert!(keeper.in_doubt);
        keeper.told(None, reading(100, 3));
        assert_eq!(keeper.read(reading(101, 4)), at(101));
        assert!(!keeper.in_doubt);
    }
}
