//! Which requests say this? Words and buttons, written as the platform wants them.
//!
//! Emphasis goes as entities, counted in UTF-16 units, and never as markup: no text has to be
//! escaped, so nothing a maker typed can be read as anything but text. Nothing here knows what a
//! message means.

use std::fmt;
use std::ops::Range;

use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use teloxide_core::types::{
    InlineKeyboardButton, InlineKeyboardMarkup, LinkPreviewOptions, MessageEntity,
};

use super::incoming::{TEXT_UNITS_MAX, capped};
use super::{ChatId, QueryId};
use crate::chat::button::TOKEN_BYTES_MAX;
use crate::chat::event::MessageId;
use crate::chat::outcome::{Key, Reply};
use crate::wording::{Span, Words};

const BUTTONS_IN_ROW_MAX: usize = 8;
const BUTTONS_MAX: usize = 100;
/// The platform drops further emphasis without a word.
const ENTITIES_MAX: usize = 100;
const CAPTION_UNITS_MAX: usize = 1024;
const TOAST_UNITS_MAX: usize = 200;
const COMMANDS_MAX: usize = 100;

/// One message, without the chat it goes to. Kept as JSON until it is sent.
#[derive(Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Rendered {
    text: String,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    entities: Vec<MessageEntity>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    keyboard: Option<InlineKeyboardMarkup>,
}

/// A method and its parameters, ready for [`super::wire::Wire::call`].
#[derive(Clone, PartialEq)]
pub struct Request {
    pub method: &'static str,
    pub params: Value,
}

/// The messages that say `words`, at least one; more where the words are too long for one. The
/// buttons of `reply`, labelled by `captions` in the same shape, are under the last.
///
/// # Panics
/// Where the words are blank, or the buttons are more than the platform shows: a bug of ours.
pub fn render(reply: &Reply, words: &Words, captions: &[Vec<String>]) -> Vec<Rendered> {
    let (text, bold) = flat(words);
    let mut messages: Vec<Rendered> = parts(&text)
        .into_iter()
        .map(|part| Rendered {
            entities: entities(&text, &part, &bold),
            text: text[part].to_owned(),
            keyboard: None,
        })
        .collect();
    let last = messages.last_mut();
    assert!(last.is_some(), "a message without words");
    if let Some(last) = last {
        last.keyboard = keyboard(&reply.keys, captions);
    }
    messages
}

/// A new message.
pub fn send(chat: ChatId, message: &Rendered) -> Request {
    let mut params = said(chat, message);
    if let Some(keyboard) = &message.keyboard {
        params["reply_markup"] = json!(keyboard);
    }
    Request { method: "sendMessage", params }
}

/// A new message that brings a file. The file itself is given to
/// [`super::wire::Wire::call_with_file`]; its words are its caption.
///
/// # Panics
/// Where the words are more than a caption holds: a bug of ours.
pub fn send_file(chat: ChatId, caption: &Rendered) -> Request {
    assert!(units(&caption.text) <= CAPTION_UNITS_MAX, "a caption too long");
    let mut params = json!({ "chat_id": chat.0, "caption": caption.text });
    if !caption.entities.is_empty() {
        params["caption_entities"] = json!(caption.entities);
    }
    if let Some(keyboard) = &caption.keyboard {
        params["reply_markup"] = json!(keyboard);
    }
    Request { method: "sendDocument", params }
}

/// A new message that makes no sound.
pub fn send_silently(chat: ChatId, message: &Rendered) -> Request {
    let mut request = send(chat, message);
    request.params["disable_notification"] = json!(true);
    request
}

/// Other words in place of those of a message that is there. Buttons that are not in `message`
/// are taken away.
pub fn edit(chat: ChatId, id: MessageId, message: &Rendered) -> Request {
    let mut request = send(chat, message);
    request.method = "editMessageText";
    request.params["message_id"] = json!(id.0);
    request
}

/// Acknowledges a tap, with a line shown for a moment if there is one.
pub fn answer_callback(query: &QueryId, text: Option<&str>) -> Request {
    let mut params = json!({ "callback_query_id": query.0 });
    if let Some(text) = text {
        params["text"] = json!(capped(text, TOAST_UNITS_MAX));
    }
    Request { method: "answerCallbackQuery", params }
}

