//! Bad input gets a sentence and changes nothing; leaving a flow.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use duskrow::blanket::Answer;
use duskrow::chat::Maker;
use duskrow::chat::event::{Event, MessageId};
use duskrow::chat::talk::Step;

use super::talker::Talker;

/// Nobody means these, and everybody's client can send them. What is hostile besides is typed
/// wherever the bot waits, in `hostile`.
const NONSENSE: [&str; 19] = [
    "/",
    "//",
    "/today@",
    "-1",
    "+6",
    "0",
    "8",
    "6.0",
    "999999999999999999999999",
    "25:00",
    "21:60",
    "12:",
    ":30",
    "13 pm",
    "0 am",
    "30 Feb",
    "Ελαφρύ",
    "\u{202E}gnihtyna",
    "🧶🧶🧶",
];

#[test]
fn nonsense_gets_a_short_sentence_and_changes_nothing_at_any_step() {
    for (name, start) in steps() {
        let begun = start();
        let before = begun.maker.clone();
        for typed in NONSENSE {
            let mut maren = begun.clone();
            let said = maren.types(typed);
            let shown: String = typed.chars().take(30).collect();
            assert!(!said.trim().is_empty(), "{name}, {shown:?}: silence");
            assert!(said.chars().count() < 400, "{name}, {shown:?}: {said}");
            let fine = |c: char| c == '\n' || !(c.is_control() || c == '\u{202E}');
            assert!(said.chars().all(fine), "{name}, {shown:?}: {said:?}");
            // Free text is a note, and the bot says so; nothing else changes.
            let noted = said.starts_with("Note kept: ");
            let same_days = answers(&maren.maker) == answers(&before);
            let same_book = maren.maker.book == before.book;
            assert!(same_book || noted && same_days, "{name}, {shown:?}: {said}");
            assert!(!maren.erased, "{name}, {shown:?}: {said}");
        }
    }
}

#[test]
fn a_refusal_of_set_up_names_what_was_typed_and_shows_an_example() {
    let cases = [
        ("place", "Zzyzx Springs", "like 20:14"),
        ("hour", "25:00", "like 21:00"),
        ("hour", "evening", "like 21:00"),
        ("first day", "30 Feb", "like 14 Jan"),
        ("first day", "soon", "like 14 Jan"),
    ];
    for (name, typed, example) in cases {
        let mut maren = at(name);
        let said = maren.types(typed);
        assert!(said.contains(&format!("\"{typed}\"")), "{said}");
        assert!(said.contains(example), "{said}");
    }
    // The buttons of the step come with the refusal.
    let mut maren = at("hour");
    maren.types("25:00");
    assert_eq!(maren.labels(), ["20:00", "21:00", "22:00"]);
}

#[test]
fn ten_kilobytes_are_refused_without_being_repeated() {
    let typed = "abc ".repeat(2_560);
    assert_eq!(
        asked().types(&typed),
        "A note has at most 500 characters. Nothing was changed.\nSend a shorter one."
    );
    assert_eq!(
        at("place").types(&typed),
        "This text is too long for me. Nothing was changed.\nSend at most 1000 characters."
    );
}

#[test]
fn a_word_that_is_no_tier_is_quoted_with_a_tier_that_works() {
    let mut maren = asked();
    let said = maren.types("smoth");
    assert_eq!(
        said,
        "I do not know the tier \"smoth\". Nothing was changed.\n\
         For Thursday 14 January, tap a tier or type one, like Ordinary."
    );
    maren.types("Ordinary");
    assert_eq!(maren.kept("2027-01-14").as_deref(), Some("Ordinary"));
}

#[test]
fn a_picture_a_sticker_or_a_voice_message_gets_a_sentence() {
    for (name, start) in steps() {
        let mut maren = start();
        let before = maren.maker.clone();
        assert!(maren.happens(&Event::NotText).contains("Nothing was changed."), "{name}");
        assert_eq!(maren.maker, before, "{name}");
    }
}

