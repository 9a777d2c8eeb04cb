//! Two makers with one bot: neither can see or change what the other has.

use duskrow::blanket::{Book, Change, TierId};
use duskrow::chat::button::Button;
use duskrow::cli::rehearse::demo;
use duskrow::cli::rehearse::theatre::MAREN;
use proptest::strategy::{Strategy as _, ValueTree as _};
use proptest::test_runner::TestRunner;

use crate::talks::tokens::any_token;
use crate::world::World;

const OTHER: i64 = 1002;
/// Forged taps; `forged.rs` makes many more without a network.
const FORGED: i64 = 100;
/// Taps before the bot comes to hear them: it hears no more of one maker at once.
const AT_ONCE: i64 = 20;

#[tokio::test]
async fn a_tap_on_the_message_of_another_maker_changes_ones_own_day() {
    let mut world = two_makers().await;
    world.play("@ evening").await;
    let theirs = world.newest().id;
    let day = "2027-07-15".parse().unwrap();
    let maren = book(&world, MAREN).await;
    let before = world.stand_in.seen_by(MAREN).len();
    let token = Button::Answer { day, tier: TierId(6) }.token();
    world.stand_in.tap_data(OTHER, theirs, &token);
    world.settle().await;
    assert_eq!(book(&world, MAREN).await, maren);
    assert_eq!(world.stand_in.seen_by(MAREN).len(), before);
    assert_eq!(book(&world, OTHER).await.answer(day).unwrap().tier, TierId(6));
}

#[tokio::test]
async fn a_hundred_forged_taps_show_nothing_in_the_chat_of_another_maker() {
    let (tokens, mut runner) = (any_token(), TestRunner::deterministic());
    let mut world = two_makers().await;
    world.settle().await;
    let before = (book(&world, MAREN).await, world.stand_in.seen_by(MAREN));
    let own = book(&world, OTHER).await;
    for number in 1..=FORGED {
        let token = tokens.new_tree(&mut runner).unwrap().current();
        world.stand_in.tap_data(OTHER, number, &token);
        if number % AT_ONCE == 0 {
            world.settle().await;
            world.pass_unseen(1);
        }
    }
    assert_eq!(world.stand_in.unconfirmed_updates(), 0);
    assert_eq!(book(&world, MAREN).await, before.0);
    assert_eq!(world.stand_in.seen_by(MAREN), before.1);
    // Else the taps would not have reached anything at all.
    assert_ne!(book(&world, OTHER).await, own);
    assert_eq!(world.requests("answerCallbackQuery"), usize::try_from(FORGED).unwrap());
}

/// Both work on the demo blanket.
async fn two_makers() -> World {
    let mut world = World::new("2027-07-15 10:00").await;
    let changes: Vec<Change> = demo::changes();
    for user in [MAREN, OTHER] {
        world.theatre.settle_in(user, &changes).await.unwrap();
    }
    world
}

async fn book(world: &World, user: i64) -> Book {
    world.theatre.book(user).await.unwrap().unwrap()
}
