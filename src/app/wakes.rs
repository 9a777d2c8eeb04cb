//! The step that wakes: does what is due by the clock, for one maker after the other.
//!
//! What is due is derived by the core; here it is only found, kept, and put off where it fails.

use chrono::{DateTime, TimeDelta, Utc};

use super::thought::Thought;
use super::{App, may_pass};
use crate::chat::event::UserId;

/// Makers handled in one tick, so that messages go out between.
const DUE_AT_ONCE: u32 = 64;
/// How long a maker sleeps whose wake failed in a way that does not pass by itself.
const PUT_OFF: TimeDelta = TimeDelta::hours(1);

impl App {
    /// Does what is due now for the makers longest overdue, and says for how many. A wake that
    /// cannot be handled is put off, since it would stay the longest overdue for ever. Nobody is
    /// woken while nobody knows the time. Where nobody is due, the file is swept.
    ///
    /// # Errors
    /// A fault of the database that may pass; what was not committed is due at the next tick.
    pub async fn tick(&self) -> anyhow::Result<usize> {
        if self.time_is_in_doubt() {
            return Ok(0);
        }
        let now = self.now();
        let due = self.store.due(now, DUE_AT_ONCE).await?;
        for &user in &due {
            let Err(fault) = self.wake(user, now).await else { continue };
            if may_pass(&fault) {
                return Err(fault);
            }
            let fault = format!("{fault:#}");
            tracing::error!(fault, "a wake could not be handled, and is put off by an hour");
            self.store.put_off(user, now, now + PUT_OFF).await?;
        }
        match due.is_empty() {
            true => self.sweep().await,
            false => self.stirred.notify_one(),
        }
        Ok(due.len())
    }

    async fn wake(&self, user: UserId, now: DateTime<Utc>) -> anyhow::Result<()> {
        let Some(stored) = self.store.load(user).await? else { return Ok(()) };
        let thought = Thought::of_wake(&stored.maker, now, self.last_outage(), &self.lexicon)?;
        // An overtaken wake is still due, or was done by the one who overtook.
        let _ = self.commit(&stored, None, &thought, None, now).await?;
        Ok(())
    }

    /// When the next maker wakes.
    ///
    /// # Errors
    /// A fault of the database.
    pub async fn next_wake(&self) -> anyhow::Result<Option<DateTime<Utc>>> {
        Ok(self.store.next_wake().await?)
    }
}
