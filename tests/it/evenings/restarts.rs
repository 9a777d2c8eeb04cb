//! A bot that is killed goes on where it was: the same book, and nothing asked twice.

use chrono::TimeDelta;
use duskrow::app::Claim;
use duskrow::rehearsal::player::Stage;
use duskrow::telegram::poll::Poller;

use super::answers;
use crate::world::World;

/// How far the bot came with what happened, before it was killed.
#[derive(Clone, Copy, PartialEq, Debug)]
enum Reached {
    Nothing,
    /// It is in the database, and the platform was not told so.
    Kept,
    /// The first message of it is marked as being sent.
    Claimed,
    /// That message arrived, and the bot does not know.
    Sent,
}

const ALL: [Reached; 4] = [Reached::Nothing, Reached::Kept, Reached::Claimed, Reached::Sent];

const SECOND: TimeDelta = TimeDelta::seconds(1);

const EVENINGS: [&str; 10] = [
    "@ 21:00",
    "[Smooth]",
    "[Change]",
    "[Rough]",
    "/today yesterday",
    "[Ordinary]",
    "/rows 2",
    "[Worked]",
    "[Undo]",
    "@ 21:00",
];

#[tokio::test]
async fn killed_at_any_step_of_an_evening_the_bot_goes_on_to_the_same_book() {
    let undisturbed = evenings(None).await;
    assert_eq!(answers(&undisturbed).await, ["2027-01-13 Ordinary", "2027-01-14 Rough"]);
    for (step, line) in EVENINGS.into_iter().enumerate() {
        for reached in ALL {
            let world = evenings(Some((step, reached))).await;
            let at = format!("killed at {line:?}, {reached:?}");
            assert_eq!(answers(&world).await, answers(&undisturbed).await, "{at}");
            assert_eq!(worked(&world).await, worked(&undisturbed).await, "{at}");
            assert_eq!(times_asked(&world, "Friday 15 January"), once(step == 9, reached), "{at}");
            assert_eq!(
                times_asked(&world, "Thursday 14 January"),
                once(step == 0, reached),
                "{at}"
            );
        }
    }
}

/// Only a message that was under way may come twice: nobody can know whether it arrived.
fn once(was_asked_then: bool, reached: Reached) -> usize {
    if was_asked_then && reached == Reached::Sent { 2 } else { 1 }
}

/// Two evenings, with the bot killed in one step of them.
async fn evenings(killed: Option<(usize, Reached)>) -> World {
    let mut world = World::begun("2027-01-13 22:00").await;
    world.play("@ 2027-01-14 20:00").await;
    for (step, line) in EVENINGS.into_iter().enumerate() {
        match line {
            "@ 21:00" => world.theatre.clock.turn_to(world.theatre.next_evening()),
            line => match line.strip_prefix('[') {
                Some(label) => world.tap_unseen(label.trim_end_matches(']')),
                None => world.type_unseen(line),
            },
        }
        if let Some((_, reached)) = killed.filter(|(at, _)| *at == step) {
            go_as_far_as(reached, &world).await;
            world = world.restart().await;
        }
        world.settle().await;
    }
    assert_eq!(world.stand_in.violations(), Vec::<String>::new());
    assert_eq!(world.stand_in.unconfirmed_updates(), 0);
    world
}

async fn go_as_far_as(reached: Reached, world: &World) {
    if reached == Reached::Nothing {
        return;
    }
    let app = &world.theatre.app;
    app.poll_once(&mut Poller::new()).await.unwrap();
    app.tick().await.unwrap();
    if reached == Reached::Kept {
        return;
    }
    let claimed = loop {
        match world.theatre.app.claim().await.unwrap() {
            Claim::Message(claimed) => break claimed,
            // A chat takes one message a second.
            Claim::Wait(_) => world.theatre.clock.turn_to(world.theatre.clock.now() + SECOND),
            Claim::Nothing => panic!("nothing to send"),
        }
    };
    if reached == Reached::Sent {
        world.theatre.app.request(&claimed).await.unwrap();
    }
}

async fn worked(world: &World) -> Vec<u8> {
    let book = world.book().await;
    let block = book.current_block().unwrap().number;
    book.worked(block).iter().map(|row| row.yarn.0).collect()
}

fn times_asked(world: &World, day: &str) -> usize {
    let questions = world.questions();
    questions.iter().filter(|(_, asked)| asked == day).count()
}
