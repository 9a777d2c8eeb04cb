//! Taking updates: offsets, lifetimes, two pollers, and shapes an independent parser can read.

use duskrow::rehearsal::Other;
use serde_json::{Value, json};
use teloxide_core::types::{Me, Message, Update, UpdateKind};

use super::{MAREN, World};

#[tokio::test]
async fn every_update_a_person_causes_is_one_that_teloxide_reads() {
    let world = World::new().await;
    let (person, group) = (&world.platform, -55);
    let question = world.ask().await;
    let typed = person.send_text(MAREN, "a quiet day");
    person.reply_text(MAREN, question, "tired, but content");
    assert!(person.edit_text(MAREN, typed, "a quiet day at sea"));
    person.send_photo(MAREN, "the swatch");
    for other in [Other::Sticker, Other::Voice, Other::Document] {
        person.send_other(MAREN, other);
    }
    person.send_group_text(MAREN, group, "/today");
    person.tap(MAREN, "Smooth").unwrap();
    person.tap_data(MAREN, 4711, "forged");
    person.block(MAREN);
    person.unblock(MAREN);

    let updates = world.take().await;
    assert_eq!(updates.len(), 13);
    for raw in &updates {
        // From text: teloxide skips a key it cannot borrow.
        let update: Update = serde_json::from_str(&raw.to_string()).unwrap();
        assert!(!matches!(update.kind, UpdateKind::Error(_)), "teloxide cannot read {raw}");
    }
    assert_eq!(updates[0]["message"]["entities"][0]["type"], json!("bot_command"));
    assert_eq!(updates[2]["message"]["reply_to_message"]["message_id"], json!(question));
    assert_eq!(updates[3]["edited_message"]["text"], json!("a quiet day at sea"));
    assert_eq!(updates[8]["message"]["chat"]["type"], json!("group"));
    assert_eq!(updates[9]["callback_query"]["data"], json!("s"));
    assert_eq!(updates[10]["callback_query"]["message"]["date"], json!(0));
    assert_eq!(updates[11]["my_chat_member"]["new_chat_member"]["status"], json!("kicked"));
    assert_eq!(updates[12]["my_chat_member"]["new_chat_member"]["status"], json!("member"));
}

#[tokio::test]
async fn what_the_bot_gets_back_is_what_teloxide_reads() {
    let world = World::new().await;
    let me: Me = serde_json::from_value(world.ok("getMe", json!({})).await).unwrap();
    assert_eq!(me.username(), "duskrow_rehearsal_bot");
    let text = "<b>Kept</b> <a href=\"https://example.org\">here</a>";
    let params = json!({ "chat_id": MAREN, "text": text, "parse_mode": "HTML" });
    let sent: Message = serde_json::from_value(world.ok("sendMessage", params).await).unwrap();
    assert_eq!(sent.text(), Some("Kept here"));
    assert_eq!(sent.entities().unwrap().len(), 2);
}

#[tokio::test]
async fn an_update_comes_again_until_it_is_confirmed() {
    let world = World::new().await;
    world.platform.send_text(MAREN, "one");
    let first = world.updates(json!({ "limit": 1 })).await;
    assert_eq!(world.updates(json!({ "limit": 1 })).await, first);
    let next = first[0]["update_id"].as_i64().unwrap() + 1;
    let second = world.updates(json!({ "offset": next })).await;
    assert_eq!(second.len(), 1);
    assert_eq!(second[0]["message"]["text"], json!("one"));
    assert_eq!(world.platform.unconfirmed_updates(), 1);
}

#[tokio::test]
async fn a_waiting_poll_is_woken_by_a_new_update() {
    let world = World::new().await;
    world.take().await;
    let write = async {
        world.platform.drained().await;
        world.platform.send_text(MAREN, "now");
    };
    let (updates, ()) = tokio::join!(world.updates(json!({ "timeout": 50 })), write);
    assert_eq!(updates[0]["message"]["text"], json!("now"));
}

#[tokio::test]
async fn an_offset_from_the_end_forgets_once_and_not_while_it_waits() {
    let world = World::new().await;
    world.platform.send_text(MAREN, "newest");
    assert_eq!(world.updates(json!({ "offset": -1 })).await[0]["message"]["text"], json!("newest"));
    world.take().await;
    let write = async {
        world.platform.drained().await;
        // Two at once, before the waiting poll is woken.
        world.platform.send_text(MAREN, &"a".repeat(4097));
    };
    let poll = json!({ "offset": -1, "timeout": 50 });
    let (updates, ()) = tokio::join!(world.updates(poll), write);
    assert_eq!(updates.len(), 2);
}

