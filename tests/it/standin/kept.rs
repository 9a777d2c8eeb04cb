//! A rehearsal that is kept: ids, chats, files and the instant go on where they stopped.

use duskrow::clock::Clock;
use duskrow::rehearsal::{Kept, Settings, StandIn};
use reqwest::multipart::{Form, Part};
use serde_json::{Value, json};

use super::{MAREN, World};

#[tokio::test]
async fn a_kept_rehearsal_goes_on_where_it_stopped() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("rehearsal.json");
    let world = World::new().await;
    let question = world.ask().await;
    let png: &[u8] = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR\0\0\x04\x9e\0\0\x04\x38";
    let form = Form::new()
        .text("chat_id", MAREN.to_string())
        .part("photo", Part::bytes(png).file_name("a.png"));
    let request = world.http.post(world.url("sendPhoto")).multipart(form);
    let sent: Value = request.send().await.unwrap().json().await.unwrap();
    let photo = sent["result"]["photo"][0]["file_id"].clone();
    let confirmed = world.take().await[0]["update_id"].as_i64().unwrap();
    world.platform.send_text(MAREN, "not taken yet");
    let query = world.platform.tap(MAREN, "Smooth").unwrap();
    world.turn(100);
    world.platform.keep(&path).unwrap();

    let kept = Kept::read(&path).unwrap().unwrap();
    let clock = Clock::turned(kept.instant());
    assert_eq!(clock.now(), world.clock.now());
    let settings = Settings { kept: Some(kept), ..Settings::new(clock.clone()) };
    let platform = StandIn::start(settings).await.unwrap();
    let world = World { clock, platform, http: world.http };

    let updates = world.updates(json!({ "offset": confirmed + 1 })).await;
    assert_eq!(updates[0]["update_id"], json!(confirmed + 1));
    assert_eq!(updates[0]["message"]["text"], json!("not taken yet"));
    assert_eq!(updates[0]["message"]["from"]["first_name"], json!("Maren"));
    world.ok("answerCallbackQuery", json!({ "callback_query_id": query })).await;
    let edit = json!({ "chat_id": MAREN, "message_id": question, "text": "Kept: Smooth." });
    world.ok("editMessageText", edit).await;
    let again = world.ok("sendPhoto", json!({ "chat_id": MAREN, "photo": photo })).await;
    assert_eq!(again["message_id"], json!(5));
    let file = world.platform.seen_by(MAREN)[1].file.clone().unwrap();
    assert_eq!(file.bytes.as_slice(), png);
}

#[tokio::test]
async fn the_request_log_takes_every_request_and_never_the_token() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("requests.jsonl");
    let clock = Clock::turned(super::start());
    let settings = Settings { request_log: Some(path.clone()), ..Settings::new(clock.clone()) };
    let platform = StandIn::start(settings).await.unwrap();
    let world = World { clock, platform, http: reqwest::Client::new() };
    world.ok("getMe", json!({})).await;
    world.refused("sendMessage", json!({ "chat_id": MAREN, "text": "a" })).await;
    let text = std::fs::read_to_string(&path).unwrap();
    let lines: Vec<Value> = text.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    assert_eq!(
        lines,
        [
            json!({ "method": "getMe", "params": {} }),
            json!({ "method": "sendMessage", "params": { "chat_id": MAREN, "text": "a" } }),
        ]
    );
    assert!(!text.contains("StandIn"));
}
