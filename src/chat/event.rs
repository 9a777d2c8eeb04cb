//! All that can happen to a maker's chat.

use chrono::{DateTime, NaiveDate, Utc};

use super::button::{Button, UnreadableToken};

/// A person on the platform.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct UserId(pub i64);

/// A message in one chat, as the platform numbers it.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct MessageId(pub i64);

#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Event {
    /// The maker typed something in `message`.
    Typed {
        text: String,
        message: MessageId,
        reply_to: Option<RepliedTo>,
    },
    /// The maker changed a message typed before.
    Edited {
        message: MessageId,
        text: String,
    },
    /// A button under `message` was tapped.
    Tapped {
        button: Result<Button, UnreadableToken>,
        message: MessageId,
    },
    /// A picture, a sticker, a voice message: something that is not text.
    NotText,
    /// The maker blocked the bot, or came back.
    Blocked,
    Unblocked,
    /// Something planned is due.
    Due(Due),
}

/// What a typed line replies to on the platform.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum RepliedTo {
    Message(MessageId),
    /// The message is known to be the one about this day.
    Day(NaiveDate),
}

/// What the bot does of itself, and why it wakes.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Due {
    Question(NaiveDate),
    /// The quiet message about open days, sent while this day is on.
    Nudge(NaiveDate),
    /// The weekly recap, sent while this day is on.
    Recap(NaiveDate),
}

/// A wake: when, and why.
pub type Wake = (DateTime<Utc>, Due);
