//! The three steps that send: `claim` marks one waiting message, `request` sends it, `settle`
//! records what became of it.

use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use anyhow::Context;
use serde_json::Value;

use super::App;
use super::holds::Holds;
use super::said::ENCLOSED;
use crate::chat::event::MessageId;
use crate::clock::Clock;
use crate::store::{Action, Claimed, OutboxId, Settled};
use crate::telegram::ChatId;
use crate::telegram::error::{Class, WireError};
use crate::telegram::pacing::{Pacing, Ready};

/// The shortest pause, whatever the platform says.
const PAUSE_MIN: Duration = Duration::from_secs(1);
/// How often a message that is good for ever is tried although the platform refuses it as its own
/// trouble: about an hour long. Then it goes, since all that is behind it in its chat would wait.
const REFUSALS_MAX: u32 = 64;

/// How long a chat waits for a file that could not be made, while others are written to.
const UNMADE_FOR: Duration = Duration::from_secs(60);

/// What `claim` found.
pub enum Claim {
    Message(Box<Claimed>),
    /// Messages wait for their turn; the first may go at this reading of the monotonic clock.
    Wait(Duration),
    Nothing,
}

impl App {
    /// Marks the next message that may go now.
    ///
    /// # Errors
    /// A fault of the database.
    pub async fn claim(&self) -> anyhow::Result<Claim> {
        self.settle_unsettled().await?;
        if self.holds_still() {
            return Ok(Claim::Nothing);
        }
        let now = self.clock.monotonic();
        if let Ready::At(at) = self.ready(None, now) {
            // Going through all that waits would find nothing, and keep others from writing.
            let waits = self.store.pending().await? > 0;
            return Ok(if waits { Claim::Wait(at) } else { Claim::Nothing });
        }
        let earliest = Mutex::new(None::<Duration>);
        let must_wait = |chat: crate::store::ChatId| match self.ready(Some(ChatId(chat.0)), now) {
            Ready::Now => false,
            Ready::At(at) => {
                let mut earliest = earliest.lock().unwrap_or_else(PoisonError::into_inner);
                *earliest = Some(earliest.map_or(at, |before| before.min(at)));
                true
            }
        };
        if let Some(claimed) = self.store.claim(self.now(), &must_wait).await? {
            self.pacing().took(ChatId(claimed.chat_id.0), now);
            return Ok(Claim::Message(Box::new(claimed)));
        }
        let earliest = earliest.into_inner().unwrap_or_else(PoisonError::into_inner);
        Ok(earliest.map_or(Claim::Nothing, Claim::Wait))
    }

    /// Whether a message may go to this chat, or to any at all.
    fn ready(&self, chat: Option<ChatId>, now: Duration) -> Ready {
        let (paced, held) = match chat {
            None => (self.pacing().ready_for_any(now), self.holds().all_until()),
            Some(chat) => (self.pacing().ready(chat, now), self.holds().until(chat)),
        };
        match paced {
            Ready::Now if held <= now => Ready::Now,
            Ready::Now => Ready::At(held),
            Ready::At(at) => Ready::At(at.max(held)),
        }
    }

    /// Whether no message goes out before the platform has answered.
    pub fn holds_still(&self) -> bool {
        !self.gate_is_open() || self.time_is_in_doubt()
    }

    /// Sends a claimed message.
    ///
    /// # Errors
    /// A [`WireError`]: [`App::settle`] decides what it means.
    pub async fn request(&self, claimed: &Claimed) -> Result<Option<MessageId>, WireError> {
        let Ok(mut params) = serde_json::from_str::<Value>(&claimed.params) else {
            return Err(unsendable());
        };
        params["chat_id"] = claimed.chat_id.0.into();
        if let Some(name) = params.as_object_mut().and_then(|all| all.remove(ENCLOSED)) {
            return self.send_enclosed(claimed, params, name.as_str().unwrap_or_default()).await;
        }
        let method = match claimed.action {
            Action::Send => "sendMessage",
            Action::Edit { message } => {
                params["message_id"] = message.0.into();
                // A request for silence belongs to new messages alone.
                if let Some(params) = params.as_object_mut() {
                    params.remove("disable_notification");
                }
                "editMessageText"
            }
        };
        let reply = self.wire.call(method, &params).await?;
        self.told_the_time(reply.date);
        Ok(reply.message())
    }

