//! How is one request answered? Token, log, armed fault, the platform, and what travels back.
//!
//! Every answer carries the date of the stand-in's own clock. Long polls wait in real time.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use serde_json::{Map, Value, json};
use tokio::sync::watch;

use super::faults::{Fault, Faults};
use super::log::Log;
use crate::clock::Clock;
use crate::rehearsal::platform::methods::Method;
use crate::rehearsal::platform::{Moment, Params, Platform, Refusal, Upload};

/// Fetching the bytes of a file, as faults name it: any fault keeps it from arriving.
pub const DOWNLOAD: &str = "download";

/// One request, however it arrived.
pub struct Call {
    pub(super) token: String,
    pub(super) method: String,
    pub(super) params: Result<Params, Refusal>,
}

/// What travels back.
#[derive(Debug, PartialEq)]
pub enum Reply {
    /// A status, the value of the `Date` header, and the body.
    Answer { status: u16, date: String, retry_after: Option<u64>, body: String },
    /// The connection closes without a word.
    Hangup,
}

/// What all requests and the person's side share.
pub struct Shared {
    pub clock: Clock,
    token: String,
    desk: Mutex<Desk>,
    changes: watch::Sender<u64>,
}

/// Everything behind the one lock.
pub struct Desk {
    pub platform: Platform,
    pub faults: Faults,
    pub log: Log,
    /// The long poll that waits with nothing to take.
    pub waiting: Option<u64>,
    polls: u64,
    /// Whether the platform is gone for those who call from the same process.
    pub down: bool,
}

impl Call {
    pub fn new(
        token: &str,
        method: &str,
        params: Map<String, Value>,
        files: BTreeMap<String, Upload>,
    ) -> Call {
        let (token, method) = (token.to_owned(), method.to_owned());
        Call { token, method, params: Ok(Params::new(params, files)) }
    }
}

impl Shared {
    pub fn new(clock: Clock, token: String, platform: Platform, log: Log) -> Shared {
        let (faults, waiting, polls, down) = (Faults::default(), None, 0, false);
        let desk = Mutex::new(Desk { platform, faults, log, waiting, polls, down });
        Shared { clock, token, desk, changes: watch::Sender::new(0) }
    }

    pub fn moment(&self) -> Moment {
        Moment { wall: self.clock.now(), monotonic: self.clock.monotonic() }
    }

    /// Looks without waking anyone.
    pub fn look<T>(&self, at: impl FnOnce(&mut Desk, Moment) -> T) -> T {
        at(&mut self.desk.lock().unwrap_or_else(PoisonError::into_inner), self.moment())
    }

    /// Changes something, and wakes all who wait for a change.
    pub fn change<T>(&self, how: impl FnOnce(&mut Desk, Moment) -> T) -> T {
        let done = self.look(how);
        self.changes.send_modify(|count| *count += 1);
        done
    }

    /// Tells of every change.
    pub fn changes(&self) -> watch::Receiver<u64> {
        self.changes.subscribe()
    }

    /// Waits until `ready` holds, looking again after every change.
    pub async fn until(&self, mut ready: impl FnMut(&mut Desk, Moment) -> bool) {
        let mut changes = self.changes.subscribe();
        while !self.look(&mut ready) {
            // The sender lives in self, so a change always comes or the wait is for ever.
            if changes.changed().await.is_err() {
                return;
            }
        }
    }

    /// Answers one request.
    pub async fn answer(&self, call: Call) -> Reply {
        let known = Method::named(&call.method);
        let name = known.map_or(call.method.as_str(), |(_, name)| name);
        let logged = call.params.as_ref().map_or(Value::Null, Params::logged);
        let (number, fault) = self
            .change(|desk, now| (desk.log.begin(now.wall, name, logged), desk.faults.next(name)));
        let reply = self.with_fault(&call, known, fault).await;
        let status = match &reply {
            Reply::Answer { status, .. } => Some(*status),
            Reply::Hangup => None,
        };
        self.change(|desk, _| desk.log.end(number, status));
        reply
    }

