//! When the bot wakes by itself: once a day, while the day is on.

use chrono::{Days, NaiveDate, TimeDelta};
use duskrow::blanket::calendar;
use duskrow::chat::agenda;
use duskrow::chat::event::{Due, Event};
use proptest::prelude::*;

use super::talker::{Talker, time};

#[test]
fn a_hundred_days_bring_a_hundred_questions_each_at_nine() {
    let mut maren = Talker::with_blanket("2027-02-01 12:00", "2027-01-01");
    maren.turn("2027-05-11 23:00");
    let first: NaiveDate = "2027-02-01".parse().unwrap();
    let expected: Vec<NaiveDate> = first.iter_days().take(100).collect();
    assert_eq!(days(&maren), expected);
    for (day, at) in &maren.asked {
        // Lisbon's clocks go forward on 28 March: nine stays nine.
        assert_eq!(maren.book().hours().local(*at).to_string(), format!("{day} 21:00:00"));
    }
}

#[test]
fn every_day_with_a_clock_change_has_one_question() {
    let cases = [
        // An hour skipped and one repeated, at every kind of ask_at.
        ("Europe/Lisbon", "01:30", "2027-03-01", 40),
        ("Europe/Lisbon", "01:30", "2027-10-10", 40),
        ("Europe/Athens", "03:30", "2027-03-01", 40),
        ("Europe/Athens", "03:30", "2027-10-10", 40),
        ("Europe/Athens", "03:59", "2027-03-01", 40),
        ("Africa/Cairo", "00:00", "2027-04-01", 60),
        ("Africa/Cairo", "00:30", "2027-10-01", 60),
        ("America/Nuuk", "23:00", "2027-03-01", 40),
        ("America/Nuuk", "22:30", "2027-10-01", 40),
        ("America/Havana", "00:15", "2027-03-01", 40),
        ("Australia/Lord_Howe", "02:10", "2027-09-20", 40),
        ("Australia/Lord_Howe", "01:45", "2027-03-20", 40),
        ("America/Vancouver", "21:00", "2026-10-20", 40),
        ("Africa/Casablanca", "02:30", "2026-09-10", 40),
        ("Europe/Lisbon", "04:00", "2027-03-01", 40),
    ];
    for (zone, ask_at, first, count) in cases {
        let mut maren = Talker::in_zone(zone, ask_at, &format!("{first} 04:00"), first);
        let first: NaiveDate = first.parse().unwrap();
        let end = maren.book().hours().day_ends(first + Days::new(count - 1));
        maren.turn_to(end - TimeDelta::seconds(1));
        let expected: Vec<NaiveDate> =
            first.iter_days().take(usize::try_from(count).unwrap()).collect();
        assert_eq!(days(&maren), expected, "{zone} {ask_at}");
        assert_apart(&maren);
    }
}

#[test]
fn samoa_is_not_asked_about_the_day_it_left_out() {
    let mut maker = Talker::in_zone("Pacific/Apia", "21:00", "2011-12-28 12:00", "2011-12-01");
    maker.turn("2012-01-01 22:00");
    let expected = ["2011-12-28", "2011-12-29", "2011-12-31", "2012-01-01"];
    assert_eq!(days(&maker).iter().map(NaiveDate::to_string).collect::<Vec<_>>(), expected);
}

#[test]
fn a_question_is_late_only_while_its_day_is_on() {
    let cases = [
        // When the bot is back, and the days it asks about until the next evening is over.
        ("2027-01-14 21:00", vec!["2027-01-14", "2027-01-15"]),
        ("2027-01-14 23:59", vec!["2027-01-14", "2027-01-15"]),
        ("2027-01-15 03:59", vec!["2027-01-14", "2027-01-15"]),
        ("2027-01-15 04:00", vec!["2027-01-15"]),
        ("2027-01-15 12:00", vec!["2027-01-15"]),
    ];
    for (back, expected) in cases {
        let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01");
        maren.now = calendar::instant("Europe/Lisbon".parse().unwrap(), time(back));
        maren.turn("2027-01-15 23:00");
        let asked: Vec<String> = days(&maren).iter().map(NaiveDate::to_string).collect();
        assert_eq!(asked, expected, "{back}");
    }
}

