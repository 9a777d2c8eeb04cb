//! What can a person do? Write, reply, edit, send a picture, tap, block the bot and come back.
//!
//! Each act changes the chat at once and queues the update the bot will get.

use std::sync::Arc;

use serde_json::{Value, json};

use super::chats::{Chat, Content, Media, Message, Person};
use super::files::Filed;
use super::reading::entities::units;
use super::state::Query;
use super::wire::wire_person;
use super::{Moment, Platform};
use crate::rehearsal::seen::{Seen, SeenKind, Speaker};

/// Something a person can send that is no text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Other {
    Sticker,
    Voice,
    Document,
}

/// A button that could not be tapped.
#[derive(Debug, PartialEq, thiserror::Error)]
pub enum TapError {
    #[error("no button [{label}] here; {}", listed(.there))]
    Absent { label: String, there: Vec<String> },
    #[error("the button [{label}] opens a link or copies a text; the bot hears nothing of it")]
    Deaf { label: String },
}

const MAX_TEXT_UNITS: usize = 4096;
/// A text file of four bytes, and a picture that is only as much PNG as its header.
const NOTE: &[u8] = b"knit";
const SNAPSHOT: &[u8] = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR\0\0\x02\x80\0\0\x01\xe0";

impl Platform {
    /// Makes a person known, or changes how they are known. They have not written to the bot yet.
    pub fn introduce(&mut self, person: Person) {
        self.state.people.insert(person.id, person);
    }

    /// A text, in as many messages as a client would make of it; the id of the last.
    pub fn write(&mut self, user: i64, text: &str, reply_to: Option<i64>, now: Moment) -> i64 {
        let mut id = 0;
        for part in parts(text) {
            let content = Content { text: part.to_owned(), ..Content::default() };
            id = self.send_as(user, user, content, reply_to, now);
        }
        id
    }

    pub fn introduce_with_chat(&mut self, person: Person) {
        self.state.chats.entry(person.id).or_insert_with(|| Chat::new(person.id));
        self.introduce(person);
    }

    /// Opens a link with a code in it: the chat shows `/start` without the code.
    pub fn open_link(&mut self, user: i64, code: &str, now: Moment) -> i64 {
        self.set_blocked(user, false, now);
        self.person(user);
        let content = Content { text: "/start".to_owned(), ..Content::default() };
        let id = self.put(user, Some(user), content, None, false, now);
        if let Ok(mut wire) = self.wire_of(user, id) {
            wire["text"] = json!(format!("/start {code}"));
            self.push("message", wire, now);
        }
        id
    }

    /// Changes a message this person wrote; false when there is none.
    pub fn rewrite(&mut self, user: i64, id: i64, text: &str, now: Moment) -> bool {
        let message = self.state.chats.get_mut(&user).and_then(|chat| chat.message_mut(id));
        let Some(message) = message.filter(|message| message.author == Some(user)) else {
            return false;
        };
        message.content.text = text.to_owned();
        message.edited_at = Some(now.wall);
        let content = message.content.clone();
        let seen = self.seen_content(SeenKind::Edit, Speaker::Maker, id, &content, now);
        self.show(user, seen);
        if let Ok(wire) = self.wire_of(user, id) {
            self.push("edited_message", wire, now);
        }
        true
    }

    pub fn send_picture(&mut self, user: i64, caption: &str, now: Moment) -> i64 {
        let (name, bytes) = ("photo.png".to_owned(), Arc::new(SNAPSHOT.to_vec()));
        let file_id = self.state.files.keep(Filed { name, bytes, size: Some((640, 480)) });
        let media = Some(Media::Photo { file_id });
        let content = Content { text: caption.to_owned(), media, ..Content::default() };
        self.send_as(user, user, content, None, now)
    }

    pub fn send_other(&mut self, user: i64, other: Other, now: Moment) -> i64 {
        let media = match other {
            Other::Sticker => Media::Sticker,
            Other::Voice => Media::Voice,
            Other::Document => {
                return self.send_file(user, "note.txt", NOTE.to_vec(), now);
            }
        };
        self.send_as(user, user, Content { media: Some(media), ..Content::default() }, None, now)
    }

    /// Sends a document.
    pub fn send_file(&mut self, user: i64, name: &str, bytes: Vec<u8>, now: Moment) -> i64 {
        let filed = Filed { name: name.to_owned(), bytes: Arc::new(bytes), size: None };
        let media = Some(Media::Document { file_id: self.state.files.keep(filed) });
        self.send_as(user, user, Content { media, ..Content::default() }, None, now)
    }

    /// The bytes behind a path that `getFile` gave.
    pub fn file_at(&self, path: &str) -> Option<Arc<Vec<u8>>> {
        self.state.files.at_path(path)
    }

    /// A text in a group the bot was added to. With privacy mode on, as it is by default, the bot
    /// gets it only when it is a command or names the bot.
    pub fn write_in_group(&mut self, user: i64, group: i64, text: &str, now: Moment) -> i64 {
        let content = Content { text: text.to_owned(), ..Content::default() };
        self.send_as(user, group, content, None, now)
    }

    /// Taps the button `label` on the newest message that has it; the id of the query.
    pub fn tap(&mut self, user: i64, label: &str, now: Moment) -> Result<String, TapError> {
        let messages = self.state.chats.get(&user).into_iter().flat_map(Chat::newest);
        let (id, data) = button_among(messages, label)?;
        Ok(self.ask(user, id, &data, label, now))
    }

