//! A fault of one maker, of the disk or of another program holds up nobody longer than it lasts.

use std::time::Duration;

use chrono::TimeDelta;
use duskrow::app::Claim;
use duskrow::blanket::Change;
use duskrow::cli::rehearse::demo;
use duskrow::cli::rehearse::theatre::MAREN;
use duskrow::store::Settled;
use duskrow::telegram::error::WireError;
use duskrow::telegram::poll::Poller;
use serde_json::json;
use serde_json::value::{RawValue, to_raw_value};
use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{ConnectOptions as _, Connection as _, SqliteConnection};

use super::{answers, spoken};
use crate::world::World;

const OTHER: i64 = 1002;
/// More than are tried in vain for ever.
const REFUSALS_MAX: u32 = 80;
/// Whatever is asked about this blanket, its row cannot be read.
const DAMAGE: &str =
    "UPDATE blankets SET zone = 'Nowhere' WHERE maker = (SELECT max(id) FROM makers)";
/// More pages than any test fills.
const ROOM: u32 = 1 << 20;

#[tokio::test]
async fn a_maker_whose_book_cannot_be_read_holds_up_nobody_else() {
    let mut world = of_two().await;
    // Whatever the other waits for is due before what Maren waits for.
    let first =
        "UPDATE makers SET wakes_at = wakes_at - 1000 WHERE id = (SELECT max(id) FROM makers)";
    change(&world, DAMAGE).await;
    change(&world, first).await;

    let asked = spoken(&world.play("@ evening").await);
    assert_eq!(asked, "bot: Thursday 14 January\n  Which fits the day?\n");
    world.stand_in.send_text(OTHER, "Rough");
    world.type_unseen("Smooth");
    world.settle().await;
    assert_eq!(answers(&world).await, ["2027-01-14 Smooth"]);
    assert_eq!(world.stand_in.unconfirmed_updates(), 0);
    assert_eq!(world.dump().await["failed_updates"].len(), 1);
    // Neither is tried all the time.
    let wake = world.theatre.app.next_wake().await.unwrap().unwrap();
    assert_eq!(wake.to_rfc3339(), "2027-01-14T21:59:59+00:00");
}

#[tokio::test]
async fn a_file_of_a_book_that_cannot_be_read_holds_up_nobody_elses_question() {
    let mut world = of_two().await;
    world.stand_in.send_text(OTHER, "/export");
    world.theatre.app.poll_once(&mut Poller::new()).await.unwrap();
    change(&world, DAMAGE).await;
    assert_eq!(world.rows("outbox").await.len(), 3);
    let asked = spoken(&world.play("@ evening").await);
    assert_eq!(asked, "bot: Thursday 14 January\n  Which fits the day?\n");
    assert_eq!(world.requests("sendDocument"), 0);
    assert_eq!(world.rows("outbox").await, [""; 0]);
}

#[tokio::test]
async fn a_file_that_cannot_be_made_now_waits_for_a_minute_and_nothing_waits_for_it() {
    let mut world = of_two().await;
    world.stand_in.send_text(OTHER, "/export");
    world.type_unseen("/help");
    let (app, clock) = (&world.theatre.app, &world.theatre.clock);
    // Two messages never go at one instant.
    let a_second_later = || clock.turn_to(clock.now() + TimeDelta::seconds(1));
    app.poll_once(&mut Poller::new()).await.unwrap();
    let held_until = clock.monotonic() + Duration::from_secs(60);
    let Claim::Message(first) = app.claim().await.unwrap() else { panic!("nothing to send") };
    assert_eq!(first.chat_id.0, OTHER);
    let unmade = WireError::Unmade { why: "a bad sector".to_owned() };
    assert_eq!(app.settle(&first, Err(unmade)).await.unwrap(), Settled::Retry);
    assert!(app.hears(), "the platform has nothing to do with it");
    a_second_later();
    let Claim::Message(second) = app.claim().await.unwrap() else { panic!("nothing to send") };
    assert_eq!(second.chat_id.0, MAREN);
    let sent = app.request(&second).await;
    app.settle(&second, sent).await.unwrap();
    a_second_later();
    let Claim::Wait(until) = app.claim().await.unwrap() else { panic!("not held") };
    assert_eq!(until, held_until);
    world.settle().await;
    assert_eq!(world.requests("sendDocument"), 3);
}

