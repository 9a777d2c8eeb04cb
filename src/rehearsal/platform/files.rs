//! Which files has the platform taken? Size and shape checked, kept under ids of their own.
//!
//! Keeps the newest files only; an id older than that is a wrong one, as on the real platform.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::{Deserialize, Deserializer, Serialize, Serializer};
use serde_json::{Value, json};

use super::reading::images;
use super::reading::params::{Params, Upload};
use super::refusal::Refusal;

/// The files, by id.
#[derive(Default, Serialize, Deserialize)]
pub struct Files {
    next: u64,
    by_id: BTreeMap<String, Filed>,
}

#[derive(Clone, Serialize, Deserialize)]
pub struct Filed {
    pub name: String,
    #[serde(serialize_with = "to_hex", deserialize_with = "from_hex")]
    pub bytes: Arc<Vec<u8>>,
    /// In pixels; only photos have one.
    pub size: Option<(u32, u32)>,
}

/// What a method takes files for.
#[derive(Clone, Copy, PartialEq)]
pub enum Purpose {
    Photo,
    Document,
}

const FILES_KEPT: usize = 200;
const MAX_PHOTO_BYTES: usize = 10 << 20;
const MAX_DOCUMENT_BYTES: usize = 50 << 20;
/// What a bot can fetch.
const MAX_FETCHED_BYTES: usize = 20 << 20;
/// Where the paths of files begin.
const FOLDER: &str = "documents/";

impl Files {
    /// The id of the file a request carries or points at.
    pub fn take(&mut self, params: &Params, purpose: Purpose) -> Result<String, Refusal> {
        let field = purpose.field();
        if let Some(upload) = params.upload(field)? {
            return self.add(upload, purpose);
        }
        let Some(id) = params.text(field)?.filter(|id| !id.is_empty()) else {
            return Err(Refusal::bad_request(format!("there is no {field} in the request")));
        };
        if id.starts_with("http://") || id.starts_with("https://") {
            return Err(Refusal::violation(format!("{field} by URL")));
        }
        let Some(filed) = self.by_id.get(id) else {
            return Err(Refusal::bad_request("wrong file identifier/HTTP URL specified"));
        };
        match (filed.size.is_some(), purpose) {
            (true, Purpose::Photo) | (false, Purpose::Document) => Ok(id.to_owned()),
            (true, Purpose::Document) => {
                Err(Refusal::bad_request("can't use file of type Photo as Document"))
            }
            (false, Purpose::Photo) => {
                Err(Refusal::bad_request("can't use file of type Document as Photo"))
            }
        }
    }

    pub fn get(&self, id: &str) -> Option<&Filed> {
        self.by_id.get(id)
    }

    /// The file as a message shows it: a list of sizes for a photo, an object for a document.
    pub fn wire(&self, id: &str) -> Value {
        let Some(filed) = self.by_id.get(id) else { return Value::Null };
        let unique = format!("U{id}");
        match filed.size {
            Some((width, height)) => json!([{
                "file_id": id, "file_unique_id": unique, "file_size": filed.bytes.len(),
                "width": width, "height": height,
            }]),
            None => json!({
                "file_id": id, "file_unique_id": unique, "file_size": filed.bytes.len(),
                "file_name": filed.name, "mime_type": "application/octet-stream",
            }),
        }
    }

    /// What `getFile` answers. The error is the platform's, from memory.
    pub fn described(&self, id: &str) -> Result<Value, Refusal> {
        let Some(filed) = self.by_id.get(id) else {
            let why = "wrong file_id or the file is temporarily unavailable";
            return Err(Refusal::bad_request(why));
        };
        if filed.bytes.len() > MAX_FETCHED_BYTES {
            return Err(Refusal::bad_request("file is too big"));
        }
        Ok(json!({
            "file_id": id, "file_unique_id": format!("U{id}"), "file_size": filed.bytes.len(),
            "file_path": format!("{FOLDER}{id}"),
        }))
    }

    /// The bytes behind a path that `getFile` gave.
    pub fn at_path(&self, path: &str) -> Option<Arc<Vec<u8>>> {
        Some(self.by_id.get(path.strip_prefix(FOLDER)?)?.bytes.clone())
    }

    fn add(&mut self, upload: &Upload, purpose: Purpose) -> Result<String, Refusal> {
        let length = upload.bytes.len();
        if length == 0 {
            return Err(Refusal::bad_request("file must be non-empty"));
        }
        let size = match purpose {
            Purpose::Photo => Some(photo_size(&upload.bytes)?),
            Purpose::Document if length > MAX_DOCUMENT_BYTES => {
                return Err(Refusal::new(413, "Request Entity Too Large"));
            }
            Purpose::Document => None,
        };
        Ok(self.keep(Filed { name: upload.name.clone(), bytes: upload.bytes.clone(), size }))
    }

    /// Files something that needs no check, and says under which id.
    pub fn keep(&mut self, filed: Filed) -> String {
        self.next += 1;
        let id = format!("SF{:010}", self.next);
        if self.by_id.len() >= FILES_KEPT {
            self.by_id.pop_first();
        }
        self.by_id.insert(id.clone(), filed);
        id
    }
}

