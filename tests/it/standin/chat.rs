//! Speaking: what the platform takes, what it refuses and in which words, and how fast.

use serde_json::{Value, json};

use duskrow::rehearsal::{Span, StandIn, TOKEN};

use super::{MAREN, World};

#[tokio::test]
async fn a_request_means_the_same_as_json_as_a_form_as_a_query_and_in_parts() {
    let world = World::new().await;
    let markup = r#"{"inline_keyboard":[[{"text":"Smooth","callback_data":"s"}]]}"#;
    let pairs = [("chat_id", "7001"), ("text", "é & +"), ("reply_markup", markup)];
    let url = reqwest::Url::parse_with_params(&world.url("sendMessage"), pairs).unwrap();
    let form = url.query().unwrap().to_owned();
    let parts = pairs
        .iter()
        .fold(reqwest::multipart::Form::new(), |parts, (name, value)| parts.text(*name, *value));
    let markup: Value = serde_json::from_str(markup).unwrap();
    let post = || world.http.post(world.url("SENDMESSAGE"));
    for request in [
        post().json(&json!({ "chat_id": MAREN, "text": "é & +", "reply_markup": markup })),
        post().header("content-type", "application/x-www-form-urlencoded").body(form),
        world.http.get(url),
        post().multipart(parts),
    ] {
        let answer: Value = request.send().await.unwrap().json().await.unwrap();
        assert_eq!(answer["result"]["text"], json!("é & +"), "{answer}");
        assert_eq!(answer["result"]["reply_markup"], markup);
    }
    let requests = world.platform.requests();
    assert_eq!(requests.len(), 4);
    assert!(requests.iter().all(|request| request.method == "sendMessage"));
    assert!(requests.iter().all(|request| request.params == requests[0].params));
    assert!(requests.iter().all(|request| request.status == Some(200)));
}

#[tokio::test]
async fn every_answer_carries_the_date_of_the_stand_ins_clock() {
    let world = World::new().await;
    world.turn(61);
    for method in ["getMe", "nothing"] {
        let response = world.http.get(world.url(method)).send().await.unwrap();
        let dates: Vec<_> = response.headers().get_all("date").iter().collect();
        assert_eq!(dates, ["Thu, 14 Jan 2027 21:01:01 GMT"]);
    }
}

#[tokio::test]
async fn an_unknown_method_or_token_is_refused() {
    let world = World::new().await;
    assert_eq!(
        world.call("sendDice", json!({ "chat_id": MAREN })).await,
        json!({ "ok": false, "error_code": 404, "description": "Not Found" })
    );
    for (token, status, description) in [
        (TOKEN.replace("In", "On"), 401, "Unauthorized"),
        ("nonsense".to_owned(), 404, "Not Found"),
    ] {
        let url = format!("{}/bot{token}/getMe", world.platform.url());
        let response = world.http.get(url).send().await.unwrap();
        assert_eq!(response.status(), status);
        assert_eq!(response.json::<Value>().await.unwrap()["description"], json!(description));
    }
}

#[tokio::test]
async fn what_no_careful_bot_sends_is_refused_and_remembered() {
    let world = World::new().await;
    let send = |extra: Value| {
        let mut params = json!({ "chat_id": MAREN, "text": "a" });
        params.as_object_mut().unwrap().extend(extra.as_object().unwrap().clone());
        params
    };
    for extra in [
        json!({ "disable_web_page_preview": true }),
        json!({ "link_preview_options": { "disabled": true } }),
        json!({ "disable_notification": "perhaps" }),
        json!({ "parse_mode": "MarkdownV2" }),
    ] {
        let refused = world.refused("sendMessage", send(extra)).await;
        assert!(refused.starts_with("Bad Request: stand-in: "), "{refused}");
    }
    world.refused("getUpdates", json!({ "timeout": 51 })).await;
    world.refused("getUpdates", json!({ "allowed_updates": ["mesage"] })).await;
    assert_eq!(world.platform.violations().len(), 6);
    assert_eq!(
        world.platform.violations()[0],
        "sendMessage: Bad Request: stand-in: unknown parameter disable_web_page_preview"
    );
    assert_eq!(world.seen(), ["Maker Message /start"]);
    world.refused("sendMessage", json!({ "chat_id": MAREN, "text": "" })).await;
    assert_eq!(world.platform.violations().len(), 6);
}

