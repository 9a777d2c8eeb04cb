//! Who comes in, who is due, which updates were seen, and which bot this is.

use chrono::TimeDelta;
use duskrow::chat::event::UserId;
use duskrow::chat::talk::{Step, Talk};
use duskrow::store::{ChatId, Committed, FailedUpdate, Invited, Join, Joined};

use super::{Deed, Shelf, edit, new, noon};

fn join<'a>(update: i64, user: i64, code: &'a str, talk: &'a Talk) -> Join<'a> {
    let now = noon();
    Join { update, user: UserId(user), chat_id: ChatId(user), code, talk, queue: &[], now }
}

#[tokio::test]
async fn an_invitation_lets_one_person_in_once() {
    let shelf = Shelf::new().await;
    let store = &shelf.store;
    let code = store.invite(true, TimeDelta::hours(1), noon()).await.unwrap();
    let code = code.as_str();
    assert_eq!(code.len(), 22);
    assert!(code.chars().all(|c| c.is_ascii_alphanumeric() || c == '_' || c == '-'));
    assert_eq!(
        store.invitation(code, noon()).await.unwrap(),
        Some(Invited { owner: true, moves: None })
    );
    assert!(!store.has_owner().await.unwrap());

    let talk = Talk::from(Step::Place);
    let first = Join { queue: &[new(None, "Agreed")], ..join(1, 5, code, &talk) };
    let Joined::Joined(maker) = store.join(first).await.unwrap() else { panic!("not let in") };
    assert!(store.has_owner().await.unwrap());
    let stored = shelf.stored(maker).await;
    assert_eq!((stored.user, stored.chat_id), (UserId(5), ChatId(5)));
    assert!(stored.maker.owner && stored.reachable && stored.maker.book.is_none());
    assert_eq!(stored.maker.talk, talk);
    assert_eq!(store.load(UserId(5)).await.unwrap(), Some(stored));
    assert_eq!(store.pending().await.unwrap(), 1);

    assert_eq!(store.join(join(1, 5, code, &talk)).await.unwrap(), Joined::SeenBefore);
    assert_eq!(store.join(join(2, 5, code, &talk)).await.unwrap(), Joined::Already(maker));
    assert_eq!(store.join(join(3, 6, code, &talk)).await.unwrap(), Joined::Invalid);
    assert_eq!(store.invitation(code, noon()).await.unwrap(), None);
    assert_eq!(store.load(UserId(6)).await.unwrap(), None);
}

#[tokio::test]
async fn an_expired_or_invented_code_lets_nobody_in_and_two_codes_differ() {
    let shelf = Shelf::new().await;
    let store = &shelf.store;
    let code = store.invite(false, TimeDelta::hours(1), noon()).await.unwrap();
    let other = store.invite(false, TimeDelta::hours(1), noon()).await.unwrap();
    assert_ne!(code.as_str(), other.as_str());
    let late = noon() + TimeDelta::hours(1);
    let talk = Talk::default();
    assert_eq!(store.invitation(code.as_str(), late).await.unwrap(), None);
    let expired = Join { now: late, ..join(1, 5, code.as_str(), &talk) };
    assert_eq!(store.join(expired).await.unwrap(), Joined::Invalid);
    for invented in ["", "AAAAAAAAAAAAAAAAAAAAAA", "' OR 1 --", &code.as_str()[1..]] {
        assert_eq!(store.invitation(invented, noon()).await.unwrap(), None);
    }
    let Joined::Joined(maker) = store.join(join(2, 5, code.as_str(), &talk)).await.unwrap() else {
        panic!("not let in")
    };
    assert!(!shelf.stored(maker).await.maker.owner);
    assert!(!store.has_owner().await.unwrap());
}

#[tokio::test]
async fn a_code_is_nowhere_in_the_file() {
    let shelf = Shelf::new().await;
    let code = shelf.store.invite(false, TimeDelta::hours(1), noon()).await.unwrap();
    let text = code.as_str().as_bytes();
    assert_eq!(super::erasing::files_with(shelf.folder.path(), text), Vec::<String>::new());
    assert_eq!(format!("{code:?}"), "InvitationCode(hidden)");
}