#[test]
fn a_forged_or_ancient_button_gets_fresh_ones_and_changes_nothing() {
    let tokens = [
        "",
        "1",
        "1|",
        "0|rows",
        "2|rows",
        "1|tier|20270114",
        "1|tier|20270230|6",
        "1|tier|20270114|006",
        "1|tier|20270114|999",
        "1|agree|",
        "1|zone|Mars/Base",
        "garbage",
        "1|worked|1|1|2",
    ];
    for token in tokens {
        let mut maren = asked();
        let before = maren.maker.book.clone();
        let said = maren.taps_token(token);
        assert!(said.contains("Nothing was changed."), "{token:?}: {said}");
        assert!(said.contains("Thursday 14 January\nWhich fits the day?"), "{token:?}: {said}");
        assert_eq!(maren.maker.book, before, "{token:?}");
        // The fresh keyboard works.
        assert!(maren.taps("Smooth").starts_with("Kept: Thursday 14 January, Smooth."));
    }
}

#[test]
fn buttons_for_days_and_tiers_that_are_not_there_change_nothing() {
    let cases = [
        ("1|tier|20250114|6", "Tuesday 14 January 2025 is not in this blanket."),
        ("1|tier|20270115|6", "Friday 15 January has not come yet."),
        ("1|tier|99991231|6", "Friday 31 December 9999 is not in this blanket."),
        ("1|tier|00000101|6", "Saturday 1 January 0 is not in this blanket."),
        ("1|tier|20270114|200", "Thursday 14 January\nWhich fits the day?"),
        ("1|ask|20270115", "Friday 15 January has not come yet."),
        ("1|leave|20270115", "Friday 15 January has not come yet."),
        ("1|leave|20300101", "Tuesday 1 January 2030 is not in this blanket."),
        ("1|tried|200", "That button is from an earlier step. Nothing was changed."),
    ];
    for (token, expected) in cases {
        let mut maren = asked();
        let before = maren.maker.book.clone();
        let said = maren.taps_token(token);
        assert!(said.starts_with(expected), "{token}: {said}");
        assert_eq!(maren.maker.book, before, "{token}");
    }
}

#[test]
fn a_command_inside_a_flow_is_obeyed() {
    for (name, start) in steps() {
        let mut maren = start();
        assert!(maren.types("/help").contains("/today"), "{name}");
        let mut maren = start();
        let said = maren.types("/rows");
        assert!(said.contains("block 1 of") || said.starts_with("There is no blanket"), "{name}");
    }
}

#[test]
fn cancel_leaves_a_flow_and_says_when_there_is_none() {
    let mut maren = asked();
    assert_eq!(maren.types("/cancel"), "Stopped. What was kept before stays as it is.");
    assert_eq!(maren.step(), &Step::Idle);
    assert!(maren.types("/cancel").starts_with("There is nothing to stop."));
}

#[test]
fn an_edited_message_and_a_block_say_nothing() {
    let quiet = [
        Event::Edited { message: MessageId(3), text: "6".to_owned() },
        Event::Blocked,
        Event::Unblocked,
    ];
    for event in quiet {
        let mut maren = asked();
        let before = maren.maker.clone();
        assert_eq!(maren.happens(&event), "");
        assert_eq!(maren.maker, before);
    }
}

fn answers(maker: &Maker) -> Option<&BTreeMap<NaiveDate, Answer>> {
    maker.book.as_ref().map(|book| book.answers())
}

pub type Start = fn() -> Talker;

pub fn steps() -> Vec<(&'static str, Start)> {
    vec![
        ("place", || at("place")),
        ("clock", || at("clock")),
        ("zone", || at("zone")),
        ("hour", || at("hour")),
        ("first day", || at("first day")),
        ("asked", asked),
        ("kept", || {
            let mut maren = asked();
            maren.taps("Smooth");
            maren
        }),
        ("change", || {
            let mut maren = asked();
            maren.taps("Smooth");
            maren.taps("Change");
            maren
        }),
        ("practice", || {
            let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-02-01");
            maren.taps_token("1|try");
            maren
        }),
        ("erase", || {
            let mut maren = asked();
            maren.types("/erase");
            maren
        }),
    ]
}

fn at(step: &str) -> Talker {
    let mut maren = Talker::joined("2027-01-14 20:14");
    let typed: &[&str] = match step {
        "place" => &[],
        "clock" => &["Zzyzx"],
        "zone" => &["Lisbon"],
        "hour" => &["Lisbon", "yes"],
        "first day" => &["Lisbon", "yes", "21:00"],
        other => panic!("no step {other}"),
    };
    typed.iter().for_each(|line| drop(maren.types(line)));
    maren
}

fn asked() -> Talker {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01");
    maren.turn("2027-01-14 21:00");
    maren
}
