//! What happened? One raw update, read into an event for the core.
//!
//! Only the few fields the bot acts on are looked at. A typed reading of the whole update would
//! lose a maker's answer over a field nobody needs: the library's types are a few versions behind
//! the platform, and turn a text with one unknown mark-up into an empty message. Who sent it is
//! read from `from.id`, and nothing in a button can say otherwise.

use serde::Deserialize;
use serde_json::Value;
use serde_json::value::RawValue;

use super::poll::Me;
use super::{ChatId, QueryId};
use crate::chat::button::{Button, UnreadableToken};
use crate::chat::event::{Event, MessageId, RepliedTo, UserId};

/// The longest text the platform lets a person send, in UTF-16 units; more is cut off.
pub const TEXT_UNITS_MAX: usize = 4096;

/// Far longer than any id of a file the platform gives.
const FILE_ID_BYTES_MAX: usize = 512;

/// One update.
#[derive(Clone, PartialEq, Eq)]
#[cfg_attr(test, derive(Debug))]
pub struct Incoming {
    /// Missing only where the update cannot be read at all.
    pub update: Option<UpdateId>,
    /// Who did it. Never a bot where the kind is [`Kind::Private`] or [`Kind::Group`].
    pub from: Option<UserId>,
    /// A tap that waits for its acknowledgement, whatever else the update is.
    pub query: Option<QueryId>,
    pub kind: Kind,
}

/// The platform's number of an update. Not always larger than the last one.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct UpdateId(pub i64);

#[derive(Clone, PartialEq, Eq)]
#[cfg_attr(test, derive(Debug))]
pub enum Kind {
    /// In the private chat of `from`, which has the same number.
    Private(Event),
    /// In a group or a channel. `addressed` where the bot was spoken to or let in.
    Group {
        chat: ChatId,
        addressed: bool,
    },
    /// Nothing to act on.
    Ignored,
    Unparsed(Unparsed),
}

/// Why an update cannot be read. Says nothing of what is in it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Unparsed {
    NotJson,
    NoUpdateId,
    /// A field the platform promises is missing or of another type.
    Incomplete,
}

/// Messages the platform writes into a chat by itself. Nobody waits for an answer to them.
const SERVICE: [&str; 22] = [
    "pinned_message",
    "message_auto_delete_timer_changed",
    "write_access_allowed",
    "connected_website",
    "chat_background_set",
    "users_shared",
    "chat_shared",
    "web_app_data",
    "successful_payment",
    "refunded_payment",
    "proximity_alert_triggered",
    "boost_added",
    "gift",
    "unique_gift",
    "checklist_tasks_done",
    "checklist_tasks_added",
    "paid_message_price_changed",
    "forum_topic_created",
    "forum_topic_edited",
    "forum_topic_closed",
    "forum_topic_reopened",
    "video_chat_ended",
];

/// Reads one update, `me` being the bot it was sent to.
pub fn read(raw: &RawValue, me: &Me) -> Incoming {
    let Ok(update) = serde_json::from_str::<Value>(raw.get()) else {
        return unparsed(id_of(raw), Unparsed::NotJson);
    };
    let Some(id) = update["update_id"].as_i64() else {
        return unparsed(None, Unparsed::NoUpdateId);
    };
    let sender = |part: &Value| part["from"]["id"].as_i64().map(UserId);
    let (from, query, kind) = if let Some(message) = part(&update, "message") {
        (sender(message), None, typed(message, me))
    } else if let Some(message) = part(&update, "edited_message") {
        (sender(message), None, edited(message))
    } else if let Some(tap) = part(&update, "callback_query") {
        let query = tap["id"].as_str().map(|id| QueryId(id.to_owned()));
        (sender(tap), query, tapped(tap))
    } else if let Some(member) = part(&update, "my_chat_member") {
        (sender(member), None, membership(member))
    } else {
        (None, None, Some(Kind::Ignored))
    };
    let kind = kind.unwrap_or(Kind::Unparsed(Unparsed::Incomplete));
    Incoming { update: Some(UpdateId(id)), from, query, kind }
}

fn replied_to(message: &Value) -> Option<RepliedTo> {
    let replied = message["reply_to_message"]["message_id"].as_i64()?;
    Some(RepliedTo::Message(MessageId(replied)))
}

fn typed(message: &Value, me: &Me) -> Option<Kind> {
    match place(message)? {
        Place::Bot | Place::Odd => Some(Kind::Ignored),
        Place::Group(chat) => Some(Kind::Group { chat, addressed: addressed(message, me) }),
        Place::Channel(chat) => Some(Kind::Group { chat, addressed: false }),
        Place::Private => {
            let service = || SERVICE.iter().any(|key| part(message, key).is_some());
            let event = match message["text"].as_str() {
                Some(text) => Event::Typed {
                    text: capped(text, TEXT_UNITS_MAX).to_owned(),
                    message: MessageId(message["message_id"].as_i64()?),
                    reply_to: replied_to(message),
                },
                None if service() => return Some(Kind::Ignored),
                None if part(message, "document").is_some() => document(&message["document"]),
                None => Event::NotText,
            };
            Some(Kind::Private(event))
        }
    }
}

