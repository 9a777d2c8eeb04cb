//! `/today`: any day of the blanket, however its date is typed.

use super::talker::Talker;

#[test]
fn a_date_is_understood_in_every_form_people_type() {
    let cases = [
        ("", "Thursday 14 January"),
        ("today", "Thursday 14 January"),
        ("tonight", "Thursday 14 January"),
        ("yesterday", "Wednesday 13 January"),
        ("12 Jan", "Tuesday 12 January"),
        ("Jan 12", "Tuesday 12 January"),
        ("12 January 2027", "Tuesday 12 January"),
        ("January 12, 2027", "Tuesday 12 January"),
        ("Tue 12 Jan", "Tuesday 12 January"),
        ("12th jan", "Tuesday 12 January"),
        ("12.1.", "Tuesday 12 January"),
        ("12.1", "Tuesday 12 January"),
        ("12/1", "Tuesday 12 January"),
        ("12.1.2027", "Tuesday 12 January"),
        ("12.1.27", "Tuesday 12 January"),
        ("12 Jan 27", "Tuesday 12 January"),
        ("2027-01-12", "Tuesday 12 January"),
        ("Tue", "Tuesday 12 January"),
        // As the lists of open days and of rows say it.
        ("Tue 12", "Tuesday 12 January"),
        ("Thu 14", "Thursday 14 January"),
        ("Thu 7th", "Thursday 7 January"),
        ("tuesday", "Tuesday 12 January"),
        // A weekday alone is the last one before today.
        ("Thursday", "Thursday 7 January"),
        ("31 Dec 2026", "Thursday 31 December"),
        ("31 Dec", "Thursday 31 December"),
    ];
    for (typed, expected) in cases {
        let mut maren = maren();
        let said = maren.types(&format!("/today {typed}"));
        assert_eq!(said, format!("{expected}\nWhich fits the day?"), "{typed:?}");
        let kept = maren.types("Smooth");
        assert!(kept.starts_with(&format!("Kept: {expected}, Smooth.")), "{typed:?}: {kept}");
    }
}

#[test]
fn days_to_come_and_days_outside_are_refused_with_a_sentence() {
    let cases = [
        ("tomorrow", "Friday 15 January has not come yet."),
        ("15 Jan", "Friday 15 January has not come yet."),
        ("30 Nov 2026", "Monday 30 November 2026 is not in this blanket. Nothing was changed."),
        ("2027-12-01", "Wednesday 1 December 2027 is not in this blanket."),
        ("1999-05-05", "Wednesday 5 May 1999 is not in this blanket."),
        ("14 Jan 9999", "Thursday 14 January 9999 is not in this blanket."),
    ];
    for (typed, expected) in cases {
        let mut maren = maren();
        let before = maren.maker.clone();
        let said = maren.types(&format!("/today {typed}"));
        assert!(said.starts_with(expected), "{typed:?}: {said}");
        assert_eq!(maren.maker, before, "{typed:?}");
    }
}

#[test]
fn days_no_calendar_has_and_words_that_are_no_date_are_told_apart() {
    let no_such_day = "No calendar has the day";
    let unknown = "I do not know the day";
    let cases = [
        ("30 Feb", no_such_day),
        ("2027-02-29", no_such_day),
        ("31.4.2027", no_such_day),
        ("32/1", no_such_day),
        ("14/13", no_such_day),
        ("0 Jan", no_such_day),
        ("Tue 32", no_such_day),
        ("Smooth", unknown),
        ("14", unknown),
        ("14 Janvier Jan Jan", unknown),
        ("2027-1-1-1", unknown),
        ("14 Jan 12x", unknown),
        ("-14 Jan", unknown),
        ("99999999999999999999 Jan", unknown),
        ("Mon Tue", unknown),
        ("١٤ Jan", unknown),
        ("🧶", unknown),
    ];
    for (typed, expected) in cases {
        let mut maren = maren();
        let before = maren.maker.clone();
        let said = maren.types(&format!("/today {typed}"));
        assert!(said.starts_with(expected), "{typed:?}: {said}");
        assert!(said.contains(typed), "{typed:?} is named in {said:?}");
        assert!(said.contains("Nothing was changed."), "{typed:?}: {said}");
        assert_eq!(maren.maker, before, "{typed:?}");
    }
}

#[test]
fn a_day_outside_of_the_blanket_is_said_with_where_it_goes_from_and_to() {
    let mut maren = Talker::with_blanket("2027-01-01 12:00", "2027-01-01").without_nudges();
    for (typed, day) in [
        ("yesterday", "Thursday 31 December 2026"),
        ("14 Jan 9999", "Thursday 14 January 9999"),
        ("14 Jan 2020", "Tuesday 14 January 2020"),
        ("2028-01-01", "Saturday 1 January 2028"),
    ] {
        let before = maren.maker.clone();
        let said = maren.types(&format!("/today {typed}"));
        let expected = format!(
            "{day} is not in this blanket. Nothing was changed.\n\
             It goes from Friday 1 January 2027 to Friday 31 December 2027."
        );
        assert_eq!(said, expected, "{typed}");
        assert_eq!(maren.maker, before, "{typed}");
    }
}

#[test]
fn a_date_may_be_said_in_words() {
    for typed in ["the 14th of January", "14th of Jan 2027", "January the 14th", "Thu, 14 January"]
    {
        let mut maren = maren();
        let said = maren.types(&format!("/today {typed}"));
        assert!(said.starts_with("Thursday 14 January\n"), "{typed}: {said}");
    }
}

#[test]
fn a_kept_day_is_shown_with_change() {
    let mut maren = maren();
    maren.types("/today 12 Jan");
    maren.taps("Smooth");
    let said = maren.types("/today 12 Jan");
    assert_eq!(said, "Kept: Tuesday 12 January, Smooth.\nRow 12, wrong side, Brick.");
    assert_eq!(maren.labels(), ["Change", "Note", "For now"]);
}

#[test]
fn a_date_that_comes_twice_in_two_years_is_the_one_that_has_come() {
    // A blanket from 14 January 2027 ends on 13 January 2028: 10 January is in it once, in 2028.
    let mut maren = Talker::with_blanket("2027-06-01 12:00", "2027-01-14");
    assert!(maren.types("/today 10 Jan").starts_with("Monday 10 January has not come yet."));
    assert!(maren.types("/today 20 Jan").starts_with("Wednesday 20 January\nWhich fits the day?"));
}

#[test]
fn in_the_night_today_is_the_day_that_is_on() {
    let mut maren = Talker::with_blanket("2027-01-15 00:40", "2027-01-01");
    assert!(maren.types("/today").starts_with("Thursday 14 January"));
    assert!(maren.types("/today yesterday").starts_with("Wednesday 13 January"));
    assert!(maren.types("/today 15 Jan").starts_with("Friday 15 January has not come yet."));
    maren.turn("2027-01-15 04:00");
    assert!(maren.types("/today").starts_with("Friday 15 January"));
}

/// A blanket from December to November, so that dates of two years are in it.
fn maren() -> Talker {
    Talker::with_blanket("2027-01-14 12:00", "2026-12-01").without_nudges()
}
