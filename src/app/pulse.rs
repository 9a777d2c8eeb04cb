//! Is the bot alive? Remembers the last poll that brought an answer and the last look at what is
//! due, writes them beside the database for other processes, and says when polling hangs.
//!
//! Whether to wait is decided by the monotonic clock, so that a wall clock that is set neither
//! hides a hang nor makes one up.

use std::path::PathBuf;
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use super::App;
use crate::store::Freshness;
use crate::telegram::wire::{POLL_GRACE, POLL_WAIT_MAX};

/// Two polls in a row that bring nothing, not even the answer that there is nothing.
const HUNG_AFTER: Duration =
    Duration::from_secs(2 * (POLL_WAIT_MAX.as_secs() + POLL_GRACE.as_secs()));
const WRITTEN_EVERY: Duration = Duration::from_secs(15);

pub struct Pulse {
    database: PathBuf,
    state: Mutex<State>,
}

struct State {
    last: Freshness,
    /// Since then a poll is waited for in vain, by the monotonic clock.
    unheard_since: Duration,
    /// When each sign of life was written down last, by the monotonic clock.
    written_at: [Option<Duration>; 2],
}

/// A sign of life.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Beat {
    Polled,
    Ticked,
}

impl Pulse {
    pub fn new(database: PathBuf, now: Duration) -> Pulse {
        let state = State { last: Freshness::default(), unheard_since: now, written_at: [None; 2] };
        Pulse { database, state: Mutex::new(state) }
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// How much longer a poll may take before it counts as hung.
    pub fn patience_left(&self, now: Duration) -> Duration {
        (self.state().unheard_since + HUNG_AFTER).saturating_sub(now)
    }

    /// Polling starts anew: it gets the whole time again. Says how long nothing was heard.
    pub fn start_anew(&self, now: Duration) -> Duration {
        let since = std::mem::replace(&mut self.state().unheard_since, now);
        now.saturating_sub(since)
    }
}

impl App {
    /// What is known of the running bot.
    pub fn freshness(&self) -> Freshness {
        self.pulse.state().last
    }

    /// Remembers a sign of life, and writes it down now and then. A disk that does not take it
    /// leaves an old record, which says as much.
    pub(super) async fn beats(&self, beat: Beat) {
        let (wall, now) = (self.clock.now(), self.clock.monotonic());
        let record = {
            let mut state = self.pulse.state();
            let index = match beat {
                Beat::Polled => {
                    state.unheard_since = now;
                    state.last.polled_at = Some(wall);
                    0
                }
                Beat::Ticked => {
                    state.last.ticked_at = Some(wall);
                    1
                }
            };
            if state.written_at[index].is_some_and(|at| now < at + WRITTEN_EVERY) {
                return;
            }
            state.written_at[index] = Some(now);
            state.last
        };
        let database = self.pulse.database.clone();
        let written = tokio::task::spawn_blocking(move || record.write(&database)).await;
        if !matches!(written, Ok(Ok(()))) {
            tracing::debug!("the sign of life beside the database could not be written");
        }
    }

    /// Nobody is to take the record of a bot that has ended for that of one that runs.
    pub(super) fn has_ended(&self) {
        let _ = Freshness::forget(&self.pulse.database);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn polling_hangs_after_two_polls_that_bring_nothing_and_then_gets_as_long_again() {
        let second = Duration::from_secs(1);
        let pulse = Pulse::new(PathBuf::new(), second);
        assert_eq!(pulse.patience_left(second), second * 120);
        assert_eq!(pulse.patience_left(second * 120), second);
        assert_eq!(pulse.patience_left(second * 500), Duration::ZERO);
        assert_eq!(pulse.start_anew(second * 500), second * 499);
        assert_eq!(pulse.patience_left(second * 501), second * 119);
    }
}
