//! From "I agree" to the first question.

use chrono::DateTime;
use chrono_tz::Tz;
use duskrow::blanket::{Change, calendar, places};
use duskrow::chat::event::{Event, MessageId};
use duskrow::chat::lexicon::Lexicon;
use duskrow::chat::outcome::Reply;
use duskrow::chat::talk::{Step, Talk};
use duskrow::chat::{Maker, door, respond};
use duskrow::wording::en;

use super::talker::{Talker, invitation, words};

#[test]
fn set_up_takes_four_taps_and_one_typed_word() {
    let mut maren = Talker::joined("2027-01-14 20:14"); // tap 1: I agree
    assert!(maren.types("Lisbon").contains("In Lisbon it is 20:14 now"));
    maren.taps("Yes"); // tap 2
    maren.taps("21:00"); // tap 3
    let ready = maren.taps("Today, Thu 14 Jan"); // tap 4
    assert_eq!(ready, "Set up. I ask every day at 21:00.");
    assert_eq!(maren.labels(), ["Answer today now", "My own scale", "Set-up list"]);
    let hours = maren.book().hours();
    assert_eq!((hours.zone.name(), hours.ask_at.to_string()), ("Europe/Lisbon", "21:00:00".into()));
    assert_eq!(maren.book().plan().last_day().to_string(), "2028-01-13");
}

#[test]
fn set_up_has_at_most_110_words_to_read() {
    // The text of every screen from the consent to the last of set-up, once each, without buttons.
    let mut maren = Talker::joined("2027-01-14 20:14");
    let mut screens = vec![words(&door::consent(invitation(), &en::LEXICON))];
    screens.push(maren.messages.last().unwrap().text.clone());
    screens.push(maren.types("Lisbon"));
    screens.extend(["Yes", "21:00", "Today, Thu 14 Jan"].map(|label| maren.taps(label)));
    let all = screens.join(" ");
    let count = all.split_whitespace().filter(|word| word.contains(char::is_alphanumeric)).count();
    assert!((60..=110).contains(&count), "{count} words: {screens:#?}");
}

#[test]
fn consent_says_everything_it_must() {
    let said = words(&door::consent(invitation(), &en::LEXICON));
    for part in [
        "Kept here: account number, answers, notes, rows, yarn, settings.",
        "can read",
        "not end-to-end encrypted",
        "/erase",
        "This is a program, not care. Nobody watches this chat.\n\
         If life or safety is at risk, call your local emergency number: 112 in the EU.\n\
         Otherwise, ask a doctor or another licensed professional.",
    ] {
        assert!(said.contains(part), "{part:?} is not in {said:?}");
    }
}

#[test]
fn what_the_host_adds_stands_under_the_caution_for_everybody_alike() {
    let line = "Crisis line of this town: 555 0142.";
    let lexicon = Lexicon { local_line: Some(line.to_owned()), ..en::LEXICON.clone() };
    let (_, agreed) = door::joined(MessageId(1), &lexicon);
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01");
    let help = |maren: &Talker| {
        let (text, message) = ("/help".to_owned(), MessageId(1));
        let event = Event::Typed { text, message, reply_to: None };
        words(&respond(&maren.maker, maren.now, &event, &lexicon).replies[0])
    };
    let before = help(&maren);
    for said in [&words(&door::consent(invitation(), &lexicon)), &words(&agreed[0]), &before] {
        let under = format!("another licensed professional.\n{line}");
        assert!(said.contains(&under), "{said}");
    }
    // No tier and no text brings it up or takes it away.
    maren.does(&["/today", "[Very rough]", "all is lost"]);
    assert_eq!(help(&maren), before);
}

#[test]
fn nothing_is_kept_before_the_first_day_is_chosen() {
    let mut maren = Talker::joined("2027-01-14 20:14");
    maren.types("Lisbon");
    maren.taps("Yes");
    maren.types("half past never");
    maren.taps("20:00");
    assert!(maren.maker.book.is_none());
    maren.taps("Today, Thu 14 Jan");
    assert!(maren.maker.book.is_some());
}

#[test]
fn answer_today_now_shows_the_question_and_it_is_not_asked_twice() {
    let mut maren = set_up_today("2027-01-14 20:14");
    assert_eq!(maren.taps("Answer today now"), "Thursday 14 January\nWhich fits the day?");
    assert_eq!(maren.labels().len(), 10);
    assert!(maren.taps("Smooth").starts_with("Kept: Thursday 14 January, Smooth."));
    assert_eq!(maren.turn("2027-01-14 23:00"), "");
    assert!(maren.turn("2027-01-15 21:00").starts_with("Friday 15 January"));
}

