//! The log of a bad day at the finest level: no token, no code, no name, no tier, nothing typed.

use duskrow::blanket::{Beginning, Label, Scale, Tier};
use duskrow::rehearsal::{Fault, Person, TOKEN};
use serde_json::json;

use super::house::{House, beginning};

/// One for each act of a round, since a chat takes one message a second.
const MAKERS: std::ops::RangeInclusive<i64> = 1..=6;
const GUEST: i64 = 7;
/// Words that stand nowhere but in what people wrote, chose or are called.
const NAME: &str = "Zephyrine";
const TIER: &str = "Quillfeather";
const YARN: &str = "Marmalade";
const TYPED: &str = "mangosteen";

#[tokio::test]
async fn the_finest_log_of_a_bad_day_tells_nothing_of_anybody() {
    let house = House::new().await;
    for user in MAKERS {
        house.settle_in(user, planted()).await;
        house.stand_in.introduce(Person::new(user, NAME));
    }
    house.stand_in.introduce(Person::new(GUEST, NAME));
    let bot = house.start_polling().await;
    let code = come_in(&house).await;

    let with_token = format!("Bad Request: no such address: /bot{TOKEN}/sendMessage");
    let at_each = [
        Fault::status(502, "Bad Gateway"),
        Fault::status(400, &with_token),
        Fault::too_many_requests(1),
        Fault::BadJson,
        Fault::DropRequest,
        Fault::DropReply,
    ];
    let day = beginning().plan.first_day();
    for fault in at_each {
        for method in ["sendMessage", "editMessageText", "answerCallbackQuery", "getUpdates"] {
            house.stand_in.fail_next(method, fault.clone(), 1);
        }
        house.stand_in.send_text(1, &format!("/today {TYPED}"));
        house.stand_in.send_text(2, TIER);
        house.stand_in.send_text(3, &format!("{TYPED} all day"));
        house.stand_in.push_raw_update(json!({ "message": {
            "from": { "id": 4, "first_name": NAME }, "chat": TYPED, "text": TYPED,
        }}));
        house.stand_in.tap_data(5, 1, TYPED);
        house.comes_through(6).await;
        house.stand_in.heal();
    }
    house.stand_in.send_text(6, &format!("/today {day}"));
    house.says(6, &format!("{TIER}.")).await;

    house.stand_in.fail_next("getUpdates", Fault::status(401, "Unauthorized"), 1);
    house.stand_in.send_text(6, "/help");
    let ended = bot.ended().await;
    assert_eq!(ended.status.code(), Some(78), "{}", ended.log);
    let (_, secret) = TOKEN.split_once(':').unwrap();
    for planted in [secret, &code, NAME, TIER, YARN, TYPED] {
        assert!(!ended.log.contains(planted), "{planted} is in the log: {}", ended.log);
    }
    // The log was really at its finest, and really of a bad day.
    for logged in ["DEBUG", "WARN", "ERROR", "was set aside", "a maker joined", "[token]"] {
        assert!(ended.log.contains(logged), "{logged} is not in the log: {}", ended.log);
    }
}

/// A guest comes in with a code, after trying a wrong one.
async fn come_in(house: &House) -> String {
    let printed = house.run(&["invite"]).await;
    let line = String::from_utf8(printed.stdout).unwrap();
    let code = line.trim().rsplit('=').next().unwrap().to_owned();
    assert_eq!(code.len(), 22, "{line}");
    let wrong: String = code.chars().rev().collect();
    house.stand_in.open_link(GUEST, &wrong);
    house.says(GUEST, "This link was used before").await;
    house.stand_in.open_link(GUEST, &code);
    house.taps(GUEST, "I agree").await;
    house.says(GUEST, "city").await;
    code
}

/// The demo's blanket, with a scale and yarns of the maker's own.
fn planted() -> Beginning {
    let mut beginning = beginning();
    let label = |text: &str| Label::parse(text).unwrap();
    let tiers = beginning.scale.tiers().iter().map(|tier| {
        let own = if tier.id == beginning.scale.default_tier().id {
            TIER.to_owned()
        } else {
            format!("{TIER} {}", tier.id.0)
        };
        Tier { label: label(&own), ..tier.clone() }
    });
    let scale = Scale::new(tiers.collect(), beginning.scale.default_tier().id).unwrap();
    beginning.scale = scale;
    for yarn in &mut beginning.yarns {
        yarn.name = label(&format!("{YARN} {}", yarn.id.0));
    }
    beginning
}
