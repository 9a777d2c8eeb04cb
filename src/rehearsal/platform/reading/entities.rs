//! Is a text with its formatting one the platform takes, and what does it become?
//!
//! Lengths are UTF-16 units after the markup is gone. Never lets an entity reach outside its text.

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::super::refusal::Refusal;
use super::html;
use super::params::{Params, only_keys};

/// A formatted run of a text, as it stands on the wire.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Entity {
    #[serde(rename = "type")]
    pub kind: String,
    pub offset: usize,
    pub length: usize,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub url: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub language: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub custom_emoji_id: Option<String>,
}

impl Entity {
    pub fn new(kind: &str, offset: usize, length: usize) -> Entity {
        let (url, language, custom_emoji_id) = (None, None, None);
        Entity { kind: kind.to_owned(), offset, length, url, language, custom_emoji_id }
    }

    pub fn same_place(&self, other: &Entity) -> bool {
        (self.offset, self.length) == (other.offset, other.length)
    }
}

/// Where a formatted text stands among the parameters of a method, and how long it may be.
pub struct Field {
    pub text: &'static str,
    pub entities: &'static str,
    pub max_units: usize,
    pub empty: Option<&'static str>,
    pub too_long: &'static str,
}

pub const TEXT: Field = Field {
    text: "text",
    entities: "entities",
    max_units: 4096,
    empty: Some("message text is empty"),
    too_long: "message is too long",
};

pub const CAPTION: Field = Field {
    text: "caption",
    entities: "caption_entities",
    max_units: 1024,
    empty: None,
    too_long: "message caption is too long",
};

/// Reads the text of `field` with its `parse_mode` or its entities.
pub fn formatted(params: &Params, field: &Field) -> Result<(String, Vec<Entity>), Refusal> {
    let source = clean(params.text(field.text)?.unwrap_or_default());
    let given = params.list(field.entities)?;
    let (text, entities) = match (params.text("parse_mode")?, given) {
        (None | Some(""), None) => (source, Vec::new()),
        (None | Some(""), Some(given)) => {
            let entities =
                given.iter().map(|one| entity(one, &source)).collect::<Result<_, _>>()?;
            (source, entities)
        }
        (Some(_), Some(_)) => {
            return Err(Refusal::violation(format!("both parse_mode and {}", field.entities)));
        }
        (Some(mode), None) if mode.eq_ignore_ascii_case("HTML") => html::parse(&source)
            .map_err(|why| Refusal::bad_request(format!("can't parse entities: {why}")))?,
        (Some(mode), None) if mode.to_lowercase().starts_with("markdown") => {
            return Err(Refusal::violation("parse_mode other than HTML"));
        }
        (Some(_), None) => return Err(Refusal::bad_request("unsupported parse_mode")),
    };
    let (text, entities) = trimmed(&text, entities);
    match field.empty {
        Some(why) if text.is_empty() => Err(Refusal::bad_request(why)),
        _ if units(&text) > field.max_units => Err(Refusal::bad_request(field.too_long)),
        _ => Ok((text, entities)),
    }
}

/// The length the platform counts.
pub fn units(text: &str) -> usize {
    text.encode_utf16().count()
}

/// Control characters become spaces; line and direction marks the platform strips are gone.
pub fn clean(text: &str) -> String {
    text.chars()
        .filter(|c| {
            !matches!(c, '\r' | '\u{2028}'..='\u{202e}' | '\u{30a}' | '\u{333}' | '\u{33f}')
        })
        .map(|c| if c < ' ' && c != '\n' { ' ' } else { c })
        .collect()
}

fn trimmed(text: &str, entities: Vec<Entity>) -> (String, Vec<Entity>) {
    let kept = text.trim_end();
    let start = units(kept) - units(kept.trim_start());
    let kept = kept.trim_start();
    let end = units(kept);
    let moved = entities.into_iter().filter_map(|entity| {
        let from = entity.offset.saturating_sub(start);
        let to = (entity.offset + entity.length).saturating_sub(start).min(end);
        (to > from).then(|| Entity { offset: from, length: to - from, ..entity })
    });
    (kept.to_owned(), moved.collect())
}

const KINDS: [&str; 20] = [
    "mention",
    "hashtag",
    "cashtag",
    "bot_command",
    "url",
    "email",
    "phone_number",
    "bold",
    "italic",
    "underline",
    "strikethrough",
    "spoiler",
    "blockquote",
    "expandable_blockquote",
    "code",
    "pre",
    "text_link",
    "text_mention",
    "custom_emoji",
    "date_time",
];
const KEYS: [&str; 7] = ["type", "offset", "length", "url", "user", "language", "custom_emoji_id"];

