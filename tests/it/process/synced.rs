//! An answer is on disk before the maker hears that it was kept: seen from outside the program, in
//! the order of its system calls.

use std::fs;
use std::process::Command;

use chrono::Days;
use duskrow::rehearsal::Fault;
use rustix::process::Signal;

use super::bot::Bot;
use super::house::{House, beginning, first_day};
use super::stream::is_question;
use super::{skip, within};

const MAREN: i64 = 1;
const TAPS: usize = 10;

#[tokio::test]
async fn between_a_tap_and_its_acknowledgement_the_disk_is_told_to_keep_it() {
    let probe = Command::new("strace").args(["-D", "true"]).output();
    if !probe.is_ok_and(|output| output.status.success()) {
        return skip("what is synced to the disk: strace does not work here");
    }
    let house = House::new().await;
    house.settle_in(MAREN, beginning()).await;
    let calls = house.data().join("calls");
    let mut traced = Command::new("strace");
    let serve = house.command(&["serve"]);
    traced.args(["-D", "-f", "-qq", "-s", "4096", "-o", calls.to_str().unwrap()]);
    traced.args(["-e", "trace=fdatasync,fsync,read,readv,recvfrom,write,writev,sendto"]);
    traced.arg(serve.get_program()).args(serve.get_args()).env_clear();
    traced.envs(serve.get_envs().filter_map(|(name, value)| Some((name, value?))));
    let bot = Bot::start(traced);

    let day = first_day() + Days::new(1);
    house.stand_in.send_text(MAREN, &format!("/today {day}"));
    let question = house.sees(MAREN, "the question", |seen| is_question(seen, day)).await;
    // The sender hangs from now on, so that what is synced belongs to taps.
    for method in ["editMessageText", "sendMessage"] {
        house.stand_in.fail_next(method, Fault::Stall, u32::MAX);
    }
    let mut queries = Vec::new();
    for tap in 0..TAPS {
        let label = ["Smooth", "Rough"][tap % 2];
        let query = house.stand_in.tap_on(MAREN, question.id, label).unwrap();
        let told = house.stand_in.until(|stand_in| {
            let asked = stand_in.requests();
            let ours = asked.iter().find(|it| it.params["callback_query_id"] == query.as_str());
            ours.is_some_and(|it| it.status.is_some())
        });
        within("the acknowledgement", told).await;
        queries.push(query);
    }
    house.stand_in.heal();
    within("the last poll", house.stand_in.drained()).await;
    bot.stop(Signal::TERM).await.cleanly();

    let calls = fs::read_to_string(calls).unwrap();
    // While the first is taken, the sender may still write down what it sent before.
    for query in &queries[1..] {
        let came = calls.find(query).unwrap();
        let came = came + query.len();
        let told = calls[came..].find(query).unwrap();
        let between = &calls[came..came + told];
        let synced = between.lines().filter(|call| call.contains("sync") && call.ends_with("= 0"));
        assert!(synced.count() >= 1, "acknowledged before it was on disk: {between}");
    }
}
