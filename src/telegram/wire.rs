//! One request to the platform and its answer.
//!
//! Two clients, so that a poll that waits never holds up a message. The token is part of every
//! address, therefore no address, no header and no answer of the platform leaves this file
//! unscrubbed, and nothing here is ever printed whole.

mod fetch;

use std::error::Error;
use std::fmt;
use std::pin::Pin;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use chrono::{DateTime, Utc};
use reqwest::multipart::{Form, Part};
use reqwest::{Client, Response, Url, header, redirect};
use serde::Deserialize;
use serde::de::DeserializeOwned;
use serde_json::Value;
use serde_json::value::RawValue;
use thiserror::Error;

use super::error::WireError;
use crate::chat::event::MessageId;

pub use fetch::FetchError;

/// The longest wait the platform grants one poll.
pub const POLL_WAIT_MAX: Duration = Duration::from_secs(50);
/// How much longer than the poll itself its answer is waited for.
pub const POLL_GRACE: Duration = Duration::from_secs(10);
/// The longest answer read; a hundred updates at their largest are well under it.
const ANSWER_BYTES_MAX: usize = 32 << 20;
/// How much of what the platform says about an error is kept.
const DESCRIPTION_CHARS_MAX: usize = 200;
/// The longest pause the platform can ask for.
const RETRY_SECONDS_MAX: u64 = 24 * 60 * 60;

/// The bot's token. It has no way to be shown.
#[derive(Clone)]
pub struct Secret(String);

/// How long requests may take. All of it is real time, also in a rehearsal.
#[derive(Clone, Copy, Debug)]
pub struct Timeouts {
    pub connect: Duration,
    /// How long the platform may hold a poll open, at most [`POLL_WAIT_MAX`].
    pub poll_wait: Duration,
    pub send: Duration,
}

/// The way to one bot on one server of the platform. Cheap to clone.
#[derive(Clone)]
pub struct Wire {
    secret: Secret,
    /// The address up to the method; holds the token.
    root: Url,
    /// The address up to the path of a file; holds the token.
    files: Url,
    /// Shared by the clones of a wire, so that all of them poll over the newest.
    polling: Arc<Mutex<Client>>,
    sending: Client,
    timeouts: Timeouts,
    /// Takes the place of the network.
    carrier: Option<Arc<dyn Carry>>,
}

/// Another way to the platform than the network: a simulation carries each request itself.
pub trait Carry: Send + Sync {
    fn carry<'a>(
        &'a self,
        method: &'a str,
        params: &'a Value,
        file: Option<&'a File>,
    ) -> Pin<Box<dyn Future<Output = Carried> + Send + 'a>>;

    /// The bytes of a file by its path; `None` where none arrive.
    fn fetch<'a>(
        &'a self,
        path: &'a str,
    ) -> Pin<Box<dyn Future<Output = Option<Vec<u8>>> + Send + 'a>>;
}

/// A file that goes with a request.
#[derive(Clone)]
pub struct File {
    /// The parameter it is: `document` or `photo`.
    pub part: &'static str,
    pub name: String,
    pub mime: &'static str,
    pub bytes: Arc<Vec<u8>>,
}

/// What came of a request that was carried.
pub enum Carried {
    Answer {
        status: u16,
        date: Option<DateTime<Utc>>,
        body: Vec<u8>,
    },
    /// No connection: nothing was written.
    NotSent,
    /// The connection closed without an answer.
    Hangup,
}

/// What a method answered.
pub struct Reply {
    pub result: Box<RawValue>,
    /// The platform's clock, from the `Date` header.
    pub date: Option<DateTime<Utc>>,
}

/// Why a wire cannot be made. Never names the token.
#[derive(Clone, PartialEq, Eq, Debug, Error)]
pub enum WireFault {
    #[error("the address of the platform's server is not an http or https address")]
    Address,
    #[error("the token is not one the platform hands out: digits, a colon, letters and digits")]
    Token,
    #[error("a poll may wait 50 seconds at most")]
    PollWait,
    #[error("no secure client could be set up")]
    Client,
}

