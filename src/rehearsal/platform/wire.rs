//! How do people, chats and messages look on the wire? As the platform's reference says.

use serde_json::{Map, Value, json};

use super::Platform;
use super::chats::{Chat, Media, Message, Person};
use super::reading::entities::Entity;

impl Platform {
    pub fn wire_bot(&self) -> Value {
        json!({
            "id": self.bot_id, "is_bot": true,
            "first_name": self.bot_name, "username": self.bot_username,
        })
    }

    /// A message as it stands, with the message it replies to.
    pub fn wire_message(&self, chat: &Chat, message: &Message) -> Value {
        let mut wire = self.bare_message(chat, message);
        let replied = message.reply_to.and_then(|id| chat.message(id));
        if let (Some(replied), Some(wire)) = (replied, wire.as_object_mut()) {
            wire.insert("reply_to_message".to_owned(), self.bare_message(chat, replied));
        }
        wire
    }

    /// What is left of a message that is gone: where it was.
    pub fn wire_inaccessible(&self, chat: &Chat, message_id: i64) -> Value {
        json!({ "chat": self.wire_chat(chat), "message_id": message_id, "date": 0 })
    }

    pub fn wire_chat(&self, chat: &Chat) -> Value {
        if !chat.is_private() {
            return json!({ "id": chat.id, "type": "group", "title": "Harbour knitters" });
        }
        let first_name = self.state.people.get(&chat.id).map(|person| &person.first_name);
        json!({ "id": chat.id, "type": "private", "first_name": first_name })
    }

    fn bare_message(&self, chat: &Chat, message: &Message) -> Value {
        let content = &message.content;
        let author = message.author.and_then(|id| self.state.people.get(&id));
        let mut wire = Map::new();
        let mut put = |key: &str, value: Value| wire.insert(key.to_owned(), value);
        put("message_id", json!(message.id));
        put("from", author.map_or_else(|| self.wire_bot(), wire_person));
        put("chat", self.wire_chat(chat));
        put("date", json!(message.at.timestamp()));
        if let Some(edited_at) = message.edited_at {
            put("edit_date", json!(edited_at.timestamp()));
        }
        let (text, entities) = match &content.media {
            None => ("text", "entities"),
            Some(_) => ("caption", "caption_entities"),
        };
        if !content.text.is_empty() {
            put(text, json!(content.text));
        }
        let mut found = content.entities.clone();
        if message.author.is_some() {
            found.extend(command(&content.text));
        }
        if !found.is_empty() {
            put(entities, json!(found));
        }
        match &content.media {
            None => None,
            Some(Media::Photo { file_id }) => put("photo", self.state.files.wire(file_id)),
            Some(Media::Document { file_id }) => put("document", self.state.files.wire(file_id)),
            Some(Media::Sticker) => put("sticker", sticker()),
            Some(Media::Voice) => put("voice", voice()),
        };
        if !content.keyboard.is_empty() {
            put("reply_markup", json!({ "inline_keyboard": content.keyboard }));
        }
        Value::Object(wire)
    }
}

pub fn wire_person(person: &Person) -> Value {
    let mut wire = json!({ "id": person.id, "is_bot": false, "first_name": person.first_name });
    if let (Some(code), Some(wire)) = (&person.language_code, wire.as_object_mut()) {
        wire.insert("language_code".to_owned(), json!(code));
    }
    wire
}

/// The platform marks a command at the start of what a person writes.
fn command(text: &str) -> Option<Entity> {
    let word = text.split_whitespace().next().filter(|_| text.starts_with('/'))?;
    let letters = |c: char| c.is_ascii_alphanumeric() || matches!(c, '_' | '@');
    (word.len() > 1 && word[1..].chars().all(letters))
        .then(|| Entity::new("bot_command", 0, word.len()))
}

fn sticker() -> Value {
    json!({
        "file_id": "standin-sticker", "file_unique_id": "standin-sticker-u", "file_size": 9000,
        "width": 512, "height": 512, "type": "regular", "is_animated": false, "is_video": false,
    })
}

fn voice() -> Value {
    json!({
        "file_id": "standin-voice", "file_unique_id": "standin-voice-u", "file_size": 9000,
        "duration": 3, "mime_type": "audio/ogg",
    })
}
