//! Whoever was not invited: one line, nothing kept, and no way in but a good link.

use chrono::TimeDelta;
use duskrow::chat::button::{Button, Invitation};
use duskrow::cli::rehearse::theatre::MAREN;
use duskrow::rehearsal::{Other, SeenKind, Speaker};

use super::invited::heard;
use crate::world::World;

const STRANGER: i64 = 2002;
const GROUP: i64 = -3003;

const PRIVATE: &str = "This bot is private. Ask its owner for an invitation.";
const LINK_INVALID: &str =
    "This link was used before, or its time is over.\nAsk the owner for a new one.";

#[tokio::test]
async fn a_hundred_messages_of_a_stranger_get_one_line_a_day_and_leave_no_trace() {
    let mut world = World::demo().await;
    world.settle().await;
    let before = world.dump().await;
    let updates = world.rows("seen_updates").await;
    let mut written = Vec::new();
    let forged = Button::Agree { invitation: Invitation::parse("ZEPHYRZEPHYR").unwrap() };
    for number in 0..100 {
        match number % 10 {
            0 => _ = world.stand_in.send_photo(STRANGER, "ZEPHYR"),
            1 => _ = world.stand_in.send_other(STRANGER, Other::Sticker),
            2 => _ = world.stand_in.send_other(STRANGER, Other::Document),
            3 => _ = world.stand_in.send_text(STRANGER, "/today"),
            4 => _ = world.stand_in.open_link(STRANGER, &format!("ZEPHYR{number}")),
            5 => _ = world.stand_in.send_text(STRANGER, "/start"),
            6 => _ = world.stand_in.tap_data(STRANGER, 1, &Button::Rows.token()),
            7 => _ = world.stand_in.tap_data(STRANGER, 1, &forged.token()),
            8 => assert!(world.stand_in.edit_text(STRANGER, written[0], &format!("Z{number}"))),
            _ => _ = world.stand_in.send_text(STRANGER, "/invite"),
        };
        if number == 0 {
            written.push(world.stand_in.send_text(STRANGER, "ZEPHYR"));
        }
        world.settle().await;
    }
    assert_eq!(heard(&world, STRANGER), [PRIVATE]);
    assert_eq!(world.dump().await, before);
    assert_eq!(world.rows("seen_updates").await, updates);
    world.pass_unseen(24 * 60);
    world.stand_in.send_text(STRANGER, "still there?");
    world.settle().await;
    assert_eq!(heard(&world, STRANGER), [PRIVATE, PRIVATE]);
}

#[tokio::test]
async fn forged_taps_of_a_stranger_add_no_line_to_the_first() {
    let mut world = World::demo().await;
    world.settle().await;
    let before = world.dump().await;
    let invitation = || Invitation::parse("ZEPHYRZEPHYR").unwrap();
    for _ in 0..10 {
        for button in [Button::Agree { invitation: invitation() }, Button::Decline, Button::Rows] {
            world.stand_in.tap_data(STRANGER, 1, &button.token());
        }
        world.settle().await;
    }
    let seen = world.stand_in.seen_by(STRANGER).into_iter();
    let of_bot = seen.filter(|seen| seen.from == Speaker::Bot && seen.kind == SeenKind::Message);
    let lines: Vec<String> = of_bot.map(|seen| seen.text).collect();
    assert_eq!(lines, [PRIVATE]);
    assert_eq!(world.dump().await, before);
}

#[tokio::test]
async fn a_link_works_once_and_within_its_hour() {
    let mut world = World::demo().await;
    let (used, expired) = (link(&world).await, link(&world).await);
    world.stand_in.open_link(2001, &used);
    world.settle().await;
    assert!(heard(&world, 2001).concat().contains("Nobody watches this chat."));
    world.stand_in.tap(2001, "I agree").unwrap();
    world.settle().await;
    assert_eq!(world.dump().await["makers"].len(), 2);
    let before = world.dump().await;
    world.stand_in.open_link(STRANGER, &used);
    world.settle().await;
    assert_eq!(heard(&world, STRANGER), [LINK_INVALID]);
    world.stand_in.open_link(2003, "madeUpCode");
    world.pass_unseen(1);
    world.settle().await;
    assert_eq!(heard(&world, 2003), [LINK_INVALID]);
    assert_eq!(world.dump().await, before);
    world.pass_unseen(60);
    world.settle().await;
    let before = world.dump().await;
    world.stand_in.open_link(2004, &expired);
    world.settle().await;
    assert_eq!(heard(&world, 2004), [LINK_INVALID]);
    assert_eq!(world.dump().await, before);
}

#[tokio::test]
async fn after_five_wrong_codes_a_good_one_is_refused_like_them_for_an_hour() {
    let mut world = World::demo().await;
    world.settle().await;
    for number in 0..5 {
        world.stand_in.open_link(STRANGER, &format!("madeUpCode{number}"));
        world.settle().await;
    }
    let code = link(&world).await;
    world.stand_in.open_link(STRANGER, &code);
    world.settle().await;
    let agree = Button::Agree { invitation: Invitation::parse(&code).unwrap() };
    world.stand_in.tap_data(STRANGER, 1, &agree.token());
    world.settle().await;
    assert_eq!(heard(&world, STRANGER), [LINK_INVALID]);
    assert_eq!(world.dump().await["makers"].len(), 1);
    // Nobody else pays for it, and the code is as good as it was.
    world.let_in(2003, &code).await;
    assert_eq!(world.dump().await["makers"].len(), 2);
    world.pass_unseen(60);
    let code = link(&world).await;
    world.let_in(STRANGER, &code).await;
    assert_eq!(world.dump().await["makers"].len(), 3);
}

#[tokio::test]
async fn a_link_that_runs_out_while_its_screen_is_read_lets_nobody_in() {
    let mut world = World::demo().await;
    let code = link(&world).await;
    world.stand_in.open_link(STRANGER, &code);
    world.settle().await;
    world.pass_unseen(61);
    world.settle().await;
    let before = world.dump().await;
    world.stand_in.tap(STRANGER, "I agree").unwrap();
    world.settle().await;
    assert_eq!(heard(&world, STRANGER)[1..], [LINK_INVALID]);
    assert_eq!(world.dump().await, before);
}

#[tokio::test]
async fn a_link_gives_a_maker_who_has_a_blanket_nothing_new() {
    let mut world = World::demo().await;
    let code = link(&world).await;
    let before = world.book().await;
    world.stand_in.open_link(MAREN, &code);
    world.settle().await;
    assert_eq!(world.book().await, before);
    assert_eq!(world.dump().await["makers"].len(), 1);
}

#[tokio::test]
async fn a_group_gets_one_line_a_day() {
    let mut world = World::demo().await;
    world.settle().await;
    let before = world.dump().await;
    for text in ["/start", "/today@duskrow_rehearsal_bot", "@duskrow_rehearsal_bot rows", "/rows"] {
        for user in [MAREN, STRANGER] {
            world.stand_in.send_group_text(user, GROUP, text);
            world.settle().await;
        }
    }
    assert_eq!(heard(&world, GROUP), ["I answer in a private chat, never in a group."]);
    assert_eq!(world.dump().await, before);
}

async fn link(world: &World) -> String {
    let store = world.theatre.app.store();
    let code = store.invite(false, TimeDelta::hours(1), world.theatre.clock.now()).await.unwrap();
    code.as_str().to_owned()
}