#[derive(Clone, Copy)]
enum Lane {
    Polling,
    Sending,
}

/// The envelope of every answer.
#[derive(Deserialize)]
struct Envelope {
    ok: bool,
    result: Option<Box<RawValue>>,
    error_code: Option<u16>,
    description: Option<String>,
    parameters: Option<Value>,
}

impl Wire {
    /// # Errors
    /// A [`WireFault`] where address, token or timeouts cannot be used.
    pub fn new(address: &str, secret: Secret, timeouts: Timeouts) -> Result<Wire, WireFault> {
        if timeouts.poll_wait > POLL_WAIT_MAX {
            return Err(WireFault::PollWait);
        }
        if !secret.is_plausible() {
            return Err(WireFault::Token);
        }
        let mut root = Url::parse(address).map_err(|_| WireFault::Address)?;
        if !matches!(root.scheme(), "http" | "https") || !root.has_host() {
            return Err(WireFault::Address);
        }
        root.set_query(None);
        root.set_fragment(None);
        let mut files = root.clone();
        let bot = format!("bot{}", secret.0);
        let below = |address: &mut Url, parts: &[&str]| {
            let mut path = address.path_segments_mut().map_err(|()| WireFault::Address)?;
            path.pop_if_empty().extend(parts);
            Ok(())
        };
        below(&mut root, &[&bot])?;
        below(&mut files, &["file", &bot])?;
        Ok(Wire {
            polling: Arc::new(Mutex::new(polling_client(&root, timeouts)?)),
            sending: client(&root, timeouts.connect, timeouts.send)?,
            timeouts,
            secret,
            root,
            files,
            carrier: None,
        })
    }

    /// The same wire, with `carrier` in the place of the network.
    pub fn carried_by(self, carrier: Arc<dyn Carry>) -> Wire {
        Wire { carrier: Some(carrier), ..self }
    }

    /// Calls a method of the platform.
    ///
    /// # Errors
    /// A [`WireError`]; its class says what to do.
    pub async fn call(&self, method: &str, params: &Value) -> Result<Reply, WireError> {
        self.request(Lane::Sending, method, params, None).await
    }

    /// Calls a method with a file, in parts.
    ///
    /// # Errors
    /// A [`WireError`]; its class says what to do.
    pub async fn call_with_file(
        &self,
        method: &str,
        params: &Value,
        file: &File,
    ) -> Result<Reply, WireError> {
        self.request(Lane::Sending, method, params, Some(file)).await
    }

    /// Calls a method that may answer late, on the client kept for polling.
    pub(super) async fn poll(&self, method: &str, params: &Value) -> Result<Reply, WireError> {
        self.request(Lane::Polling, method, params, None).await
    }

    /// How long a poll asks the platform to wait.
    pub fn poll_wait(&self) -> Duration {
        self.timeouts.poll_wait
    }

    /// Polls over new connections from now on: none of the old ones is used any more.
    ///
    /// # Errors
    /// [`WireFault::Client`]; then the old client goes on.
    pub fn renew_polling(&self) -> Result<(), WireFault> {
        let new = polling_client(&self.root, self.timeouts)?;
        *self.polling.lock().unwrap_or_else(PoisonError::into_inner) = new;
        Ok(())
    }