#[tokio::test]
async fn on_a_full_disk_no_tap_is_acknowledged_and_with_room_all_of_it_counts() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.play("@ evening").await;
    world.theatre.app.store().limit_pages(1).await.unwrap();
    let mut poller = Poller::new();
    let mut helps = 0;
    while world.theatre.app.poll_once(&mut poller).await.is_ok() {
        world.type_unseen("/help");
        helps += 1;
        assert!(helps < 1000, "the disk does not get full");
    }
    world.tap_unseen("Smooth");
    for _ in 0..2 {
        let fault = world.theatre.app.poll_once(&mut poller).await.unwrap_err();
        assert!(format!("{fault:#}").contains("no space left"), "{fault:#}");
    }
    assert_eq!(world.requests("answerCallbackQuery"), 0);
    world.theatre.app.settle_straight().await;
    let told = "I could not keep that yet.";
    let seen = world.stand_in.seen_by(MAREN);
    assert_eq!(seen.iter().filter(|seen| seen.text.starts_with(told)).count(), 1);
    assert!(world.stand_in.unconfirmed_updates() >= 2);
    assert_eq!(answers(&world).await, [""; 0]);

    world.theatre.app.store().limit_pages(ROOM).await.unwrap();
    let said = world.settle().await;
    assert_eq!(said.matches("bot: /today").count(), helps, "{said}");
    assert_eq!(answers(&world).await, ["2027-01-14 Smooth"]);
    assert_eq!(world.requests("answerCallbackQuery"), 1);
    assert_eq!(world.stand_in.unconfirmed_updates(), 0);
    assert_eq!(world.dump().await["failed_updates"], [""; 0]);
}

/// A batch comes whole until all of it is kept.
#[tokio::test]
async fn on_a_full_disk_it_is_said_once_although_an_update_before_it_was_kept() {
    let world = World::begun("2027-01-14 12:00").await;
    let app = &world.theatre.app;
    app.store().limit_pages(1).await.unwrap();
    let mut number = 5_000_000;
    while app.take(&help(number)).await.is_ok() {
        number += 1;
        assert!(number < 5_001_000, "the disk does not get full");
    }
    for _ in 0..3 {
        app.take(&help(number - 1)).await.unwrap();
        let fault = app.take(&help(number)).await.unwrap_err();
        assert!(format!("{fault:#}").contains("no space left"), "{fault:#}");
    }
    let told = async || {
        app.settle_straight().await;
        let seen = world.stand_in.seen_by(MAREN).into_iter();
        seen.filter(|seen| seen.text.starts_with("I could not keep that yet.")).count()
    };
    assert_eq!(told().await, 1);
    // With room it is kept, and the next full disk is news.
    app.store().limit_pages(ROOM).await.unwrap();
    app.take(&help(number)).await.unwrap();
    app.store().limit_pages(1).await.unwrap();
    while app.take(&help(number)).await.is_ok() {
        number += 1;
    }
    assert_eq!(told().await, 2);
}

/// Maren types `/help`, as an update with this number.
fn help(number: i64) -> Box<RawValue> {
    let from = json!({ "id": MAREN, "is_bot": false, "first_name": "Maren" });
    let chat = json!({ "id": MAREN, "type": "private", "first_name": "Maren" });
    let message = json!({
        "message_id": number, "date": 1_800_000_000, "from": from, "chat": chat, "text": "/help",
    });
    to_raw_value(&json!({ "update_id": number, "message": message })).unwrap()
}

