//! The platform may hand an update over more than once, and an impatient client taps again.

use chrono::TimeDelta;
use duskrow::cli::rehearse::theatre::MAREN;
use duskrow::telegram::poll::Poller;
use serde_json::{Value, json};

use super::{answers, spoken};
use crate::world::World;

#[tokio::test]
async fn an_update_delivered_three_times_counts_once() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.play("@ evening").await;
    world.tap_unseen("Smooth");
    world.type_unseen("/rows");
    // A poller that never confirms is given the same updates as the next one.
    for _ in 0..2 {
        world.theatre.app.poll_once(&mut Poller::new()).await.unwrap();
        assert_eq!(world.stand_in.unconfirmed_updates(), 2);
    }
    let said = spoken(&world.settle().await);
    assert_eq!(said.matches("Kept: Thursday 14 January, Smooth.").count(), 1, "{said}");
    assert_eq!(said.matches("January, block 1 of").count(), 1, "{said}");
    assert_eq!(world.dump().await["history"].len(), 1);
    assert_eq!(world.requests("answerCallbackQuery"), 3);
}

#[tokio::test]
async fn an_update_that_comes_again_after_a_newer_answer_changes_nothing() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.play("@ evening").await;
    world.stand_in.push_raw_update(typed(4_000_001, "Smooth"));
    world.settle().await;
    assert_eq!(answers(&world).await, ["2027-01-14 Smooth"]);
    world.play("[Change]\n[Rough]").await;
    world.stand_in.push_raw_update(typed(4_000_001, "Smooth"));
    assert_eq!(world.settle().await, "");
    assert_eq!(answers(&world).await, ["2027-01-14 Rough"]);
    // The same line in an update of its own is a new act.
    world.stand_in.push_raw_update(typed(4_000_002, "Smooth"));
    assert_ne!(world.settle().await, "");
}

#[tokio::test]
async fn a_tap_repeated_by_an_impatient_client_is_acknowledged_again_and_keeps_one_answer() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.play("@ evening").await;
    for _ in 0..3 {
        world.tap_unseen("Smooth");
    }
    let said = spoken(&world.settle().await);
    let last = said.rsplit("Kept: ").next().unwrap();
    assert!(last.starts_with("Thursday 14 January, Smooth."), "{said}");
    assert_eq!(world.requests("answerCallbackQuery"), 3);
    assert_eq!(world.dump().await["history"].len(), 1);
    assert_eq!(answers(&world).await, ["2027-01-14 Smooth"]);
}

#[tokio::test]
async fn of_two_taps_the_later_one_is_kept_and_both_are_in_the_history() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.play("@ evening").await;
    world.tap_unseen("Smooth");
    world.theatre.clock.turn_to(world.theatre.clock.now() + TimeDelta::seconds(2));
    world.tap_unseen("Rough");
    let said = spoken(&world.settle().await);
    let last = said.rsplit("Kept: ").next().unwrap();
    assert!(last.starts_with("Thursday 14 January, Rough."), "{said}");
    assert_eq!(answers(&world).await, ["2027-01-14 Rough"]);
    assert_eq!(world.dump().await["history"].len(), 2);
}

/// A message of Maren's in an update with this number.
fn typed(update: i64, text: &str) -> Value {
    json!({ "update_id": update, "message": {
        "message_id": 900, "date": 1_800_000_000, "text": text,
        "from": { "id": MAREN, "is_bot": false, "first_name": "Maren" },
        "chat": { "id": MAREN, "type": "private", "first_name": "Maren" },
    }})
}
