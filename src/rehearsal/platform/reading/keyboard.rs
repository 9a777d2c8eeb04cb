//! Is a keyboard one the platform takes? Buttons, their labels and what a tap on them sends back.
//!
//! Knows nothing of what callback data means: to the platform it is 1 to 64 bytes.

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::super::refusal::Refusal;
use super::params::{Params, only_keys};

/// An inline keyboard, row by row.
pub type Keyboard = Vec<Vec<Button>>;

/// A button under a message, as it stands on the wire.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Button {
    pub text: String,
    #[serde(rename = "callback_data", default, skip_serializing_if = "Option::is_none")]
    pub data: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub url: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub copy_text: Option<Value>,
}

const MAX_BUTTONS: usize = 100;
const MAX_BUTTONS_PER_ROW: usize = 8;
const MAX_DATA_BYTES: usize = 64;

/// The inline keyboard of a request, empty when there is none.
pub fn read(params: &Params) -> Result<Keyboard, Refusal> {
    let Some(markup) = params.object("reply_markup")? else { return Ok(Vec::new()) };
    if markup.contains_key("force_reply") {
        let known = ["force_reply", "input_field_placeholder", "selective"];
        only_keys(markup, "ForceReply", &known)?;
        return Ok(Vec::new());
    }
    if markup.contains_key("remove_keyboard") {
        only_keys(markup, "ReplyKeyboardRemove", &["remove_keyboard", "selective"])?;
        return Ok(Vec::new());
    }
    only_keys(markup, "InlineKeyboardMarkup", &["inline_keyboard"])?;
    let Some(rows) = markup.get("inline_keyboard").and_then(Value::as_array) else {
        return Err(Refusal::bad_request("object expected as reply markup"));
    };
    let mut keyboard = Keyboard::new();
    for row in rows {
        let Some(row) = row.as_array() else {
            return Err(Refusal::bad_request("can't parse inline keyboard: expected an Array"));
        };
        if row.len() > MAX_BUTTONS_PER_ROW {
            return Err(Refusal::bad_request("reply markup is too long"));
        }
        let row = row.iter().map(button).collect::<Result<Vec<_>, _>>()?;
        if !row.is_empty() {
            keyboard.push(row);
        }
    }
    if keyboard.iter().map(Vec::len).sum::<usize>() > MAX_BUTTONS {
        return Err(Refusal::bad_request("reply markup is too long"));
    }
    Ok(keyboard)
}

/// The labels, row by row.
pub fn labels(keyboard: &Keyboard) -> Vec<Vec<String>> {
    keyboard.iter().map(|row| row.iter().map(|button| button.text.clone()).collect()).collect()
}

fn button(value: &Value) -> Result<Button, Refusal> {
    let cannot =
        |why: &str| Refusal::bad_request(format!("can't parse inline keyboard button: {why}"));
    let object =
        value.as_object().ok_or_else(|| cannot("InlineKeyboardButton must be an Object"))?;
    only_keys(object, "InlineKeyboardButton", &["text", "callback_data", "url", "copy_text"])?;
    if !object.contains_key("text") {
        return Err(cannot("can't find field \"text\""));
    }
    let button: Button =
        serde_json::from_value(value.clone()).map_err(|why| cannot(&why.to_string()))?;
    if button.text.trim().is_empty() {
        return Err(Refusal::bad_request("inline keyboard button text must be non-empty"));
    }
    match (&button.data, &button.url, &button.copy_text) {
        (None, None, None) => Err(cannot("Text buttons are unallowed in the inline keyboard")),
        (Some(data), None, None) if data.is_empty() || data.len() > MAX_DATA_BYTES => {
            Err(Refusal::bad_request("BUTTON_DATA_INVALID"))
        }
        (None, Some(url), None)
            if !["http://", "https://", "tg://"].iter().any(|scheme| url.starts_with(scheme)) =>
        {
            Err(Refusal::bad_request(format!(
                "inline keyboard button URL '{url}' is invalid: Wrong HTTP URL"
            )))
        }
        (Some(_), None, None) | (None, Some(_), None) | (None, None, Some(_)) => Ok(button),
        _ => Err(Refusal::violation("a button with more than one action")),
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use serde_json::json;

    use super::*;

    fn keyboard(rows: Value) -> Result<Keyboard, String> {
        let raw = json!({ "reply_markup": { "inline_keyboard": rows } });
        read(&Params::new(raw.as_object().unwrap().clone(), BTreeMap::new()))
            .map_err(|refusal| refusal.description)
    }

    fn with_data(data: &str) -> Result<Keyboard, String> {
        keyboard(json!([[{ "text": "Smooth", "callback_data": data }]]))
    }

    #[test]
    fn callback_data_is_one_to_64_bytes() {
        assert!(with_data(&"é".repeat(32)).is_ok());
        assert_eq!(with_data(&"é".repeat(33)).unwrap_err(), "Bad Request: BUTTON_DATA_INVALID");
        assert_eq!(with_data("").unwrap_err(), "Bad Request: BUTTON_DATA_INVALID");
    }

    #[test]
    fn at_most_100_buttons_and_8_in_a_row() {
        let row = |n: usize| vec![json!({ "text": "a", "callback_data": "a" }); n];
        assert!(keyboard(json!(vec![row(4); 25])).is_ok());
        let too_long = "Bad Request: reply markup is too long";
        assert_eq!(keyboard(json!(vec![row(1); 101])).unwrap_err(), too_long);
        assert!(keyboard(json!([row(8)])).is_ok());
        assert_eq!(keyboard(json!([row(9)])).unwrap_err(), too_long);
    }

    #[test]
    fn a_button_does_exactly_one_thing_and_says_what() {
        for (button, expected) in [
            (json!({ "text": "a" }), "Text buttons are unallowed in the inline keyboard"),
            (json!({ "text": " ", "callback_data": "a" }), "button text must be non-empty"),
            (json!({ "callback_data": "a" }), "can't find field \"text\""),
            (json!({ "text": "a", "url": "harbour" }), "Wrong HTTP URL"),
            (
                json!({ "text": "a", "callback_data": "a", "url": "https://e.org" }),
                "more than one action",
            ),
            (json!({ "text": "a", "calback_data": "a" }), "unknown parameter calback_data"),
        ] {
            let refused = keyboard(json!([[button]])).unwrap_err();
            assert!(refused.contains(expected), "{refused}");
        }
    }
}