#[tokio::test]
async fn the_longest_overdue_wake_first_and_nobody_before_their_time() {
    let shelf = Shelf::new().await;
    let mut makers = Vec::new();
    for (user, minutes) in [(1, Some(-1)), (2, Some(-5)), (3, Some(1)), (4, None), (5, Some(0))] {
        let maker = shelf.maker(user).await;
        let wakes_at = minutes.map(|minutes| noon() + TimeDelta::minutes(minutes));
        shelf.does(maker, Deed { wakes_at, ..Deed::default() }).await;
        makers.push(maker);
    }
    let due = |limit| shelf.store.due(noon(), limit);
    assert_eq!(due(10).await.unwrap(), [2, 1, 5].map(UserId));
    assert_eq!(due(1).await.unwrap(), [UserId(2)]);
    let first = noon() - TimeDelta::minutes(5);
    assert_eq!(shelf.store.next_wake().await.unwrap(), Some(first));
    shelf.does(makers[1], Deed::default()).await;
    assert_eq!(shelf.store.next_wake().await.unwrap(), Some(noon() - TimeDelta::minutes(1)));
}

#[tokio::test]
async fn of_people_who_are_not_makers_nothing_they_wrote_is_kept() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker(1).await;
    let failed = |update, maker, raw| FailedUpdate {
        update,
        maker,
        kind: "message",
        raw: Some(raw),
        code: "F1",
    };
    shelf.store.fail_update(failed(1, Some(maker), "maker wrote"), noon()).await.unwrap();
    shelf.store.fail_update(failed(2, None, "stranger wrote"), noon()).await.unwrap();
    assert!(shelf.store.seen(1).await.unwrap() && shelf.store.seen(2).await.unwrap());
    let folder = shelf.folder.path();
    assert_ne!(super::erasing::files_with(folder, b"maker wrote"), Vec::<String>::new());
    assert_eq!(super::erasing::files_with(folder, b"stranger wrote"), Vec::<String>::new());
}

#[tokio::test]
async fn updates_are_remembered_for_three_days_by_their_exact_id() {
    let shelf = Shelf::new().await;
    let store = &shelf.store;
    let maker = shelf.maker(1).await;
    let seen = || Deed { update: Some(900), ..Deed::default() };
    shelf.does(maker, seen()).await;
    assert_eq!(shelf.commit(maker, &seen()).await.unwrap(), Committed::SeenBefore);
    assert!(!store.seen(899).await.unwrap() && !store.seen(901).await.unwrap());
    store.prune(noon() + TimeDelta::days(3)).await.unwrap();
    assert!(store.seen(900).await.unwrap());
    store.prune(noon() + TimeDelta::days(3) + TimeDelta::milliseconds(1)).await.unwrap();
    assert!(!store.seen(900).await.unwrap());
}

#[tokio::test]
async fn what_was_set_aside_is_gone_after_seven_days() {
    let shelf = Shelf::new().await;
    let maker = Some(shelf.maker(1).await);
    let failed =
        FailedUpdate { update: 1, maker, kind: "message", raw: Some("ZEPHYR"), code: "F1" };
    shelf.store.fail_update(failed, noon()).await.unwrap();
    let kept = || super::erasing::files_with(shelf.folder.path(), b"ZEPHYR").len();
    shelf.store.prune(noon() + TimeDelta::days(7)).await.unwrap();
    shelf.store.empty_log().await.unwrap();
    assert_eq!(kept(), 1);
    shelf.store.prune(noon() + TimeDelta::days(8)).await.unwrap();
    shelf.store.empty_log().await.unwrap();
    assert_eq!(kept(), 0);
}

#[tokio::test]
async fn another_bot_knows_no_update_and_no_message_of_the_one_before() {
    let shelf = Shelf::new().await;
    let store = &shelf.store;
    let maker = shelf.maker(1).await;
    assert_eq!(store.bot_name().await.unwrap(), None);
    assert!(!store.set_bot(100, "dusk_bot").await.unwrap());
    shelf.does(maker, Deed { update: Some(900), ..Deed::default() }).await;
    shelf.says(maker, [new(Some("rows"), "Rows")]).await;
    assert_eq!(shelf.send_all(70).await, ["send Rows"]);
    assert!(!store.set_bot(100, "dawn_bot").await.unwrap());
    assert_eq!(store.bot_name().await.unwrap().as_deref(), Some("dawn_bot"));
    assert!(store.seen(900).await.unwrap());
    let talk = Talk { in_hand_since: Some(70), in_set_up: true, ..Talk::default() };
    shelf.does(maker, Deed { talk: talk.clone(), ..Deed::default() }).await;
    assert!(!store.set_bot(100, "dawn_bot").await.unwrap());
    assert_eq!(shelf.stored(maker).await.maker.talk, talk);
    assert!(store.set_bot(101, "dawn_bot").await.unwrap());
    assert_eq!(shelf.stored(maker).await.maker.talk, Talk { in_hand_since: None, ..talk });
    assert!(!store.seen(900).await.unwrap());
    shelf.says(maker, [edit(Some("rows"), None, "New")]).await;
    assert_eq!(shelf.send_all(1).await, ["send New"]);
}
