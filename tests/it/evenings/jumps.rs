//! Promise 9: the computer's clock jumps, and nobody is asked twice, nor all at once.

use chrono::TimeDelta;
use duskrow::app::Claim;
use duskrow::clock::Clock;
use duskrow::rehearsal::player::Stage as _;

use crate::world::{World, instant};

/// A day back, an hour on, a year on; set right before, in or after the evening.
#[tokio::test]
async fn a_jump_of_the_clock_asks_nobody_twice_and_sends_no_mass_of_messages() {
    for (minutes, wrong_for) in
        [(-1440, 30), (-1440, 5), (60, 9), (60, 30), (1440, 9), (525_600, 30), (525_600, 8)]
    {
        let case = format!("{minutes} minutes for {wrong_for} hours");
        let start = instant("2027-01-10 12:00");
        let (clock, platform) = (Clock::turned(start), Clock::turned(start));
        let mut world = World::by_clocks(clock.clone(), platform.clone()).await.begins().await;
        pass(&mut world, &platform, 4 * 24).await;
        let jump = TimeDelta::minutes(minutes);
        clock.jump_wall(jump);
        let app = &world.theatre.app;
        assert_eq!(app.tick().await.unwrap(), 0, "{case}: nobody is woken");
        assert!(matches!(app.claim().await.unwrap(), Claim::Nothing), "{case}");
        pass(&mut world, &platform, wrong_for).await;
        clock.jump_wall(-jump);
        pass(&mut world, &platform, 48 - wrong_for).await;
        let asked: Vec<String> = world.questions().into_iter().map(|(at, _)| at).collect();
        let expected = [10, 11, 12, 13, 14, 15].map(|day| format!("2027-01-{day} 21:00"));
        assert_eq!(asked, expected, "{case}");
        // One nudge at most would be due each day, and nudges are not on.
        assert_eq!(world.requests("sendMessage"), expected.len(), "{case}");
    }
}

/// A laptop that was closed for nine hours: the monotonic clock stood still, and the jump is right.
#[tokio::test]
async fn a_computer_that_slept_asks_as_soon_as_the_platform_says_the_same() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.settle().await;
    world.stand_in.stop().await;
    world.theatre.clock.jump_wall(TimeDelta::minutes(9 * 60 + 30));
    assert_eq!(world.theatre.app.tick().await.unwrap(), 0);
    assert!(world.theatre.settle().await.is_err(), "the network is not up yet");
    assert_eq!(world.theatre.app.tick().await.unwrap(), 0);
    world.stand_in.restart().await.unwrap();
    world.settle().await;
    let asked = ("2027-01-14 21:30".to_owned(), "Thursday 14 January".to_owned());
    assert_eq!(world.questions(), [asked]);
}

/// Both clocks go on by as many hours, and the bot comes to rest every half hour.
async fn pass(world: &mut World, platform: &Clock, hours: i64) {
    for _ in 0..2 * hours {
        platform.turn_to(platform.now() + TimeDelta::minutes(30));
        world.pass_unseen(30);
        world.theatre.app.line_was_open();
        world.settle().await;
    }
}