#[tokio::test]
async fn the_bot_cannot_speak_first_nor_to_someone_who_blocked_it() {
    let world = World::new().await;
    let to = |id: i64| json!({ "chat_id": id, "text": "good evening" });
    assert_eq!(world.refused("sendMessage", to(8)).await, "Bad Request: chat not found");
    let empty = json!({ "text": "a" });
    assert_eq!(world.refused("sendMessage", empty).await, "Bad Request: chat_id is empty");
    world.platform.block(MAREN);
    let answer = world.call("sendMessage", to(MAREN)).await;
    assert_eq!(answer["error_code"], json!(403));
    assert_eq!(answer["description"], json!("Forbidden: bot was blocked by the user"));
    world.platform.send_text(MAREN, "/start");
    world.ok("sendMessage", to(MAREN)).await;
}

#[tokio::test]
async fn an_edit_changes_a_message_of_the_bots_own_and_must_change_something() {
    let world = World::new().await;
    let id = world.ask().await;
    let edit = |id: i64, text: &str| json!({ "chat_id": MAREN, "message_id": id, "text": text });
    let edited = world.ok("editMessageText", edit(id, "Kept: Smooth.")).await;
    assert!(edited.get("reply_markup").is_none());
    assert_eq!(edited["edit_date"], json!(super::start().timestamp()));
    let again = world.refused("editMessageText", edit(id, "Kept: Smooth.")).await;
    assert_eq!(
        again,
        "Bad Request: message is not modified: specified new message content and reply markup \
         are exactly the same as a current content and reply markup of the message"
    );
    let markup = json!({ "chat_id": MAREN, "message_id": id });
    assert!(world.refused("editMessageReplyMarkup", markup).await.contains("is not modified"));
    let absent = world.refused("editMessageText", edit(99, "a")).await;
    assert_eq!(absent, "Bad Request: message to edit not found");
    let marens = world.refused("editMessageText", edit(1, "a")).await;
    assert_eq!(marens, "Bad Request: message can't be edited");
    assert_eq!(world.seen()[2..], ["Bot Edit Kept: Smooth."]);
    assert_eq!(
        world.platform.tap(MAREN, "Smooth").unwrap_err().to_string(),
        "no button [Smooth] here; there are no buttons"
    );
}

#[tokio::test]
async fn new_buttons_leave_the_words_alone_and_the_newest_label_is_tapped() {
    let world = World::new().await;
    let (old, new) = (world.ask().await, world.ask().await);
    let keyboard = json!({ "inline_keyboard": [[{ "text": "Change", "callback_data": "c" }]] });
    let params = json!({ "chat_id": MAREN, "message_id": new, "reply_markup": keyboard });
    assert_eq!(world.ok("editMessageReplyMarkup", params).await["text"], json!("Which fits?"));
    assert_eq!(world.platform.seen_by(MAREN)[3].labels(), ["Change"]);
    world.take().await;
    world.platform.tap(MAREN, "Smooth").unwrap();
    let tapped = world.take().await[0]["callback_query"]["message"]["message_id"].clone();
    assert_eq!(tapped, json!(old));
    let absent = world.platform.tap(MAREN, "Smoth").unwrap_err();
    assert_eq!(absent.to_string(), "no button [Smoth] here; there are [Change] [Smooth]");
    assert!(world.platform.tap_on(MAREN, new, "Smooth").is_err());
}

#[tokio::test]
async fn a_message_can_be_deleted_for_two_days() {
    let world = World::new().await;
    let (first, second) = (world.say("one").await, world.say("two").await);
    let gone = |id: i64| json!({ "chat_id": MAREN, "message_id": id });
    world.turn(48 * 3600 - 1);
    assert_eq!(world.ok("deleteMessage", gone(first)).await, json!(true));
    let absent = world.refused("deleteMessage", gone(first)).await;
    assert_eq!(absent, "Bad Request: message to delete not found");
    world.turn(1);
    let late = world.refused("deleteMessage", gone(second)).await;
    assert_eq!(late, "Bad Request: message can't be deleted for everyone");
}

#[tokio::test]
async fn too_fast_is_refused_until_the_clock_moves_on() {
    let world = World::new().await;
    for _ in 0..5 {
        world.say("row").await;
    }
    let response = world
        .http
        .post(world.url("sendMessage"))
        .json(&json!({ "chat_id": MAREN, "text": "row" }))
        .send()
        .await
        .unwrap();
    assert_eq!(response.status(), 429);
    assert_eq!(response.headers()["retry-after"], "1");
    assert_eq!(
        response.json::<Value>().await.unwrap(),
        json!({
            "ok": false, "error_code": 429, "description": "Too Many Requests: retry after 1",
            "parameters": { "retry_after": 1 },
        })
    );
    let edit = json!({ "chat_id": MAREN, "message_id": 2, "text": "row 14" });
    let refused = world.refused("editMessageText", edit.clone()).await;
    assert_eq!(refused, "Too Many Requests: retry after 1");
    world.turn(1);
    world.ok("editMessageText", edit).await;
    world.refused("sendMessage", json!({ "chat_id": MAREN, "text": "row" })).await;
}

