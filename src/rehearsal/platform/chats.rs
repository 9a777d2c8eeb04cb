//! Who talks with the bot, and what stands in each chat now?
//!
//! A chat holds its newest messages only; what fell out of it "is not found", as after a deletion.

use std::collections::BTreeMap;

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};

use super::reading::entities::Entity;
use super::reading::keyboard::Keyboard;
use super::refusal::Refusal;

/// A person on the platform.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Person {
    pub id: i64,
    pub first_name: String,
    pub language_code: Option<String>,
    /// Whether this person blocked the bot.
    #[serde(default)]
    pub blocked: bool,
}

impl Person {
    pub fn new(id: i64, first_name: &str) -> Person {
        let (first_name, language_code) = (first_name.to_owned(), Some("en".to_owned()));
        Person { id, first_name, language_code, blocked: false }
    }
}

/// A private chat (its id is the person's) or a group (its id is negative).
#[derive(Serialize, Deserialize)]
pub struct Chat {
    pub id: i64,
    next_message_id: i64,
    messages: BTreeMap<i64, Message>,
}

/// A message as it stands now.
#[derive(Clone, Serialize, Deserialize)]
pub struct Message {
    pub id: i64,
    /// None is the bot itself.
    pub author: Option<i64>,
    pub at: DateTime<Utc>,
    pub edited_at: Option<DateTime<Utc>>,
    pub content: Content,
    pub reply_to: Option<i64>,
}

/// What an edit can change.
#[derive(Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Content {
    pub text: String,
    pub entities: Vec<Entity>,
    pub keyboard: Keyboard,
    pub media: Option<Media>,
}

#[derive(Clone, PartialEq, Serialize, Deserialize)]
pub enum Media {
    Photo { file_id: String },
    Document { file_id: String },
    Sticker,
    Voice,
}

const MESSAGES_KEPT: usize = 2_000;

impl Chat {
    pub fn new(id: i64) -> Chat {
        Chat { id, next_message_id: 1, messages: BTreeMap::new() }
    }

    pub fn is_private(&self) -> bool {
        self.id > 0
    }

    pub fn add(
        &mut self,
        author: Option<i64>,
        content: Content,
        reply_to: Option<i64>,
        at: DateTime<Utc>,
    ) -> &Message {
        let id = self.next_message_id;
        self.next_message_id += 1;
        if self.messages.len() >= MESSAGES_KEPT {
            self.messages.pop_first();
        }
        let message = Message { id, author, at, edited_at: None, content, reply_to };
        self.messages.entry(id).or_insert(message)
    }

    pub fn message(&self, id: i64) -> Option<&Message> {
        self.messages.get(&id)
    }

    /// Newest first.
    pub fn newest(&self) -> impl Iterator<Item = &Message> {
        self.messages.values().rev()
    }

    /// The bot's own message `id`, to be edited.
    pub fn own(&mut self, id: i64) -> Result<&mut Message, Refusal> {
        match self.messages.get_mut(&id) {
            None => Err(Refusal::bad_request("message to edit not found")),
            Some(message) if message.author.is_some() => {
                Err(Refusal::bad_request("message can't be edited"))
            }
            Some(message) => Ok(message),
        }
    }

    pub fn message_mut(&mut self, id: i64) -> Option<&mut Message> {
        self.messages.get_mut(&id)
    }

    pub fn remove(&mut self, id: i64) {
        self.messages.remove(&id);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_count_up_per_chat_and_are_not_used_again() {
        let mut chat = Chat::new(7);
        let now = DateTime::UNIX_EPOCH;
        assert_eq!(chat.add(None, Content::default(), None, now).id, 1);
        assert_eq!(chat.add(None, Content::default(), None, now).id, 2);
        chat.remove(2);
        assert_eq!(chat.add(None, Content::default(), None, now).id, 3);
    }

    #[test]
    fn a_chat_forgets_its_oldest_messages() {
        let mut chat = Chat::new(7);
        for _ in 0..MESSAGES_KEPT + 1 {
            chat.add(None, Content::default(), None, DateTime::UNIX_EPOCH);
        }
        assert!(chat.own(1).is_err_and(|why| why.description.ends_with("to edit not found")));
        assert!(chat.own(2).is_ok());
    }

    #[test]
    fn only_the_bots_own_messages_can_be_edited() {
        let mut chat = Chat::new(7);
        chat.add(Some(7), Content::default(), None, DateTime::UNIX_EPOCH);
        assert!(chat.own(1).is_err_and(|why| why.description.ends_with("can't be edited")));
    }
}
