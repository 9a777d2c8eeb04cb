//! What did a person see in the chat, in order? The maker's own lines stand between the bot's.
//!
//! Never holds what a person cannot see: no callback data, no query ids, no empty acknowledgement.

use std::sync::Arc;

use chrono::{DateTime, Utc};

/// One thing that appeared, or changed, in a chat.
#[derive(Clone, Debug, PartialEq)]
pub struct Seen {
    /// Counts up over all chats of one stand-in, from 1.
    pub number: u64,
    pub at: DateTime<Utc>,
    pub from: Speaker,
    pub kind: SeenKind,
    /// The message it is, or belongs to.
    pub id: i64,
    /// Plain: what is left of the text once the markup became `spans`.
    pub text: String,
    pub spans: Vec<Span>,
    /// The labels, row by row.
    pub buttons: Vec<Vec<String>>,
    pub file: Option<Arc<SeenFile>>,
    /// Whether it came without a sound.
    pub silent: bool,
}

impl Seen {
    /// Every label, reading order.
    pub fn labels(&self) -> Vec<&str> {
        self.buttons.iter().flatten().map(String::as_str).collect()
    }
}

/// Who acted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Speaker {
    Bot,
    Maker,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SeenKind {
    Message,
    /// A message that is there already got new words or buttons.
    Edit,
    /// A message is gone; the text is empty.
    Deleted,
    /// The short notice a tap is answered with.
    Toast,
    Picture,
    Document,
    /// The maker tapped a button; the text is its label.
    Tap,
}

/// A run of formatted text, in UTF-16 units.
#[derive(Clone, Debug, PartialEq)]
pub struct Span {
    /// The wire's name: `bold`, `italic`, `code`, `text_link`, …
    pub kind: String,
    pub offset: usize,
    pub length: usize,
}

/// A picture or a document as it arrived.
#[derive(Debug, PartialEq)]
pub struct SeenFile {
    pub name: String,
    pub bytes: Arc<Vec<u8>>,
    /// In pixels; pictures only.
    pub size: Option<(u32, u32)>,
}
