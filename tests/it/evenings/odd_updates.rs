//! Updates no platform should send, and one message it will not take: nothing is changed by the
//! first, nothing is held up by the second, and the next thing a maker does works.

use duskrow::cli::rehearse::theatre::MAREN;
use duskrow::rehearsal::{Fault, SeenKind};
use serde_json::{Value, json};

use super::{answers, spoken};
use crate::world::World;

const OTHER: i64 = 9009;

#[tokio::test]
async fn updates_of_the_wrong_shape_change_nothing_and_hold_up_nobody() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.play("@ evening").await;
    let before = world.book().await;
    let (maren, chat) = (json!({ "id": MAREN }), json!({ "id": MAREN, "type": "private" }));
    let shapes = [
        json!({}),
        json!({ "message": null }),
        json!({ "message": 5 }),
        json!({ "message": [] }),
        json!({ "message": { "text": "Smooth" } }),
        json!({ "message": { "from": maren, "chat": chat, "text": "Smooth" } }),
        json!({ "message": { "message_id": "5", "from": maren, "chat": chat, "text": "Smooth" } }),
        json!({ "message": { "message_id": 5, "from": MAREN, "chat": chat, "text": "Smooth" } }),
        json!({ "message": { "message_id": 5, "from": maren, "chat": MAREN, "text": "Smooth" } }),
        json!({ "edited_message": { "from": maren, "chat": chat, "text": "Smooth" } }),
        json!({ "callback_query": { "from": maren, "data": ["1"], "message": { "chat": chat } } }),
        json!({ "callback_query": "Smooth" }),
        json!({ "my_chat_member": { "from": maren, "chat": chat } }),
        json!({ "a_kind_of_next_year": { "from": maren, "text": "Smooth" } }),
    ];
    for shape in shapes {
        world.stand_in.push_raw_update(shape);
    }
    world.settle().await;
    assert_eq!(world.book().await, before);
    assert_eq!(world.stand_in.unconfirmed_updates(), 0);
    world.play("[Smooth]").await;
    assert_eq!(answers(&world).await, ["2027-01-14 Smooth"]);
}

#[tokio::test]
async fn an_update_for_an_unknown_chat_changes_nothing_and_is_not_answered_there() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.play("@ evening").await;
    let before = world.dump().await;
    let button = world.newest();
    for chat in [
        json!({ "id": OTHER, "type": "private" }),
        json!({ "id": OTHER, "type": "a kind of next year" }),
        json!({ "id": i64::MIN, "type": "private" }),
    ] {
        let from = json!({ "id": MAREN, "is_bot": false, "first_name": "Maren" });
        let message = json!({ "message_id": button.id, "date": 1, "chat": chat });
        let mut typed = message.clone();
        (typed["from"], typed["text"]) = (from.clone(), json!("Smooth"));
        world.stand_in.push_raw_update(json!({ "message": typed }));
        world.stand_in.push_raw_update(json!({ "callback_query": {
            "id": "1", "from": from, "message": message, "data": "1|tier|20270114|6",
        }}));
    }
    assert_eq!(world.settle().await, "");
    assert_eq!(world.dump().await, before);
    assert_eq!(world.stand_in.seen_by(OTHER), []);
}

#[tokio::test]
async fn updates_out_of_order_and_from_the_future_count_once_each_for_the_day_of_the_bot() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.play("@ evening").await;
    let century = 3_155_760_000;
    world.stand_in.push_raw_update(typed(8_000_009, "the last", century * 2));
    world.stand_in.push_raw_update(typed(8_000_002, "the first", 0));
    world.settle().await;
    // The platform numbers anew after a quiet week, and its clock may be far ahead.
    world.stand_in.push_raw_update(typed(5, "Smooth", century * 2));
    world.stand_in.push_raw_update(typed(8_000_009, "the last", century * 2));
    let said = spoken(&world.settle().await);
    assert_eq!(said.matches("bot: Kept: Thursday 14 January, Smooth.").count(), 1, "{said}");
    assert_eq!(answers(&world).await, ["2027-01-14 Smooth"]);
    let notes = world.dump().await["notes"].join("\n");
    assert_eq!((notes.matches("the first").count(), notes.matches("the last").count()), (1, 1));
}

#[tokio::test]
async fn a_tap_without_its_message_is_acknowledged_and_changes_nothing() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.play("@ evening").await;
    let before = world.dump().await;
    for message in [Value::Null, json!({})] {
        let mut tap = json!({
            "id": "77", "from": { "id": MAREN, "is_bot": false, "first_name": "Maren" },
            "data": "1|tier|20270114|6", "inline_message_id": "x",
        });
        if message.is_null() {
            tap["message"] = message;
        }
        world.stand_in.push_raw_update(json!({ "callback_query": tap }));
    }
    assert_eq!(world.settle().await, "");
    assert_eq!(world.requests("answerCallbackQuery"), 2);
    assert_eq!(world.dump().await, before);
}

#[tokio::test]
async fn a_message_the_platform_refuses_is_set_aside_and_the_chat_goes_on() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.settle().await;
    let refusal = Fault::status(400, "Bad Request: message text is empty");
    world.stand_in.fail_next("sendMessage", refusal, 1);
    world.type_unseen("/help");
    world.type_unseen("/today");
    let said = spoken(&world.settle().await);
    assert!(said.contains("bot: Thursday 14 January") && !said.contains("/open"), "{said}");
    assert_eq!((world.requests("sendMessage"), world.refusals("sendMessage", 400)), (2, 1));
    assert_eq!(world.dump().await["outbox"], [""; 0]);
    let refusal = Fault::status(400, "Bad Request: chat not found");
    world.stand_in.fail_next("editMessageText", refusal, 1);
    world.play("[Smooth]").await;
    assert_eq!(answers(&world).await, ["2027-01-14 Smooth"]);
    assert_eq!(world.refusals("editMessageText", 400), 1);
    let seen = world.stand_in.seen_by(MAREN);
    assert!(seen.iter().all(|seen| seen.kind != SeenKind::Edit));
    assert!(world.play("/help").await.contains("/rows"));
    assert_eq!(world.dump().await["outbox"], [""; 0]);
}

/// A line of Maren's in an update with this number, at this time of the platform.
fn typed(update: i64, text: &str, date: i64) -> Value {
    json!({ "update_id": update, "message": {
        "message_id": 900 + update % 100, "date": date, "text": text,
        "from": { "id": MAREN, "is_bot": false, "first_name": "Maren" },
        "chat": { "id": MAREN, "type": "private", "first_name": "Maren" },
    }})
}
