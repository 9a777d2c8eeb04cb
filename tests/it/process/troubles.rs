//! What a host meets in the first week: no network at boot, a wrong token, a second poller.

use duskrow::rehearsal::{Fault, TOKEN};
use rustix::process::Signal;

use super::bot::Ended;
use super::house::{House, beginning};
use super::within;

const MAREN: i64 = 1;
const CONFLICT: &str = "Conflict: terminated by other getUpdates request; make sure that only one \
    bot instance is running";
const WEBHOOK: &str = "Conflict: can't use getUpdates method while webhook is active; use \
    deleteWebhook to delete the webhook first";

#[tokio::test]
async fn started_before_the_network_is_up_it_tries_on_and_then_works() {
    let house = House::new().await;
    house.settle_in(MAREN, beginning()).await;
    house.stand_in.stop().await;
    house.stand_in.send_text(MAREN, "/help");
    let mut bot = house.start();
    bot.logs("polling failed, and is tried again").await;
    house.stand_in.restart().await.unwrap();
    house.says(MAREN, "/rows").await;
    bot.logs("polling works again").await;
    let ended = bot.stop(Signal::TERM).await;
    ended.cleanly();
    assert_eq!(ended.log.matches("WARN duskrow").count(), 1, "{}", ended.log);
}

#[tokio::test]
async fn a_token_the_platform_does_not_know_ends_it_with_a_hint() {
    let wrong = TOKEN.replace("StandIn", "NoStand");
    let house = House::with_token(&wrong).await;
    let ended = house.start().ended().await;
    refused(&ended);
    assert!(!ended.log.contains("NoStand"), "{}", ended.log);
    assert_eq!(house.requests("getMe"), 1);
}

#[tokio::test]
async fn a_token_that_is_taken_back_ends_it_with_a_hint() {
    let house = House::new().await;
    house.settle_in(MAREN, beginning()).await;
    let bot = house.start_polling().await;
    house.stand_in.fail_next("getUpdates", Fault::status(401, "Unauthorized"), 1);
    house.stand_in.send_text(MAREN, "/help");
    refused(&bot.ended().await);
}

fn refused(ended: &Ended) {
    assert_eq!(ended.status.code(), Some(78), "{}", ended.log);
    let said = "error: the platform refuses the token: the platform answered 401: Unauthorized\n\n\
                hint: put the token the platform gave you into the token file\n";
    assert!(ended.log.ends_with(said), "{}", ended.log);
    ended.tells_nothing();
}

#[tokio::test]
async fn a_second_poller_is_said_once_and_waited_out() {
    let house = House::new().await;
    house.settle_in(MAREN, beginning()).await;
    house.stand_in.fail_next("getUpdates", Fault::status(409, CONFLICT), 2);
    house.stand_in.send_text(MAREN, "/help");
    let bot = house.start();
    house.says(MAREN, "/rows").await;
    let ended = bot.stop(Signal::TERM).await;
    ended.cleanly();
    let said = ended.log.matches("another program polls with the same token").count();
    assert_eq!(said, 1, "{}", ended.log);
    assert_eq!(ended.log.matches("WARN duskrow").count(), 1, "{}", ended.log);
}

#[tokio::test]
async fn a_webhook_is_taken_away_and_nothing_that_waits_is_lost() {
    let house = House::new().await;
    house.settle_in(MAREN, beginning()).await;
    house.stand_in.fail_next("getUpdates", Fault::status(409, WEBHOOK), 1);
    house.stand_in.send_text(MAREN, "/help");
    let bot = house.start();
    house.says(MAREN, "/rows").await;
    assert_eq!(house.requests("deleteWebhook"), 1);
    bot.stop(Signal::TERM).await.cleanly();
}

#[tokio::test]
async fn a_platform_that_takes_no_menu_and_stumbles_over_getme_is_still_polled() {
    let house = House::new().await;
    house.settle_in(MAREN, beginning()).await;
    house.stand_in.fail_next("getMe", Fault::status(502, "Bad Gateway"), 1);
    house.stand_in.fail_next("setMyCommands", Fault::status(500, "Internal Server Error"), 9);
    let mut bot = house.start_polling().await;
    bot.logs("does not take the list of commands yet").await;
    house.typed(MAREN, "/help", "/rows").await;
    within("the poll after it", house.stand_in.drained()).await;
    assert_eq!((house.requests("getMe"), house.requests("setMyCommands")), (2, 1));
    bot.stop(Signal::TERM).await.cleanly();
}
