//! Which methods does the stand-in know, and who answers them?
//!
//! `getUpdates` waits and is answered in two halves, [`Platform::begin_poll`] and
//! [`Platform::poll`]; all others are done at once.

mod about;
mod edits;
mod sends;
mod taps;
mod updates;

use serde_json::Value;

use super::reading::params::Params;
use super::{Moment, Platform, Refusal};

/// A method of the Bot API.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Method {
    AnswerCallbackQuery,
    DeleteMessage,
    DeleteMyCommands,
    DeleteWebhook,
    EditMessageReplyMarkup,
    EditMessageText,
    GetFile,
    GetMe,
    GetMyCommands,
    GetUpdates,
    GetWebhookInfo,
    SendDocument,
    SendMessage,
    SendPhoto,
    SetMyCommands,
}

const ALL: [(Method, &str); 15] = [
    (Method::AnswerCallbackQuery, "answerCallbackQuery"),
    (Method::DeleteMessage, "deleteMessage"),
    (Method::DeleteMyCommands, "deleteMyCommands"),
    (Method::DeleteWebhook, "deleteWebhook"),
    (Method::EditMessageReplyMarkup, "editMessageReplyMarkup"),
    (Method::EditMessageText, "editMessageText"),
    (Method::GetFile, "getFile"),
    (Method::GetMe, "getMe"),
    (Method::GetMyCommands, "getMyCommands"),
    (Method::GetUpdates, "getUpdates"),
    (Method::GetWebhookInfo, "getWebhookInfo"),
    (Method::SendDocument, "sendDocument"),
    (Method::SendMessage, "sendMessage"),
    (Method::SendPhoto, "sendPhoto"),
    (Method::SetMyCommands, "setMyCommands"),
];

impl Method {
    /// The platform does not mind the case of a method's name.
    pub fn named(name: &str) -> Option<(Method, &'static str)> {
        ALL.into_iter().find(|(_, known)| known.eq_ignore_ascii_case(name))
    }
}

impl Platform {
    /// Does what a request asks and says the result, or refuses and changes nothing.
    pub fn perform(
        &mut self,
        method: Method,
        params: &Params,
        now: Moment,
    ) -> Result<Value, Refusal> {
        match method {
            Method::AnswerCallbackQuery => self.answer_callback_query(params, now),
            Method::DeleteMessage => self.delete_message(params, now),
            Method::DeleteMyCommands => self.delete_my_commands(params),
            Method::DeleteWebhook => self.delete_webhook(params),
            Method::EditMessageReplyMarkup => self.edit_message_reply_markup(params, now),
            Method::EditMessageText => self.edit_message_text(params, now),
            Method::GetFile => self.get_file(params),
            Method::GetMe => self.get_me(params),
            Method::GetMyCommands => self.get_my_commands(params),
            Method::GetUpdates => self.get_updates(params, now),
            Method::GetWebhookInfo => self.get_webhook_info(params, now),
            Method::SendDocument => self.send_document(params, now),
            Method::SendMessage => self.send_message(params, now),
            Method::SendPhoto => self.send_photo(params, now),
            Method::SetMyCommands => self.set_my_commands(params),
        }
    }

    /// The chat a request names, if the bot may speak there.
    fn reachable(&self, params: &Params) -> Result<i64, Refusal> {
        let Some(id) = params.integer("chat_id")? else {
            return Err(Refusal::bad_request("chat_id is empty"));
        };
        if !self.state.chats.contains_key(&id) {
            return Err(Refusal::bad_request("chat not found"));
        }
        match self.state.people.get(&id) {
            Some(person) if person.blocked => Err(Refusal::blocked()),
            Some(_) | None => Ok(id),
        }
    }
}
