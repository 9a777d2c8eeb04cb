//! What has happened since the bot last asked? getUpdates, and the fight of two pollers.

use std::time::Duration;

use serde_json::{Value, json};

use super::super::reading::params::Params;
use super::super::{Moment, Platform, Refusal};

/// A poll that may wait for its first update.
pub struct Poll {
    number: u64,
    offset: i64,
    limit: usize,
    /// How long to wait, in real time.
    pub timeout: Duration,
}

const MAX_TIMEOUT_SECONDS: i64 = 50;

impl Platform {
    /// Starts a poll; an older one that still waits is over.
    pub fn begin_poll(&mut self, params: &Params) -> Result<Poll, Refusal> {
        params.only(&["offset", "limit", "timeout", "allowed_updates"])?;
        let limit = params.integer("limit")?.unwrap_or(100);
        let timeout = params.integer("timeout")?.unwrap_or(0);
        if !(1..=100).contains(&limit) {
            return Err(Refusal::violation("limit outside 1-100"));
        }
        if !(0..=MAX_TIMEOUT_SECONDS).contains(&timeout) {
            return Err(Refusal::violation("timeout outside 0-50"));
        }
        if let Some(kinds) = params.list("allowed_updates")? {
            self.state.queue.allow(kinds.iter().map(kind).collect::<Result<_, _>>()?);
        }
        self.newest_poll += 1;
        Ok(Poll {
            number: self.newest_poll,
            offset: params.integer("offset")?.unwrap_or(0),
            limit: limit as usize,
            timeout: Duration::from_secs(timeout.unsigned_abs()),
        })
    }

    /// The updates for a poll, perhaps none yet.
    pub fn poll(&mut self, poll: &mut Poll, now: Moment) -> Result<Vec<Value>, Refusal> {
        if poll.number != self.newest_poll {
            return Err(Refusal::conflict());
        }
        let updates = self.state.queue.read(poll.offset, poll.limit, now.wall);
        // Counted from the end, an offset forgets once, not again and again while the poll waits.
        poll.offset = poll.offset.max(0);
        Ok(updates)
    }

    pub(super) fn get_updates(&mut self, params: &Params, now: Moment) -> Result<Value, Refusal> {
        let mut poll = self.begin_poll(params)?;
        Ok(json!(self.poll(&mut poll, now)?))
    }
}

const KINDS: [&str; 24] = [
    "message",
    "edited_message",
    "channel_post",
    "edited_channel_post",
    "business_connection",
    "business_message",
    "edited_business_message",
    "deleted_business_messages",
    "message_reaction",
    "message_reaction_count",
    "inline_query",
    "chosen_inline_result",
    "callback_query",
    "shipping_query",
    "pre_checkout_query",
    "purchased_paid_media",
    "poll",
    "poll_answer",
    "my_chat_member",
    "chat_member",
    "chat_join_request",
    "chat_boost",
    "removed_chat_boost",
    "managed_bot",
];

fn kind(value: &Value) -> Result<String, Refusal> {
    match value.as_str().filter(|kind| KINDS.contains(kind)) {
        Some(kind) => Ok(kind.to_owned()),
        None => Err(Refusal::violation(format!("unknown kind of update {value}"))),
    }
}
