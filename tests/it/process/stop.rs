//! Told to stop, by a host or by a second bot, in the middle of things.

use chrono::Days;
use duskrow::rehearsal::{Fault, Seen, SeenKind};
use rustix::process::Signal;
use sqlx::Connection as _;

use super::bot::Bot;
use super::house::{House, beginning, first_day, spoken};
use super::stream::is_question;
use super::within;

const MAREN: i64 = 1;

#[tokio::test]
async fn sigterm_while_a_message_hangs_is_a_clean_end_and_the_next_start_goes_on() {
    stopped_while_a_message_hangs(Signal::TERM).await;
}

#[tokio::test]
async fn sigint_while_a_message_hangs_is_a_clean_end_and_the_next_start_goes_on() {
    stopped_while_a_message_hangs(Signal::INT).await;
}

async fn stopped_while_a_message_hangs(signal: Signal) {
    let house = House::new().await;
    let bot = answers_while_all_hangs(&house).await;
    bot.stop(signal).await.cleanly();
    goes_on(&house).await;
}

#[tokio::test]
async fn a_second_signal_ends_it_at_once_and_the_next_start_goes_on() {
    let house = House::new().await;
    let mut bot = answers_while_all_hangs(&house).await;
    bot.signal(Signal::TERM);
    bot.logs("stopping").await;
    let ended = bot.stop(Signal::TERM).await;
    assert_eq!(ended.status.code(), Some(1), "{}", ended.log);
    assert!(ended.log.contains("stopped at once by a second signal"), "{}", ended.log);
    ended.tells_nothing();
    goes_on(&house).await;
}

/// An answer that is kept, but neither confirmed nor said to Maren: both hang.
async fn answers_while_all_hangs(house: &House) -> Bot {
    house.settle_in(MAREN, beginning()).await;
    let bot = house.start_polling().await;
    let day = first_day() + Days::new(1);
    house.stand_in.send_text(MAREN, &format!("/today {day}"));
    house.sees(MAREN, "the question", |seen| is_question(seen, day)).await;
    within("the poll after it", house.stand_in.drained()).await;
    house.stand_in.fail_next("getUpdates", Fault::Stall, u32::MAX);
    house.stand_in.fail_next("sendMessage", Fault::Stall, u32::MAX);
    house.stand_in.send_text(MAREN, "Smooth");
    let hang = house.stand_in.until(|stand_in| {
        let asked = stand_in.requests();
        let hangs = |method| asked.iter().any(|it| it.method == method && it.status.is_none());
        hangs("getUpdates") && hangs("sendMessage")
    });
    within("the message to hang", hang).await;
    bot
}

async fn goes_on(house: &House) {
    assert_eq!(house.stand_in.unconfirmed_updates(), 1, "it comes once more");
    // Maren's first day was answered before.
    assert_eq!(house.history().await, 2);
    house.stand_in.heal();
    let bot = house.start_polling().await;
    let kept = format!("Kept: {}, Smooth.", spoken(first_day() + Days::new(1)));
    let is_new = |seen: &Seen| seen.kind == SeenKind::Message && seen.text.starts_with(&kept);
    house.sees(MAREN, &kept, is_new).await;
    // Whatever comes after it comes after all that was left over.
    house.typed(MAREN, "/help", "/rows").await;
    within("the last poll", house.stand_in.drained()).await;
    bot.stop(Signal::TERM).await.cleanly();
    assert_eq!(house.stand_in.seen_by(MAREN).into_iter().filter(is_new).count(), 1);
    assert_eq!(house.history().await, 2);
    assert_eq!(house.stand_in.unconfirmed_updates(), 0);
}

#[tokio::test]
async fn stopped_while_another_program_holds_the_database_it_ends_and_loses_nothing() {
    let house = House::new().await;
    house.settle_in(MAREN, beginning()).await;
    let mut bot = house.start_polling().await;
    let mut database = house.database_beside().await;
    let held = database.begin_with("BEGIN IMMEDIATE").await.unwrap();
    house.stand_in.send_text(MAREN, "/help");
    bot.logs("an update could not be kept yet").await;
    bot.stop(Signal::TERM).await.cleanly();
    assert_eq!(house.stand_in.unconfirmed_updates(), 1);
    held.rollback().await.unwrap();
    let bot = house.start_polling().await;
    house.says(MAREN, "/rows").await;
    bot.stop(Signal::TERM).await.cleanly();
}

#[tokio::test]
async fn on_leaving_it_confirms_what_it_took_and_waits_for_nothing_new() {
    let house = House::new().await;
    house.settle_in(MAREN, beginning()).await;
    let bot = house.start_polling().await;
    house.typed(MAREN, "/help", "/rows").await;
    within("the poll after it", house.stand_in.drained()).await;
    let before = house.stand_in.requests().len();
    bot.stop(Signal::TERM).await.cleanly();
    let asked = house.stand_in.requests().split_off(before);
    let asked: Vec<_> = asked.iter().map(|it| (&*it.method, &it.params["timeout"])).collect();
    assert_eq!(asked, [("getUpdates", &0.into())]);
}

#[tokio::test]
async fn a_second_bot_on_the_same_database_names_the_first_and_leaves_it_alone() {
    let house = House::new().await;
    house.settle_in(MAREN, beginning()).await;
    let first = house.start_polling().await;
    let second = house.start().ended().await;
    assert_eq!(second.status.code(), Some(75), "{}", second.log);
    let named = format!("error: process {} holds the database", first.pid());
    assert!(second.log.contains(&named), "{}", second.log);
    assert!(second.log.contains("hint: stop the other one first"), "{}", second.log);
    second.tells_nothing();
    house.typed(MAREN, "/help", "/rows").await;
    first.stop(Signal::TERM).await.cleanly();
}

#[tokio::test]
async fn a_lock_file_left_by_a_power_cut_holds_nobody_up() {
    let house = House::new().await;
    house.settle_in(MAREN, beginning()).await;
    // A process of this number runs, but holds nothing.
    let lock = house.data().join("duskrow.db.lock");
    std::fs::write(&lock, format!("{}\n", std::process::id())).unwrap();
    let bot = house.start_polling().await;
    let holder = std::fs::read_to_string(&lock).unwrap();
    assert_eq!(holder, format!("{}\n", bot.pid()));
    house.typed(MAREN, "/help", "/rows").await;
    house.keeps_to_itself();
    bot.stop(Signal::TERM).await.cleanly();
}