#[test]
fn set_up_after_the_hour_counts_as_this_evenings_question() {
    let mut maren = set_up_today("2027-01-14 22:40");
    assert_eq!(maren.turn("2027-01-15 20:59"), "");
    assert!(maren.turn("2027-01-15 21:00").starts_with("Friday 15 January"));
    assert_eq!(maren.asked.len(), 1);
}

#[test]
fn before_the_first_day_a_practice_question_keeps_nothing() {
    for answer in [Talker::taps as fn(&mut Talker, &str) -> String, Talker::types] {
        let mut maren = Talker::joined("2027-01-14 20:14");
        maren.types("Lisbon");
        maren.taps("Yes");
        maren.taps("21:00");
        let ready = maren.taps("Monday 1 February 2027");
        assert_eq!(ready, "Set up. From Monday 1 February 2027 I ask every day at 21:00.");
        let asked = maren.taps("Practice question");
        assert!(asked.starts_with("Monday 1 February\nWhich fits the day?"), "{asked}");
        let said = answer(&mut maren, "Rough");
        assert_eq!(said, "You chose Rough. This was practice. Nothing was kept.");
        assert!(maren.book().answers().is_empty());
        assert_eq!(maren.turn("2027-01-31 23:00"), "");
        assert!(maren.turn("2027-02-01 21:00").starts_with("Monday 1 February"));
    }
}

#[test]
fn a_place_is_found_in_the_ways_people_type_it() {
    let cases = [
        ("Lisbon", "In Lisbon it is 20:14 now"),
        ("lisbon, portugal", "In Lisbon it is 20:14 now"),
        ("Tokyo", "In Tokyo it is 05:14 now"),
        ("Japan", "In Tokyo it is 05:14 now"),
        ("new york", "In New York it is 15:14 now"),
        ("são paulo", "In Sao Paulo it is 17:14 now"),
        ("Portugal", "Portugal has more than one time zone"),
        ("Lisbn", "I do not know the place \"Lisbn\". Is it this one?"),
        ("Zzyzx", "I do not know the place \"Zzyzx\"."),
    ];
    for (typed, expected) in cases {
        let said = Talker::joined("2027-01-14 20:14").types(typed);
        assert!(said.starts_with(expected), "{typed:?}: {said}");
    }
}

#[test]
fn the_place_can_be_refused_by_tap_or_by_word() {
    for refuse in ["no", "No", "wrong"] {
        let mut maren = Talker::joined("2027-01-14 20:14");
        maren.types("Lisbon");
        assert_eq!(maren.types(refuse), "Type your city, or the nearest big one.", "{refuse}");
        assert_eq!(maren.step(), &Step::Place);
    }
    let mut maren = Talker::joined("2027-01-14 20:14");
    maren.types("Lisbon");
    maren.taps("Another place");
    assert!(maren.types("Oslo").starts_with("In Oslo it is 21:14 now"));
    assert_eq!(maren.types("yes"), "When should I ask? Tap or type an hour.");
}

#[test]
fn an_unknown_place_is_found_by_what_its_clock_shows() {
    let mut maren = Talker::joined("2027-01-14 20:14");
    maren.types("Zzyzx");
    let said = maren.types("8:12 pm");
    assert!(said.contains("clock"), "{said}");
    maren.taps("Lisbon");
    maren.taps("Yes");
    assert_eq!(maren.step(), &Step::AskAt { zone: "Europe/Lisbon".parse().unwrap() });
}

#[test]
fn every_clock_in_use_can_be_chosen_by_what_it_shows() {
    // Source of the zones: zonenow.tab, one for each set of clocks that agree from now on.
    let table = include_str!("../../../src/blanket/data/zonenow.tab");
    let rows = table.lines().filter(|line| !line.starts_with('#'));
    let zones: Vec<Tz> =
        rows.filter_map(|line| line.split('\t').nth(2)?.parse::<Tz>().ok()).collect();
    assert!(zones.len() > 80, "{} zones", zones.len());
    for seconds in [1_800_000_000, 1_815_000_000] {
        let now = DateTime::from_timestamp(seconds, 0).unwrap();
        for zone in &zones {
            let offered = places::reading(calendar::local(*zone, now).time(), now);
            assert!(offered.contains(zone), "{zone} is not among {offered:?}");
        }
    }
}

#[test]
fn hours_are_read_in_the_ways_people_type_them() {
    let cases = [
        ("21:30", "21:30:00"),
        ("9 pm", "21:00:00"),
        ("9.15pm", "21:15:00"),
        ("12 am", "00:00:00"),
        ("0:30", "00:30:00"),
        ("2130", "21:30:00"),
        ("22", "22:00:00"),
        ("21.30", "21:30:00"),
        ("21h30", "21:30:00"),
        ("21 h 30", "21:30:00"),
        ("21h", "21:00:00"),
        ("9pm", "21:00:00"),
        ("9 P.M.", "21:00:00"),
        ("09", "09:00:00"),
        ("9:00", "09:00:00"),
        ("00:00", "00:00:00"),
        ("24:00", "00:00:00"),
        ("Midnight.", "00:00:00"),
        ("noon", "12:00:00"),
    ];
    for (typed, expected) in cases {
        let mut maren = at_the_hour();
        maren.types(typed);
        let &Step::FirstDay { ask_at, .. } = maren.step() else { panic!("{typed}") };
        assert_eq!(ask_at.to_string(), expected, "{typed}");
    }
}

