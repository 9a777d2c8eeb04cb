//! The stand-in as a bot meets it, over real HTTP: is it as strict as the platform?

mod chat;
mod faults;
mod files;
mod kept;
mod script;
mod updates;

use chrono::{DateTime, Utc};
use duskrow::clock::Clock;
use duskrow::rehearsal::{Person, Settings, StandIn, TOKEN};
use serde_json::{Value, json};

/// Maren, who has written to the bot.
const MAREN: i64 = 7001;

/// A stand-in on a turned clock, and a plain client that calls it.
struct World {
    clock: Clock,
    platform: StandIn,
    http: reqwest::Client,
}

fn start() -> DateTime<Utc> {
    DateTime::parse_from_rfc3339("2027-01-14T21:00:00Z").unwrap().to_utc()
}

impl World {
    async fn new() -> World {
        let clock = Clock::turned(start());
        let platform = StandIn::start(Settings::new(clock.clone())).await.unwrap();
        platform.introduce(Person::new(MAREN, "Maren"));
        platform.send_text(MAREN, "/start");
        World { clock, platform, http: reqwest::Client::new() }
    }

    fn url(&self, method: &str) -> String {
        format!("{}/bot{TOKEN}/{method}", self.platform.url())
    }

    async fn try_call(&self, method: &str, params: Value) -> reqwest::Result<Value> {
        self.http.post(self.url(method)).json(&params).send().await?.json().await
    }

    async fn call(&self, method: &str, params: Value) -> Value {
        self.try_call(method, params).await.unwrap()
    }

    /// The result of a call that must succeed.
    async fn ok(&self, method: &str, params: Value) -> Value {
        let mut answer = self.call(method, params).await;
        assert_eq!(answer["ok"], json!(true), "{answer}");
        answer["result"].take()
    }

    /// The description of a call that must fail.
    async fn refused(&self, method: &str, params: Value) -> String {
        let answer = self.call(method, params).await;
        assert_eq!(answer["ok"], json!(false), "{answer}");
        answer["description"].as_str().unwrap().to_owned()
    }

    async fn say(&self, text: &str) -> i64 {
        let sent = self.ok("sendMessage", json!({ "chat_id": MAREN, "text": text })).await;
        sent["message_id"].as_i64().unwrap()
    }

    /// A question with one button.
    async fn ask(&self) -> i64 {
        let keyboard = json!({ "inline_keyboard": [[{ "text": "Smooth", "callback_data": "s" }]] });
        let params = json!({ "chat_id": MAREN, "text": "Which fits?", "reply_markup": keyboard });
        self.ok("sendMessage", params).await["message_id"].as_i64().unwrap()
    }

    async fn updates(&self, params: Value) -> Vec<Value> {
        self.ok("getUpdates", params).await.as_array().unwrap().clone()
    }

    /// Takes and confirms what there is.
    async fn take(&self) -> Vec<Value> {
        let updates = self.updates(json!({})).await;
        if let Some(last) = updates.last() {
            let next = last["update_id"].as_i64().unwrap() + 1;
            assert_eq!(self.updates(json!({ "offset": next })).await, [Value::Null; 0]);
        }
        updates
    }

    fn turn(&self, seconds: i64) {
        self.clock.turn_to(self.clock.now() + chrono::TimeDelta::seconds(seconds));
    }

    /// What Maren saw, as short lines.
    fn seen(&self) -> Vec<String> {
        let seen = self.platform.seen_by(MAREN);
        seen.iter().map(|s| format!("{:?} {:?} {}", s.from, s.kind, s.text)).collect()
    }
}
