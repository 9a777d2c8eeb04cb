//! The log of a bad day at the finest level: no token, no code, no name, no tier, nothing typed.

use std::fs;

use chrono::Days;
use duskrow::blanket::{Beginning, Label, Scale, Tier};
use duskrow::rehearsal::{Fault, Person, TOKEN};
use rustix::process::Signal;
use serde_json::json;
use sqlx::Connection as _;

use super::house::{House, beginning};
use super::within;
use crate::world::hostile::{corpus, is_hidden};

/// One for each act of a round, since a chat takes one message a second.
const MAKERS: std::ops::RangeInclusive<i64> = 1..=6;
const GUEST: i64 = 7;
const GUEST_OF_NINE: i64 = 10;
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

/// What a week brings, without a fault: a few things of each maker, since a chat takes one message
/// a second.
#[tokio::test]
async fn the_finest_log_of_ordinary_days_tells_nothing_of_anybody() {
    let house = House::new().await;
    for user in 1..=9 {
        house.settle_in(user, planted()).await;
        house.stand_in.introduce(Person::new(user, NAME));
    }
    house.stand_in.introduce(Person::new(GUEST_OF_NINE, NAME));
    let mut bot = house.start_polling().await;
    let code = come_in_as(&house, GUEST_OF_NINE).await;
    let day = |later: u64| beginning().plan.first_day() + Days::new(later);

    house.typed(1, &format!("/today {}", day(1)), "Which fits the day?").await;
    house.taps(1, &format!("{TIER} 2")).await;
    house.says(1, &format!("{TIER} 2.")).await;
    let note = house.stand_in.send_text(2, &format!("{TYPED} and rain"));
    house.comes_through(2).await;
    assert!(house.stand_in.edit_text(2, note, &format!("{TYPED} and {TYPED}")));
    house.comes_through(2).await;
    house.typed(3, &format!("{YARN} 6 +83.5"), "The ball is added.").await;
    house.typed(3, &format!("{YARN} 6 71"), "Weighed.").await;
    house.typed(4, &format!("{} {TIER} 3\n{} {TIER} 5", day(1), day(2)), "Nothing is kept").await;
    house.taps(4, "Keep these 2 days").await;
    house.says(4, "Kept: 2 days.").await;
    house.typed(5, "/rows", "block 1 of").await;
    house.taps(5, "Worked").await;
    house.says(5, "Row 1 of").await;
    house.typed(6, &format!("/rows {TYPED}"), TYPED).await;
    house.stand_in.send_text(6, "/recap");
    house.comes_through(6).await;
    house.typed(7, "/yarn", YARN).await;
    house.typed(7, "/settings", "Lisbon").await;
    house.typed(8, "/open", "Open").await;
    house.typed(9, "/erase", "ERASE").await;
    house.typed(9, "ERASE", "is erased").await;
    bot.logs("a maker's data was erased").await;
    let ended = bot.stop(Signal::TERM).await;
    ended.cleanly();
    let (_, secret) = TOKEN.split_once(':').unwrap();
    for planted in [secret, &code, NAME, TIER, YARN, TYPED, "83.5", "|tier|"] {
        assert!(!ended.log.contains(planted), "{planted} is in the log: {}", ended.log);
    }
    assert!(!ended.log.contains("ERROR") && ended.log.contains("a maker joined"), "{}", ended.log);
}

