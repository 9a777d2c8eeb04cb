//! *Later* and *Skip*: a day that is left, and when the bot speaks of it.

use super::talker::Talker;

#[test]
fn later_asks_when_and_says_exactly_when_it_will_ask() {
    let cases = [
        ("Tomorrow", "I will ask about Tue 12 Jan on Wed 13 Jan at 10:00."),
        ("In 3 days", "I will ask about Tue 12 Jan on Fri 15 Jan at 10:00."),
        ("I will come back", "I will not ask about Tuesday 12 January."),
    ];
    for (label, expected) in cases {
        let mut maren = tuesday();
        assert_eq!(maren.taps("Later"), "When should I ask about Tuesday 12 January?");
        assert_eq!(maren.labels(), ["Tomorrow", "In 3 days", "I will come back", "Back"]);
        let said = maren.taps(label);
        assert!(said.starts_with(expected), "{label}: {said}");
        assert_eq!(maren.labels(), ["Answer it now"]);
        assert!(maren.taps("Answer it now").starts_with("Tuesday 12 January\nWhich fits the day?"));
    }
}

#[test]
fn nothing_is_said_about_the_day_until_then_and_then_exactly_once() {
    for (label, then) in [("Tomorrow", "Wed 13 Jan 10:00"), ("In 3 days", "Fri 15 Jan 10:00")] {
        // With nudges off: the promise is kept all the same, and nothing comes after it.
        let mut maren = tuesday();
        maren.does(&["[Later]"]);
        maren.taps(label);
        answers_each_evening(&mut maren, 14);
        assert_eq!(maren.nudges(), [(then.to_owned(), "Tuesday 12 January is open.")], "{label}");
    }
}

#[test]
fn i_will_come_back_is_never_asked_about_even_with_nudges() {
    let mut maren = tuesday().with_nudges();
    maren.does(&["[Later]", "[I will come back]"]);
    answers_each_evening(&mut maren, 30);
    assert_eq!(maren.nudges(), []);
    // It is not gone: it is among the open days.
    assert!(maren.types("/open").starts_with("Open: Tue 12 January."));
}

#[test]
fn with_nudges_other_days_are_spoken_of_meanwhile() {
    let mut maren = tuesday().with_nudges().without_recap();
    maren.does(&["[Later]", "[In 3 days]"]);
    // Wednesday stays open as well; the others are answered.
    maren.turn("2027-01-14 20:00");
    answers_each_evening(&mut maren, 3);
    let expected = [
        ("Thu 14 Jan 10:00", "Wednesday 13 January is open."),
        ("Fri 15 Jan 10:00", "Tuesday 12 January is open."),
        ("Sat 16 Jan 10:00", "Tuesday 12 January is open."),
    ];
    assert_eq!(maren.nudges(), expected.map(|(at, said)| (at.to_owned(), said)));
}

#[test]
fn later_before_the_evening_means_no_question_this_evening() {
    let mut maren = Talker::with_blanket("2027-01-12 12:00", "2027-01-12").without_nudges();
    maren.does(&["/today", "[Later]", "[Tomorrow]"]);
    assert_eq!(maren.turn("2027-01-13 09:59"), "");
    maren.turn("2027-01-13 21:00");
    let expected = [
        ("Wed 13 Jan 10:00", "Tuesday 12 January is open."),
        ("Wed 13 Jan 21:00", "Wednesday 13 January"),
    ];
    assert_eq!(
        maren.came_since("2027-01-12 12:00"),
        expected.map(|(at, said)| (at.to_owned(), said))
    );
}

#[test]
fn a_promise_for_a_recap_day_or_a_taken_day_names_the_day_it_is_kept_on() {
    // Saturday: tomorrow is the recap's day.
    let mut maren = asked("2027-01-16 21:00", "2027-01-16");
    maren.taps("Later");
    let said = maren.taps("Tomorrow");
    assert!(said.starts_with("I will ask about Sat 16 Jan on Mon 18 Jan at 10:00."), "{said}");
    assert!(said.contains("later than you tapped"), "{said}");
    answers_each_evening(&mut maren, 7);
    let expected = [("Mon 18 Jan 10:00".to_owned(), "Saturday 16 January is open.")];
    assert_eq!(maren.nudges(), expected);

    // Two days for the same morning: each has its own.
    let mut maren = Talker::with_blanket("2027-01-13 12:00", "2027-01-11").without_nudges();
    maren.does(&["/today 11 Jan", "[Later]", "[Tomorrow]"]);
    let said = maren.does(&["/today 12 Jan", "[Later]", "[Tomorrow]"]);
    assert!(said.starts_with("I will ask about Tue 12 Jan on Fri 15 Jan at 10:00."), "{said}");
    answers_each_evening(&mut maren, 7);
    let expected = [
        ("Thu 14 Jan 10:00", "Monday 11 January is open."),
        ("Fri 15 Jan 10:00", "Tuesday 12 January is open."),
    ];
    assert_eq!(maren.nudges(), expected.map(|(at, said)| (at.to_owned(), said)));
}