#[test]
fn a_bare_number_that_can_be_two_hours_is_asked_about() {
    for (typed, said, one, other) in [
        ("9", "9 can be 09:00 or 21:00.", "09:00:00", "21:00:00"),
        (" 12 ", "12 can be 12:00 or 00:00.", "12:00:00", "00:00:00"),
        ("1.", "1 can be 01:00 or 13:00.", "01:00:00", "13:00:00"),
    ] {
        for (key, expected) in [(0, one), (1, other)] {
            let mut maren = at_the_hour();
            let before = maren.maker.clone();
            let asked = maren.types(typed);
            let how = "Nothing was changed.\nTap one, or type it like 21:00 or 9 pm.";
            assert_eq!(asked, format!("{said} {how}"));
            assert_eq!(maren.maker, before);
            let label = maren.labels()[key].to_owned();
            maren.taps(&label);
            let &Step::FirstDay { ask_at, .. } = maren.step() else { panic!("{typed}") };
            assert_eq!(ask_at.to_string(), expected, "{typed}");
        }
    }
}

#[test]
fn what_is_no_hour_gets_a_sentence_and_the_step_waits() {
    let nonsense = [
        "25:00",
        "24:01",
        "21:60",
        "half nine",
        "nine",
        "21:5",
        "13 pm",
        "0 am",
        "21h60",
        "9 o'clock",
        "-9",
        "21:00:00",
        "evening",
    ];
    for typed in nonsense {
        let mut maren = at_the_hour();
        let before = maren.maker.clone();
        let said = maren.types(typed);
        let expected = format!(
            "I do not know the hour \"{typed}\". Nothing was changed.\n\
             Type it like 21:00 or 9 pm."
        );
        assert_eq!(said, expected);
        assert_eq!(maren.maker, before, "{typed}");
        assert_eq!(maren.labels(), ["20:00", "21:00", "22:00"]);
    }
}

#[test]
fn a_country_offers_one_place_for_each_of_its_clocks_and_none_where_it_has_one() {
    let cases: [(&str, &[&str]); 4] = [
        ("USA", &["New York", "Chicago", "Denver", "Phoenix", "Los Angeles", "Anchorage"]),
        ("Russia", &["Kaliningrad", "Moscow", "Astrakhan", "Yekaterinburg", "Kamchatka"]),
        ("Portugal", &["Lisbon", "Azores"]),
        ("Australia", &["Brisbane", "Sydney", "Adelaide", "Darwin", "Perth"]),
    ];
    for (country, expected) in cases {
        let mut maren = Talker::joined("2027-01-14 20:14");
        let said = maren.types(country);
        assert!(said.contains(" has more than one time zone."), "{country}: {said}");
        let labels = maren.labels();
        assert!(labels.len() <= 13, "{labels:?}");
        for place in expected {
            assert!(labels.contains(place), "{country}: {place} is not in {labels:?}");
        }
        assert!(!labels.contains(&"Detroit") && !labels.contains(&"Madeira"), "{labels:?}");
    }
    for country in ["Germany", "Switzerland"] {
        let said = Talker::joined("2027-01-14 20:14").types(country);
        assert!(said.ends_with(" it is 21:14 now, right?"), "{country}: {said}");
    }
}

#[test]
fn a_place_typed_wrong_is_offered_or_asked_for_by_the_clock() {
    for (typed, expected) in [
        ("Lisbn", "I do not know the place \"Lisbn\". Is it this one?"),
        ("Lodnon", "I do not know the place \"Lodnon\". Is it this one?"),
        ("Zzyzx", "I do not know the place \"Zzyzx\".\nWhat does your clock show now?"),
        ("12345", "I do not know the place \"12345\".\nWhat does your clock show now?"),
        ("🧶", "I do not know the place \"🧶\".\nWhat does your clock show now?"),
    ] {
        let mut maren = Talker::joined("2027-01-14 20:14");
        let said = maren.types(typed);
        assert!(said.starts_with(expected), "{typed}: {said}");
        assert!(maren.types("Lisbon").starts_with("In Lisbon it is 20:14 now"), "{typed}");
    }
}

