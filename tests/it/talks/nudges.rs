//! Nudges: asked about once, off unless wanted, one quiet message a day for the oldest open day.

use duskrow::blanket::Nudges;
use duskrow::chat::event::{Due, Event};
use duskrow::chat::talk::Step;

use super::talker::Talker;

#[test]
fn after_the_very_first_answer_they_are_asked_about_and_never_after_that() {
    let mut maren = Talker::with_blanket("2027-01-14 21:00", "2027-01-14");
    maren.turn("2027-01-14 21:00");
    let said = maren.taps("Smooth");
    assert!(
        said.ends_with(
            "If a day stays open, I can send one quiet message at 10:00 the next day.\n\
             It is called a nudge. Do you want it?"
        ),
        "{said}"
    );
    assert_eq!(maren.labels(), ["Yes", "No"]);
    // Unanswered is no: and taking the answer back does not bring the question again.
    for _ in 0..5 {
        maren.passes(1);
        let said = maren.types("Smooth");
        assert!(!said.contains("nudge"), "{said}");
    }
    assert_eq!(maren.nudges(), []);
    assert_eq!(maren.book().reminders().nudges, Nudges::Off);
}

#[test]
fn a_first_answer_that_was_taken_back_does_not_bring_the_question_a_second_time() {
    let mut maren = Talker::with_blanket("2027-01-15 12:00", "2027-01-14");
    let said = maren.does(&["/open", "[Set Thu 14 Jan to Ordinary]"]);
    assert!(said.contains("nudge"), "{said}");
    maren.taps("Undo");
    assert!(maren.book().answers().is_empty());
    assert!(!maren.does(&["/today 14 Jan", "[Smooth]"]).contains("nudge"));
}

#[test]
fn days_kept_in_one_go_bring_the_question_as_well() {
    let mut maren = Talker::with_blanket("2027-01-16 12:00", "2027-01-14");
    let said = maren.does(&["14 Jan Smooth\n15 Jan Rough", "[Keep these 2 days]"]);
    assert!(said.starts_with("Kept: 2 days.") && said.contains("nudge"), "{said}");
    let mut maren = Talker::with_blanket("2027-01-16 12:00", "2027-01-14");
    assert!(maren.does(&["/open", "[Set all 2 to Ordinary]"]).contains("nudge"));
}

#[test]
fn yes_and_no_can_be_tapped_and_typed() {
    let cases: [(&[&str], Nudges, &str); 5] = [
        (&["[Yes]"], Nudges::On, "I send one quiet message at 10:00 when a day is open."),
        (&["[No]"], Nudges::Off, "I send no nudges."),
        (&["yes"], Nudges::On, "I send one quiet message at 10:00 when a day is open."),
        (&["no"], Nudges::Off, "I send no nudges."),
        (&["/settings", "[Nudges]", "[09:00]"], Nudges::On, "I ask every day at 21:00."),
    ];
    for (acts, nudges, said) in cases {
        let mut maren = first_answer();
        let heard = maren.does(acts);
        assert!(heard.starts_with(said), "{acts:?}: {heard}");
        assert_eq!(maren.book().reminders().nudges, nudges, "{acts:?}");
    }
    // After a tap the buttons are gone.
    let mut maren = first_answer();
    maren.taps("Yes");
    assert!(maren.labels().is_empty());
}

#[test]
fn what_is_typed_instead_of_yes_or_no_is_what_it_always_is() {
    let mut maren = first_answer();
    assert!(maren.types("dentist").starts_with("Note kept: Thursday 14 January."));
    assert_eq!(maren.step(), &Step::NudgesWanted);
    assert!(maren.types("Rough").ends_with("Kept now: Smooth."));
    let mut maren = first_answer();
    maren.turn("2027-01-15 21:00");
    // The evening question is what is asked last now.
    assert!(maren.types("yes").starts_with("Note kept: Friday 15 January."));
}

