//! What does the bot change in a chat? New words, new buttons, or a message gone.

use chrono::TimeDelta;
use serde_json::{Value, json};

use super::super::chats::Content;
use super::super::reading::entities::{TEXT, formatted};
use super::super::reading::keyboard;
use super::super::reading::params::Params;
use super::super::{Moment, Platform, Refusal};
use super::sends::check_link_preview;
use crate::rehearsal::seen::{SeenKind, Speaker};

const NOT_MODIFIED: &str = "message is not modified: specified new message content and reply \
                            markup are exactly the same as a current content and reply markup \
                            of the message";

impl Platform {
    pub(super) fn edit_message_text(
        &mut self,
        params: &Params,
        now: Moment,
    ) -> Result<Value, Refusal> {
        params.only(&[
            "chat_id",
            "entities",
            "link_preview_options",
            "message_id",
            "parse_mode",
            "reply_markup",
            "text",
        ])?;
        check_link_preview(params)?;
        let (text, entities) = formatted(params, &TEXT)?;
        let keyboard = keyboard::read(params)?;
        self.edit(params, now, |content| match content.media {
            Some(_) => Err(Refusal::bad_request("there is no text in the message to edit")),
            None => Ok(Content { text, entities, keyboard, media: None }),
        })
    }

    pub(super) fn edit_message_reply_markup(
        &mut self,
        params: &Params,
        now: Moment,
    ) -> Result<Value, Refusal> {
        params.only(&["chat_id", "message_id", "reply_markup"])?;
        let keyboard = keyboard::read(params)?;
        self.edit(params, now, |content| Ok(Content { keyboard, ..content.clone() }))
    }

    pub(super) fn delete_message(
        &mut self,
        params: &Params,
        now: Moment,
    ) -> Result<Value, Refusal> {
        params.only(&["chat_id", "message_id"])?;
        let chat_id = self.reachable(params)?;
        let id = message_id(params)?;
        let chat = self.state.chats.get_mut(&chat_id);
        let Some((at, chat)) = chat.and_then(|chat| Some((chat.message(id)?.at, chat))) else {
            return Err(Refusal::bad_request("message to delete not found"));
        };
        if now.wall - at >= TimeDelta::hours(48) {
            return Err(Refusal::bad_request("message can't be deleted for everyone"));
        }
        chat.remove(id);
        let nothing = Content::default();
        let seen = self.seen_content(SeenKind::Deleted, Speaker::Bot, id, &nothing, now);
        self.show(chat_id, seen);
        Ok(json!(true))
    }

    fn edit(
        &mut self,
        params: &Params,
        now: Moment,
        change: impl FnOnce(&Content) -> Result<Content, Refusal>,
    ) -> Result<Value, Refusal> {
        let chat_id = self.reachable(params)?;
        let id = message_id(params)?;
        let Some(chat) = self.state.chats.get_mut(&chat_id) else {
            return Err(Refusal::bad_request("chat not found"));
        };
        let message = chat.own(id)?;
        let content = change(&message.content)?;
        if content == message.content {
            return Err(Refusal::bad_request(NOT_MODIFIED));
        }
        self.rates.count(chat_id, now.monotonic)?;
        message.content = content.clone();
        message.edited_at = Some(now.wall);
        let seen = self.seen_content(SeenKind::Edit, Speaker::Bot, id, &content, now);
        self.show(chat_id, seen);
        self.wire_of(chat_id, id)
    }
}

fn message_id(params: &Params) -> Result<i64, Refusal> {
    match params.integer("message_id")? {
        Some(id) if id > 0 => Ok(id),
        Some(_) | None => Err(Refusal::bad_request("message identifier is not specified")),
    }
}
