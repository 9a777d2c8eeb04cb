//! When is a maker asked, and which day does an answer count for? Around midnight, after an
//! outage, and where the clocks change.

use duskrow::app::Claim;
use duskrow::rehearsal::player::Stage;

use super::{answers, spoken};
use crate::world::World;

#[tokio::test]
async fn a_tap_before_midnight_counts_for_the_day_that_was_asked() {
    let mut world = World::begun("2027-01-01 12:00").await;
    let asked = world.play("@ 2027-01-14 21:00").await;
    assert!(spoken(&asked).ends_with("bot: Thursday 14 January\n  Which fits the day?\n"));
    world.unseen_until("2027-01-14 23:57");
    world.unseen_until("2027-01-14 23:59");
    world.tap_unseen("Smooth");
    world.unseen_until("2027-01-15 00:01");
    let said = spoken(&world.settle().await);
    let kept = "tap: Smooth\n\
                bot changes: Kept: Thursday 14 January, Smooth.\n  Row 14, wrong side, Brick.\n";
    assert!(said.starts_with(kept), "{said}");
    assert_eq!(answers(&world).await, ["2027-01-14 Smooth"]);
}

#[tokio::test]
async fn a_typed_answer_after_midnight_counts_for_the_day_that_was_asked() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.play("@ 2027-01-15 03:59\nsmooth").await;
    assert_eq!(answers(&world).await, ["2027-01-14 Smooth"]);
}

#[tokio::test]
async fn a_tap_the_platform_let_go_of_leaves_the_question_as_it_was() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.play("@ evening").await;
    world.tap_unseen("Smooth");
    // The platform keeps a tap for 150 seconds.
    world.pass_unseen(3);
    assert_eq!(world.settle().await, "tap: Smooth\n");
    assert_eq!(answers(&world).await, [""; 0]);
    let kept = world.play("[Smooth]").await;
    assert!(kept.contains("Kept: Thursday 14 January, Smooth."), "{kept}");
}

#[tokio::test]
async fn a_question_missed_in_the_evening_is_asked_once_while_its_day_is_on() {
    let mut world = World::begun("2027-01-14 20:50").await;
    world.settle().await;
    world.unseen_until("2027-01-14 23:30");
    let mut world = world.restart().await;
    world.settle().await;
    world.play("@ 2027-01-15 20:59").await;
    assert_eq!(world.questions(), [asked("2027-01-14 23:30", "Thursday 14 January")]);
    world.play("@ 2027-01-15 23:59").await;
    assert_eq!(world.questions()[1..], [asked("2027-01-15 21:00", "Friday 15 January")]);
}

#[tokio::test]
async fn a_question_missed_until_its_day_is_over_is_not_asked() {
    let mut world = World::begun("2027-01-14 20:50").await;
    world.settle().await;
    world.unseen_until("2027-01-15 05:00");
    let mut world = world.restart().await;
    assert_eq!(world.settle().await, "");
    let yesterday = world.play("/today yesterday\n[Rough]").await;
    assert!(yesterday.contains("Kept: Thursday 14 January, Rough."), "{yesterday}");
    world.play("@ 2027-01-15 23:59").await;
    assert_eq!(world.questions()[1..], [asked("2027-01-15 21:00", "Friday 15 January")]);
    assert_eq!(answers(&world).await, ["2027-01-14 Rough"]);
}

#[tokio::test]
async fn after_an_outage_the_next_question_says_once_that_taps_did_not_arrive() {
    let mut world = World::begun("2027-01-13 12:00").await;
    world.play("@ evening\n[Smooth]\n[No]\n@ 2027-01-14 20:10").await;
    world.unseen_until("2027-01-14 22:40");
    let asked = world.settle().await;
    let notice = "I was offline on Thursday 14 January from 20:10 to 22:40.\n  \
                  Taps in that time did not arrive.\n";
    assert_eq!(spoken(&asked).matches(notice).count(), 1, "{asked}");
    let later = world.play("[Rough]\n@ 2027-01-16 23:00").await;
    assert!(!later.contains("offline"), "{later}");
}

#[tokio::test]
async fn a_night_without_the_program_is_an_outage_and_two_minutes_are_none() {
    let mut world = World::begun("2027-01-13 12:00").await;
    world.play("@ evening\n[Smooth]\n[No]\n@ 2027-01-13 23:50").await;
    world.unseen_until("2027-01-14 06:00");
    let mut world = world.restart().await;
    let asked = spoken(&world.play("@ evening").await);
    assert!(asked.contains("I was offline from Wed 13 Jan 23:50 to Thu 14 Jan 06:00."), "{asked}");
    world.play("[Smooth]\n@ 2027-01-15 12:00").await;
    world.unseen_until("2027-01-15 12:02");
    let mut world = world.restart().await;
    let asked = world.play("@ evening").await;
    assert!(asked.contains("Friday 15 January") && !asked.contains("offline"), "{asked}");
}

#[tokio::test]
async fn while_the_platform_does_not_answer_nothing_is_sent() {
    let mut world = World::begun("2027-01-14 20:50").await;
    world.settle().await;
    world.stand_in.stop().await;
    world.unseen_until("2027-01-14 21:30");
    for _ in 0..3 {
        assert!(world.theatre.settle().await.is_err(), "the platform is down");
        world.theatre.app.tick().await.unwrap();
        assert!(matches!(world.theatre.app.claim().await.unwrap(), Claim::Nothing));
    }
    world.stand_in.restart().await.unwrap();
    world.settle().await;
    assert_eq!(world.questions(), [asked("2027-01-14 21:30", "Thursday 14 January")]);
}

#[tokio::test]
async fn every_day_is_asked_once_at_the_same_hour_where_the_clocks_change() {
    // In Lisbon they go forward on 28 March 2027 and back on 31 October 2027.
    for (first, last, count) in [("2027-03-25", "2027-03-31", 7), ("2027-10-28", "2027-11-03", 7)] {
        let mut world = World::begun(&format!("{first} 12:00")).await;
        world.play(&format!("@ {last} 23:59")).await;
        let questions = world.questions();
        assert_eq!(questions.len(), count, "{questions:?}");
        for ((at, day), date) in questions.iter().zip(days_from(first)) {
            assert_eq!(at, &format!("{date} 21:00"));
            assert_eq!(day, &date.format("%A %-d %B").to_string());
        }
    }
}

fn asked(at: &str, day: &str) -> (String, String) {
    (at.to_owned(), day.to_owned())
}

fn days_from(first: &str) -> impl Iterator<Item = chrono::NaiveDate> {
    first.parse::<chrono::NaiveDate>().unwrap().iter_days()
}
