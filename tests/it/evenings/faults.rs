//! What cannot be handled is set aside, said to the maker with a code, and the bot goes on.

use duskrow::cli::rehearse::theatre::MAREN;
use duskrow::rehearsal::Other;
use serde_json::json;

use super::{answers, spoken};
use crate::world::World;

#[tokio::test]
async fn an_update_that_cannot_be_read_is_set_aside_and_the_next_one_works() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.play("@ evening").await;
    let broken = json!({ "text": "Rough", "from": { "id": MAREN }, "chat": { "id": "a word" } });
    world.stand_in.push_raw_update(json!({ "update_id": 5_000_000, "message": broken }));
    world.type_unseen("Smooth");
    let said = world.settle().await;
    let (before, after) = said.split_once("Code ").unwrap();
    assert!(before.ends_with("bot: That did not work, and nothing was changed. "), "{said}");
    let (code, after) = after.split_once(".\n").unwrap();
    assert!(after.contains("Kept: Thursday 14 January, Smooth."), "{said}");
    assert_eq!(answers(&world).await, ["2027-01-14 Smooth"]);
    let set_aside = world.dump().await["failed_updates"].join("\n");
    assert!(code.len() == 4 && set_aside.contains(code), "{code} is not in {set_aside}");
    assert!(set_aside.contains("a word"), "{set_aside}");
    // Delivered again, it is neither set aside nor spoken of again.
    world.stand_in.push_raw_update(json!({ "update_id": 5_000_000, "message": {} }));
    assert_eq!(world.settle().await, "");
    assert_eq!(world.dump().await["failed_updates"].len(), 1);
}

#[tokio::test]
async fn of_a_strangers_broken_update_only_its_kind_is_kept() {
    let mut world = World::begun("2027-01-14 12:00").await;
    let broken = json!({ "text": "ZEPHYR", "from": { "id": 77_077_077 }, "chat": {} });
    world.stand_in.push_raw_update(json!({ "message": broken }));
    world.stand_in.push_raw_update(json!({ "message": "ZEPHYR" }));
    world.settle().await;
    let dump = format!("{:?}", world.dump().await);
    assert!(dump.contains("unreadable"), "{dump}");
    assert!(!dump.contains("ZEPHYR") && !dump.contains("77077077"), "{dump}");
    assert_eq!(world.stand_in.seen_by(77_077_077), []);
}

#[tokio::test]
async fn bad_input_in_an_evening_gets_a_sentence_and_changes_nothing() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.play("@ evening").await;
    let before = world.book().await;
    let long = "a".repeat(10 * 1024);
    let cases = [
        "/today 30 Feb",
        "/today 15 Jan",
        "/today 1 Jan 2031",
        "/rows many",
        "/rows 0",
        "/nonsense",
        "\u{202E}\u{7}\u{0}",
        long.as_str(),
    ];
    for typed in cases {
        world.type_unseen(typed);
        let said = spoken(&world.settle().await);
        assert!(said.contains("bot: "), "{typed:?} got no answer: {said}");
        assert_eq!(world.book().await, before, "{typed:?}");
    }
    // Text that is no tier answers nothing, whatever else becomes of it.
    for typed in ["🧶🧶🧶", "<b>Smooth</b>", "smooooth", "8"] {
        world.type_unseen(typed);
        let said = spoken(&world.settle().await);
        assert!(said.contains("bot: "), "{typed:?} got no answer: {said}");
        assert_eq!(answers(&world).await, [""; 0], "{typed:?}");
    }
    let before = world.book().await;
    world.stand_in.send_photo(MAREN, "Smooth");
    assert!(world.settle().await.contains("not this message. Nothing was changed."));
    world.stand_in.send_other(MAREN, Other::Voice);
    assert!(world.settle().await.contains("not this message. Nothing was changed."));
    assert_eq!(world.book().await, before);
    assert_eq!(world.stand_in.violations(), Vec::<String>::new());
    // The question still takes its answer.
    world.play("[Smooth]").await;
    assert_eq!(answers(&world).await, ["2027-01-14 Smooth"]);
}
