//! How it travels: the platform's updates in, the bot's requests out, at the pace it allows.
//!
//! `wire` carries one request and sorts what can go wrong (`error`); `poll` asks for updates;
//! `incoming` reads one update into an event; `outgoing` writes words into requests; `pacing` says
//! when the next request may go. Nothing here keeps anything, and nothing here decides anything
//! about a blanket.

pub mod error;
pub mod incoming;
pub mod outgoing;
pub mod pacing;
pub mod poll;
#[cfg(test)]
mod testing;
pub mod wire;

use crate::chat::event::UserId;

/// A chat as the platform numbers it. A private chat has the number of its person.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct ChatId(pub i64);

/// A tap that waits for its acknowledgement.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct QueryId(pub String);

impl From<UserId> for ChatId {
    fn from(user: UserId) -> ChatId {
        ChatId(user.0)
    }
}