#[test]
fn a_late_question_is_dropped_when_its_day_is_over() {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01");
    let (at, due) = agenda(&maren.maker, maren.now).unwrap();
    maren.now = at;
    let outcome = duskrow::chat::respond(
        &maren.maker,
        maren.now,
        &Event::Due(due),
        &duskrow::wording::en::LEXICON,
    );
    let question = &outcome.replies[0];
    assert!(question.unasked);
    let day = "2027-01-14".parse().unwrap();
    assert_eq!(question.until, Some(maren.book().hours().day_ends(day)));
}

#[test]
fn questions_are_never_within_twelve_hours_of_each_other() {
    // Asked at 03:59 because of an outage, at noon by setting: the next one waits until 15:59.
    let mut maren = Talker::in_zone("Europe/Lisbon", "12:00", "2027-01-14 05:00", "2027-01-01");
    maren.now = calendar::instant("Europe/Lisbon".parse().unwrap(), time("2027-01-15 03:59"));
    maren.turn("2027-01-16 13:00");
    let hours = maren.book().hours();
    let asked: Vec<String> =
        maren.asked.iter().map(|(_, at)| hours.local(*at).to_string()).collect();
    assert_eq!(asked, ["2027-01-15 03:59:00", "2027-01-15 15:59:00", "2027-01-16 12:00:00"]);
}

#[test]
fn a_wake_for_another_day_or_too_early_does_nothing() {
    let mut maren = Talker::with_blanket("2027-01-14 20:00", "2027-01-01");
    for day in ["2027-01-13", "2027-01-14", "2027-01-15", "2030-01-01"] {
        let before = maren.maker.clone();
        assert_eq!(maren.happens(&Event::Due(Due::Question(day.parse().unwrap()))), "", "{day}");
        assert_eq!(maren.maker, before, "{day}");
    }
    maren.turn("2027-01-14 21:00");
    let before = maren.maker.clone();
    assert_eq!(maren.happens(&Event::Due(Due::Question("2027-01-14".parse().unwrap()))), "");
    assert_eq!(maren.maker, before, "the same wake twice");
}

#[test]
fn nobody_without_a_blanket_is_woken() {
    let mut maren = Talker::joined("2027-01-14 20:14");
    maren.turn("2027-03-01 12:00");
    assert!(maren.asked.is_empty());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Whatever the maker's hours and habits: each day at most once, in order, twelve hours apart.
    #[test]
    fn no_day_is_asked_about_twice(
        zone in 0..chrono_tz::TZ_VARIANTS.len(),
        ask_at in 0..1440_u32,
        start in 0..700_u64,
        gaps in prop::collection::vec((0..4000_i64, prop::option::of(1..=7_u8)), 10..40),
    ) {
        let zone = chrono_tz::TZ_VARIANTS[zone].name();
        let ask_at = format!("{:02}:{:02}", ask_at / 60, ask_at % 60);
        let first = NaiveDate::from_ymd_opt(2026, 1, 1).unwrap() + Days::new(start);
        let day = first.to_string();
        let mut maker = Talker::in_zone(zone, &ask_at, &format!("{day} 12:00"), &day);
        for (minutes, tier) in gaps {
            maker.turn_to(maker.now + TimeDelta::minutes(minutes));
            if let Some(tier) = tier {
                maker.types(&tier.to_string());
            }
        }
        let asked = days(&maker);
        prop_assert!(asked.windows(2).all(|pair| pair[0] < pair[1]), "{:?}", asked);
        assert_apart(&maker);
        for (day, at) in &maker.asked {
            prop_assert_eq!(maker.book().hours().day_at(*at), *day);
        }
    }
}

fn assert_apart(maker: &Talker) {
    let apart = |pair: &[(NaiveDate, chrono::DateTime<chrono::Utc>)]| pair[1].1 - pair[0].1;
    assert!(maker.asked.windows(2).all(|pair| apart(pair) >= TimeDelta::hours(12)));
}

fn days(maker: &Talker) -> Vec<NaiveDate> {
    maker.asked.iter().map(|(day, _)| *day).collect()
}
