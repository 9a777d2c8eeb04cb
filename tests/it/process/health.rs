//! Does `duskrow healthcheck` tell a bot that works from one that does not?

use std::fs;

use rustix::process::Signal;
use serde_json::{Value, json};

use super::house::{House, beginning};

const MAREN: i64 = 1;

#[tokio::test]
async fn a_healthcheck_passes_while_the_bot_polls_and_ticks_and_not_after() {
    let house = House::new().await;
    house.settle_in(MAREN, beginning()).await;
    refused(&house, "error: no bot runs in ").await;
    let bot = house.start_polling().await;
    // What is answered came by a poll that ended.
    house.typed(MAREN, "/help", "/rows").await;
    passes(&house).await;
    house.keeps_to_itself();
    let record = house.data().join("duskrow.db.fresh");
    let fresh: Value = serde_json::from_slice(&fs::read(&record).unwrap()).unwrap();
    bot.stop(Signal::TERM).await.cleanly();
    refused(&house, "error: no bot runs in ").await;

    // What a bot leaves that was killed, or that hangs.
    let old = "2027-01-14T21:00:03Z";
    let now = fresh["ticked_at"].clone();
    for (record_says, sentence) in [
        (json!({ "polled_at": old, "ticked_at": now }), "error: the last poll ended at 2027-01-14"),
        (json!({ "polled_at": null, "ticked_at": now }), "error: no poll has ended since"),
        (
            json!({ "polled_at": now, "ticked_at": old }),
            "error: the bot last looked at what is due",
        ),
        (json!({ "polled_at": now, "ticked_at": null }), "error: the bot has not looked"),
        (json!({ "polled_at": "soon" }), "error: the record of the bot cannot be read"),
    ] {
        fs::write(&record, record_says.to_string()).unwrap();
        refused(&house, sentence).await;
    }
    fs::write(&record, fresh.to_string()).unwrap();
    passes(&house).await;
}

async fn passes(house: &House) {
    let output = house.run(&["healthcheck"]).await;
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    assert!(output.stdout.is_empty() && output.stderr.is_empty());
}

async fn refused(house: &House, sentence: &str) {
    let output = house.run(&["healthcheck"]).await;
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!((output.status.code(), said.lines().count()), (Some(1), 1), "{said}");
    assert!(said.starts_with(sentence), "{said}");
}