#[tokio::test]
async fn a_person_sees_the_words_without_markup_and_hears_no_silent_message() {
    let world = World::new().await;
    let params = json!({
        "chat_id": MAREN, "text": "Kept: <b>Smooth</b>.", "parse_mode": "HTML",
        "disable_notification": true,
    });
    world.ok("sendMessage", params).await;
    world.say("aloud").await;
    let seen = world.platform.seen_by(MAREN);
    assert_eq!((seen[1].text.as_str(), seen[1].silent), ("Kept: Smooth.", true));
    assert_eq!(seen[1].spans, [Span { kind: "bold".into(), offset: 6, length: 6 }]);
    assert!(!seen[2].silent);
    assert_eq!(world.platform.seen_since(MAREN, seen[1].number), seen[2..]);
}

#[tokio::test]
async fn the_answer_to_a_tap_is_at_most_200_characters() {
    let world = World::new().await;
    world.ask().await;
    let id = world.platform.tap(MAREN, "Smooth").unwrap();
    let answer = |n: usize| json!({ "callback_query_id": id, "text": "🧶".repeat(n) });
    let refused = world.refused("answerCallbackQuery", answer(101)).await;
    assert_eq!(refused, "Bad Request: MESSAGE_TOO_LONG");
    world.ok("answerCallbackQuery", answer(100)).await;
}

#[tokio::test]
async fn command_lists_are_kept_by_scope_and_language_and_have_limits() {
    let world = World::new().await;
    let list = |command: &str, description: &str, count: usize| {
        json!(vec![json!({ "command": command, "description": description }); count])
    };
    let set = |commands: Value| json!({ "commands": commands, "language_code": "nl" });
    world.ok("setMyCommands", set(list("rows", &"a".repeat(256), 100))).await;
    for (commands, expected) in [
        (list("rows", "a", 101), "BOT_COMMANDS_TOO_MUCH"),
        (list("Rows", "a", 1), "BOT_COMMAND_INVALID"),
        (list("", "a", 1), "BOT_COMMAND_INVALID"),
        (list(&"a".repeat(33), "a", 1), "BOT_COMMAND_INVALID"),
        (list("rows", "", 1), "BOT_COMMAND_DESCRIPTION_INVALID"),
        (list("rows", &"a".repeat(257), 1), "BOT_COMMAND_DESCRIPTION_INVALID"),
    ] {
        let refused = world.refused("setMyCommands", set(commands)).await;
        assert_eq!(refused, format!("Bad Request: {expected}"));
    }
    let dutch = world.ok("getMyCommands", json!({ "language_code": "nl" })).await;
    assert_eq!(dutch.as_array().unwrap().len(), 100);
    assert_eq!(world.ok("getMyCommands", json!({})).await, json!([]));
    let maren = json!({ "scope": { "type": "chat", "chat_id": 8 } });
    assert_eq!(world.refused("getMyCommands", maren).await, "Bad Request: chat not found");
}

#[tokio::test]
async fn a_reply_names_a_message_that_is_there() {
    let world = World::new().await;
    let to = |reply: Value| json!({ "chat_id": MAREN, "text": "a", "reply_parameters": reply });
    let sent = world.ok("sendMessage", to(json!({ "message_id": 1 }))).await;
    assert_eq!(sent["reply_to_message"]["text"], json!("/start"));
    let absent = world.refused("sendMessage", to(json!({ "message_id": 99 }))).await;
    assert_eq!(absent, "Bad Request: message to be replied not found");
    let anyway = json!({ "message_id": 99, "allow_sending_without_reply": true });
    world.ok("sendMessage", to(anyway)).await;
}

#[tokio::test]
async fn two_stand_ins_share_nothing() {
    let (one, other) = (World::new().await, World::new().await);
    one.say("only here").await;
    assert_eq!(other.seen(), ["Maker Message /start"]);
    assert_eq!(other.platform.requests(), []);
    assert_ne!(StandIn::url(&one.platform), other.platform.url());
}
