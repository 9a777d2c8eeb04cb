//! Local times that do not exist or come twice, as RFC 5545 section 3.3.5 reads them, and what
//! they do to the days of a maker. The dates of clock changes are those of the IANA database.

use chrono::{DateTime, NaiveDate, NaiveDateTime, NaiveTime, TimeDelta, Utc};
use chrono_tz::{TZ_VARIANTS, Tz};
use duskrow::blanket::Hours;
use duskrow::blanket::calendar;
use proptest::prelude::*;

#[test]
fn the_examples_of_the_standard_are_read_as_it_says() {
    // RFC 5545 section 3.3.5, forms #2 and #3; the last two are its gap and its overlap.
    let cases = [
        ("1998-01-19 02:00", "1998-01-19 07:00"),
        ("1997-07-14 13:30", "1997-07-14 17:30"),
        ("2007-11-04 01:30", "2007-11-04 05:30"),
        ("2007-03-11 02:30", "2007-03-11 07:30"),
    ];
    for (local, expected) in cases {
        assert_eq!(
            calendar::instant(zone("America/New_York"), at(local)),
            utc(expected),
            "{local}"
        );
    }
}

#[test]
fn gaps_and_overlaps_elsewhere_follow_the_same_rule() {
    let cases = [
        // Midnight does not exist: Cairo on the last Friday of April, Havana in March.
        ("Africa/Cairo", "2024-04-26 00:00", "2024-04-26 01:00"),
        ("America/Havana", "2025-03-09 00:30", "2025-03-09 01:30"),
        // Half an hour is skipped, or comes twice.
        ("Australia/Lord_Howe", "2027-10-03 02:10", "2027-10-03 02:40"),
        ("Australia/Lord_Howe", "2027-04-04 01:45", "2027-04-04 01:45"),
        // An hour that begins on the 30th and exists only on the 31st.
        ("America/Nuuk", "2024-03-30 23:00", "2024-03-31 00:00"),
        // A day that Samoa left out when it crossed the date line.
        ("Pacific/Apia", "2011-12-30 12:00", "2011-12-31 12:00"),
    ];
    for (name, local, expected) in cases {
        let instant = calendar::instant(zone(name), at(local));
        assert_eq!(calendar::local(zone(name), instant), at(expected), "{name} {local}");
    }
    // The first of two: Lord Howe is at UTC+11 before the change, at UTC+10:30 after it.
    let first = calendar::instant(zone("Australia/Lord_Howe"), at("2027-04-04 01:45"));
    assert_eq!(first, utc("2027-04-03 14:45"));
}

#[test]
fn samoa_has_no_30_december_2011_and_every_other_day_of_that_year() {
    let apia = hours("Pacific/Apia", "21:00");
    let year = date("2011-01-01").iter_days().take(365);
    let missing: Vec<_> = year.filter(|day| !apia.day_exists(*day)).collect();
    assert_eq!(missing, [date("2011-12-30")]);
    assert_eq!(apia.day_ends(date("2011-12-29")), apia.day_begins(date("2011-12-31")));
}