    async fn request(
        &self,
        lane: Lane,
        method: &str,
        params: &Value,
        file: Option<&File>,
    ) -> Result<Reply, WireError> {
        if let Some(carrier) = &self.carrier {
            return self.carried(carrier.carry(method, params, file).await);
        }
        let client = match lane {
            Lane::Polling => self.polling.lock().unwrap_or_else(PoisonError::into_inner).clone(),
            Lane::Sending => self.sending.clone(),
        };
        let mut address = self.root.clone();
        if let Ok(mut path) = address.path_segments_mut() {
            path.push(method);
        }
        let request = client.post(address);
        let request = match file {
            None => request.json(params),
            Some(file) => request.multipart(in_parts(params, file)?),
        };
        let answer = request.send().await;
        let answer = answer.map_err(|error| self.unanswered(error))?;
        let date = date_of(&answer);
        let status = answer.status().as_u16();
        let too_long = || WireError::Ambiguous { why: "the answer is too long".to_owned() };
        let body = self.body(answer, ANSWER_BYTES_MAX).await?.ok_or_else(too_long)?;
        let result = self.open(status, &body)?;
        Ok(Reply { result, date })
    }

    fn carried(&self, carried: Carried) -> Result<Reply, WireError> {
        match carried {
            Carried::Answer { status, date, body } => {
                Ok(Reply { result: self.open(status, &body)?, date })
            }
            Carried::NotSent => Err(WireError::NothingWritten { why: "no connection".to_owned() }),
            Carried::Hangup => Err(WireError::Ambiguous { why: "no answer".to_owned() }),
        }
    }

    /// The whole answer, unless it is longer than `bytes_max`.
    async fn body(
        &self,
        mut answer: Response,
        bytes_max: usize,
    ) -> Result<Option<Vec<u8>>, WireError> {
        let mut body = Vec::new();
        let cut_off = |error| WireError::Ambiguous { why: self.cause(error) };
        while let Some(chunk) = answer.chunk().await.map_err(cut_off)? {
            body.extend_from_slice(&chunk);
            if body.len() > bytes_max {
                return Ok(None);
            }
        }
        Ok(Some(body))
    }

    /// The result in an envelope. An answer that is no envelope comes from something in between,
    /// whatever its status, and says nothing about the request.
    fn open(&self, status: u16, body: &[u8]) -> Result<Box<RawValue>, WireError> {
        let unreadable = || WireError::Ambiguous {
            why: format!("status {status}, and the answer is not the platform's"),
        };
        let envelope: Envelope = serde_json::from_slice(body).map_err(|_| unreadable())?;
        if envelope.ok {
            return envelope.result.ok_or_else(unreadable);
        }
        let seconds = envelope.parameters.as_ref().and_then(|all| all["retry_after"].as_u64());
        Err(WireError::Api {
            code: envelope.error_code.unwrap_or(status),
            description: self.secret.scrub(&envelope.description.unwrap_or_default()),
            retry_after: seconds.map(|count| Duration::from_secs(count.min(RETRY_SECONDS_MAX))),
        })
    }

    fn unanswered(&self, error: reqwest::Error) -> WireError {
        // A connection that was never made cannot have carried anything. A timeout can strike
        // after the request was written, and counts as if it had.
        let nothing = error.is_connect() || error.is_builder();
        let why = self.cause(error);
        match nothing {
            true => WireError::NothingWritten { why },
            false => WireError::Ambiguous { why },
        }
    }

    /// The innermost cause, which is the one that tells a host something.
    fn cause(&self, error: reqwest::Error) -> String {
        let timed_out = error.is_timeout();
        let error = error.without_url();
        let mut cause: &dyn Error = &error;
        while let Some(source) = cause.source() {
            cause = source;
        }
        match timed_out {
            true => "it took too long".to_owned(),
            false => self.secret.scrub(&cause.to_string()),
        }
    }
}

impl fmt::Debug for Wire {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Wire(hidden)")
    }
}

impl Reply {
    /// # Errors
    /// [`WireError::Ambiguous`] where the result is not what the method promises.
    pub fn read<T: DeserializeOwned>(&self) -> Result<T, WireError> {
        serde_json::from_str(self.result.get()).map_err(|_| WireError::Ambiguous {
            why: "the result is not what the method promises".to_owned(),
        })
    }

    /// The number of the message that was sent or changed.
    pub fn message(&self) -> Option<MessageId> {
        #[derive(Deserialize)]
        struct Sent {
            message_id: i64,
        }
        self.read::<Sent>().ok().map(|sent| MessageId(sent.message_id))
    }

