//! A book moves to another account of its maker: all of it, once, and the old chat is told.

use chrono::TimeDelta;
use duskrow::chat::event::UserId;
use duskrow::cli::rehearse::theatre::MAREN;

use super::invited::heard;
use crate::world::World;

const NEW: i64 = 2001;
const OTHER: i64 = 2002;

const AWAY: &str = "The person who runs this bot moved your blanket to another account.\n\
    If you did not ask for that, tell them.";
const LINK_INVALID: &str =
    "This link was used before, or its time is over.\nAsk the owner for a new one.";

/// A link that moves Maren's book.
async fn link(world: &World) -> String {
    let (store, now) = (world.theatre.app.store(), world.theatre.clock.now());
    let maren = store.load(UserId(MAREN)).await.unwrap().unwrap().id;
    store.invite_to_move(maren, TimeDelta::hours(1), now).await.unwrap().as_str().to_owned()
}

#[tokio::test]
async fn the_whole_book_is_the_new_accounts_and_the_old_one_is_a_strangers() {
    let mut world = World::demo().await;
    world.play("@ evening\n/settings").await;
    let (code, before) = (link(&world).await, world.dump().await);
    let book = world.book().await;
    world.let_in(NEW, &code).await;
    assert_eq!(heard(&world, MAREN).last().unwrap(), AWAY);
    let said = heard(&world, NEW);
    assert_eq!(
        said.last().unwrap().lines().next(),
        Some("You agreed. Your blanket is in this chat now.")
    );
    let store = world.theatre.app.store();
    let moved = store.load(UserId(NEW)).await.unwrap().unwrap();
    assert_eq!(moved.maker.book.unwrap(), book);
    assert!(moved.maker.owner && moved.reachable);
    assert_eq!(store.load(UserId(MAREN)).await.unwrap(), None);
    let after = world.dump().await;
    assert_eq!(after["makers"].len(), 1);
    assert_ne!(after["makers"], before["makers"]);
    // Every table of the book, byte for byte: earlier answers, notes and rows too.
    let of_the_chat = ["makers", "slots", "outbox", "invitations", "sqlite_sequence"];
    for (table, rows) in before.iter().filter(|(table, _)| !of_the_chat.contains(&table.as_str())) {
        assert_eq!(&after[table], rows, "{table}");
    }

    let told = heard(&world, MAREN).len();
    world.play_as(NEW, "@ +1d\n@ evening\n[Smooth]").await;
    assert_ne!(store_book(&world, NEW).await, book);
    assert_eq!(heard(&world, MAREN).len(), told, "{:?}", heard(&world, MAREN));
}

async fn store_book(world: &World, user: i64) -> duskrow::blanket::Book {
    world.theatre.book(user).await.unwrap().unwrap()
}

#[tokio::test]
async fn what_waited_for_the_old_chat_never_reaches_the_new_one() {
    let mut world = World::demo().await;
    world.settle().await;
    let code = link(&world).await;
    world.stand_in.block(MAREN);
    world.settle().await;
    world.pass_unseen(30);
    world.let_in(NEW, &code).await;
    let said = heard(&world, NEW);
    // The consent screen, that screen changed, and the question of the evening if it is due.
    assert!(said[0].contains("Nobody watches this chat."), "{said:?}");
    assert!(said[1].starts_with("You agreed. Your blanket is in this chat now."), "{said:?}");
    world.play_as(NEW, "@ +1d\n@ evening\n[Smooth]").await;
}

#[tokio::test]
async fn a_used_an_expired_and_a_second_link_move_nothing() {
    let mut world = World::demo().await;
    let (used, second) = (link(&world).await, link(&world).await);
    world.let_in(NEW, &used).await;
    let before = world.dump().await;
    for (user, code) in [(OTHER, &used), (OTHER + 1, &second)] {
        world.stand_in.open_link(user, code);
        world.pass_unseen(1);
        world.settle().await;
        assert_eq!(heard(&world, user), [LINK_INVALID]);
    }
    assert_eq!(world.dump().await, before);

    let mut world = World::demo().await;
    let code = link(&world).await;
    world.pass_unseen(61);
    world.settle().await;
    let before = world.dump().await;
    world.stand_in.open_link(NEW, &code);
    world.settle().await;
    assert_eq!(heard(&world, NEW), [LINK_INVALID]);
    assert_eq!(world.dump().await, before);
}

#[tokio::test]
async fn somebody_who_is_a_maker_is_refused_and_the_link_stays_good() {
    let mut world = World::demo().await;
    let code = link(&world).await;
    world.theatre.settle_in(OTHER, &duskrow::cli::rehearse::demo::changes()).await.unwrap();
    let book = world.book().await;
    for user in [OTHER, MAREN] {
        let said = world.play_as(user, &format!("/start {code}")).await;
        assert!(said.contains("so this link changes nothing for you."), "{said}");
    }
    assert_eq!(world.book().await, book);
    assert_eq!(world.dump().await["makers"].len(), 2);
    world.let_in(NEW, &code).await;
    assert_eq!(store_book(&world, NEW).await, book);
    assert_eq!(world.dump().await["makers"].len(), 2);
}

#[tokio::test]
async fn a_link_for_a_book_that_was_erased_meanwhile_lets_nobody_in() {
    let mut world = World::demo().await;
    let code = link(&world).await;
    world.stand_in.open_link(NEW, &code);
    world.settle().await;
    let store = world.theatre.app.store();
    let maren = store.load(UserId(MAREN)).await.unwrap().unwrap().id;
    assert!(store.erase(maren, 1, world.theatre.clock.now()).await.unwrap());
    world.stand_in.tap(NEW, "I agree").unwrap();
    world.settle().await;
    assert_eq!(heard(&world, NEW)[1..], [LINK_INVALID]);
    assert_eq!(world.dump().await["makers"], Vec::<String>::new());
}