#[tokio::test]
async fn a_person_changes_only_what_they_wrote() {
    let world = World::new().await;
    let question = world.ask().await;
    assert!(!world.platform.edit_text(MAREN, question, "Which fits me?"));
    assert!(!world.platform.edit_text(MAREN, 99, "nothing"));
    assert_eq!(world.take().await.len(), 1);
}

#[tokio::test]
async fn dropping_the_webhook_can_drop_the_updates() {
    let world = World::new().await;
    world.ok("deleteWebhook", json!({})).await;
    assert_eq!(world.ok("getWebhookInfo", json!({})).await["pending_update_count"], json!(1));
    world.ok("deleteWebhook", json!({ "drop_pending_updates": true })).await;
    assert_eq!(world.platform.unconfirmed_updates(), 0);
}

#[tokio::test]
async fn a_poll_that_nothing_wakes_ends_empty() {
    let world = World::new().await;
    world.take().await;
    assert_eq!(world.updates(json!({ "timeout": 1 })).await, [Value::Null; 0]);
}

#[tokio::test]
async fn a_second_poller_ends_the_first() {
    let world = World::new().await;
    world.take().await;
    let second = async {
        world.platform.drained().await;
        world.updates(json!({})).await
    };
    let (first, second) = tokio::join!(world.call("getUpdates", json!({ "timeout": 50 })), second);
    assert_eq!(second, [Value::Null; 0]);
    assert_eq!(first["error_code"], json!(409));
    assert_eq!(
        first["description"],
        json!(
            "Conflict: terminated by other getUpdates request; make sure that only one bot \
               instance is running"
        )
    );
}

#[tokio::test]
async fn the_kinds_a_poll_asked_for_stay_asked_for() {
    let world = World::new().await;
    world.ask().await;
    world.updates(json!({ "allowed_updates": ["message"] })).await;
    world.take().await;
    world.platform.tap(MAREN, "Smooth").unwrap();
    world.platform.send_text(MAREN, "heard");
    let updates = world.take().await;
    assert_eq!(updates.len(), 1);
    assert_eq!(updates[0]["message"]["text"], json!("heard"));
}

#[tokio::test]
async fn a_tap_is_kept_150_seconds_and_a_message_a_day() {
    let world = World::new().await;
    world.ask().await;
    world.take().await;
    world.platform.send_text(MAREN, "typed");
    world.platform.tap(MAREN, "Smooth").unwrap();
    world.turn(149);
    assert_eq!(world.platform.unconfirmed_updates(), 2);
    world.turn(1);
    assert_eq!(world.updates(json!({})).await[0]["message"]["text"], json!("typed"));
    assert_eq!(world.platform.unconfirmed_updates(), 1);
    world.turn(86_400);
    assert_eq!(world.platform.unconfirmed_updates(), 0);
}

#[tokio::test]
async fn a_tap_can_be_answered_once_and_only_in_time() {
    let world = World::new().await;
    world.ask().await;
    let too_old =
        "Bad Request: query is too old and response timeout expired or query ID is invalid";
    let first = world.platform.tap(MAREN, "Smooth").unwrap();
    let second = world.platform.tap(MAREN, "Smooth").unwrap();
    assert_ne!(first, second);
    let answer = |id: &str| json!({ "callback_query_id": id, "text": "Kept" });
    assert_eq!(world.ok("answerCallbackQuery", answer(&first)).await, json!(true));
    assert_eq!(world.refused("answerCallbackQuery", answer(&first)).await, too_old);
    assert_eq!(world.refused("answerCallbackQuery", answer("1")).await, too_old);
    world.turn(150);
    assert_eq!(world.refused("answerCallbackQuery", answer(&second)).await, too_old);
    assert_eq!(world.seen()[2..], ["Maker Tap Smooth", "Maker Tap Smooth", "Bot Toast Kept"]);
}

#[tokio::test]
async fn in_a_group_the_bot_hears_only_commands_and_its_name() {
    let world = World::new().await;
    world.take().await;
    world.platform.send_group_text(MAREN, -55, "good evening all");
    world.platform.send_group_text(MAREN, -55, "is @duskrow_rehearsal_bot here?");
    assert_eq!(world.take().await.len(), 1);
}

#[tokio::test]
async fn a_long_text_arrives_in_several_messages() {
    let world = World::new().await;
    world.take().await;
    world.platform.send_text(MAREN, &"🧶".repeat(2049));
    let updates = world.take().await;
    assert_eq!(updates[0]["message"]["text"], json!("🧶".repeat(2048)));
    assert_eq!(updates[1]["message"]["text"], json!("🧶"));
}

#[tokio::test]
async fn an_unknown_update_is_handed_over_as_it_is() {
    let world = World::new().await;
    world.take().await;
    let id = world.platform.push_raw_update(json!({ "a_later_kind": { "a": 1 } }));
    assert_eq!(world.take().await, [json!({ "update_id": id, "a_later_kind": { "a": 1 } })]);
}