fn entity(value: &Value, text: &str) -> Result<Entity, Refusal> {
    let cannot = |why: &str| Refusal::bad_request(format!("can't parse MessageEntity: {why}"));
    let object = value.as_object().ok_or_else(|| cannot("expected an Object"))?;
    only_keys(object, "MessageEntity", &KEYS)?;
    let out_of_bounds = || Refusal::bad_request("ENTITY_BOUNDS_INVALID");
    let number = |name| match object.get(name).map(Value::as_u64) {
        Some(Some(number)) => usize::try_from(number).map_err(|_| out_of_bounds()),
        Some(None) => Err(out_of_bounds()),
        None => Err(cannot(&format!("can't find field \"{name}\""))),
    };
    let (offset, length) = (number("offset")?, number("length")?);
    let entity: Entity =
        serde_json::from_value(value.clone()).map_err(|why| cannot(&why.to_string()))?;
    if !KINDS.contains(&entity.kind.as_str()) {
        return Err(cannot("unsupported type specified"));
    }
    if entity.kind == "text_link" && entity.url.is_none() {
        return Err(cannot("can't find field \"url\""));
    }
    let end = offset.checked_add(length).ok_or_else(out_of_bounds)?;
    if length == 0 || end > units(text) {
        return Err(out_of_bounds());
    }
    let mut edge = 0;
    let edges: Vec<usize> = std::iter::once(0)
        .chain(text.chars().map(|c| {
            edge += c.len_utf16();
            edge
        }))
        .collect();
    if !edges.contains(&offset) {
        return Err(Refusal::bad_request("entity begins in a middle of a UTF-16 symbol"));
    }
    if !edges.contains(&end) {
        return Err(Refusal::bad_request("entity ends in a middle of a UTF-16 symbol"));
    }
    Ok(entity)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use serde_json::json;

    use super::*;

    fn read(value: Value, field: &Field) -> Result<(String, Vec<Entity>), String> {
        let params = Params::new(value.as_object().unwrap().clone(), BTreeMap::new());
        formatted(&params, field).map_err(|refusal| refusal.description)
    }

    #[test]
    fn length_is_counted_in_utf16_units_once_the_markup_is_gone() {
        let fits = format!("<b>{}</b>", "🧶".repeat(2048));
        assert!(read(json!({ "text": fits, "parse_mode": "HTML" }), &TEXT).is_ok());
        assert_eq!(
            read(json!({ "text": "🧶".repeat(2049) }), &TEXT).unwrap_err(),
            "Bad Request: message is too long"
        );
        assert_eq!(
            read(json!({ "caption": "a".repeat(1025) }), &CAPTION).unwrap_err(),
            "Bad Request: message caption is too long"
        );
        assert!(read(json!({}), &CAPTION).is_ok());
    }

    #[test]
    fn a_text_of_spaces_is_empty() {
        for text in ["", " \n\t", "<b> </b>"] {
            let refused = read(json!({ "text": text, "parse_mode": "HTML" }), &TEXT).unwrap_err();
            assert_eq!(refused, "Bad Request: message text is empty");
        }
    }

    #[test]
    fn entities_stay_inside_their_text_and_between_characters() {
        let at = |offset: i64, length: i64| {
            let entities = json!([{ "type": "bold", "offset": offset, "length": length }]);
            read(json!({ "text": "a🧶b", "entities": entities }), &TEXT).map(|(_, e)| e)
        };
        assert_eq!(at(1, 2).unwrap(), [Entity::new("bold", 1, 2)]);
        assert_eq!(at(0, 5).unwrap_err(), "Bad Request: ENTITY_BOUNDS_INVALID");
        assert_eq!(at(-1, 2).unwrap_err(), "Bad Request: ENTITY_BOUNDS_INVALID");
        assert_eq!(at(1, 0).unwrap_err(), "Bad Request: ENTITY_BOUNDS_INVALID");
        assert_eq!(
            at(2, 2).unwrap_err(),
            "Bad Request: entity begins in a middle of a UTF-16 symbol"
        );
        assert_eq!(
            at(1, 1).unwrap_err(),
            "Bad Request: entity ends in a middle of a UTF-16 symbol"
        );
    }

    #[test]
    fn trimming_moves_the_entities_along() {
        let entities = json!([{ "type": "bold", "offset": 0, "length": 6 }]);
        let (text, entities) =
            read(json!({ "text": "  ab  ", "entities": entities }), &TEXT).unwrap();
        assert_eq!(text, "ab");
        assert_eq!(entities, [Entity::new("bold", 0, 2)]);
    }

    #[test]
    fn control_characters_do_not_reach_the_chat() {
        assert_eq!(read(json!({ "text": "a\u{1b}[2J\r\u{202e}b" }), &TEXT).unwrap().0, "a [2Jb");
    }

    #[test]
    fn an_unreadable_entity_is_named() {
        let refused =
            read(json!({ "text": "ab", "entities": [{ "offset": 0, "length": 1 }] }), &TEXT);
        assert!(refused.unwrap_err().starts_with("Bad Request: can't parse MessageEntity"));
        let refused = read(json!({ "text": "<b>", "parse_mode": "HTML" }), &TEXT).unwrap_err();
        assert!(refused.starts_with("Bad Request: can't parse entities: Can't find end tag"));
        let refused = read(json!({ "text": "a", "parse_mode": "RTF" }), &TEXT).unwrap_err();
        assert_eq!(refused, "Bad Request: unsupported parse_mode");
    }
}