/// The menu of commands, as (name, description).
///
/// # Panics
/// Where the platform would refuse a name or a description: a bug of ours.
pub fn commands(list: &[(&str, &str)]) -> Request {
    assert!(list.len() <= COMMANDS_MAX, "{} commands", list.len());
    let plain = |c: u8| c.is_ascii_lowercase() || c.is_ascii_digit() || c == b'_';
    for (name, description) in list {
        assert!((1..=32).contains(&name.len()) && name.bytes().all(plain), "command {name}");
        assert!((1..=256).contains(&units(description)), "description of {name}");
    }
    let item =
        |(name, description): &(&str, &str)| json!({ "command": name, "description": description });
    let list: Vec<Value> = list.iter().map(item).collect();
    Request { method: "setMyCommands", params: json!({ "commands": list }) }
}

fn said(chat: ChatId, message: &Rendered) -> Value {
    let mut params = json!({
        "chat_id": chat.0,
        "text": message.text,
        "link_preview_options": no_preview(),
    });
    if !message.entities.is_empty() {
        params["entities"] = json!(message.entities);
    }
    params
}

fn no_preview() -> LinkPreviewOptions {
    LinkPreviewOptions {
        is_disabled: true,
        url: None,
        prefer_small_media: false,
        prefer_large_media: false,
        show_above_text: false,
    }
}

/// The words as one text, and where it is bold, in bytes.
fn flat(words: &Words) -> (String, Vec<Range<usize>>) {
    let mut text = String::new();
    let mut bold = Vec::new();
    for (index, line) in words.lines.iter().enumerate() {
        if index > 0 {
            text.push('\n');
        }
        for span in line {
            let start = text.len();
            text.push_str(span.text());
            match span {
                Span::Bold(_) => bold.push(start..text.len()),
                Span::Plain(_) => {}
            }
        }
    }
    (text, bold)
}

/// Cuts a text into parts the platform takes: at the last line end that fits, and inside a line
/// only where one line is too long by itself. Blank parts are left out.
fn parts(text: &str) -> Vec<Range<usize>> {
    let mut parts = Vec::new();
    let mut start = 0;
    while start < text.len() {
        let rest = &text[start..];
        let fits = capped(rest, TEXT_UNITS_MAX).len();
        let line_end = match rest[fits..].chars().next() {
            None => None,
            Some('\n') => Some(fits),
            Some(_) => rest[..fits].rfind('\n'),
        };
        let (end, next) = line_end.map_or((fits, fits), |at| (at, at + 1));
        parts.push(start..start + end);
        start += next;
    }
    parts.retain(|part| !text[part.clone()].trim().is_empty());
    parts
}

fn entities(text: &str, part: &Range<usize>, bold: &[Range<usize>]) -> Vec<MessageEntity> {
    bold.iter()
        .map(|bold| bold.start.max(part.start)..bold.end.min(part.end))
        .filter(|bold| bold.start < bold.end)
        .map(|bold| {
            let offset = units(&text[part.start..bold.start]);
            MessageEntity::bold(offset, units(&text[bold]))
        })
        .take(ENTITIES_MAX)
        .collect()
}

fn keyboard(keys: &[Vec<Key>], captions: &[Vec<String>]) -> Option<InlineKeyboardMarkup> {
    assert_eq!(keys.len(), captions.len(), "as many rows of captions as of buttons");
    let rows: Vec<Vec<InlineKeyboardButton>> =
        keys.iter().zip(captions).map(|(keys, captions)| row(keys, captions)).collect();
    let buttons = rows.iter().map(Vec::len).sum::<usize>();
    assert!(buttons <= BUTTONS_MAX, "{buttons} buttons");
    (buttons > 0).then(|| InlineKeyboardMarkup::new(rows))
}

fn row(keys: &[Key], captions: &[String]) -> Vec<InlineKeyboardButton> {
    assert_eq!(keys.len(), captions.len(), "as many captions as buttons");
    assert!((1..=BUTTONS_IN_ROW_MAX).contains(&keys.len()), "{} buttons in a row", keys.len());
    let button = |(key, caption): (&Key, &String)| {
        let token = key.button.token();
        assert!(token.len() <= TOKEN_BYTES_MAX, "a token of {} bytes", token.len());
        assert!(!caption.trim().is_empty(), "a button without a caption");
        InlineKeyboardButton::callback(caption.clone(), token)
    };
    keys.iter().zip(captions).map(button).collect()
}

fn units(text: &str) -> usize {
    text.encode_utf16().count()
}

/// What a message says stays out of logs.
impl fmt::Debug for Rendered {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Rendered(hidden)")
    }
}

impl fmt::Debug for Request {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Request({})", self.method)
    }
}

#[cfg(test)]
#[path = "outgoing_tests.rs"]
mod tests;
