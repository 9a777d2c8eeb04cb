//! A government moves its clocks, and the host's computer learns of it: the next question comes at
//! the new hour, and no question comes twice.

use duskrow::blanket::calendar::{ZoneData, ZoneSource, use_zone_data_here};

use crate::world::World;
use crate::world::zones::moved;

#[tokio::test]
async fn after_newer_zone_data_the_next_question_comes_at_the_new_hour_and_none_comes_twice() {
    let mut world = World::begun("2027-01-10 12:00").await;
    world.theatre.app.derive_wakes().await.unwrap();
    assert!(!world.theatre.app.wakes_are_stale().await.unwrap());
    world.play("@ 2027-01-12 21:30").await;
    let folder = tempfile::tempdir().unwrap();
    // Lisbon goes by the time of Athens from now on: two hours ahead.
    let data = moved(folder.path(), "2099a", &[("Europe/Lisbon", "Europe/Athens")]);
    assert_eq!(data.source(), ZoneSource::System);
    use_zone_data_here(data);
    let app = &world.theatre.app;
    let before = app.next_wake().await.unwrap().unwrap();
    assert_eq!(before.to_string(), "2027-01-13 21:00:00 UTC", "as it was derived before");
    assert!(app.wakes_are_stale().await.unwrap());
    app.derive_wakes().await.unwrap();
    assert_eq!(app.next_wake().await.unwrap().unwrap().to_string(), "2027-01-13 19:00:00 UTC");
    assert!(!app.wakes_are_stale().await.unwrap());
    // Local times are Athens' now.
    world.play("@ 2027-01-15 12:00").await;
    let at: Vec<String> = world.questions().into_iter().map(|(at, _)| at).collect();
    let expected = ["2027-01-10 23:00", "2027-01-11 23:00", "2027-01-12 23:00"];
    assert_eq!(at[..3], expected, "they came before");
    assert_eq!(at[3..], ["2027-01-13 21:00", "2027-01-14 21:00"]);
    use_zone_data_here(ZoneData::bundled());
}

#[tokio::test]
async fn a_changed_rule_reaches_makers_in_the_order_in_which_they_wake_and_everybody() {
    let world = World::begun("2027-01-10 12:00").await;
    let store = world.theatre.app.store();
    world.theatre.app.derive_wakes().await.unwrap();
    let all = store.sleepers(None, 10).await.unwrap();
    assert_eq!(all.len(), 1);
    assert!(store.sleepers(all.last().copied(), 10).await.unwrap().is_empty());
    let stored = store.load(all[0].user()).await.unwrap().unwrap();
    // A commit that came between wins.
    store.set_wake(stored.id, stored.revision - 1, None).await.unwrap();
    assert!(world.theatre.app.next_wake().await.unwrap().is_some());
    store.set_wake(stored.id, stored.revision, None).await.unwrap();
    assert_eq!(world.theatre.app.next_wake().await.unwrap(), None);
    // Who sleeps for ever is looked at as well, since new rules may wake them.
    assert_eq!(store.sleepers(None, 10).await.unwrap().len(), 1);
    world.theatre.app.derive_wakes().await.unwrap();
    assert!(world.theatre.app.next_wake().await.unwrap().is_some());
}
