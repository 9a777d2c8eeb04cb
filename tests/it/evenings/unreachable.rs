//! A maker who blocked the bot costs one refused message, then there is silence until they return.

use duskrow::blanket::Change;
use duskrow::cli::rehearse::demo;
use duskrow::cli::rehearse::theatre::MAREN;
use duskrow::rehearsal::Logged;

use super::answers;
use crate::world::World;

const OTHER: i64 = 1002;

#[tokio::test]
async fn a_block_nobody_told_of_costs_one_refusal_in_thirty_days_and_leaves_no_backlog() {
    let mut world = World::begun("2027-01-14 20:00").await;
    world.settle().await;
    world.stand_in.block(MAREN);
    // The platform keeps word of it for a day, and the bot is down for longer.
    world.unseen_until("2027-01-15 20:30");
    world.play("@ 2027-02-14 12:00").await;
    assert_eq!(refused(&world), 1);
    assert_eq!(world.questions(), []);
    world.stand_in.unblock(MAREN);
    assert_eq!(world.settle().await, "");
    let evening = world.play("@ 2027-02-14 23:00\n[Smooth]").await;
    assert!(evening.contains("Kept: Sunday 14 February, Smooth."), "{evening}");
    assert_eq!(refused(&world), 1);
    assert_eq!(world.questions().len(), 1);
    assert_eq!(answers(&world).await, ["2027-02-14 Smooth"]);
}

#[tokio::test]
async fn a_block_nobody_told_of_costs_one_request_in_a_year_while_others_are_asked_daily() {
    let mut world = World::begun("2027-01-14 20:00").await;
    let beginning = demo::beginning_on("2027-01-14".parse().unwrap());
    let changes = [Change::Began(Box::new(beginning))];
    world.theatre.settle_in(OTHER, &changes).await.unwrap();
    world.settle().await;
    world.stand_in.block(MAREN);
    world.unseen_until("2027-01-15 20:30");
    world.play("@ 2028-01-15 20:30").await;
    let asked = world.stand_in.requests().into_iter();
    let to = |user: i64| move |asked: &Logged| asked.params["chat_id"].as_i64() == Some(user);
    let (to_maren, to_other): (Vec<Logged>, Vec<Logged>) =
        asked.filter(|it| it.params["chat_id"].is_i64()).partition(to(MAREN));
    assert_eq!(to_maren.iter().map(|it| it.status).collect::<Vec<_>>(), [Some(403)]);
    let of_day = |asked: &&Logged| {
        asked.params["text"].as_str().is_some_and(|text| text.contains("Which fits the day?"))
    };
    // The blanket's last day is 13 January 2028, and its first two were not served.
    assert_eq!(to_other.iter().filter(of_day).count(), 364);
    world.stand_in.unblock(MAREN);
    assert_eq!(world.settle().await, "");
    assert!(world.play("/help").await.contains("/rows"));
}

#[tokio::test]
async fn a_block_the_bot_hears_of_costs_nothing() {
    let mut world = World::begun("2027-01-14 20:00").await;
    world.stand_in.block(MAREN);
    world.play("@ 2027-02-14 12:00").await;
    assert_eq!(refused(&world), 0);
    assert_eq!(world.questions(), []);
    // Whoever writes is back: a client lets the bot in again first.
    let help = world.play("/help").await;
    assert!(help.contains("/rows"), "{help}");
    world.play("@ 2027-02-14 23:00").await;
    assert_eq!(world.questions().len(), 1);
}

#[tokio::test]
async fn a_question_that_still_waited_at_a_block_is_gone_when_the_maker_returns() {
    let mut world = World::begun("2027-01-14 20:00").await;
    world.settle().await;
    world.unseen_until("2027-01-14 21:00");
    world.theatre.app.tick().await.unwrap();
    assert_eq!(world.dump().await["outbox"].len(), 1);
    world.stand_in.block(MAREN);
    assert_eq!(world.settle().await, "");
    world.stand_in.unblock(MAREN);
    assert_eq!(world.settle().await, "");
    assert_eq!((refused(&world), world.questions().len()), (0, 0));
    world.play("@ 2027-01-15 23:00").await;
    assert_eq!(world.questions().len(), 1);
}

/// Messages the platform would not deliver.
fn refused(world: &World) -> usize {
    world.refusals("sendMessage", 403)
}
