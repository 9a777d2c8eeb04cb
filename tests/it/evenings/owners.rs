//! What is the owner's stays the owner's: her buttons and commands, used by another maker or by a
//! stranger, change nothing of hers and tell nothing.

use std::collections::BTreeSet;

use duskrow::cli::rehearse::theatre::MAREN;
use duskrow::rehearsal::Person;

use super::invited::{code_in, heard};
use crate::world::World;

const OTHER: i64 = 2001;
const STRANGER: i64 = 2002;
/// In words of the owner's, and nowhere else.
const MARK: &str = "Zephyr";

#[tokio::test]
async fn no_button_or_command_of_the_owner_works_or_tells_anything_elsewhere() {
    let mut world = World::begun("2027-01-01 12:00").await;
    let code = code_in(&world.play("/invite").await);
    world.let_in(OTHER, &code).await;
    world.play_as(OTHER, "Lisbon\n[Yes]\n[21:00]\n[Today, Fri 1 Jan]").await;
    world.stand_in.introduce(Person::new(STRANGER, "Somebody"));
    owners_evening(&mut world).await;
    let before = (world.book().await, heard(&world, MAREN).len());
    assert!(heard(&world, MAREN).concat().contains(MARK));

    let tokens = tokens(&world);
    assert!(tokens.len() > 60, "{}", tokens.len());
    let commands = [
        "/invite",
        "/invite owner",
        "/makers",
        "/export 1",
        "/erase 1",
        "/start",
        "/help",
        "/recap",
    ];
    for user in [OTHER, STRANGER] {
        for token in &tokens {
            world.stand_in.tap_data(user, 1, token);
            world.settle().await;
            world.pass_unseen(1);
        }
        for command in commands {
            world.stand_in.send_text(user, command);
            world.settle().await;
            world.pass_unseen(1);
        }
        let told = heard(&world, user).concat();
        assert!(!told.contains(MARK) && !told.contains("?start="), "{told}");
    }
    assert_eq!(world.book().await, before.0);
    assert_eq!(heard(&world, MAREN).len(), before.1);
    let lines: BTreeSet<String> = heard(&world, STRANGER).into_iter().collect();
    assert_eq!(
        lines,
        BTreeSet::from(["This bot is private. Ask its owner for an invitation.".into()])
    );
    assert_eq!(world.dump().await["makers"].len(), 2);
}

/// Screens with many buttons, and words that would tell.
async fn owners_evening(world: &mut World) {
    let renamed = format!("/settings\n[Scale]\n[Smooth]\n[Rename]\n{MARK}\n/settings\n[Colours]");
    let person = format!("/settings\n[People and numbers]\n[Add a line]\n{MARK} 555 0134");
    let question = format!("/settings\n[Scale]\n[The question]\n{MARK}?");
    let script = format!(
        "@ evening\n[Smooth]\n[Note]\n{MARK} came by\n{renamed}\n{person}\n{question}\n/rows 1\n\
         [Worked]\n/yarn\nBrick 83\n/stitch\n/block\n/blankets\n/today\n/recap\n/open\n/help"
    );
    world.play(&script).await;
}

fn tokens(world: &World) -> BTreeSet<String> {
    let requests = world.stand_in.requests().into_iter();
    let of_maren = requests.filter(|asked| asked.params["chat_id"] == MAREN);
    let keyboards = of_maren
        .filter_map(|asked| asked.params["reply_markup"]["inline_keyboard"].as_array().cloned());
    let buttons = keyboards.flatten().filter_map(|row| row.as_array().cloned()).flatten();
    let token = |button: serde_json::Value| Some(button["callback_data"].as_str()?.to_owned());
    buttons.filter_map(token).collect()
}
