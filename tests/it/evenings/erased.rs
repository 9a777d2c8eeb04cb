//! `/erase` at the end of an evening: nothing of the maker is left in any byte of the folder, and
//! nothing goes of one who did not ask for it in this very message.

use std::fs;
use std::path::Path;

use duskrow::blanket::Change;
use duskrow::cli::rehearse::{demo, theatre::MAREN};
use duskrow::telegram::poll::Poller;
use serde_json::{Value, json};
use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{ConnectOptions as _, Connection as _};

use crate::world::World;

/// As an integer its six bytes are written in the file as the text they spell.
const MARKED_USER: i64 = 0x5A45_5048_5952;
const MARK: &str = "ZEPHYR";

#[tokio::test]
async fn after_erase_no_byte_of_the_folder_holds_what_was_kept() {
    let mut world = World::begun("2027-01-14 20:00").await;
    let beginning = demo::beginning_on("2027-01-14".parse().unwrap());
    let begun = [Change::Began(Box::new(beginning))];
    world.theatre.settle_in(MARKED_USER, &begun).await.unwrap();
    world.play_as(MARKED_USER, "@ evening\nZEPHYR\n[Smooth]\n/today ZEPHYR\n/rows").await;
    // Set aside with all that was in it.
    let broken = json!({ "text": MARK, "from": { "id": MARKED_USER }, "chat": {} });
    world.stand_in.push_raw_update(json!({ "message": broken }));
    world.settle().await;
    assert!(bytes_of(world.folder.path(), MARK) > 0, "the mark was never kept");
    let other = world.theatre.book(MAREN).await.unwrap();
    let farewell = world.play_as(MARKED_USER, "/erase\nERASE").await;
    assert!(farewell.contains("Everything kept about you here is erased."), "{farewell}");
    assert_eq!(bytes_of(world.folder.path(), MARK), 0);
    let mut world = world.restart().await;
    world.play_as(MARKED_USER, "@ 2027-01-20 23:00\n/rows").await;
    assert_eq!(bytes_of(world.folder.path(), MARK), 0);
    let seen = world.stand_in.seen_by(MARKED_USER);
    let last = &seen.last().unwrap().text;
    assert_eq!(last, "This bot is private. Ask its owner for an invitation.");
    let after = world.theatre.book(MAREN).await.unwrap();
    assert_eq!(after.unwrap().plan(), other.unwrap().plan());
}

#[tokio::test]
async fn an_erasing_that_a_reader_holds_up_is_finished_once_they_are_done() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.play("@ evening\n[Smooth]\n[Note]\nZEPHYR").await;
    let path = world.folder.path().join("duskrow.db");
    let mut reader = SqliteConnectOptions::new().filename(path).connect().await.unwrap();
    let reads = "BEGIN; SELECT count(*) FROM makers";
    sqlx::raw_sql(reads).execute(&mut reader).await.unwrap();
    world.type_unseen("/erase");
    world.type_unseen("ERASE");
    world.theatre.app.poll_once(&mut Poller::new()).await.unwrap();
    assert_eq!(world.theatre.book(MAREN).await.unwrap(), None);
    assert!(bytes_of(world.folder.path(), "ZEPHYR") > 0, "nobody held it up");
    reader.close().await.unwrap();
    world.theatre.app.tick().await.unwrap();
    assert_eq!(bytes_of(world.folder.path(), "ZEPHYR"), 0);
}

/// At first the step that waits for the word had been left; by the second time it is there.
#[tokio::test]
async fn the_word_alone_delivered_twice_asks_once_more_and_erases_nothing() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.play("@ evening\n[Smooth]\n/erase\n/today").await;
    let kept = world.book().await;
    world.stand_in.push_raw_update(the_word(5_000_000));
    let said = world.settle().await;
    assert!(said.contains("Type ERASE"), "{said}");
    world.stand_in.push_raw_update(the_word(5_000_000));
    assert_eq!(world.settle().await, "");
    assert_eq!(world.book().await, kept);
    world.stand_in.push_raw_update(the_word(5_000_001));
    let farewell = world.settle().await;
    assert!(farewell.contains("Everything kept about you here is erased."), "{farewell}");
    assert_eq!(world.theatre.book(MAREN).await.unwrap(), None);
}

#[tokio::test]
async fn a_word_that_erased_delivered_again_erases_nobody_who_came_back() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.play("/erase").await;
    world.stand_in.push_raw_update(the_word(5_000_000));
    let farewell = world.settle().await;
    assert!(farewell.contains("Everything kept about you here is erased."), "{farewell}");
    world.stand_in.push_raw_update(the_word(5_000_000));
    let said = world.settle().await;
    assert_eq!(said, "bot: This bot is private. Ask its owner for an invitation.\n");
    world.play("/start\n[I agree]\n/erase").await;
    world.stand_in.push_raw_update(the_word(5_000_000));
    assert_eq!(world.settle().await, "");
    assert_eq!(world.rows("makers").await.len(), 1);
}

/// Maren types the word, as an update with this number.
fn the_word(number: i64) -> Value {
    let from = json!({ "id": MAREN, "is_bot": false, "first_name": "Maren" });
    let chat = json!({ "id": MAREN, "type": "private", "first_name": "Maren" });
    let message = json!({
        "message_id": number, "date": 1_800_000_000, "from": from, "chat": chat, "text": "ERASE",
    });
    json!({ "update_id": number, "message": message })
}

/// How often a text stands in any file below a folder.
pub fn bytes_of(folder: &Path, text: &str) -> usize {
    let mut count = 0;
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            count += bytes_of(&path, text);
            continue;
        }
        let content = fs::read(&path).unwrap();
        count += content.windows(text.len()).filter(|window| *window == text.as_bytes()).count();
    }
    count
}
