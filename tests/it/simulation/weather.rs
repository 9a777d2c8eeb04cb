//! The way between the bot and the stand-in, without a socket, and all that can happen on it.
//!
//! Notes what became of every request, which the bot itself may not know.

use std::pin::Pin;
use std::sync::{Arc, Mutex, PoisonError};

use chrono::DateTime;
use duskrow::rehearsal::{Call, Reply, StandIn, TOKEN, Upload};
use duskrow::telegram::wire::{Carried, Carry, File};
use serde_json::{Value, json};

use super::dice::Dice;

/// Clones share everything.
#[derive(Clone)]
pub struct Weather(Arc<Mutex<Shared>>, StandIn);

struct Shared {
    dice: Dice,
    sky: Sky,
    /// Faults in a thousand requests.
    faults: u64,
    asked: Vec<Asked>,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Sky {
    Clear,
    /// No connection is made.
    Refused,
    /// Connections close without an answer, and nothing is done.
    Silent,
    /// Something in between answers 502.
    BadGateway,
}

/// A request and what became of it.
#[derive(Clone, Debug)]
pub struct Asked {
    pub method: String,
    pub chat: i64,
    pub text: String,
    /// Of an acknowledgement.
    pub query: Option<String>,
    pub end: End,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum End {
    Answered(u16),
    /// Nobody but the platform knows whether it arrived.
    Unclear {
        arrived: bool,
    },
    NotSent,
}

#[derive(Clone, Copy)]
enum Trouble {
    None,
    NotSent,
    LostRequest,
    LostReply,
    Status(u16),
    Garbage,
}

impl Weather {
    pub fn new(stand_in: StandIn, seed: u64) -> Weather {
        let dice = Dice::new(seed ^ 0xA5A5);
        let shared = Shared { dice, sky: Sky::Clear, faults: 0, asked: Vec::new() };
        Weather(Arc::new(Mutex::new(shared)), stand_in)
    }

    pub fn turns(&self, sky: Sky) {
        self.look(|shared| shared.sky = sky);
    }

    pub fn is_clear(&self) -> bool {
        self.look(|shared| shared.sky == Sky::Clear)
    }

    pub fn set_faults(&self, permille: u64) {
        self.look(|shared| shared.faults = permille);
    }

    /// What was asked since the last look.
    pub fn asked(&self) -> Vec<Asked> {
        self.look(|shared| std::mem::take(&mut shared.asked))
    }

    fn look<T>(&self, at: impl FnOnce(&mut Shared) -> T) -> T {
        at(&mut self.0.lock().unwrap_or_else(PoisonError::into_inner))
    }

    async fn carried(&self, method: &str, params: &Value, file: Option<&File>) -> Carried {
        let trouble = self.look(|shared| shared.draw());
        let carried = match trouble {
            Trouble::None => self.deliver(method, params, file).await,
            Trouble::NotSent => Carried::NotSent,
            Trouble::LostRequest => Carried::Hangup,
            Trouble::LostReply => {
                let arrived = matches!(
                    self.deliver(method, params, file).await,
                    Carried::Answer { status: 200, .. }
                );
                self.note(method, params, End::Unclear { arrived });
                return Carried::Hangup;
            }
            Trouble::Status(code) => refusal(code),
            Trouble::Garbage => {
                let body = b"<html>one moment</html>".to_vec();
                Carried::Answer { status: 200, date: None, body }
            }
        };
        let end = match (&carried, trouble) {
            (Carried::NotSent, _) => End::NotSent,
            (Carried::Hangup, _) | (_, Trouble::Garbage) => End::Unclear { arrived: false },
            (Carried::Answer { status: 500.., .. }, _) => End::Unclear { arrived: false },
            (Carried::Answer { status, .. }, _) => End::Answered(*status),
        };
        self.note(method, params, end);
        carried
    }

    fn note(&self, method: &str, params: &Value, end: End) {
        let text = |key: &str| params[key].as_str().map(str::to_owned);
        let asked = Asked {
            method: method.to_owned(),
            chat: params["chat_id"].as_i64().unwrap_or_default(),
            text: text("text").unwrap_or_default(),
            query: text("callback_query_id"),
            end,
        };
        self.look(|shared| shared.asked.push(asked));
    }

    async fn deliver(&self, method: &str, params: &Value, file: Option<&File>) -> Carried {
        let params = params.as_object().cloned().unwrap_or_default();
        let upload = |file: &File| {
            let upload = Upload { name: file.name.clone(), bytes: file.bytes.clone() };
            (file.part.to_owned(), upload)
        };
        let files = file.map(upload).into_iter().collect();
        match self.1.call(Call::new(TOKEN, method, params, files)).await {
            Reply::Answer { status, date, body, .. } => {
                let date = DateTime::parse_from_rfc2822(&date).ok().map(|at| at.to_utc());
                Carried::Answer { status, date, body: body.into_bytes() }
            }
            Reply::Hangup => Carried::Hangup,
        }
    }
}

impl Shared {
    fn draw(&mut self) -> Trouble {
        match self.sky {
            Sky::Clear => {}
            Sky::Refused => return Trouble::NotSent,
            Sky::Silent => return Trouble::LostRequest,
            Sky::BadGateway => return Trouble::Status(502),
        }
        if !self.dice.permille(self.faults) {
            return Trouble::None;
        }
        match self.dice.below(8) {
            0 => Trouble::NotSent,
            1 => Trouble::LostRequest,
            2 | 3 => Trouble::LostReply,
            4 => Trouble::Status(429),
            5 => Trouble::Status(500),
            6 => Trouble::Status(409),
            _ => Trouble::Garbage,
        }
    }
}

fn refusal(code: u16) -> Carried {
    let mut body = json!({ "ok": false, "error_code": code, "description": "Trouble" });
    match code {
        429 => {
            body["description"] = json!("Too Many Requests: retry after 7");
            body["parameters"] = json!({ "retry_after": 7 });
        }
        409 => body["description"] = json!("Conflict: terminated by other getUpdates request"),
        _ => {}
    }
    Carried::Answer { status: code, date: None, body: body.to_string().into_bytes() }
}

impl Carry for Weather {
    fn carry<'a>(
        &'a self,
        method: &'a str,
        params: &'a Value,
        file: Option<&'a File>,
    ) -> Pin<Box<dyn Future<Output = Carried> + Send + 'a>> {
        Box::pin(self.carried(method, params, file))
    }

    fn fetch<'a>(
        &'a self,
        path: &'a str,
    ) -> Pin<Box<dyn Future<Output = Option<Vec<u8>>> + Send + 'a>> {
        Box::pin(async move { self.is_clear().then(|| self.1.file(path)).flatten() })
    }
}
