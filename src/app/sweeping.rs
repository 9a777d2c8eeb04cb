//! The traces of blankets that went: the file is written anew without them, which keeps everybody
//! else from writing meanwhile. So it is done after the tap that let a blanket go, when nobody is
//! due, and seldom. `/erase` does not wait for it: `Store::erase` sweeps at once.

use std::sync::{MutexGuard, PoisonError};
use std::time::Duration;

use super::App;
use crate::blanket::Change;
use crate::store::Stored;

/// Between two sweeps.
const EVERY: Duration = Duration::from_mins(5);

/// What is known of traces without looking; what the file says of them outlives the process.
pub struct Sweeps {
    /// There may be some.
    wanted: bool,
    /// No sweep before this, by the monotonic clock.
    not_before: Duration,
}

impl Sweeps {
    /// Nobody knows what the last process left behind.
    pub fn new() -> Sweeps {
        Sweeps { wanted: true, not_before: Duration::ZERO }
    }
}

impl App {
    /// Where a blanket went, because another took its place or it was deleted, its traces are to
    /// go.
    pub(super) fn has_let_go(&self, stored: &Stored, changes: &[Change]) {
        let replaces = changes.iter().any(|it| matches!(it, Change::Began(_)));
        let deletes = changes.iter().any(|it| matches!(it, Change::BlanketDeleted { .. }));
        if stored.maker.book.is_some() && replaces || deletes {
            self.wants_sweep();
        }
    }

    /// Something went, and its traces did not go with it.
    pub(super) fn wants_sweep(&self) {
        self.sweeps().wanted = true;
    }

    /// Removes traces, where there are any and the last time is a while ago.
    pub(super) async fn sweep(&self) {
        let now = self.clock.monotonic();
        {
            let mut sweeps = self.sweeps();
            if !sweeps.wanted || now < sweeps.not_before {
                return;
            }
            sweeps.wanted = false;
        }
        let swept = self.store.finish_erasing().await;
        if matches!(swept, Ok(false)) {
            return;
        }
        let mut sweeps = self.sweeps();
        sweeps.not_before = now + EVERY;
        if let Err(error) = swept {
            sweeps.wanted = true;
            tracing::warn!(%error, "traces of a blanket that went go later");
        }
    }

    fn sweeps(&self) -> MutexGuard<'_, Sweeps> {
        self.sweeps.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
