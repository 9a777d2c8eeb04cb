//! What comes of itself, over a hundred days of random habits: never more than two a day, never
//! twice, never in a pause, nothing that a lock screen should not show.

use std::collections::BTreeMap;

use chrono::{NaiveDate, TimeDelta};
use duskrow::blanket::calendar::local;
use duskrow::chat::event::Due;
use duskrow::chat::say::Say;
use proptest::prelude::*;

use super::habits::{deeds, evenings, starts};
use super::talker::{Talker, Unasked};

const DAYS: i64 = 100;

#[test]
fn a_question_a_nudge_and_a_recap_at_one_instant_lose_no_question() {
    for at in ["18:00", "10:00", "03:00", "21:00"] {
        let mut maren = Talker::in_zone("Europe/Lisbon", at, "2027-01-01 05:00", "2027-01-01");
        maren.sets(|reminders| {
            reminders.nudge_at = at.parse().unwrap();
            reminders.recap_at = at.parse().unwrap();
        });
        let mut maren = maren.with_nudges();
        maren.turn("2027-03-01 05:00");
        let days: Vec<NaiveDate> = maren.asked.iter().map(|(day, _)| *day).collect();
        let first: NaiveDate = "2027-01-01".parse().unwrap();
        assert_eq!(days, first.iter_days().take(59).collect::<Vec<_>>(), "{at}");
        // Where two come at once, the question is first.
        for pair in maren.woken.windows(2).filter(|pair| pair[0].1 == pair[1].1) {
            assert!(matches!(pair[0].0, Due::Question(_)), "{pair:?}");
        }
        let recaps = maren.unasked.iter().filter(|came| came.reply.say == Say::RecapReady);
        assert_eq!(recaps.count(), 9, "{at}");
        at_most_two_a_day(&maren).unwrap();
    }
}

