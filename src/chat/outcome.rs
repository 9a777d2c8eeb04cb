//! What follows from an event: changes of the book, the new talk, and what to say where.

use std::fmt;

use chrono::{DateTime, NaiveDate, NaiveDateTime, Utc};

use super::button::Button;
use super::caption::Caption;
use super::enclosed::Enclosed;
use super::event::MessageId;
use super::say::Say;
use super::talk::Talk;
use crate::blanket::Change;

#[derive(Clone, PartialEq, Debug)]
pub struct Outcome {
    pub changes: Vec<Change>,
    pub talk: Talk,
    pub replies: Vec<Reply>,
    /// Everything kept about this maker is deleted, after the replies were sent straight.
    pub erases: bool,
    /// An invitation is made, and its link is sent straight.
    pub invites: bool,
}

/// One message, or one change of a message that is there.
#[derive(Clone, PartialEq, Debug)]
pub struct Reply {
    pub place: Place,
    pub say: Say,
    pub keys: Vec<Vec<Key>>,
    /// The file it brings, if any; its words are the caption then.
    pub enclosed: Option<Enclosed>,
    /// Taps in this time, by the maker's clock, did not arrive.
    pub offline: Option<Offline>,
    /// It makes no sound.
    pub silent: bool,
    /// A message nobody asked for: it waits behind the replies to what makers did.
    pub unasked: bool,
    /// From this instant on the message would be wrong, and is dropped if it is still waiting.
    pub until: Option<DateTime<Utc>>,
}

/// From when to when the bot was offline, in the maker's local time.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Offline {
    pub from: NaiveDateTime,
    pub to: NaiveDateTime,
}

/// A button and what is written on it.
#[derive(Clone, PartialEq, Debug)]
pub struct Key {
    pub caption: Caption,
    pub button: Button,
}

/// Where a reply goes.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Place {
    /// A new message, remembered by its slot if it has one.
    New(Option<Slot>),
    /// The message that was tapped, and the one on record for the slot where that is another; a
    /// new message in the slot where neither can be changed.
    Change { slot: Option<Slot>, tapped: Option<MessageId> },
    /// The message on record for the slot; nothing where there is none.
    Update(Slot),
}

/// A message of the bot that later events change.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Slot {
    Question(NaiveDate),
    Rows,
    SetUp,
    Settings,
    Yarn,
    Recap(NaiveDate),
    /// One row at a time.
    RowByRow,
    Place,
    Block,
}

impl Slot {
    /// The day a kept slot is about, where it is a question's.
    pub fn day_of(kept: &str) -> Option<NaiveDate> {
        kept.strip_prefix("question ")?.parse().ok()
    }
}

impl fmt::Display for Slot {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Slot::Question(day) => write!(f, "question {day}"),
            Slot::Rows => f.write_str("rows"),
            Slot::SetUp => f.write_str("set-up"),
            Slot::Settings => f.write_str("settings"),
            Slot::Yarn => f.write_str("yarn"),
            Slot::Recap(on) => write!(f, "recap {on}"),
            Slot::RowByRow => f.write_str("row by row"),
            Slot::Place => f.write_str("place"),
            Slot::Block => f.write_str("block"),
        }
    }
}

impl Outcome {
    /// Nothing happens.
    pub fn quiet(talk: &Talk) -> Outcome {
        Outcome {
            changes: Vec::new(),
            talk: talk.clone(),
            replies: Vec::new(),
            erases: false,
            invites: false,
        }
    }

    #[must_use]
    pub fn say(mut self, reply: Reply) -> Outcome {
        self.replies.push(reply);
        self
    }

    #[must_use]
    pub fn change(mut self, change: Change) -> Outcome {
        self.changes.push(change);
        self
    }
}

impl Reply {
    /// A new message without buttons.
    pub fn new(say: Say) -> Reply {
        Reply {
            place: Place::New(None),
            say,
            keys: Vec::new(),
            enclosed: None,
            offline: None,
            silent: false,
            unasked: false,
            until: None,
        }
    }

    #[must_use]
    pub fn at(mut self, place: Place) -> Reply {
        self.place = place;
        self
    }

    /// With a file, as a new message: a file cannot take the place of words.
    #[must_use]
    pub fn with(mut self, enclosed: Enclosed) -> Reply {
        self.enclosed = Some(enclosed);
        self
    }

    /// One more line of buttons.
    #[must_use]
    pub fn keys(mut self, line: impl IntoIterator<Item = Key>) -> Reply {
        let line: Vec<Key> = line.into_iter().collect();
        if !line.is_empty() {
            self.keys.push(line);
        }
        self
    }

    /// One button on a line of its own.
    #[must_use]
    pub fn key(self, caption: Caption, button: Button) -> Reply {
        self.keys([Key { caption, button }])
    }
}
