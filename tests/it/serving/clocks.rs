//! The loops while nobody knows the time: they neither spin nor wait for one another.

use chrono::TimeDelta;
use duskrow::app::Claim;

use super::{Serving, hours, instant};

/// Twenty looks at what is due, as many at what waits, and the waits of 1 to 60 seconds of the
/// poller.
const TURNS_MAX: usize = 60;

/// A computer that starts before its network: whoever is overdue by its clock waits for the
/// platform's.
#[tokio::test]
async fn a_bot_that_does_not_know_the_time_looks_twice_a_minute() {
    let makers = [(1, hours("21:00", "04:00"))];
    let serving = Serving::new("2027-01-14 20:30", makers.into_iter()).await;
    serving.stand_in.stop().await;
    serving.clock.turn_to(instant("2027-01-14 21:30:00"));
    let story = async {
        let turns = serving.turn_to("2027-01-14 21:40:00").await;
        serving.stand_in.restart().await.unwrap();
        serving.turn_to("2027-01-14 21:45:00").await;
        turns
    };
    let turns = serving.during(story).await;
    assert!((20..=TURNS_MAX).contains(&turns), "{turns} turns in ten minutes");
    let said = serving.said_to(1);
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].0.starts_with("2027-01-14 21:4"), "{said:?}");
}

/// The sender has something to send just when a laptop is opened: the poll of before is dead, and
/// would be waited for.
#[tokio::test]
async fn a_jump_the_sender_sees_first_is_asked_about_at_once() {
    let makers = [(1, hours("21:00", "04:00"))];
    let serving = Serving::new("2027-01-14 20:30", makers.into_iter()).await;
    let story = async {
        serving.turn_to("2027-01-14 20:40:00").await;
        let before = serving.requests("getMe");
        serving.clock.jump_wall(TimeDelta::hours(1));
        assert!(matches!(serving.app.claim().await.unwrap(), Claim::Nothing));
        serving.rests().await;
        assert_eq!(serving.requests("getMe"), before + 1);
        serving.turn_to("2027-01-14 21:41:00").await;
    };
    serving.during(story).await;
    let said = serving.said_to(1);
    assert_eq!(said, [("2027-01-14 21:40".to_owned(), "Thursday 14 January".to_owned())]);
}