#[test]
fn a_change_of_hour_or_place_does_not_ask_twice() {
    let changes: [&[&str]; 5] = [
        &["/settings", "[Hour of the question]", "22:00"],
        &["/settings", "[Hour of the question]", "[22:00]"],
        &["/settings", "[Place]", "Azores", "[Azores, 20:05 now]"],
        &["/settings", "[Place]", "Auckland", "yes"],
        &["/settings", "[When a day ends]", "[00:00]"],
    ];
    for acts in changes {
        let mut maren = Talker::with_blanket("2027-01-14 21:00", "2027-01-01");
        maren.turn("2027-01-14 21:05");
        assert_eq!(maren.asked.len(), 1);
        maren.does(acts);
        maren.turn_to(maren.now + TimeDelta::hours(8));
        let days: Vec<_> = maren.asked.iter().map(|(day, _)| day.to_string()).collect();
        assert_eq!(days, ["2027-01-14"], "{acts:?}");
        maren.turn_to(maren.now + TimeDelta::hours(60));
        nothing_twice(&maren).unwrap();
        assert!(maren.asked.len() >= 3, "{acts:?}: {:?}", maren.asked);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Whatever the maker does, and whatever they change on the way.
    #[test]
    fn at_most_two_unasked_messages_a_day_and_none_twice(
        start in starts(),
        habits in prop::collection::vec((0..1700_i64, deeds()), 60..140),
    ) {
        let mut maker = start.maker();
        let end = maker.now + TimeDelta::days(DAYS);
        for (minutes, deed) in habits.iter().cycle() {
            if maker.now >= end {
                break;
            }
            let next = maker.now + TimeDelta::minutes(*minutes);
            let (paused, before) = (maker.book().reminders().paused, maker.unasked.len());
            maker.turn_to(next);
            prop_assert!(!paused || maker.unasked.len() == before, "a message in a pause");
            deed.doing(&mut maker);
        }
        at_most_two_a_day(&maker)?;
        nothing_twice(&maker)?;
        nothing_for_other_eyes(&maker)?;
        promises_are_kept(&maker)?;
    }

    /// With the same settings all along: two a civil date, too, and no question is lost.
    #[test]
    fn every_open_evening_has_its_question(
        start in starts(),
        habits in prop::collection::vec(prop::option::of(evenings()), 20..60),
    ) {
        let mut maker = start.maker();
        let first = maker.book().hours().day_at(maker.now);
        for (day, deed) in first.iter_days().zip(habits.iter().cycle()).take(DAYS as usize) {
            let due = maker.book().hours().question_due(day);
            if due <= maker.now || !maker.book().hours().day_exists(day) {
                continue;
            }
            maker.turn_to(due - TimeDelta::seconds(1));
            let book = maker.book();
            let wanted = book.answer(day).is_none() && book.put_off(day).is_none();
            maker.turn_to(due);
            let asked = maker.asked.last().is_some_and(|(asked, at)| (*asked, *at) == (day, due));
            prop_assert_eq!(asked, wanted, "{}", day);
            if let Some(deed) = deed {
                deed.doing(&mut maker);
            }
        }
        at_most_two_a_day(&maker)?;
        let mut dates: BTreeMap<NaiveDate, usize> = BTreeMap::new();
        for came in &maker.unasked {
            *dates.entry(local(maker.book().hours().zone, came.at).date()).or_default() += 1;
        }
        prop_assert!(dates.values().all(|count| *count <= 2), "{:?}", dates);
    }
}

fn at_most_two_a_day(maker: &Talker) -> Result<(), TestCaseError> {
    let mut days: BTreeMap<NaiveDate, Vec<&str>> = BTreeMap::new();
    for came in &maker.unasked {
        days.entry(came.on).or_default().push(&came.text);
    }
    match days.iter().find(|(_, came)| came.len() > 2) {
        Some(many) => Err(TestCaseError::fail(format!("{many:?}"))),
        None => Ok(()),
    }
}

fn nothing_twice(maker: &Talker) -> Result<(), TestCaseError> {
    let apart = maker
        .asked
        .windows(2)
        .all(|pair| pair[0].0 < pair[1].0 && pair[1].1 - pair[0].1 >= TimeDelta::hours(12));
    prop_assert!(apart, "{:?}", maker.asked);
    for kind in [is_nudge as fn(&Unasked) -> bool, is_recap] {
        let on: Vec<NaiveDate> =
            maker.unasked.iter().filter(|came| kind(came)).map(|came| came.on).collect();
        prop_assert!(on.windows(2).all(|pair| pair[0] < pair[1]), "{:?}", on);
    }
    Ok(())
}

/// Lock screens: no tier, no note, no number but the date; and all but the question is quiet.
fn nothing_for_other_eyes(maker: &Talker) -> Result<(), TestCaseError> {
    // A whole recap holds the answers of a week: it comes to those who asked for it.
    let whole = |came: &&Unasked| matches!(came.reply.say, Say::Recap(_));
    for came in maker.unasked.iter().filter(|came| !whole(came)) {
        prop_assert!(is_nudge(came) || is_recap(came) || is_question(came), "{}", came.text);
        prop_assert_eq!(came.reply.silent, !is_question(came));
        let folded = came.text.to_lowercase();
        for tier in maker.book().scale().tiers() {
            let label = tier.label.as_str().to_lowercase();
            prop_assert!(!folded.contains(&label), "{label:?} in {:?}", came.text);
        }
        prop_assert!(!folded.contains("zebra"), "a note in {:?}", came.text);
        let numbers: Vec<&str> =
            folded.split(|c: char| !c.is_ascii_digit()).filter(|n| !n.is_empty()).collect();
        let date: Vec<String> =
            came.about.iter().map(|day| day.format("%-d").to_string()).collect();
        prop_assert_eq!(numbers, date, "{}", came.text);
        let counts = ["one", "two", "three", "some", "many", "several", "days"];
        let word = |word: &str| counts.contains(&word);
        prop_assert!(!folded.split(|c: char| !c.is_alphabetic()).any(word), "{}", came.text);
    }
    Ok(())
}

/// A day that was put off is not named before its time, and never if the maker comes back to it.
fn promises_are_kept(maker: &Talker) -> Result<(), TestCaseError> {
    for came in &maker.unasked {
        let named = came.put_off.is_none_or(|until| until.is_some_and(|until| until <= came.on));
        prop_assert!(named, "{:?} on {}: {:?}", came.about, came.on, came.put_off);
    }
    Ok(())
}

fn is_question(came: &Unasked) -> bool {
    matches!(came.reply.say, Say::Question { .. })
}

fn is_nudge(came: &Unasked) -> bool {
    matches!(came.reply.say, Say::Nudge { .. })
}

fn is_recap(came: &Unasked) -> bool {
    matches!(came.reply.say, Say::RecapReady | Say::Recap(_))
}
