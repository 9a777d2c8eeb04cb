//! A fault of one maker, of the disk or of another program holds up nobody longer than it lasts.

use std::time::Duration;

use duskrow::app::Claim;
use duskrow::blanket::Change;
use duskrow::cli::rehearse::demo;
use duskrow::cli::rehearse::theatre::MAREN;
use duskrow::store::Settled;
use duskrow::telegram::error::WireError;
use duskrow::telegram::poll::Poller;
use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{ConnectOptions as _, Connection as _, SqliteConnection};

use super::{answers, spoken};
use crate::world::World;

const OTHER: i64 = 1002;
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
    let app = &world.theatre.app;
    app.poll_once(&mut Poller::new()).await.unwrap();
    let unmade = || WireError::Unmade { why: "a bad sector".to_owned() };
    let Claim::Message(first) = app.claim().await.unwrap() else { panic!("nothing to send") };
    assert_eq!(first.chat_id.0, OTHER);
    assert_eq!(app.settle(&first, Err(unmade())).await.unwrap(), Settled::Retry);
    assert!(app.hears(), "the platform has nothing to do with it");
    let Claim::Message(second) = app.claim().await.unwrap() else { panic!("nothing to send") };
    assert_eq!(second.chat_id.0, MAREN);
    let sent = app.request(&second).await;
    app.settle(&second, sent).await.unwrap();
    let Claim::Wait(until) = app.claim().await.unwrap() else { panic!("not held") };
    assert_eq!(until - world.theatre.clock.monotonic(), Duration::from_secs(60));
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