/// Whatever somebody types, and under whatever name: no word of it, and nothing that a terminal
/// acts on (ECMA-48) or that turns a line (UAX #9).
#[tokio::test]
async fn the_finest_log_of_hostile_texts_is_plain_and_tells_nothing() {
    let house = House::new().await;
    let makers: Vec<i64> = (1..=20).collect();
    for user in &makers {
        house.settle_in(*user, planted()).await;
        house.stand_in.introduce(Person::new(*user, &format!("{NAME}\u{1B}[2J\u{202E}")));
    }
    let bot = house.start_polling().await;
    let texts = corpus().into_iter().filter(|(_, text)| text.chars().count() < 1500);
    for ((_, text), user) in texts.zip(makers.iter().cycle()) {
        house.stand_in.send_text(*user, &format!("{TYPED}{text}{TYPED}"));
        house.stand_in.send_text(*user, &format!("{text} {TYPED}"));
        house.stand_in.tap_data(
            *user,
            1,
            &format!("{TYPED}{}", text.chars().next().unwrap_or('x')),
        );
    }
    within("every update", house.stand_in.drained()).await;
    let ended = bot.stop(Signal::TERM).await;
    ended.cleanly();
    for planted in [NAME, TIER, YARN, TYPED] {
        assert!(!ended.log.contains(planted), "{planted} is in the log: {}", ended.log);
    }
    let odd = ended.log.chars().find(|c| *c != '\n' && is_hidden(*c));
    assert_eq!(odd, None, "{}", ended.log);
    assert!(ended.log.contains("stopped") && !ended.log.contains("set aside"), "{}", ended.log);
}

/// A fault of our own in the middle of an answer: what a maker is told by a code, the log says by
/// the place, and neither says what was being worked on.
#[tokio::test]
async fn a_panic_in_a_handler_is_logged_by_place_and_code_and_the_bot_goes_on() {
    let house = House::new().await;
    for user in [1, 2] {
        house.settle_in(user, planted()).await;
        house.stand_in.introduce(Person::new(user, NAME));
    }
    let bot = house.start_polling().await;
    no_core_dump(bot.pid());
    // The next name of a draft is one higher, which there is not.
    let day = beginning().plan.first_day();
    let talk = json!({ "draft": { "id": i64::MAX, "days": [[day, 1]] } }).to_string();
    let mut database = house.database_beside().await;
    let which = "UPDATE makers SET talk = ? WHERE user_id = 1";
    let changed = sqlx::query(which).bind(talk).execute(&mut database).await.unwrap();
    assert_eq!(changed.rows_affected(), 1);
    database.close().await.unwrap();

    let days = |tier: u8| {
        let line = |later| format!("{} {TIER} {tier}", day + Days::new(later));
        format!("{}\n{}", line(1), line(2))
    };
    house.typed(1, &days(3), "That did not work, and nothing was changed. Code ").await;
    house.typed(2, &days(3), "Nothing is kept yet.").await;
    house.typed(1, "/help", "/rows").await;
    within("the last poll", house.stand_in.drained()).await;
    let ended = bot.stop(Signal::TERM).await;
    ended.cleanly();
    let place = "a fault in duskrow itself place=\"src/chat/talk.rs:";
    assert_eq!(ended.log.matches(place).count(), 1, "{}", ended.log);
    assert!(ended.log.contains("an update was set aside"), "{}", ended.log);
    for unsaid in ["overflow", "panicked at", NAME, TIER, YARN, &day.to_string()] {
        assert!(!ended.log.contains(unsaid), "{unsaid} is in the log: {}", ended.log);
    }
}

/// Memory with people's words in it is never dumped, and nothing can raise the limit later.
fn no_core_dump(process: u32) {
    let limits = fs::read_to_string(format!("/proc/{process}/limits")).unwrap();
    let core = limits.lines().find_map(|line| line.strip_prefix("Max core file size")).unwrap();
    let values: Vec<&str> = core.split_whitespace().take(2).collect();
    assert_eq!(values, ["0", "0"], "{limits}");
}

/// A guest comes in with a code, after trying a wrong one.
async fn come_in(house: &House) -> String {
    come_in_as(house, GUEST).await
}

async fn come_in_as(house: &House, guest: i64) -> String {
    let printed = house.run(&["invite"]).await;
    let line = String::from_utf8(printed.stdout).unwrap();
    let code = line.trim().rsplit('=').next().unwrap().to_owned();
    assert_eq!(code.len(), 22, "{line}");
    let wrong: String = code.chars().rev().collect();
    house.stand_in.open_link(guest, &wrong);
    house.says(guest, "This link was used before").await;
    house.stand_in.open_link(guest, &code);
    house.taps(guest, "I agree").await;
    house.says(guest, "city").await;
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