/// A moving picture is a document as well, and read no more than any other.
fn document(document: &Value) -> Event {
    match document["file_id"].as_str() {
        Some(id) if id.len() <= FILE_ID_BYTES_MAX => {
            Event::Document { file_id: id.to_owned(), bytes: document["file_size"].as_u64() }
        }
        Some(_) | None => Event::NotText,
    }
}

/// A change of a picture's caption, or of a place that is shared live, is no change of a text.
fn edited(message: &Value) -> Option<Kind> {
    let Place::Private = place(message)? else { return Some(Kind::Ignored) };
    let Some(text) = message["text"].as_str() else { return Some(Kind::Ignored) };
    Some(Kind::Private(Event::Edited {
        message: MessageId(message["message_id"].as_i64()?),
        text: capped(text, TEXT_UNITS_MAX).to_owned(),
    }))
}

/// A message too old to be shown to the bot still has its chat and its number.
fn tapped(tap: &Value) -> Option<Kind> {
    let from = &tap["from"];
    let Some(message) = part(tap, "message") else {
        from["id"].as_i64()?;
        return Some(Kind::Ignored);
    };
    match place_of(from, &message["chat"])? {
        Place::Bot | Place::Odd => Some(Kind::Ignored),
        Place::Group(chat) | Place::Channel(chat) => Some(Kind::Group { chat, addressed: false }),
        Place::Private => {
            let button = tap["data"].as_str().map_or(Err(UnreadableToken), Button::read);
            let message = MessageId(message["message_id"].as_i64()?);
            Some(Kind::Private(Event::Tapped { button, message }))
        }
    }
}

fn membership(member: &Value) -> Option<Kind> {
    let status = member["new_chat_member"]["status"].as_str()?;
    Some(match (place(member)?, status) {
        (Place::Private, "kicked") => Kind::Private(Event::Blocked),
        (Place::Private, "member") => Kind::Private(Event::Unblocked),
        (Place::Group(chat), "member" | "administrator") => Kind::Group { chat, addressed: true },
        (Place::Private | Place::Group(_) | Place::Channel(_) | Place::Bot | Place::Odd, _) => {
            Kind::Ignored
        }
    })
}

enum Place {
    Private,
    Group(ChatId),
    Channel(ChatId),
    /// Sent by a bot, or on behalf of a whole chat.
    Bot,
    /// A private chat that is not the sender's, or a kind of chat that is not known.
    Odd,
}

fn place(part: &Value) -> Option<Place> {
    place_of(&part["from"], &part["chat"])
}

fn place_of(from: &Value, chat: &Value) -> Option<Place> {
    let chat_id = chat["id"].as_i64()?;
    let kind = chat["type"].as_str()?;
    if kind == "channel" {
        return Some(Place::Channel(ChatId(chat_id)));
    }
    let from_id = from["id"].as_i64()?;
    if from["is_bot"].as_bool() == Some(true) {
        return Some(Place::Bot);
    }
    Some(match kind {
        "private" if chat_id == from_id => Place::Private,
        "group" | "supergroup" => Place::Group(ChatId(chat_id)),
        _ => Place::Odd,
    })
}

/// Whether a message in a group speaks to the bot: a command that names no other bot, its name,
/// or a reply to what it said.
fn addressed(message: &Value, me: &Me) -> bool {
    if message["reply_to_message"]["from"]["id"].as_i64() == Some(me.id.0) {
        return true;
    }
    let text = message["text"].as_str().unwrap_or_default();
    let named = |word: &str| {
        word.split_once('@').is_some_and(|(_, name)| {
            let name = name.trim_end_matches(|c: char| !(c.is_ascii_alphanumeric() || c == '_'));
            name.eq_ignore_ascii_case(&me.username)
        })
    };
    let mut words = text.split_whitespace();
    let command = words.next().is_some_and(|word| word.starts_with('/') && !word.contains('@'));
    command || text.split_whitespace().any(named)
}

/// A field that is there and is not `null`.
fn part<'a>(value: &'a Value, key: &str) -> Option<&'a Value> {
    value.get(key).filter(|part| !part.is_null())
}

/// The longest beginning of `text` of at most `units_max` UTF-16 units.
pub(super) fn capped(text: &str, units_max: usize) -> &str {
    let mut units = 0;
    let end = text.char_indices().find(|(_, c)| {
        units += c.len_utf16();
        units > units_max
    });
    end.map_or(text, |(at, _)| &text[..at])
}

/// The number of an update whose rest cannot be read, so that it can be set aside and confirmed.
pub(super) fn id_of(raw: &RawValue) -> Option<UpdateId> {
    #[derive(Deserialize)]
    struct Numbered {
        update_id: i64,
    }
    let numbered: Numbered = serde_json::from_str(raw.get()).ok()?;
    Some(UpdateId(numbered.update_id))
}

fn unparsed(update: Option<UpdateId>, why: Unparsed) -> Incoming {
    Incoming { update, from: None, query: None, kind: Kind::Unparsed(why) }
}

#[cfg(test)]
#[path = "incoming_tests.rs"]
mod tests;
