//! All that can happen to a maker's chat.

use chrono::{DateTime, NaiveDate, Utc};

use super::button::{Button, UnreadableToken};
use crate::blanket::Change;

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
    /// A document came. Nobody knows yet what is in it.
    Document {
        file_id: String,
        /// As the platform says.
        bytes: Option<u64>,
    },
    /// A document that came was read; or the one offered before, since `tapped` asks for it.
    BookRead {
        file: BookFile,
        tapped: Option<MessageId>,
    },
    /// A picture, a sticker, a voice message: something that is not text.
    NotText,
    /// The maker blocked the bot, or came back.
    Blocked,
    Unblocked,
    /// Something planned is due.
    Due(Due),
}

/// A file somebody sent: the platform's id of it, and the changes that make the book in it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct BookFile {
    pub file_id: String,
    pub read: Result<Vec<Change>, FileFault>,
}

/// Why a file is no book that can be brought back.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum FileFault {
    TooLarge,
    /// It is none of ours, or was changed so that it cannot be read.
    Unreadable,
    /// Written by a newer version.
    TooNew,
    /// It can be read, and names something that is not there or cannot be.
    Impossible,
    /// The platform did not hand it over.
    NotFetched,
    /// It was offered, and another one since.
    OfferedBefore,
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