impl Purpose {
    pub fn field(self) -> &'static str {
        match self {
            Purpose::Photo => "photo",
            Purpose::Document => "document",
        }
    }
}

fn photo_size(bytes: &[u8]) -> Result<(u32, u32), Refusal> {
    if bytes.len() > MAX_PHOTO_BYTES {
        let why = format!(
            "file of size {} bytes is too big for a photo; \
             the maximum size is {MAX_PHOTO_BYTES} bytes",
            bytes.len()
        );
        return Err(Refusal::bad_request(why));
    }
    let Some((width, height)) = images::size(bytes) else {
        return Err(Refusal::bad_request("IMAGE_PROCESS_FAILED"));
    };
    let (short, long) = (u64::from(width.min(height)), u64::from(width.max(height)));
    if short == 0 || short + long > 10_000 || long > 20 * short {
        return Err(Refusal::bad_request("PHOTO_INVALID_DIMENSIONS"));
    }
    Ok((width, height))
}

fn to_hex<S: Serializer>(bytes: &Arc<Vec<u8>>, serializer: S) -> Result<S::Ok, S::Error> {
    const DIGITS: &[u8; 16] = b"0123456789abcdef";
    let digit = |nibble: u8| char::from(DIGITS[usize::from(nibble)]);
    let hex: String = bytes.iter().flat_map(|byte| [digit(byte >> 4), digit(byte & 15)]).collect();
    serializer.serialize_str(&hex)
}

fn from_hex<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Arc<Vec<u8>>, D::Error> {
    let hex = String::deserialize(deserializer)?;
    let byte = |pair: &[u8]| {
        let text = std::str::from_utf8(pair).ok().filter(|_| pair.len() == 2)?;
        u8::from_str_radix(text, 16).ok()
    };
    let bytes: Option<Vec<u8>> = hex.as_bytes().chunks(2).map(byte).collect();
    bytes.map(Arc::new).ok_or_else(|| serde::de::Error::custom("not hexadecimal"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn png(width: u32, height: u32, length: usize) -> Upload {
        let mut bytes = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR".to_vec();
        bytes.extend(width.to_be_bytes());
        bytes.extend(height.to_be_bytes());
        bytes.resize(length, 0);
        Upload { name: "blanket.png".to_owned(), bytes: Arc::new(bytes) }
    }

    fn added(upload: &Upload, purpose: Purpose) -> String {
        let refused = Files::default().add(upload, purpose);
        refused.map_or_else(|refusal| refusal.description, |_| "taken".to_owned())
    }

    #[test]
    fn a_photo_has_bounds_on_bytes_on_sides_and_on_their_ratio() {
        for (width, height, length, expected) in [
            (5_000, 5_000, 100, "taken"),
            (5_000, 5_001, 100, "Bad Request: PHOTO_INVALID_DIMENSIONS"),
            (2_000, 100, 100, "taken"),
            (100, 2_001, 100, "Bad Request: PHOTO_INVALID_DIMENSIONS"),
            (0, 1, 100, "Bad Request: PHOTO_INVALID_DIMENSIONS"),
            (10, 10, 10 << 20, "taken"),
        ] {
            assert_eq!(added(&png(width, height, length), Purpose::Photo), expected);
        }
        let refused = added(&png(10, 10, (10 << 20) + 1), Purpose::Photo);
        assert!(refused.contains("is too big for a photo"), "{refused}");
        let text = Upload { name: "a.png".into(), bytes: Arc::new(b"no picture".to_vec()) };
        assert_eq!(added(&text, Purpose::Photo), "Bad Request: IMAGE_PROCESS_FAILED");
        assert_eq!(added(&text, Purpose::Document), "taken");
    }

    #[test]
    fn a_document_has_a_bound_on_its_bytes() {
        let of = |length| Upload { name: "a".into(), bytes: Arc::new(vec![0; length]) };
        assert_eq!(added(&of(50 << 20), Purpose::Document), "taken");
        assert_eq!(added(&of((50 << 20) + 1), Purpose::Document), "Request Entity Too Large");
        assert_eq!(added(&of(0), Purpose::Document), "Bad Request: file must be non-empty");
    }

    #[test]
    fn only_the_newest_files_are_kept() {
        let mut files = Files::default();
        for _ in 0..FILES_KEPT + 1 {
            files.add(&png(1, 1, 30), Purpose::Photo).unwrap();
        }
        assert!(files.get("SF0000000001").is_none());
        assert!(files.get("SF0000000002").is_some());
    }

    #[test]
    fn bytes_survive_being_written_as_text() {
        let mut files = Files::default();
        let id = files.add(&png(9, 9, 300), Purpose::Photo).unwrap();
        let text = serde_json::to_string(&files).unwrap();
        let read: Files = serde_json::from_str(&text).unwrap();
        assert_eq!(read.get(&id).unwrap().bytes, files.get(&id).unwrap().bytes);
        let broken = text.replace("89504e47", "8950zz47");
        assert!(serde_json::from_str::<Files>(&broken).is_err());
    }
}