    /// Records what became of a message, and says how long all sending should pause.
    ///
    /// # Errors
    /// A fault of the database; the next [`App::claim`] makes up for it.
    pub async fn settle(
        &self,
        claimed: &Claimed,
        result: Result<Option<MessageId>, WireError>,
    ) -> anyhow::Result<Settled> {
        let settled = match (&result, claimed.action) {
            (Ok(Some(message)), Action::Send) => Settled::Sent { message: *message },
            (Ok(_), Action::Edit { .. }) => Settled::Done,
            (Ok(None), Action::Send) => Settled::Drop,
            (Err(error), _) => self.settled_by(claimed, error),
        };
        if !matches!(settled, Settled::Retry | Settled::Unclear) {
            let now = self.clock.monotonic();
            self.holds().went(ChatId(claimed.chat_id.0), now);
        }
        if let Err(error) = self.store.settle(claimed.id, settled).await {
            if error.may_pass() {
                self.unsettled().push((claimed.id, settled));
            }
            return Err(error).context("cannot keep what became of a message");
        }
        Ok(settled)
    }

    /// Nothing more would go to a chat while its last message counts as under way.
    async fn settle_unsettled(&self) -> anyhow::Result<()> {
        loop {
            let Some((id, settled)) = self.unsettled().last().copied() else { return Ok(()) };
            let kept = self.store.settle(id, settled).await;
            if !matches!(&kept, Err(error) if error.may_pass()) {
                self.unsettled().pop();
            }
            kept.context("cannot keep what became of a message")?;
        }
    }

    fn unsettled(&self) -> MutexGuard<'_, Vec<(OutboxId, Settled)>> {
        self.unsettled.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn settled_by(&self, claimed: &Claimed, error: &WireError) -> Settled {
        match error.class() {
            Class::NotModified => Settled::Done,
            Class::Gone => Settled::SendAnew,
            Class::Unreachable => Settled::Unreachable,
            Class::RetryAfter(_) => {
                self.heed(error);
                Settled::Retry
            }
            Class::Transient => {
                // Only the poller knocks.
                self.unheard();
                self.doubted.notify_one();
                self.tried_later(claimed, error)
            }
            Class::Unmade => {
                let until = self.clock.monotonic() + UNMADE_FOR;
                self.pacing().hold_until(ChatId(claimed.chat_id.0), until);
                Settled::Retry
            }
            Class::Conflict | Class::Webhook | Class::Fatal => self.tried_later(claimed, error),
            Class::Rejected | Class::QueryTooOld => {
                tracing::error!(%error, "the platform refused a message, which is dropped");
                Settled::Drop
            }
        }
    }

    /// The message waits, longer each time, and its chat with it. A refusal is not an arrival, so
    /// a refused message is tried until its day is over, or for about an hour. One that may have
    /// arrived may come twice: of that, the store has the last word. A change may always be made
    /// once more: the second time it changes nothing.
    fn tried_later(&self, claimed: &Claimed, error: &WireError) -> Settled {
        let unclear = error.may_have_arrived() && claimed.action == Action::Send;
        let (chat, now) = (ChatId(claimed.chat_id.0), self.clock.monotonic());
        if unclear {
            let left = claimed.until.map(|until| until - self.now());
            let left = left.map(|left| left.to_std().unwrap_or_default());
            self.holds().lost_sight(chat, claimed.id, now, left);
            return Settled::Unclear;
        }
        let refusals = self.holds().refused(chat, claimed.id, now);
        let was_written = !matches!(error, WireError::NothingWritten { .. });
        if was_written && claimed.until.is_none() && refusals > REFUSALS_MAX {
            tracing::error!(%error, "a message did not go through for an hour, and is dropped");
            return Settled::Drop;
        }
        Settled::Retry
    }

    /// A pause the platform asks for, at whatever request, is kept by the sender. Says how long.
    pub(super) fn heed(&self, error: &WireError) -> Duration {
        let Class::RetryAfter(pause) = error.class() else { return Duration::ZERO };
        hold_all(&self.pacing, &self.clock, pause);
        pause
    }

    pub(super) fn pacing(&self) -> MutexGuard<'_, Pacing> {
        self.pacing.lock().unwrap_or_else(PoisonError::into_inner)
    }

    pub(super) fn holds(&self) -> MutexGuard<'_, Holds> {
        self.holds.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// The platform asked for a pause: nothing is sent to anybody meanwhile.
pub(super) fn hold_all(pacing: &Mutex<Pacing>, clock: &Clock, pause: Duration) {
    let until = clock.monotonic() + pause.max(PAUSE_MIN);
    pacing.lock().unwrap_or_else(PoisonError::into_inner).hold_all_until(until);
    tracing::warn!(seconds = pause.as_secs(), "the platform asked for a pause");
}

pub(super) fn unsendable() -> WireError {
    let description = "a kept message could not be read".to_owned();
    WireError::Api { code: 400, description, retry_after: None }
}