#[test]
fn promises_that_fell_into_a_pause_are_kept_one_a_day_afterwards() {
    let mut maren = Talker::with_blanket("2027-01-13 12:00", "2027-01-11").without_nudges();
    maren.does(&["/today 11 Jan", "[Later]", "[Tomorrow]"]);
    maren.does(&["/today 12 Jan", "[Later]", "[In 3 days]", "/pause"]);
    assert_eq!(maren.turn("2027-01-19 12:00"), "");
    maren.types("/resume");
    answers_each_evening(&mut maren, 10);
    // The first is late, like a question after an outage.
    let expected = [
        ("Tue 19 Jan 12:00", "Monday 11 January is open."),
        ("Wed 20 Jan 10:00", "Tuesday 12 January is open."),
    ];
    assert_eq!(maren.nudges(), expected.map(|(at, said)| (at.to_owned(), said)));
}

#[test]
fn while_paused_later_does_not_promise_an_hour_it_cannot_keep() {
    let mut maren = tuesday();
    maren.does(&["/pause", "/today 12 Jan", "[Later]"]);
    let said = maren.taps("Tomorrow");
    assert!(
        said.ends_with("There is a pause now. I ask nothing before you type /resume."),
        "{said}"
    );
}

#[test]
fn an_hour_after_midnight_is_promised_with_its_own_date() {
    let mut maren = tuesday();
    maren.sets(|reminders| reminders.nudge_at = "01:30".parse().unwrap());
    maren.taps("Later");
    let said = maren.taps("Tomorrow");
    // While Wednesday is on, which lasts until four.
    assert!(said.starts_with("I will ask about Tue 12 Jan on Thu 14 Jan at 01:30."), "{said}");
    answers_each_evening(&mut maren, 7);
    let expected = [("Thu 14 Jan 01:30".to_owned(), "Tuesday 12 January is open.")];
    assert_eq!(maren.nudges(), expected);
}

#[test]
fn a_later_of_a_day_that_was_answered_meanwhile_shows_what_is_kept() {
    for label in ["Later", "Skip"] {
        let mut maren = tuesday();
        let question = maren.messages.len() - 1;
        let keys = maren.messages[question].keys.clone();
        let (_, button) = keys.into_iter().find(|(caption, _)| caption == label).unwrap();
        maren.types("Smooth");
        let before = maren.maker.clone();
        let said = maren.taps_button(button, question);
        assert!(said.starts_with("Kept: Tuesday 12 January, Smooth."), "{label}: {said}");
        assert_eq!(maren.maker, before);
    }
}

#[test]
fn an_old_later_button_whose_date_has_come_asks_at_once() {
    let mut maren = tuesday();
    maren.taps("Later");
    let message = maren.messages.len() - 1;
    let tomorrow = maren.messages[message].keys[0].1.clone();
    maren.turn("2027-01-14 12:00");
    let said = maren.taps_button(tomorrow, message);
    assert!(said.starts_with("Tuesday 12 January\nWhich fits the day?"), "{said}");
    assert!(maren.book().put_off("2027-01-12".parse().unwrap()).is_none());
}

#[test]
fn the_same_tap_twice_promises_the_same() {
    let mut maren = tuesday();
    maren.taps("Later");
    let message = maren.messages.len() - 1;
    let tomorrow = maren.messages[message].keys[0].1.clone();
    let first = maren.taps_button(tomorrow.clone(), message);
    let before = maren.maker.clone();
    assert_eq!(maren.taps_button(tomorrow, message), first);
    assert_eq!(maren.maker, before);
}

#[test]
fn skip_leaves_the_day_open_and_says_how_to_answer_it() {
    let mut maren = tuesday();
    let before = maren.maker.book.clone();
    let said = maren.taps("Skip");
    assert_eq!(said, "Tuesday 12 January stays open.\nTo answer it, type /today 12 Jan.");
    assert_eq!(maren.labels(), ["Answer it now"]);
    assert_eq!(maren.maker.book, before);
    // What the sentence says works, on the same evening and long after.
    for local in ["2027-01-12 22:00", "2027-03-01 12:00"] {
        maren.turn(local);
        assert!(maren.types("/today 12 Jan").starts_with("Tuesday 12 January\nWhich fits"));
    }
    assert!(maren.taps("Rough").starts_with("Kept: Tuesday 12 January, Rough."));
}

#[test]
fn a_skipped_day_is_not_asked_about_without_nudges() {
    let mut maren = tuesday();
    maren.taps("Skip");
    answers_each_evening(&mut maren, 14);
    assert_eq!(maren.nudges(), []);
    assert_eq!(maren.asked.iter().filter(|(day, _)| day.to_string() == "2027-01-12").count(), 1);
}

/// So many evenings, each answered at once.
fn answers_each_evening(maren: &mut Talker, days: usize) {
    for _ in 0..days {
        let asked = maren.asked.len();
        while maren.asked.len() == asked {
            maren.turn_to(maren.now + chrono::TimeDelta::hours(1));
        }
        let (day, _) = *maren.asked.last().unwrap();
        maren.types(&format!("{day} Smooth"));
    }
}

/// Tuesday evening, the first day of the blanket, just asked.
fn tuesday() -> Talker {
    asked("2027-01-12 21:00", "2027-01-12")
}

fn asked(local: &str, first_day: &str) -> Talker {
    let mut maren = Talker::with_blanket(local, first_day).without_nudges();
    maren.turn(local);
    maren
}