#[test]
fn one_quiet_message_a_day_for_the_oldest_open_day() {
    let mut maren = with_nudges("2027-01-12 12:00", "2027-01-12");
    maren.turn("2027-01-14 20:00");
    let expected = [
        ("Wed 13 Jan 10:00", "Tuesday 12 January is open."),
        ("Thu 14 Jan 10:00", "Tuesday 12 January is open."),
    ];
    assert_eq!(maren.nudges(), expected.map(|(at, said)| (at.to_owned(), said)));
    assert!(maren.unasked.iter().filter(|came| came.text.contains("open")).all(|n| n.reply.silent));
    let labels = maren.labels();
    assert_eq!(labels[..7].first(), Some(&"Very rough"));
    assert_eq!(labels[7..], ["Not sure?", "Later", "Set Tue 12 Jan to Ordinary"]);
    // A typed tier is for the day that was spoken of last.
    assert!(maren.types("Rough").starts_with("Kept: Tuesday 12 January, Rough."));
    maren.turn("2027-01-15 11:00");
    assert_eq!(maren.nudges()[2].1, "Wednesday 13 January is open.");
}

#[test]
fn without_an_open_day_or_the_wish_there_is_none() {
    let mut maren = with_nudges("2027-01-12 12:00", "2027-01-12");
    maren.types("Smooth");
    maren.turn("2027-01-13 20:00");
    assert_eq!(maren.nudges(), []);
    let mut maren = Talker::with_blanket("2027-01-12 12:00", "2027-01-12").without_nudges();
    maren.turn("2027-02-12 20:00");
    assert_eq!(maren.nudges(), []);
}

#[test]
fn after_three_open_days_in_a_row_it_comes_once_a_week() {
    let mut maren = with_nudges("2027-01-12 12:00", "2027-01-12");
    maren.turn("2027-02-04 20:00");
    let at: Vec<String> = maren.nudges().into_iter().map(|(at, _)| at).collect();
    let weekly = ["Wed 13", "Thu 14", "Thu 21", "Thu 28"].map(|day| format!("{day} Jan 10:00"));
    assert_eq!(at[..4], weekly);
    assert_eq!(at[4..], ["Thu 04 Feb 10:00"]);
    // The evening question goes on.
    assert_eq!(maren.asked.len(), 23);
    // One answered evening, and nudges are daily once more.
    maren.turn("2027-02-04 21:00");
    maren.types("Smooth");
    maren.turn("2027-02-05 11:00");
    assert_eq!(maren.nudges().last().unwrap().0, "Fri 05 Feb 10:00");
}

#[test]
fn on_recap_day_the_recap_comes_instead() {
    let mut maren = with_nudges("2027-01-15 12:00", "2027-01-15");
    maren.sets(|reminders| reminders.recap_on = Some(chrono::Weekday::Sun));
    maren.turn("2027-01-18 11:00");
    let expected = [
        ("Fri 15 Jan 21:00", "Friday 15 January"),
        ("Sat 16 Jan 10:00", "Friday 15 January is open."),
        ("Sat 16 Jan 21:00", "Saturday 16 January"),
        ("Sun 17 Jan 18:00", "Your week is ready."),
        ("Sun 17 Jan 21:00", "Sunday 17 January"),
    ];
    let came = maren.came_since("2027-01-15 12:00");
    assert_eq!(came[..5], expected.map(|(at, said)| (at.to_owned(), said)));
}