    /// The platform's id of the file in the message that was sent; of a photo, the largest of the
    /// sizes it is kept in.
    pub fn file_id(&self) -> Option<String> {
        #[derive(Deserialize)]
        struct Kept {
            file_id: String,
        }
        #[derive(Deserialize)]
        struct Sent {
            #[serde(default)]
            photo: Vec<Kept>,
            document: Option<Kept>,
        }
        let mut sent = self.read::<Sent>().ok()?;
        sent.photo.pop().or(sent.document).map(|kept| kept.file_id)
    }
}

impl fmt::Debug for Reply {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Reply(hidden)")
    }
}

impl Secret {
    pub fn new(token: impl Into<String>) -> Secret {
        Secret(token.into())
    }

    /// Digits, a colon, and a part that needs no escaping in an address.
    fn is_plausible(&self) -> bool {
        let plain = |c: u8| c.is_ascii_alphanumeric() || c == b'_' || c == b'-';
        self.0.split_once(':').is_some_and(|(bot, key)| {
            !bot.is_empty()
                && bot.bytes().all(|c| c.is_ascii_digit())
                && !key.is_empty()
                && key.bytes().all(plain)
        })
    }

    /// `text` fit for a log: without the token or its secret half, on one line, not too long.
    fn scrub(&self, text: &str) -> String {
        let mut clean = text.replace(&self.0, "[token]");
        if let Some((_, key)) = self.0.split_once(':') {
            clean = clean.replace(key, "[token]");
        }
        let line = clean.chars().map(|c| if c.is_control() { ' ' } else { c });
        line.take(DESCRIPTION_CHARS_MAX).collect()
    }
}

impl fmt::Debug for Secret {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Secret(hidden)")
    }
}

impl Default for Timeouts {
    fn default() -> Timeouts {
        Timeouts {
            connect: Duration::from_secs(10),
            poll_wait: POLL_WAIT_MAX,
            send: Duration::from_secs(60),
        }
    }
}

fn polling_client(root: &Url, timeouts: Timeouts) -> Result<Client, WireFault> {
    client(root, timeouts.connect, timeouts.poll_wait + POLL_GRACE)
}

/// A client that never follows a redirect and never says where it came from: both would carry the
/// token to somebody else. A server on this machine is never reached through a proxy.
fn client(root: &Url, connect: Duration, whole: Duration) -> Result<Client, WireFault> {
    let builder = Client::builder()
        .connect_timeout(connect)
        .timeout(whole)
        .pool_idle_timeout(Duration::from_secs(30))
        .redirect(redirect::Policy::none())
        .referer(false);
    let here = matches!(root.host_str(), Some("localhost" | "127.0.0.1" | "[::1]"));
    let builder = if here { builder.no_proxy() } else { builder };
    builder.build().map_err(|_| WireFault::Client)
}

/// Text goes as it is, everything else as JSON.
fn in_parts(params: &Value, file: &File) -> Result<Form, WireError> {
    let no_type = |_| WireError::NothingWritten { why: "a file of no kind".to_owned() };
    let part = Part::bytes(file.bytes.as_ref().clone()).file_name(file.name.clone());
    let mut form = Form::new().part(file.part, part.mime_str(file.mime).map_err(no_type)?);
    for (name, value) in params.as_object().into_iter().flatten() {
        let text = value.as_str().map_or_else(|| value.to_string(), str::to_owned);
        form = form.text(name.clone(), text);
    }
    Ok(form)
}

fn date_of(answer: &Response) -> Option<DateTime<Utc>> {
    let text = answer.headers().get(header::DATE)?.to_str().ok()?;
    Some(DateTime::parse_from_rfc2822(text).ok()?.with_timezone(&Utc))
}

#[cfg(test)]
#[path = "wire_tests.rs"]
mod tests;
