//! What does the bot put into a chat? Messages, pictures, documents.

use std::sync::Arc;

use serde_json::Value;

use super::super::chats::{Chat, Content, Media};
use super::super::files::Purpose;
use super::super::reading::entities::{CAPTION, Entity, Field, TEXT, formatted};
use super::super::reading::keyboard;
use super::super::reading::params::{Params, only_keys};
use super::super::{Moment, Platform, Refusal};
use crate::rehearsal::seen::{Seen, SeenFile, SeenKind, Span, Speaker};

const COMMON: [&str; 6] = [
    "chat_id",
    "disable_notification",
    "parse_mode",
    "protect_content",
    "reply_markup",
    "reply_parameters",
];
const LINK_PREVIEW: [&str; 5] =
    ["is_disabled", "prefer_large_media", "prefer_small_media", "show_above_text", "url"];
const REPLY: [&str; 3] = ["allow_sending_without_reply", "chat_id", "message_id"];

impl Platform {
    pub(super) fn send_message(&mut self, params: &Params, now: Moment) -> Result<Value, Refusal> {
        params.only(&[&COMMON[..], &["text", "entities", "link_preview_options"]].concat())?;
        check_link_preview(params)?;
        self.send(params, &TEXT, None, now)
    }

    pub(super) fn send_photo(&mut self, params: &Params, now: Moment) -> Result<Value, Refusal> {
        let own =
            ["caption", "caption_entities", "has_spoiler", "photo", "show_caption_above_media"];
        params.only(&[&COMMON[..], &own].concat())?;
        self.send(params, &CAPTION, Some(Purpose::Photo), now)
    }

    pub(super) fn send_document(&mut self, params: &Params, now: Moment) -> Result<Value, Refusal> {
        let own = ["caption", "caption_entities", "disable_content_type_detection", "document"];
        params.only(&[&COMMON[..], &own].concat())?;
        self.send(params, &CAPTION, Some(Purpose::Document), now)
    }

    fn send(
        &mut self,
        params: &Params,
        field: &Field,
        purpose: Option<Purpose>,
        now: Moment,
    ) -> Result<Value, Refusal> {
        let chat_id = self.reachable(params)?;
        let silent = params.boolean("disable_notification")?;
        params.boolean("protect_content")?;
        let (text, entities) = formatted(params, field)?;
        let keyboard = keyboard::read(params)?;
        let reply_to = self.reply_to(params, chat_id)?;
        let media = match purpose {
            None => None,
            Some(purpose) => {
                let file_id = self.state.files.take(params, purpose)?;
                Some(match purpose {
                    Purpose::Photo => Media::Photo { file_id },
                    Purpose::Document => Media::Document { file_id },
                })
            }
        };
        self.rates.count(chat_id, now.monotonic)?;
        let content = Content { text, entities, keyboard, media };
        let id = self.put(chat_id, None, content, reply_to, silent, now);
        self.wire_of(chat_id, id)
    }

    fn reply_to(&self, params: &Params, chat_id: i64) -> Result<Option<i64>, Refusal> {
        let Some(reply) = params.object("reply_parameters")? else { return Ok(None) };
        only_keys(reply, "ReplyParameters", &REPLY)?;
        let id = reply.get("message_id").and_then(Value::as_i64).unwrap_or_default();
        let chat = self.state.chats.get(&chat_id);
        let found = chat.and_then(|chat| chat.message(id)).map(|message| message.id);
        let needed = reply.get("allow_sending_without_reply") != Some(&Value::Bool(true));
        match found {
            None if needed => Err(Refusal::bad_request("message to be replied not found")),
            found => Ok(found),
        }
    }

    /// Adds a message of the bot or of a person (`author`) and shows it.
    pub(in super::super) fn put(
        &mut self,
        chat_id: i64,
        author: Option<i64>,
        content: Content,
        reply_to: Option<i64>,
        silent: bool,
        now: Moment,
    ) -> i64 {
        let chat = self.state.chats.entry(chat_id).or_insert_with(|| Chat::new(chat_id));
        let id = chat.add(author, content.clone(), reply_to, now.wall).id;
        let kind = match &content.media {
            None | Some(Media::Sticker | Media::Voice) => SeenKind::Message,
            Some(Media::Photo { .. }) => SeenKind::Picture,
            Some(Media::Document { .. }) => SeenKind::Document,
        };
        let from = if author.is_some() { Speaker::Maker } else { Speaker::Bot };
        let seen = self.seen_content(kind, from, id, &content, now);
        self.show(chat_id, Seen { silent, ..seen });
        id
    }

    pub(in super::super) fn wire_of(&self, chat_id: i64, id: i64) -> Result<Value, Refusal> {
        let chat = self.state.chats.get(&chat_id);
        match chat.and_then(|chat| Some((chat, chat.message(id)?))) {
            Some((chat, message)) => Ok(self.wire_message(chat, message)),
            None => Err(Refusal::bad_request("message not found")),
        }
    }

    pub(in super::super) fn seen_content(
        &self,
        kind: SeenKind,
        from: Speaker,
        id: i64,
        content: &Content,
        now: Moment,
    ) -> Seen {
        let (file, stands_for) = match &content.media {
            None => (None, ""),
            Some(Media::Photo { file_id } | Media::Document { file_id }) => {
                (self.state.files.get(file_id), "")
            }
            Some(Media::Sticker) => (None, "(sticker)"),
            Some(Media::Voice) => (None, "(voice message)"),
        };
        let file = file.map(|filed| {
            let (name, bytes) = (filed.name.clone(), filed.bytes.clone());
            Arc::new(SeenFile { name, bytes, size: filed.size })
        });
        let text = if content.text.is_empty() { stands_for } else { &content.text };
        Seen {
            number: 0,
            at: now.wall,
            from,
            kind,
            id,
            text: text.to_owned(),
            spans: content.entities.iter().map(span).collect(),
            buttons: keyboard::labels(&content.keyboard),
            file,
            silent: false,
        }
    }
}

pub(super) fn check_link_preview(params: &Params) -> Result<(), Refusal> {
    match params.object("link_preview_options")? {
        None => Ok(()),
        Some(options) => only_keys(options, "LinkPreviewOptions", &LINK_PREVIEW),
    }
}

fn span(entity: &Entity) -> Span {
    Span { kind: entity.kind.clone(), offset: entity.offset, length: entity.length }
}
