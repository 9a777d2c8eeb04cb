//! What time is it, and how long until then? The only reader of the clock.
//!
//! Everything else takes `now` as a parameter or asks a [`Clock`]. A rehearsal hands out a clock
//! that is turned by hand; nothing else can tell the difference.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

use chrono::{DateTime, TimeDelta, Utc};
use tokio::sync::watch;

/// The wall clock and the monotonic clock, real or turned by hand. Cheap to clone.
#[derive(Clone)]
pub struct Clock(Kind);

#[derive(Clone)]
enum Kind {
    Real { origin: Instant },
    Turned(Arc<Turned>),
}

struct Turned {
    hands: Mutex<Hands>,
    moved: watch::Sender<u64>,
    /// Who waits, numbered, and until when on the monotonic clock.
    sleepers: watch::Sender<BTreeMap<u64, Duration>>,
}

/// Stands in the list of those who wait, until it is dropped.
struct Sleeper<'a> {
    turned: &'a Turned,
    number: u64,
}

#[derive(Clone, Copy)]
struct Hands {
    wall: DateTime<Utc>,
    monotonic: Duration,
}

impl Clock {
    /// The machine's own clock.
    #[allow(clippy::disallowed_methods, reason = "the one place that reads the clock")]
    pub fn real() -> Clock {
        Clock(Kind::Real { origin: Instant::now() })
    }

    /// A clock that stands at `start` until it is turned.
    pub fn turned(start: DateTime<Utc>) -> Clock {
        let hands = Mutex::new(Hands { wall: start, monotonic: Duration::ZERO });
        let (moved, sleepers) = (watch::Sender::new(0), watch::Sender::default());
        Clock(Kind::Turned(Arc::new(Turned { hands, moved, sleepers })))
    }

    /// The instant on the wall clock.
    #[allow(clippy::disallowed_methods, reason = "the one place that reads the clock")]
    pub fn now(&self) -> DateTime<Utc> {
        match &self.0 {
            Kind::Real { .. } => Utc::now(),
            Kind::Turned(turned) => turned.read().wall,
        }
    }

    /// Time since this clock was made; never goes back, whatever happens to the wall clock.
    pub fn monotonic(&self) -> Duration {
        match &self.0 {
            Kind::Real { origin } => origin.elapsed(),
            Kind::Turned(turned) => turned.read().monotonic,
        }
    }

    /// Waits until the monotonic clock has moved on by `wait`.
    pub async fn sleep(&self, wait: Duration) {
        match &self.0 {
            Kind::Real { .. } => tokio::time::sleep(wait).await,
            Kind::Turned(turned) => turned.sleep_until(turned.read().monotonic + wait).await,
        }
    }

    /// Turns the wall and the monotonic clock forward together, to `at` on the wall clock. An
    /// instant that is not later than now changes nothing, and so does turning a real clock.
    pub fn turn_to(&self, at: DateTime<Utc>) {
        let Kind::Turned(turned) = &self.0 else { return };
        turned.change(|hands| {
            if let Ok(forward) = (at - hands.wall).to_std() {
                hands.wall = at;
                hands.monotonic += forward;
            }
        });
    }

    /// For whoever turns the clock: comes back once so many wait for it, with the instant at which
    /// the first of them wakes. Nobody can tell of a real clock, where it never comes back.
    pub async fn asleep(&self, count: usize) -> DateTime<Utc> {
        let Kind::Turned(turned) = &self.0 else { return std::future::pending().await };
        let mut sleepers = turned.sleepers.subscribe();
        loop {
            let hands = turned.read();
            let mut asleep: Vec<Duration> =
                sleepers.borrow_and_update().values().copied().collect();
            asleep.retain(|until| *until > hands.monotonic);
            if let Some(first) = asleep.iter().min().filter(|_| asleep.len() >= count) {
                return hands.wall + (*first - hands.monotonic);
            }
            // The sender lives in the clock, so a change always comes or the wait is for ever.
            let _ = sleepers.changed().await;
        }
    }

    /// Moves the wall clock alone, as a wrong time server or a person would.
    pub fn jump_wall(&self, by: TimeDelta) {
        let Kind::Turned(turned) = &self.0 else { return };
        turned.change(|hands| hands.wall += by);
    }
}

impl Turned {
    fn read(&self) -> Hands {
        *self.hands.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn change(&self, how: impl FnOnce(&mut Hands)) {
        how(&mut self.hands.lock().unwrap_or_else(PoisonError::into_inner));
        self.moved.send_modify(|count| *count += 1);
    }

    async fn sleep_until(&self, monotonic: Duration) {
        let _sleeper = self.lies_down(monotonic);
        let mut moved = self.moved.subscribe();
        while self.read().monotonic < monotonic {
            if moved.changed().await.is_err() {
                return;
            }
        }
    }

    fn lies_down(&self, until: Duration) -> Sleeper<'_> {
        let mut number = 0;
        self.sleepers.send_modify(|sleepers| {
            number = sleepers.last_key_value().map_or(0, |(last, _)| last + 1);
            sleepers.insert(number, until);
        });
        Sleeper { turned: self, number }
    }
}

impl Drop for Sleeper<'_> {
    fn drop(&mut self) {
        self.turned.sleepers.send_modify(|sleepers| {
            sleepers.remove(&self.number);
        });
    }
}