#[test]
fn it_expires_before_the_evening_question() {
    let mut maren = with_nudges("2027-01-12 12:00", "2027-01-12");
    maren.turn("2027-01-13 09:00");
    // The bot is away until after the question's hour: the question comes, the nudge does not.
    maren.now += chrono::TimeDelta::hours(12) + chrono::TimeDelta::minutes(1);
    maren.turn("2027-01-13 23:00");
    assert_eq!(maren.nudges(), []);
    assert_eq!(maren.came_since("2027-01-13 09:00").len(), 1);
    // Away until a little before: it comes late, and is dropped at the hour of the question.
    let mut maren = with_nudges("2027-01-12 12:00", "2027-01-12");
    maren.turn("2027-01-13 09:00");
    maren.now += chrono::TimeDelta::hours(11);
    maren.turn("2027-01-13 20:01");
    let nudge = maren.unasked.last().unwrap();
    let day = "2027-01-13".parse().unwrap();
    assert_eq!(nudge.reply.until, Some(maren.book().hours().question_due(day)));
}

#[test]
fn setting_the_day_from_a_nudge_is_undone_by_one_tap() {
    let mut maren = with_nudges("2027-01-12 12:00", "2027-01-12");
    maren.turn("2027-01-13 11:00");
    let before = maren.maker.book.clone();
    let said = maren.taps("Set Tue 12 Jan to Ordinary");
    assert!(said.starts_with("Set to the default tier: Tuesday 12 January, Ordinary."), "{said}");
    assert_eq!(maren.labels(), ["Change", "Note", "Undo"]);
    let said = maren.taps("Undo");
    assert!(said.starts_with("Taken back: Tuesday 12 January."), "{said}");
    assert_eq!(maren.maker.book, before);
    assert!(maren.taps("Answer Tue 12 Jan").starts_with("Tuesday 12 January\nWhich fits"));
}

#[test]
fn a_second_tap_on_set_or_undo_says_the_same() {
    let mut maren = with_nudges("2027-01-12 12:00", "2027-01-12");
    maren.turn("2027-01-13 11:00");
    for label in ["Set Tue 12 Jan to Ordinary", "Undo"] {
        let index = maren.messages.len() - 1;
        let keys = maren.messages[index].keys.clone();
        let button = keys.into_iter().find(|(caption, _)| caption == label).unwrap().1;
        let first = maren.taps_button(button.clone(), index);
        let (before, labels) = (maren.maker.clone(), maren.labels().join(" "));
        maren.now += chrono::TimeDelta::seconds(1);
        assert_eq!(maren.taps_button(button, index), first, "{label}");
        assert_eq!((&maren.maker, maren.labels().join(" ")), (&before, labels), "{label}");
    }
}

#[test]
fn undo_leaves_an_answer_that_came_after_it_alone() {
    let mut maren = with_nudges("2027-01-12 12:00", "2027-01-12");
    maren.turn("2027-01-13 11:00");
    maren.taps("Set Tue 12 Jan to Ordinary");
    let message = maren.messages.len() - 1;
    let undo = maren.messages[message].keys[2].1.clone();
    // The maker thinks about it, and Ordinary it was.
    maren.does(&["[Change]", "[Ordinary]"]);
    let said = maren.taps_button(undo, message);
    assert!(said.contains("Nothing was changed."), "{said}");
    assert_eq!(maren.kept("2027-01-12").as_deref(), Some("Ordinary"));
}

#[test]
fn a_wake_at_the_wrong_time_does_nothing() {
    let mut maren = with_nudges("2027-01-12 12:00", "2027-01-12");
    maren.turn("2027-01-13 11:00");
    for day in ["2027-01-11", "2027-01-12", "2027-01-13", "2027-01-14", "2031-01-01"] {
        for due in [Due::Nudge, Due::Recap] {
            let before = maren.maker.clone();
            assert_eq!(maren.happens(&Event::Due(due(day.parse().unwrap()))), "", "{day}");
            assert_eq!(maren.maker, before, "{day}");
        }
    }
}

fn first_answer() -> Talker {
    let mut maren = Talker::with_blanket("2027-01-14 21:00", "2027-01-14");
    maren.turn("2027-01-14 21:00");
    maren.taps("Smooth");
    maren
}

fn with_nudges(local: &str, first_day: &str) -> Talker {
    Talker::with_blanket(local, first_day).with_nudges().without_recap()
}
