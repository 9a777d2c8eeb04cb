//! Two makers and a stranger on one bot: set up in own words, a palette mended by what the bot
//! offers, an invitation that works once, a week caught up, a copy brought back, an erasing. Nobody reads a word of another.
//! `duskrow rehearse --empty --script` plays the same lines.

use duskrow::blanket::BlockNumber;
use duskrow::blanket::colours::bad_pairs;
use duskrow::chat::event::UserId;
use duskrow::cli::rehearse::theatre::MAREN;
use duskrow::export::book_file;

use super::erased::bytes_of;
use crate::world::World;

const HOUSEHOLD: &str = include_str!("household.txt");
const INES: i64 = MAREN + 2;
const OTTO: i64 = MAREN + 1;

#[tokio::test]
async fn two_makers_and_a_stranger_share_a_bot_and_nothing_else() {
    let mut world = World::new("2027-01-01 21:14").await;
    let played = world.play(HOUSEHOLD).await;
    insta::assert_snapshot!(played.replace(&code(&played), "CODE"));

    let maren = world.theatre.book(MAREN).await.unwrap().unwrap();
    let ines = world.theatre.book(INES).await.unwrap().unwrap();
    assert_eq!(world.theatre.book(OTTO).await.unwrap(), None);
    assert_eq!(maren.scale().tiers()[0].label.as_str(), "Storm");
    let colours: Vec<_> = maren.yarns().iter().map(|yarn| yarn.rgb).collect();
    assert_eq!(bad_pairs(&colours), []);
    assert_eq!((maren.answers().len(), ines.answers().len()), (1, 8));
    assert_eq!((maren.worked(BlockNumber(1)).len(), ines.worked(BlockNumber(1)).len()), (0, 3));
    let copy = world.stand_in.seen_by(INES).into_iter().filter_map(|seen| seen.file);
    let copy = copy.filter(|file| file.name == "book-2027-01-08.json").last().unwrap();
    let store = world.theatre.app.store();
    let id = store.load(UserId(INES)).await.unwrap().unwrap().id;
    let history = store.history(id, ines.plan().first_day()).await.unwrap();
    assert_eq!(book_file(&ines, &history).as_bytes(), copy.bytes.as_slice());
    let read = |user: i64| {
        let seen = world.stand_in.seen_by(user).into_iter();
        seen.map(|seen| seen.text).collect::<Vec<_>>().join("\n")
    };
    assert!(!read(MAREN).contains("ZEPHYR") && read(INES).contains("ZEPHYR"));
    for word in ["Storm", "Glassy"] {
        assert!(!read(INES).contains(word) && read(MAREN).contains(word));
    }
    for said in read(OTTO).lines().filter(|line| !["/start", "let me in"].contains(line)) {
        let known = ["This bot is private.", "This link was used before", "Ask "];
        assert!(known.iter().any(|known| said.starts_with(known)), "{said}");
    }

    assert!(bytes_of(world.folder.path(), "ZEPHYR") > 0, "the mark was never kept");
    world.play_as(INES, "/erase\nERASE").await;
    assert_eq!(bytes_of(world.folder.path(), "ZEPHYR"), 0);
    assert_eq!(world.theatre.book(INES).await.unwrap(), None);
    assert_eq!(world.theatre.book(MAREN).await.unwrap().unwrap(), maren);
}

/// The code of the only invitation.
fn code(played: &str) -> String {
    let (_, after) = played.split_once("?start=").unwrap();
    after.lines().next().unwrap().to_owned()
}