#[tokio::test]
async fn a_sent_message_whose_end_could_not_be_kept_comes_once_and_blocks_no_chat() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.type_unseen("/help");
    world.type_unseen("/today");
    world.theatre.app.poll_once(&mut Poller::new()).await.unwrap();
    let Claim::Message(claimed) = world.theatre.app.claim().await.unwrap() else {
        panic!("nothing to send");
    };
    let sent = world.theatre.app.request(&claimed).await;
    let mut database = open(&world).await;
    let held = database.begin_with("BEGIN IMMEDIATE").await.unwrap();
    let fault = world.theatre.app.settle(&claimed, sent).await.unwrap_err();
    assert!(format!("{fault:#}").contains("in use by another program"), "{fault:#}");
    held.rollback().await.unwrap();

    world.settle().await;
    assert_eq!(world.requests("sendMessage"), 2);
    let seen = world.stand_in.seen_by(MAREN);
    let helps = seen.iter().filter(|seen| seen.text.starts_with("/today –")).count();
    assert_eq!(helps, 1);
    assert!(world.newest().text.starts_with("Thursday 14 January"), "{}", world.newest().text);
}

/// A reply that the platform can never take, as its own trouble: it holds up its own chat alone, and
/// that for about an hour.
#[tokio::test]
async fn a_message_that_is_refused_every_time_holds_up_no_other_chat_and_not_its_own_for_ever() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.theatre.settle_in(OTHER, &[]).await.unwrap();
    world.type_unseen("/help");
    world.type_unseen("/today");
    world.theatre.app.poll_once(&mut Poller::new()).await.unwrap();
    let (app, clock) = (&world.theatre.app, world.theatre.clock.clone());
    let began = clock.now();
    let mut refusals = 0;
    loop {
        match app.claim().await.unwrap() {
            Claim::Wait(at) => {
                let wait = TimeDelta::from_std(at - clock.monotonic()).unwrap();
                clock.turn_to(clock.now() + wait);
            }
            Claim::Nothing => panic!("nothing waits after {refusals} refusals"),
            Claim::Message(claimed) if claimed.params.contains("/rows") => {
                let trouble = WireError::Api {
                    code: 500,
                    description: "Internal Server Error".to_owned(),
                    retry_after: None,
                };
                app.settle(&claimed, Err(trouble)).await.unwrap();
                app.greet().await.unwrap();
                refusals += 1;
                assert!(refusals < REFUSALS_MAX, "it is tried for ever");
                if refusals == 40 {
                    // Deep in its longest waits, another chat does not wait at all.
                    world.stand_in.send_text(OTHER, "/help");
                    app.poll_once(&mut Poller::new()).await.unwrap();
                    clock.turn_to(clock.now() + TimeDelta::seconds(1));
                    let Claim::Message(other) = app.claim().await.unwrap() else {
                        panic!("the other waits too");
                    };
                    assert_eq!(other.chat_id.0, OTHER);
                    let sent = app.request(&other).await;
                    app.settle(&other, sent).await.unwrap();
                }
            }
            Claim::Message(claimed) => {
                assert!(claimed.params.contains("Thursday 14 January"), "{}", claimed.params);
                break;
            }
        }
    }
    let minutes = (clock.now() - began).num_minutes();
    assert!((50..=70).contains(&minutes), "{refusals} refusals in {minutes} minutes");
}

/// Maren, and somebody else with a blanket of their own, the last who came.
async fn of_two() -> World {
    let mut world = World::begun("2027-01-14 12:00").await;
    let beginning = demo::beginning_on("2027-01-14".parse().unwrap());
    let changes = [Change::Began(Box::new(beginning))];
    world.theatre.settle_in(OTHER, &changes).await.unwrap();
    world
}

/// Changes one row behind the bot's back.
async fn change(world: &World, statement: &'static str) {
    let mut database = open(world).await;
    let changed = sqlx::query(statement).execute(&mut database).await.unwrap();
    assert_eq!(changed.rows_affected(), 1);
    database.close().await.unwrap();
}

async fn open(world: &World) -> SqliteConnection {
    let path = world.folder.path().join("duskrow.db");
    SqliteConnectOptions::new().filename(path).connect().await.unwrap()
}
