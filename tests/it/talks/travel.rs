//! A maker travels: the place changes, east and west, over the date line and back. Days that are
//! over stay as they were, no date is asked about twice, and never twice within twelve hours.

use chrono::{NaiveDate, TimeDelta};
use duskrow::blanket::{Change, Hours};
use proptest::prelude::*;

use super::talker::Talker;

fn moves(maker: &mut Talker, zone: &str) {
    let hours = Hours { zone: zone.parse().unwrap(), ..*maker.book().hours() };
    maker.maker.book.as_mut().unwrap().apply(&Change::HoursSet(hours));
}

/// Dates asked about, with the local time of each in the zone the maker was in at the end.
fn asked(maker: &Talker) -> Vec<String> {
    let hours = maker.book().hours();
    let asked = maker.asked.iter();
    asked.map(|(day, at)| format!("{day} at {}", hours.local(*at).format("%d %H:%M"))).collect()
}

fn apart(maker: &Talker) -> TimeDelta {
    maker.asked.windows(2).map(|pair| pair[1].1 - pair[0].1).min().unwrap()
}

#[test]
fn west_over_the_date_line_the_same_date_comes_again_and_is_not_asked_about_again() {
    // Kiritimati is 24 hours ahead of Honolulu: the same clock, a date earlier.
    let mut maker =
        Talker::in_zone("Pacific/Kiritimati", "21:00", "2027-06-01 12:00", "2027-06-01");
    maker.turn("2027-06-03 21:30");
    moves(&mut maker, "Pacific/Honolulu");
    maker.turn_to(maker.now + TimeDelta::hours(72));
    let expected =
        ["2027-06-01", "2027-06-02", "2027-06-03", "2027-06-04", "2027-06-05"].map(String::from);
    let days: Vec<String> = maker.asked.iter().map(|(day, _)| day.to_string()).collect();
    assert_eq!(days, expected);
    // The third of June was asked about in Kiritimati; a whole day later it is the fourth there.
    assert_eq!(asked(&maker)[2..4], ["2027-06-03 at 02 21:00", "2027-06-04 at 04 21:00"]);
    assert!(apart(&maker) >= TimeDelta::hours(12));
}

#[test]
fn east_over_the_date_line_a_date_is_left_out_and_stays_open() {
    let mut maker = Talker::in_zone("Pacific/Honolulu", "21:00", "2027-06-01 12:00", "2027-06-01");
    maker.turn("2027-06-02 22:00");
    moves(&mut maker, "Pacific/Kiritimati");
    maker.turn_to(maker.now + TimeDelta::hours(72));
    let days: Vec<String> = maker.asked.iter().map(|(day, _)| day.to_string()).collect();
    assert_eq!(days, ["2027-06-01", "2027-06-02", "2027-06-04", "2027-06-05", "2027-06-06"]);
    let third: NaiveDate = "2027-06-03".parse().unwrap();
    let today = maker.book().hours().day_at(maker.now);
    assert!(maker.book().open_days(today).any(|day| day == third), "it can be answered still");
}

#[test]
fn a_new_place_moves_no_day_that_is_over() {
    let mut maker = Talker::with_blanket("2027-01-10 12:00", "2027-01-01");
    for tier in ["Smooth", "Rough", "3", "Ordinary"] {
        maker.turn_to(maker.now + TimeDelta::hours(24));
        maker.types(tier);
    }
    let before = maker.book().clone();
    for zone in ["Pacific/Auckland", "Pacific/Honolulu", "Pacific/Apia", "Europe/Lisbon"] {
        moves(&mut maker, zone);
        assert_eq!(maker.book().answers(), before.answers(), "{zone}");
        assert_eq!(maker.book().plan(), before.plan(), "{zone}");
    }
    assert_eq!(*maker.book(), before);
}

#[test]
fn from_lisbon_to_auckland_and_back_every_evening_there_is_asked_about() {
    let mut maker = Talker::in_zone("Europe/Lisbon", "21:00", "2027-03-01 12:00", "2027-03-01");
    maker.turn("2027-03-02 22:00");
    // Auckland is 13 hours ahead: there it is 11 in the morning of the third.
    moves(&mut maker, "Pacific/Auckland");
    maker.turn_to(maker.now + TimeDelta::hours(40));
    // Nine in the evening there is eleven hours after nine in Lisbon: an hour too soon.
    assert_eq!(asked(&maker)[2..], ["2027-03-03 at 03 22:00", "2027-03-04 at 04 21:00"]);
    moves(&mut maker, "Europe/Lisbon");
    maker.turn_to(maker.now + TimeDelta::hours(40));
    assert_eq!(asked(&maker)[4..], ["2027-03-05 at 05 21:00"]);
    assert!(apart(&maker) >= TimeDelta::hours(12));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Whatever the journey. Each is asked about while it is on where the maker is.
    #[test]
    fn on_no_journey_a_date_is_asked_about_twice_or_within_twelve_hours(
        ask_at in 0..1440_u32,
        legs in prop::collection::vec((0..chrono_tz::TZ_VARIANTS.len(), 1..5000_i64), 2..25),
    ) {
        let ask_at = format!("{:02}:{:02}", ask_at / 60, ask_at % 60);
        let mut maker = Talker::in_zone("Europe/Lisbon", &ask_at, "2027-02-01 12:00", "2027-02-01");
        for (zone, minutes) in legs {
            moves(&mut maker, chrono_tz::TZ_VARIANTS[zone].name());
            let before = maker.asked.len();
            maker.turn_to(maker.now + TimeDelta::minutes(minutes));
            for (day, at) in &maker.asked[before..] {
                prop_assert_eq!(maker.book().hours().day_at(*at), *day);
            }
        }
        let mut days = maker.asked.windows(2);
        prop_assert!(days.all(|pair| pair[0].0 < pair[1].0), "{:?}", maker.asked);
        prop_assert!(maker.asked.len() < 2 || apart(&maker) >= TimeDelta::hours(12));
    }
}
