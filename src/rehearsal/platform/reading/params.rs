//! What was asked for? The parameters of one request with their types, however they travelled.
//!
//! A form carries only strings, and nested values as JSON in a string; both become typed values
//! here, once. A parameter no method documents is a violation.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde_json::{Map, Value};

use super::super::refusal::Refusal;

/// A file part of a multipart request.
#[derive(Clone)]
pub struct Upload {
    pub name: String,
    pub bytes: Arc<Vec<u8>>,
}

/// The parameters of one request.
#[derive(Default)]
pub struct Params {
    values: Map<String, Value>,
    files: BTreeMap<String, Upload>,
}

const JSON: [&str; 8] = [
    "allowed_updates",
    "caption_entities",
    "commands",
    "entities",
    "link_preview_options",
    "reply_markup",
    "reply_parameters",
    "scope",
];
const INTEGERS: [&str; 6] = ["cache_time", "chat_id", "limit", "message_id", "offset", "timeout"];
const BOOLEANS: [&str; 7] = [
    "disable_content_type_detection",
    "disable_notification",
    "drop_pending_updates",
    "has_spoiler",
    "protect_content",
    "show_alert",
    "show_caption_above_media",
];

impl Params {
    pub fn new(raw: Map<String, Value>, files: BTreeMap<String, Upload>) -> Params {
        let typed = |(name, value): (String, Value)| {
            let value = typed(&name, value);
            (name, value)
        };
        Params { values: raw.into_iter().map(typed).collect(), files }
    }

    /// As the request log keeps them: a file stands as its name.
    pub fn logged(&self) -> Value {
        let mut values = self.values.clone();
        for (part, file) in &self.files {
            if !values.values().any(|value| *value == format!("attach://{part}")) {
                values.insert(part.clone(), Value::String(file.name.clone()));
            }
        }
        Value::Object(values)
    }

    /// Refuses every parameter that is not among `known`, and file parts nothing points at.
    pub fn only(&self, known: &[&str]) -> Result<(), Refusal> {
        for name in self.values.keys() {
            if !known.contains(&name.as_str()) {
                return Err(Refusal::violation(format!("unknown parameter {name}")));
            }
        }
        for part in self.files.keys() {
            let attached = format!("attach://{part}");
            if !known.contains(&part.as_str()) && !self.values.values().any(|v| *v == attached) {
                return Err(Refusal::violation(format!("unknown parameter {part}")));
            }
        }
        Ok(())
    }

    pub fn integer(&self, name: &str) -> Result<Option<i64>, Refusal> {
        self.read(name, "an integer", Value::as_i64)
    }

    pub fn boolean(&self, name: &str) -> Result<bool, Refusal> {
        Ok(self.read(name, "a boolean", Value::as_bool)?.unwrap_or(false))
    }

    pub fn text(&self, name: &str) -> Result<Option<&str>, Refusal> {
        self.read(name, "a string", Value::as_str)
    }

    pub fn object(&self, name: &str) -> Result<Option<&Map<String, Value>>, Refusal> {
        self.read(name, "an object", Value::as_object)
    }

    pub fn list(&self, name: &str) -> Result<Option<&Vec<Value>>, Refusal> {
        self.read(name, "a list", Value::as_array)
    }

    /// The file sent with the request as `name`, directly or by `attach://part`.
    pub fn upload(&self, name: &str) -> Result<Option<&Upload>, Refusal> {
        if let Some(upload) = self.files.get(name) {
            return Ok(Some(upload));
        }
        let part = self.text(name)?.and_then(|text| text.strip_prefix("attach://"));
        Ok(part.and_then(|part| self.files.get(part)))
    }

    fn read<'a, T>(
        &'a self,
        name: &str,
        what: &str,
        cast: impl FnOnce(&'a Value) -> Option<T>,
    ) -> Result<Option<T>, Refusal> {
        match self.values.get(name) {
            None => Ok(None),
            Some(value) => match cast(value) {
                Some(read) => Ok(Some(read)),
                None => Err(Refusal::violation(format!("{name} is not {what}"))),
            },
        }
    }
}

/// Refuses every key of a nested object that is not among `known`.
pub fn only_keys(object: &Map<String, Value>, of: &str, known: &[&str]) -> Result<(), Refusal> {
    match object.keys().find(|key| !known.contains(&key.as_str())) {
        None => Ok(()),
        Some(key) => Err(Refusal::violation(format!("unknown parameter {key} in {of}"))),
    }
}

fn typed(name: &str, value: Value) -> Value {
    let Value::String(text) = &value else { return value };
    let read = if JSON.contains(&name) {
        serde_json::from_str(text).ok()
    } else if INTEGERS.contains(&name) {
        text.parse::<i64>().ok().map(Value::from)
    } else if BOOLEANS.contains(&name) {
        text.to_lowercase().parse::<bool>().ok().map(Value::from)
    } else {
        None
    };
    read.unwrap_or(value)
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    fn params(value: Value) -> Params {
        Params::new(value.as_object().unwrap().clone(), BTreeMap::new())
    }

    #[test]
    fn strings_of_a_form_get_the_types_of_their_names() {
        let form = params(json!({
            "chat_id": "-12", "text": "12", "show_alert": "True", "reply_markup": "{\"a\":[1]}"
        }));
        assert_eq!(form.integer("chat_id").unwrap(), Some(-12));
        assert_eq!(form.text("text").unwrap(), Some("12"));
        assert!(form.boolean("show_alert").unwrap());
        assert_eq!(form.object("reply_markup").unwrap().unwrap()["a"], json!([1]));
    }

    #[test]
    fn a_value_of_the_wrong_type_is_a_violation() {
        let refusal = params(json!({ "text": 7 })).text("text").unwrap_err();
        assert!(refusal.violation);
        assert_eq!(refusal.description, "Bad Request: stand-in: text is not a string");
        assert!(params(json!({ "chat_id": "@harbour" })).integer("chat_id").is_err());
    }

    #[test]
    fn unknown_parameters_are_named() {
        let refusal = params(json!({ "txet": "a" })).only(&["text"]).unwrap_err();
        assert_eq!(refusal.description, "Bad Request: stand-in: unknown parameter txet");
    }

    #[test]
    fn a_file_part_counts_only_when_something_points_at_it() {
        let upload = Upload { name: "a.png".into(), bytes: Arc::new(vec![1]) };
        let files = BTreeMap::from([("part0".to_owned(), upload)]);
        let raw = json!({ "photo": "attach://part0" }).as_object().unwrap().clone();
        let pointed = Params::new(raw, files.clone());
        assert!(pointed.only(&["photo"]).is_ok());
        assert_eq!(pointed.upload("photo").unwrap().unwrap().name, "a.png");
        assert!(Params::new(Map::new(), files).only(&["photo"]).is_err());
    }
}