    async fn with_fault(
        &self,
        call: &Call,
        known: Option<(Method, &'static str)>,
        fault: Option<Fault>,
    ) -> Reply {
        match fault {
            None => {
                let result = self.perform(call, known).await;
                self.reply(result)
            }
            Some(Fault::Status { code, description, retry_after }) => {
                self.reply(Err(Refusal { retry_after, ..Refusal::new(code, description) }))
            }
            Some(Fault::Stall) => {
                let healed = self.look(|desk, _| desk.faults.healed);
                self.until(|desk, _| desk.faults.healed != healed).await;
                Reply::Hangup
            }
            Some(Fault::DropRequest) => Reply::Hangup,
            Some(Fault::DropReply) => {
                // Whatever came of it, nobody hears of it.
                let _unheard = self.perform(call, known).await;
                Reply::Hangup
            }
            Some(Fault::BadJson) => Reply::Answer {
                status: 200,
                date: self.date(),
                retry_after: None,
                body: "{\"ok\":true,\"resu".to_owned(),
            },
        }
    }

    async fn perform(
        &self,
        call: &Call,
        known: Option<(Method, &'static str)>,
    ) -> Result<Value, Refusal> {
        if !well_formed(&call.token) {
            return Err(Refusal::new(404, "Not Found"));
        }
        if call.token != self.token {
            return Err(Refusal::new(401, "Unauthorized"));
        }
        let Some((method, name)) = known else { return Err(Refusal::new(404, "Not Found")) };
        let params = match &call.params {
            Ok(params) => params,
            Err(refusal) => return Err(Refusal::new(refusal.code, &refusal.description)),
        };
        let result = if method == Method::GetUpdates {
            self.long_poll(params).await
        } else {
            self.change(|desk, now| desk.platform.perform(method, params, now))
        };
        if let Err(refusal) = &result
            && refusal.violation
        {
            let what = format!("{name}: {}", refusal.description);
            self.change(|desk, _| desk.log.violation(what));
        }
        result
    }

    async fn long_poll(&self, params: &Params) -> Result<Value, Refusal> {
        let (mut poll, number) = self.change(|desk, _| {
            desk.polls += 1;
            desk.platform.begin_poll(params).map(|poll| (poll, desk.polls))
        })?;
        let timeout = poll.timeout;
        let mut found = self.look(|desk, now| desk.platform.poll(&mut poll, now))?;
        if found.is_empty() && !timeout.is_zero() {
            self.change(|desk, _| desk.waiting = Some(number));
            let _waiting = WaitingPoll { shared: self, number };
            let mut conflict = None;
            let ready = self.until(|desk, now| match desk.platform.poll(&mut poll, now) {
                Ok(updates) => {
                    found = updates;
                    !found.is_empty()
                }
                Err(refusal) => {
                    conflict = Some(refusal);
                    true
                }
            });
            // No update in time is an answer too: an empty one.
            let _late = tokio::time::timeout(timeout, ready).await;
            if let Some(refusal) = conflict {
                return Err(refusal);
            }
        }
        Ok(Value::Array(found))
    }

    /// A file by its path, for a bot that has the token. [`DOWNLOAD`] names it among faults.
    pub fn file(&self, token: &str, path: &str) -> Option<Arc<Vec<u8>>> {
        let fault = self.change(|desk, _| desk.faults.next(DOWNLOAD));
        let known = token == self.token && fault.is_none();
        known.then(|| self.look(|desk, _| desk.platform.file_at(path))).flatten()
    }

    /// What a path outside the Bot API gets.
    pub fn not_found(&self) -> Reply {
        self.reply(Err(Refusal::new(404, "Not Found")))
    }

    fn reply(&self, result: Result<Value, Refusal>) -> Reply {
        let date = self.date();
        match result {
            Ok(result) => {
                let body = format!("{{\"ok\":true,\"result\":{result}}}");
                Reply::Answer { status: 200, date, retry_after: None, body }
            }
            Err(Refusal { code, description, retry_after, violation: _ }) => {
                let mut body =
                    json!({ "ok": false, "error_code": code, "description": description });
                if let (Some(seconds), Some(body)) = (retry_after, body.as_object_mut()) {
                    body.insert("parameters".to_owned(), json!({ "retry_after": seconds }));
                }
                Reply::Answer { status: code, date, retry_after, body: body.to_string() }
            }
        }
    }

    fn date(&self) -> String {
        self.clock.now().format("%a, %d %b %Y %H:%M:%S GMT").to_string()
    }
}

/// A poll that waits; however it ends, it no longer does.
struct WaitingPoll<'a> {
    shared: &'a Shared,
    number: u64,
}

impl Drop for WaitingPoll<'_> {
    fn drop(&mut self) {
        self.shared.change(|desk, _| {
            if desk.waiting == Some(self.number) {
                desk.waiting = None;
            }
        });
    }
}

/// The platform answers 404 to what cannot be a token, and 401 to a token it does not know.
fn well_formed(token: &str) -> bool {
    let Some((id, secret)) = token.split_once(':') else { return false };
    let letter = |b: u8| b.is_ascii_alphanumeric() || matches!(b, b'_' | b'-');
    !id.is_empty()
        && id.bytes().all(|b| b.is_ascii_digit())
        && secret.len() >= 30
        && secret.bytes().all(letter)
}
