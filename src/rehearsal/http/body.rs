//! What does a request carry? Path, query, and a body that is JSON, a form, or in parts.

use std::collections::BTreeMap;
use std::sync::Arc;

use axum::body::to_bytes;
use axum::extract::{FromRequest, Multipart, Query, Request};
use axum::http::header::CONTENT_TYPE;
use axum::http::{HeaderMap, Uri};
use serde_json::{Map, Value};

use super::answer::Call;
use crate::rehearsal::platform::{Params, Refusal, Upload};

/// More than the largest document, so that the platform's own limit is what refuses.
pub const MAX_BODY_BYTES: usize = 60 << 20;

/// Reads a request whole; none when its path is not one of the Bot API.
pub async fn read(request: Request) -> Option<Call> {
    let path = request.uri().path().replace("%3A", ":").replace("%3a", ":");
    let (token, method) = path.strip_prefix("/bot")?.split_once('/')?;
    let params = params(request).await;
    Some(Call { token: token.to_owned(), method: method.to_owned(), params })
}

/// The token and the path of a file that is fetched; none for anything else.
pub fn file(request: &Request) -> Option<(String, String)> {
    let path = request.uri().path().replace("%3A", ":").replace("%3a", ":");
    let (token, path) = path.strip_prefix("/file/bot")?.split_once('/')?;
    Some((token.to_owned(), path.to_owned()))
}

async fn params(request: Request) -> Result<Params, Refusal> {
    let mut values = pairs(request.uri())?;
    let mut files = BTreeMap::new();
    let kind = kind(request.headers());
    if kind == "multipart/form-data" {
        read_parts(request, &mut values, &mut files).await?;
        return Ok(Params::new(values, files));
    }
    let body = to_bytes(request.into_body(), MAX_BODY_BYTES).await;
    let body = body.map_err(|_| Refusal::new(413, "Request Entity Too Large"))?;
    if !body.is_empty() {
        match kind.as_str() {
            "application/json" => {
                let object: Map<String, Value> = serde_json::from_slice(&body)
                    .map_err(|_| Refusal::bad_request("can't parse request: expected an Object"))?;
                values.extend(object);
            }
            "application/x-www-form-urlencoded" => {
                let unreadable = || Refusal::bad_request("can't parse request");
                let form = std::str::from_utf8(&body).map_err(|_| unreadable())?;
                let uri: Uri = format!("/?{form}").parse().map_err(|_| unreadable())?;
                values.extend(pairs(&uri)?);
            }
            other => return Err(Refusal::bad_request(format!("content type {other}"))),
        }
    }
    Ok(Params::new(values, files))
}

fn pairs(uri: &Uri) -> Result<Map<String, Value>, Refusal> {
    let Query(pairs) = Query::<Vec<(String, String)>>::try_from_uri(uri)
        .map_err(|_| Refusal::bad_request("can't parse request"))?;
    Ok(pairs.into_iter().map(|(name, value)| (name, Value::String(value))).collect())
}

async fn read_parts(
    request: Request,
    values: &mut Map<String, Value>,
    files: &mut BTreeMap<String, Upload>,
) -> Result<(), Refusal> {
    let unreadable = |_| Refusal::bad_request("can't parse multipart request");
    let mut parts = Multipart::from_request(request, &())
        .await
        .map_err(|_| Refusal::bad_request("can't parse multipart request"))?;
    while let Some(part) = parts.next_field().await.map_err(unreadable)? {
        let name = part.name().unwrap_or_default().to_owned();
        match part.file_name().map(str::to_owned) {
            Some(file_name) => {
                let bytes = Arc::new(part.bytes().await.map_err(unreadable)?.to_vec());
                files.insert(name, Upload { name: file_name, bytes });
            }
            None => {
                let text = part.text().await.map_err(unreadable)?;
                values.insert(name, Value::String(text));
            }
        }
    }
    Ok(())
}

fn kind(headers: &HeaderMap) -> String {
    let value = headers.get(CONTENT_TYPE).and_then(|value| value.to_str().ok()).unwrap_or_default();
    value.split(';').next().unwrap_or_default().trim().to_ascii_lowercase()
}