#[test]
fn a_question_belongs_to_the_day_it_was_meant_for() {
    let cases = [
        // ask_at, the day asked about, when that is on the clock of the place
        ("Europe/Lisbon", "21:00", "2027-01-14", "2027-01-14 21:00"),
        // Before the turn of the day: on the next civil date.
        ("Europe/Lisbon", "00:30", "2027-01-14", "2027-01-15 00:30"),
        ("Europe/Lisbon", "03:59", "2027-01-14", "2027-01-15 03:59"),
        ("Europe/Lisbon", "04:00", "2027-01-14", "2027-01-14 04:00"),
        // 23:00 on the 30th does not exist, and resolves to the 31st: still the 30th's question.
        ("America/Nuuk", "23:00", "2024-03-30", "2024-03-31 00:00"),
        ("America/Nuuk", "23:00", "2024-03-31", "2024-03-31 23:00"),
        ("Africa/Cairo", "00:15", "2024-04-25", "2024-04-26 01:15"),
        // 03:30 is skipped and 04:00 begins the next day: half an hour before the turn, as ever.
        ("Europe/Athens", "03:30", "2027-03-27", "2027-03-28 02:30"),
        ("Europe/Athens", "02:30", "2027-03-27", "2027-03-28 02:30"),
    ];
    // The last hour of a day is skipped, and the days turn at midnight: as long before it as ever.
    let midnight = NaiveTime::MIN;
    let nuuk = Hours { day_turns_at: midnight, ..hours("America/Nuuk", "23:30") };
    let due = nuuk.question_due(date("2027-03-27"));
    assert_eq!(nuuk.local(due), at("2027-03-27 22:30"));
    assert_eq!(nuuk.day_at(due), date("2027-03-27"));
    for (name, ask_at, day, expected) in cases {
        let (hours, day) = (hours(name, ask_at), date(day));
        let due = hours.question_due(day);
        assert_eq!(hours.local(due), at(expected), "{name} {ask_at} {day}");
        assert_eq!(hours.day_at(due), day, "{name} {ask_at}: the day that is on then");
    }
}

#[test]
fn a_day_goes_on_until_four_in_the_morning() {
    let lisbon = hours("Europe/Lisbon", "21:00");
    let cases = [
        ("2027-01-14 04:00", "2027-01-14"),
        ("2027-01-14 23:59", "2027-01-14"),
        ("2027-01-15 00:40", "2027-01-14"),
        ("2027-01-15 03:59", "2027-01-14"),
        ("2027-01-15 04:00", "2027-01-15"),
    ];
    for (local, day) in cases {
        assert_eq!(lisbon.day_at(calendar::instant(lisbon.zone, at(local))), date(day), "{local}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn now_is_between_the_begin_and_the_end_of_its_day(hours in any_hours(), now in any_instant()) {
        let day = hours.day_at(now);
        prop_assert!(hours.day_begins(day) <= now);
        prop_assert!(now < hours.day_ends(day));
        prop_assert!(hours.day_exists(day));
    }

    #[test]
    fn one_day_ends_when_the_next_begins(hours in any_hours(), now in any_instant()) {
        let day = hours.day_at(now);
        let end = hours.day_ends(day);
        let next = hours.day_at(end);
        prop_assert!(next > day);
        prop_assert_eq!(hours.day_begins(next), end);
        prop_assert_eq!(hours.day_at(end - TimeDelta::seconds(1)), day);
    }

    #[test]
    fn a_question_is_due_while_its_day_is_on(hours in any_hours(), now in any_instant()) {
        let day = hours.day_at(now);
        prop_assert_eq!(hours.day_at(hours.question_due(day)), day);
    }
}

fn any_hours() -> impl Strategy<Value = Hours> {
    let minute = |minutes: i64| NaiveTime::MIN + TimeDelta::minutes(minutes);
    (0..TZ_VARIANTS.len(), 0..1440_i64, 0..360_i64).prop_map(move |(zone, ask_at, turn)| Hours {
        zone: TZ_VARIANTS[zone],
        ask_at: minute(ask_at),
        day_turns_at: minute(turn),
    })
}

/// From 2005 to 2035.
fn any_instant() -> impl Strategy<Value = DateTime<Utc>> {
    (1_104_537_600..2_082_758_400_i64).prop_map(|at| DateTime::from_timestamp(at, 0).unwrap())
}

fn hours(name: &str, ask_at: &str) -> Hours {
    let ask_at = NaiveTime::parse_from_str(ask_at, "%H:%M").unwrap();
    Hours { zone: zone(name), ask_at, day_turns_at: NaiveTime::from_hms_opt(4, 0, 0).unwrap() }
}

fn zone(name: &str) -> Tz {
    name.parse().unwrap()
}

fn at(text: &str) -> NaiveDateTime {
    NaiveDateTime::parse_from_str(text, "%Y-%m-%d %H:%M").unwrap()
}

fn utc(text: &str) -> DateTime<Utc> {
    at(text).and_utc()
}

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}
