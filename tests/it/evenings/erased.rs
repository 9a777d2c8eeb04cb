//! `/erase` at the end of an evening: nothing of the maker is left in any byte of the folder.

use std::fs;
use std::path::Path;

use duskrow::blanket::Change;
use duskrow::cli::rehearse::{demo, theatre::MAREN};
use serde_json::json;

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