    /// Taps the button `label` on one message.
    pub fn tap_on(
        &mut self,
        user: i64,
        id: i64,
        label: &str,
        now: Moment,
    ) -> Result<String, TapError> {
        let message = self.state.chats.get(&user).and_then(|chat| chat.message(id));
        let (id, data) = button_among(message.into_iter(), label)?;
        Ok(self.ask(user, id, &data, label, now))
    }

    /// Sends callback data no button carries, as a forging client would.
    pub fn tap_data(&mut self, user: i64, id: i64, data: &str, now: Moment) -> String {
        self.ask(user, id, data, data, now)
    }

    /// Blocks the bot, or lets it speak again; the bot hears of a change.
    pub fn set_blocked(&mut self, user: i64, blocked: bool, now: Moment) {
        let person = self.person(user);
        if person.blocked == blocked {
            return;
        }
        person.blocked = blocked;
        let from = wire_person(person);
        self.state.chats.entry(user).or_insert_with(|| Chat::new(user));
        let chat = self.state.chats.get(&user).map(|chat| self.wire_chat(chat));
        let member = json!({ "user": self.wire_bot(), "status": "member" });
        let kicked = json!({ "user": self.wire_bot(), "status": "kicked", "until_date": 0 });
        let (old, new) = if blocked { (member, kicked) } else { (kicked, member) };
        let change = json!({
            "chat": chat, "from": from, "date": now.wall.timestamp(),
            "old_chat_member": old, "new_chat_member": new,
        });
        self.push("my_chat_member", change, now);
    }

    /// Queues any update; with an `update_id` of its own it is handed over once even if that id
    /// was confirmed before.
    pub fn push_raw(&mut self, update: Value, now: Moment) -> i64 {
        self.state.queue.push_raw(update, now.wall)
    }

    fn send_as(
        &mut self,
        user: i64,
        chat: i64,
        content: Content,
        reply_to: Option<i64>,
        now: Moment,
    ) -> i64 {
        if chat == user {
            // A client shows a blocked bot's chat without a field to type in.
            self.set_blocked(user, false, now);
        }
        self.person(user);
        let heard = chat == user
            || content.text.starts_with('/')
            || content.text.contains(&format!("@{}", self.bot_username));
        let id = self.put(chat, Some(user), content, reply_to, false, now);
        if let (true, Ok(wire)) = (heard, self.wire_of(chat, id)) {
            self.push("message", wire, now);
        }
        id
    }

    fn ask(&mut self, user: i64, message: i64, data: &str, label: &str, now: Moment) -> String {
        self.forget_old_queries(now);
        let id = self.state.dice.roll().to_string();
        let from = wire_person(self.person(user));
        self.state.chats.entry(user).or_insert_with(|| Chat::new(user));
        let shown = match self.wire_of(user, message) {
            Ok(shown) => Some(shown),
            Err(_) => self.state.chats.get(&user).map(|chat| self.wire_inaccessible(chat, message)),
        };
        let instance = format!("-{user}");
        self.state.queries.insert(id.clone(), Query { at: now.wall, chat: user, message });
        let label = Content { text: label.to_owned(), ..Content::default() };
        let seen = self.seen_content(SeenKind::Tap, Speaker::Maker, message, &label, now);
        self.show(user, Seen { silent: true, ..seen });
        let query = json!({
            "id": id, "from": from, "message": shown, "chat_instance": instance, "data": data,
        });
        self.push("callback_query", query, now);
        id
    }

    fn person(&mut self, id: i64) -> &mut Person {
        self.state.people.entry(id).or_insert_with(|| Person::new(id, &format!("Person {id}")))
    }

    fn push(&mut self, kind: &str, content: Value, now: Moment) {
        let state = &mut self.state;
        state.queue.push(kind, content, now.wall, &mut state.dice);
    }
}

/// The first button `label` on these messages: the message it stands on and what it sends.
fn button_among<'a>(
    messages: impl Iterator<Item = &'a Message>,
    label: &str,
) -> Result<(i64, String), TapError> {
    let mut there: Vec<String> = Vec::new();
    for message in messages {
        for button in message.content.keyboard.iter().flatten() {
            if button.text == label {
                let deaf = || TapError::Deaf { label: label.to_owned() };
                return button.data.clone().map(|data| (message.id, data)).ok_or_else(deaf);
            }
            if !there.contains(&button.text) {
                there.push(button.text.clone());
            }
        }
    }
    Err(TapError::Absent { label: label.to_owned(), there })
}

/// A client cuts a long text where the platform's limit falls, never inside a character.
fn parts(text: &str) -> Vec<&str> {
    let (mut parts, mut from, mut length) = (Vec::new(), 0, 0);
    for (at, character) in text.char_indices() {
        if length + character.len_utf16() > MAX_TEXT_UNITS {
            parts.push(&text[from..at]);
            (from, length) = (at, 0);
        }
        length += character.len_utf16();
    }
    parts.push(&text[from..]);
    debug_assert!(parts.iter().all(|part| units(part) <= MAX_TEXT_UNITS));
    parts
}

fn listed(labels: &[String]) -> String {
    if labels.is_empty() {
        return "there are no buttons".to_owned();
    }
    let labels: Vec<String> = labels.iter().map(|label| format!("[{label}]")).collect();
    format!("there are {}", labels.join(" "))
}