#[test]
fn a_first_day_that_is_none_is_refused_and_the_step_waits() {
    let cases = [
        ("2027-13-40", "No calendar has the day \"2027-13-40\". Nothing was changed."),
        ("29 Feb 2027", "No calendar has the day \"29 Feb 2027\". Nothing was changed."),
        ("31 June", "No calendar has the day \"31 June\". Nothing was changed."),
        ("14 Jan 9999", "A blanket cannot begin on Thursday 14 January 9999. Nothing was changed."),
        ("9999-12-31", "A blanket cannot begin on Friday 31 December 9999. Nothing was changed."),
        ("14 Jan 10000", "I do not know the day \"14 Jan 10000\". Nothing was changed."),
        ("2 years ago", "I do not know the day \"2 years ago\". Nothing was changed."),
    ];
    for (typed, expected) in cases {
        let mut maren = at_the_hour();
        maren.taps("21:00");
        let before = maren.maker.clone();
        let said = maren.types(typed);
        assert!(said.starts_with(expected), "{typed}: {said}");
        assert_eq!(said.lines().count(), 2, "{said}");
        assert_eq!(maren.maker, before, "{typed}");
        assert!(maren.types("the 14th of January, 2027").starts_with("Set up."), "{typed}");
    }
}

#[test]
fn a_first_day_may_be_in_the_past_while_its_year_is_on() {
    let cases = [
        ("1 Jan", true, "Set up. Row 1 is Friday 1 January 2027. I ask"),
        ("2026-01-15", true, "Set up. Row 1 is Thursday 15 January 2026. I ask"),
        ("2026-01-14", false, "A blanket cannot begin on Wednesday 14 January 2026"),
        ("2028-01-15", true, "Set up. From Saturday 15 January 2028"),
        ("2028-01-16", false, "A blanket cannot begin on Sunday 16 January 2028"),
    ];
    for (typed, begins, expected) in cases {
        let mut maren = at_the_hour();
        maren.taps("21:00");
        let said = maren.types(typed);
        assert!(said.starts_with(expected), "{typed}: {said}");
        assert_eq!(maren.maker.book.is_some(), begins, "{typed}");
    }
}

#[test]
fn a_repeated_tap_on_the_last_screen_says_nothing_and_keeps_one_blanket() {
    let mut maren = at_the_hour();
    maren.taps("21:00");
    let (_, button) = maren.messages.last().unwrap().keys[0].clone();
    maren.taps_button(button.clone(), 1);
    let before = maren.maker.clone();
    assert_eq!(maren.taps_button(button, 1), "");
    assert_eq!(maren.maker, before);
}

#[test]
fn start_shows_the_step_where_set_up_stands() {
    let mut maren = at_the_hour();
    assert_eq!(maren.types("/start"), "When should I ask? Tap or type an hour.");
    assert_eq!(maren.labels(), ["20:00", "21:00", "22:00"]);
    assert!(maren.types("/cancel").contains("/start"));
    assert!(maren.types("/rows").starts_with("There is no blanket yet."));
    maren.taps("22:00");
    assert!(matches!(maren.step(), Step::FirstDay { .. }));
}

#[test]
fn a_stranger_is_sent_to_the_owner_and_a_link_leads_to_the_consent() {
    let typed = |text: &str| Event::Typed {
        text: text.to_owned(),
        message: duskrow::chat::event::MessageId(1),
        reply_to: None,
    };
    let link = door::knock(&typed("/start q7xQ2mJr0dWb5tKc"));
    assert_eq!(link, door::Knock::Link(invitation()));
    for other in ["hello", "/start", "/start a b", "/rows", "/start ../../etc"] {
        assert_eq!(door::knock(&typed(other)), door::Knock::Other, "{other}");
    }
    let declined: Reply = door::declined(MessageId(1));
    assert!(words(&declined).contains("Nothing was kept."));
}

#[test]
fn a_second_blanket_cannot_begin_from_an_old_button() {
    let mut maren = at_the_hour();
    maren.taps("21:00");
    let keys = maren.messages.last().unwrap().keys.clone();
    maren.taps("Today, Thu 14 Jan");
    let maker = Maker { talk: Talk::default(), ..maren.maker.clone() };
    for (label, button) in keys {
        let event = Event::Tapped { button: Ok(button), message: MessageId(1) };
        let outcome = respond(&maker, maren.now, &event, &en::LEXICON);
        let begins = outcome.changes.iter().any(|change| matches!(change, Change::Began(_)));
        assert!(!begins, "{label}");
    }
}

fn at_the_hour() -> Talker {
    let mut maren = Talker::joined("2027-01-14 20:14");
    maren.types("Lisbon");
    maren.taps("Yes");
    maren
}

fn set_up_today(local: &str) -> Talker {
    let mut maren = Talker::joined(local);
    maren.types("Lisbon");
    maren.taps("Yes");
    maren.taps("21:00");
    maren.taps("Today, Thu 14 Jan");
    maren
}
