//! What is new? Asks the platform for updates, and tells it which of them are done with.
//!
//! A batch counts as done only when the caller says so, after everything in it was committed.
//! Nothing here waits or retries; the [`Backoff`] only says for how long to.

use std::time::Duration;

use chrono::{DateTime, Utc};
use serde_json::value::RawValue;
use serde_json::{Value, json};

use super::error::WireError;
use super::incoming::{UpdateId, id_of};
use super::wire::Wire;
use crate::chat::event::UserId;

const FIRST_WAIT: Duration = Duration::from_secs(1);
pub const WAIT_MAX: Duration = Duration::from_secs(60);
/// What one poll brings at most, where it is not asked for less.
pub const UPDATES_MAX: usize = 100;
/// What the bot acts on. The platform remembers the list.
const UPDATES_WANTED: [&str; 4] = ["message", "edited_message", "callback_query", "my_chat_member"];

/// Where polling stands.
#[derive(Default, Debug)]
pub struct Poller {
    /// Everything before this is committed, and the platform was not yet told so.
    done_before: Option<i64>,
    /// The platform knows which kinds of updates are wanted.
    announced: bool,
}

/// The updates of one poll, as they came.
pub struct Batch {
    pub updates: Vec<Box<RawValue>>,
    /// The platform's clock.
    pub date: Option<DateTime<Utc>>,
    last: Option<UpdateId>,
}

/// The bot the token belongs to.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Me {
    pub id: UserId,
    /// Without the `@`.
    pub username: String,
}

/// How long to wait after a failure: twice as long each time, from 1 s to 60 s.
#[derive(Default, Debug)]
pub struct Backoff {
    failures: u32,
}

impl Poller {
    pub fn new() -> Poller {
        Poller::default()
    }

    /// Waits for updates, as long as the wire lets a poll wait. Until they are confirmed, the
    /// next fetch brings the same ones.
    ///
    /// # Errors
    /// A [`WireError`]; nothing is lost by it.
    pub async fn fetch(&mut self, wire: &Wire) -> Result<Batch, WireError> {
        let mut params = json!({ "timeout": wire.poll_wait().as_secs() });
        if let Some(offset) = self.done_before {
            params["offset"] = json!(offset);
        }
        if !self.announced {
            params["allowed_updates"] = json!(UPDATES_WANTED);
        }
        let reply = wire.poll("getUpdates", &params).await?;
        let updates: Vec<Box<RawValue>> = reply.read()?;
        let last = updates.iter().filter_map(|raw| id_of(raw)).max();
        if last.is_none() && !updates.is_empty() {
            let why = "updates without numbers came back".to_owned();
            return Err(WireError::Ambiguous { why });
        }
        // The platform has heard what is done with. From here on it is asked for whatever it
        // still holds: after a quiet week the numbers start anew, perhaps lower than before.
        self.done_before = None;
        self.announced = true;
        Ok(Batch { updates, date: reply.date, last })
    }

    /// Tells the platform what is done with, where it does not know yet, so that it is not sent
    /// once more after a stop. Does not wait for updates, and takes none.
    ///
    /// # Errors
    /// A [`WireError`]; then the last batch comes once more.
    pub async fn farewell(&mut self, wire: &Wire) -> Result<(), WireError> {
        let Some(offset) = self.done_before else { return Ok(()) };
        let params = json!({ "timeout": 0, "limit": 1, "offset": offset });
        wire.call("getUpdates", &params).await?;
        self.done_before = None;
        Ok(())
    }

    /// Everything in the batch is committed; the next fetch tells the platform.
    pub fn confirm(&mut self, batch: &Batch) {
        if let Some(UpdateId(last)) = batch.last {
            self.done_before = Some(last + 1);
        }
    }
}

impl Backoff {
    pub fn new() -> Backoff {
        Backoff::default()
    }

    /// The wait after one more failure. `jitter`, from 0 to 1, lengthens it by up to a quarter, so
    /// that many bots do not come back at the same instant; it never shortens it.
    pub fn failed(&mut self, jitter: f64) -> Duration {
        let wait = doubled(self.failures, WAIT_MAX);
        self.failures = self.failures.saturating_add(1);
        let jitter = if jitter.is_finite() { jitter.clamp(0.0, 1.0) } else { 0.0 };
        wait.mul_f64(1.0 + jitter / 4.0)
    }

    pub fn succeeded(&mut self) {
        self.failures = 0;
    }
}

/// The wait after so many failures before: a second, then twice as long each time.
pub fn doubled(failures: u32, longest: Duration) -> Duration {
    FIRST_WAIT.saturating_mul(2_u32.saturating_pow(failures)).min(longest)
}

/// Asks whose token this is, and what time it is there.
///
/// # Errors
/// A [`WireError`], of class `Fatal` where the token is not good.
pub async fn me(wire: &Wire) -> Result<(Me, Option<DateTime<Utc>>), WireError> {
    let reply = wire.call("getMe", &json!({})).await?;
    let bot: Value = reply.read()?;
    let (Some(id), Some(username)) = (bot["id"].as_i64(), bot["username"].as_str()) else {
        return Err(WireError::Ambiguous { why: "a bot without a name came back".to_owned() });
    };
    Ok((Me { id: UserId(id), username: username.to_owned() }, reply.date))
}

/// Deletes a webhook that keeps polling from working. The updates that wait are kept.
///
/// # Errors
/// A [`WireError`].
pub async fn delete_webhook(wire: &Wire) -> Result<(), WireError> {
    wire.call("deleteWebhook", &json!({ "drop_pending_updates": false })).await.map(|_| ())
}

#[cfg(test)]
#[path = "poll_tests.rs"]
mod tests;
