//! What is sent at once and kept nowhere: acknowledgements of taps, the line a stranger gets, the
//! consent screen, fault sentences, and the farewell after erasing. Never paced, never retried.

use std::sync::{Arc, Mutex, PoisonError};

use tokio::task::JoinSet;

use super::said;
use super::sending::hold_all;
use crate::chat::outcome::{Place, Reply};
use crate::chat::say::Say;
use crate::clock::Clock;
use crate::telegram::error::Class;
use crate::telegram::outgoing::{self, Request};
use crate::telegram::pacing::Pacing;
use crate::telegram::wire::Wire;
use crate::telegram::{ChatId, QueryId};
use crate::wording::en;

/// More than this many under way are not sent: the platform is not answering anyway.
const UNDER_WAY_MAX: usize = 256;

/// Letters and digits that cannot be taken for one another.
const CODE_LETTERS: &[u8] = b"ACDEFGHJKLMNPQRTUVWXY34679";
const CODE_LEN: usize = 4;

pub struct Straight {
    wire: Wire,
    /// The sender's: a pause that is asked for here is kept there.
    pacing: Arc<Mutex<Pacing>>,
    clock: Clock,
    under_way: Arc<Mutex<JoinSet<()>>>,
}

impl Straight {
    pub fn new(wire: Wire, pacing: Arc<Mutex<Pacing>>, clock: Clock) -> Straight {
        Straight { wire, pacing, clock, under_way: Arc::default() }
    }

    pub fn acknowledge(&self, query: &QueryId) {
        self.send(outgoing::answer_callback(query, None));
    }

    /// Answers a tap with a line that is shown for a moment.
    pub fn notice(&self, query: &QueryId, say: &Say) {
        self.send(outgoing::answer_callback(query, Some(&en::say(say).plain())));
    }

    /// A reply that is sent now, or never.
    pub fn say(&self, chat: ChatId, reply: &Reply) {
        for part in said::rendered(reply) {
            self.send(match reply.place {
                Place::Change { tapped: Some(message), .. } => outgoing::edit(chat, message, &part),
                Place::New(_) | Place::Change { .. } | Place::Update(_) => {
                    outgoing::send(chat, &part)
                }
            });
        }
    }

    fn send(&self, request: Request) {
        let mut under_way = self.under_way.lock().unwrap_or_else(PoisonError::into_inner);
        while under_way.try_join_next().is_some() {}
        if under_way.len() >= UNDER_WAY_MAX {
            tracing::warn!(method = request.method, "left out: too much is under way");
            return;
        }
        let (wire, pacing, clock) = (self.wire.clone(), self.pacing.clone(), self.clock.clone());
        under_way.spawn(async move {
            let Err(error) = wire.call(request.method, &request.params).await else { return };
            match error.class() {
                Class::QueryTooOld | Class::NotModified | Class::Unreachable => {}
                Class::RetryAfter(pause) => hold_all(&pacing, &clock, pause),
                Class::Fatal
                | Class::Conflict
                | Class::Webhook
                | Class::Gone
                | Class::Transient
                | Class::Rejected
                | Class::Unmade => {
                    tracing::debug!(method = request.method, %error, "was not sent");
                }
            }
        });
    }

    /// Waits for all that is under way.
    pub async fn drain(&self) {
        let mut under_way = {
            let mut shared = self.under_way.lock().unwrap_or_else(PoisonError::into_inner);
            std::mem::take(&mut *shared)
        };
        while under_way.join_next().await.is_some() {}
    }
}

/// A code a maker can read out to the host, such as K7Q4.
///
/// # Errors
/// Where there is no randomness to be had.
pub fn fault_code() -> anyhow::Result<String> {
    let mut bytes = [0_u8; CODE_LEN];
    getrandom::fill(&mut bytes).map_err(|error| anyhow::anyhow!("no randomness: {error}"))?;
    let letter = |byte: u8| char::from(CODE_LETTERS[usize::from(byte) % CODE_LETTERS.len()]);
    Ok(bytes.into_iter().map(letter).collect())
}
