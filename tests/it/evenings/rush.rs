//! More at once than a person can mean: 20 in 10 seconds are handled, and of the rest the maker
//! hears that it was not kept. What a person did while the bot heard nothing is all handled.

use chrono::TimeDelta;
use duskrow::chat::button::Button;
use duskrow::cli::rehearse::demo;
use duskrow::cli::rehearse::theatre::MAREN;
use duskrow::rehearsal::{Seen, SeenKind};
use duskrow::telegram::poll::Poller;
use serde_json::json;

use super::{answers, spoken};
use crate::world::World;

const OTHER: i64 = 1002;

#[tokio::test]
async fn of_more_than_twenty_at_once_the_maker_hears_from_where_on_nothing_was_kept() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.play("@ evening").await;
    let before = world.stand_in.seen_by(MAREN).len();
    for number in 1..=20 {
        world.type_unseen(&format!("note {number}"));
    }
    world.type_unseen("Smooth");
    let query = world.stand_in.tap(MAREN, "Rough").unwrap();
    world.type_unseen("Very rough");
    let said = spoken(&world.settle().await);
    let told = "bot: More than 20 messages and taps came in 10 seconds.\n  \
                From \"Smooth\" on, nothing was kept.\n  \
                Wait 10 seconds. Then send it one more time.\n";
    assert_eq!(said.matches("More than 20").count(), 1, "{said}");
    assert!(said.contains(told) && said.contains("note"), "{said}");
    let seen = world.stand_in.seen_by(MAREN);
    assert_eq!(
        toasts(&seen[before..]),
        ["This tap was not kept. Wait 10 seconds, then tap one more time."]
    );
    let answered = world.stand_in.requests().into_iter().filter(|it| it.params["text"].is_string());
    let answered = answered.filter(|it| it.params["callback_query_id"] == query.as_str());
    assert_eq!(answered.count(), 1, "the tap was answered with these words alone");
    assert_eq!(answers(&world).await, [""; 0]);
    assert_eq!(world.dump().await["notes"].len(), 20);
    // All that was said took longer than ten seconds.
    world.play("[Smooth]").await;
    assert_eq!(answers(&world).await, ["2027-01-14 Smooth"]);
}

#[tokio::test]
async fn a_client_that_has_run_wild_costs_one_line_in_ten_seconds_and_holds_up_nobody() {
    let mut world = World::begun("2027-01-14 12:00").await;
    let beginning = demo::beginning_on("2027-01-14".parse().unwrap());
    let changes = [duskrow::blanket::Change::Began(Box::new(beginning))];
    world.theatre.settle_in(OTHER, &changes).await.unwrap();
    world.play("@ evening").await;
    world.settle().await;
    let revision = revision_of(&world, MAREN).await;
    let mut poller = Poller::new();
    for second in 0..60 {
        for _ in 0..50 {
            world.stand_in.tap_data(MAREN, 1, &smooth());
        }
        if second == 30 {
            world.stand_in.tap_data(OTHER, 1, &smooth());
        }
        hear(&world, &mut poller).await;
    }
    let told = world.dump().await["outbox"].iter().filter(|row| row.contains("More than")).count();
    // 20 go by at once, and each time after a rest of 10 seconds.
    assert_eq!(told, 6);
    assert_eq!(revision_of(&world, MAREN).await - revision, 6 * 20 + 6);
    assert_eq!(world.theatre.book(OTHER).await.unwrap().unwrap().answers().len(), 1);
    // Each tap that was handled is acknowledged, and of the rest one a second gets a line.
    let most = 6 * 20 + 1 + 60;
    assert!(world.requests("answerCallbackQuery") <= most);
}

#[tokio::test]
async fn what_a_maker_did_while_the_bot_heard_nothing_is_all_handled() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.play("@ evening").await;
    world.settle().await;
    world.pass_unseen(2);
    for _ in 0..75 {
        world.tap_unseen("Smooth");
        world.tap_unseen("Rough");
    }
    // The platform hands over a hundred at once, so these are two polls.
    let said = spoken(&world.settle().await);
    assert!(!said.contains("More than 20"), "{said}");
    assert_eq!(world.dump().await["history"].len(), 150);
    assert_eq!(world.requests("answerCallbackQuery"), 150);
    assert_eq!(answers(&world).await, ["2027-01-14 Rough"]);
}

#[tokio::test]
async fn a_tap_that_came_too_fast_is_named_by_its_day_and_a_picture_as_a_message() {
    for (number, from) in
        ["your answer for Thursday 14 January", "your last tap", "your last message"]
            .into_iter()
            .enumerate()
    {
        let mut world = World::begun("2027-01-14 12:00").await;
        world.play("@ evening").await;
        for number in 1..=20 {
            world.type_unseen(&format!("note {number}"));
        }
        match number {
            0 => drop(world.stand_in.tap_data(MAREN, 1, &smooth())),
            1 => drop(world.stand_in.tap_data(MAREN, 1, "no token")),
            _ => {
                let broken = json!({ "from": { "id": MAREN }, "chat": { "id": "a word" } });
                world.stand_in.push_raw_update(json!({ "message": broken }));
            }
        }
        let said = spoken(&world.settle().await);
        assert!(said.contains(&format!("From {from} on, nothing was kept.")), "{said}");
        assert_eq!(world.dump().await["failed_updates"], [""; 0]);
    }
}

fn smooth() -> String {
    let day = "2027-01-14".parse().unwrap();
    Button::Answer { day, tier: duskrow::blanket::TierId(6) }.token()
}

/// The bot takes what is there, and a second passes. Messages wait.
async fn hear(world: &World, poller: &mut Poller) {
    let app = &world.theatre.app;
    app.poll_once(poller).await.unwrap();
    app.settle_straight().await;
    world.theatre.clock.turn_to(world.theatre.clock.now() + TimeDelta::seconds(1));
}

async fn revision_of(world: &World, user: i64) -> i64 {
    let user = duskrow::chat::event::UserId(user);
    world.theatre.app.store().load(user).await.unwrap().unwrap().revision
}

fn toasts(seen: &[Seen]) -> Vec<&str> {
    seen.iter().filter(|seen| seen.kind == SeenKind::Toast).map(|seen| &*seen.text).collect()
}
