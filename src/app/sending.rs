//! The three steps that send: `claim` marks one waiting message, `request` sends it, `settle`
//! records what became of it.

use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use anyhow::Context;
use serde_json::Value;

use super::App;
use super::said::ENCLOSED;
use crate::chat::event::MessageId;
use crate::store::{Action, Claimed, OutboxId, Settled};
use crate::telegram::ChatId;
use crate::telegram::error::{Class, WireError};
use crate::telegram::pacing::Ready;

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
        let any = self.pacing.lock().unwrap_or_else(PoisonError::into_inner).ready_for_any(now);
        if let Ready::At(at) = any {
            // Going through all that waits would find nothing, and keep others from writing.
            let waits = self.store.pending().await? > 0;
            return Ok(if waits { Claim::Wait(at) } else { Claim::Nothing });
        }
        let earliest = Mutex::new(None::<Duration>);
        let must_wait = |chat: crate::store::ChatId| {
            let pacing = self.pacing.lock().unwrap_or_else(PoisonError::into_inner);
            match pacing.ready(ChatId(chat.0), now) {
                Ready::Now => false,
                Ready::At(at) => {
                    let mut earliest = earliest.lock().unwrap_or_else(PoisonError::into_inner);
                    *earliest = Some(earliest.map_or(at, |before| before.min(at)));
                    true
                }
            }
        };
        if let Some(claimed) = self.store.claim(self.now(), &must_wait).await? {
            let mut pacing = self.pacing.lock().unwrap_or_else(PoisonError::into_inner);
            pacing.took(ChatId(claimed.chat_id.0), now);
            return Ok(Claim::Message(Box::new(claimed)));
        }
        let earliest = earliest.into_inner().unwrap_or_else(PoisonError::into_inner);
        Ok(earliest.map_or(Claim::Nothing, Claim::Wait))
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
            Class::RetryAfter(pause) => {
                self.hold_sending(pause);
                Settled::Retry
            }
            Class::Transient => {
                // Only the poller knocks; and a second doubt would drop the message.
                self.unheard();
                self.doubted.notify_one();
                match error.may_have_arrived() {
                    true => Settled::Unclear,
                    false => Settled::Retry,
                }
            }
            Class::Unmade => {
                let until = self.clock.monotonic() + UNMADE_FOR;
                let mut pacing = self.pacing.lock().unwrap_or_else(PoisonError::into_inner);
                pacing.hold_until(ChatId(claimed.chat_id.0), until);
                Settled::Retry
            }
            Class::Conflict | Class::Webhook | Class::Fatal => Settled::Retry,
            Class::Rejected | Class::QueryTooOld => {
                tracing::error!(%error, "the platform refused a message, which is dropped");
                Settled::Drop
            }
        }
    }

    /// The platform asked for a pause: nothing is sent to anybody meanwhile.
    pub(super) fn hold_sending(&self, pause: Duration) {
        let until = self.clock.monotonic() + pause;
        self.pacing.lock().unwrap_or_else(PoisonError::into_inner).hold_all_until(until);
        tracing::warn!(seconds = pause.as_secs(), "the platform asked for a pause");
    }
}

pub(super) fn unsendable() -> WireError {
    let description = "a kept message could not be read".to_owned();
    WireError::Api { code: 400, description, retry_after: None }
}
