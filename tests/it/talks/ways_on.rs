//! No sentence leaves somebody stuck: a step that was meant otherwise has a way out, and what is
//! said is true on that day.

use chrono::NaiveDate;

use super::talker::Talker;

fn maren() -> Talker {
    Talker::with_blanket("2027-01-14 12:00", "2027-01-01").without_nudges()
}

#[test]
fn a_refusal_of_a_setting_has_a_way_back() {
    let cases = [
        ("Hour of the question", "Smooth"),
        ("Place", "Zzyzx Springs"),
        ("When a day ends", "noon"),
        ("When a day ends", "13:00"),
        ("Nudges", "maybe"),
        ("Weekly recap", "whenever"),
    ];
    for (setting, typed) in cases {
        let mut maren = maren();
        maren.does(&["/settings", &format!("[{setting}]")]);
        let before = maren.book().clone();
        let said = maren.types(typed);
        assert!(said.contains("Nothing was changed."), "{setting}: {said}");
        assert_eq!(maren.labels(), ["Back"], "{setting}");
        maren.taps("Back");
        maren.types("Smooth");
        assert_eq!(maren.kept("2027-01-14").as_deref(), Some("Smooth"), "{setting}");
        assert_eq!(maren.book().hours(), before.hours());
        assert_eq!(maren.book().reminders(), before.reminders());
    }
}

#[test]
fn a_refusal_of_a_weight_has_a_way_back() {
    let mut maren = maren();
    maren.does(&["/yarn", "[Weigh]", "[Shingle]", "Smooth"]);
    assert_eq!(maren.labels(), ["Back"]);
    maren.does(&["[Back]", "Smooth"]);
    assert_eq!(maren.kept("2027-01-14").as_deref(), Some("Smooth"));
}

#[test]
fn the_word_that_erases_is_never_kept_as_a_note() {
    let mut maren = maren();
    maren.does(&["Smooth", "/erase", "/rows"]);
    let said = maren.types("ERASE");
    assert!(said.contains("Type ERASE in capital letters to do it, or /cancel."), "{said}");
    assert!(!maren.erased);
    assert!(maren.notes("2027-01-14").is_empty());
    maren.types("ERASE");
    assert!(maren.erased);
}

#[test]
fn one_typed_day_that_cannot_be_kept_is_refused_without_speaking_of_others() {
    let cases = [
        (
            "15 Jan Smooth",
            "Friday 15 January has not come yet. It can be answered from that day on.",
        ),
        (
            "31 Dec 2026: Smooth",
            "Thursday 31 December 2026 is not in this blanket. Nothing was changed.\n\
             It goes from Friday 1 January 2027 to Friday 31 December 2027.",
        ),
    ];
    for (typed, expected) in cases {
        for typed in [typed.to_owned(), format!("/today {typed}")] {
            let mut maren = maren();
            assert_eq!(maren.types(&typed), expected, "{typed}");
            assert!(maren.book().answers().is_empty(), "{typed}");
        }
    }
}

#[test]
fn after_a_pause_no_question_is_promised_that_will_not_come() {
    let resumed = |local: &str| {
        let mut maren = Talker::with_blanket(local, "2027-01-01").without_nudges();
        maren.does(&["/pause", "[Go on asking]"])
    };
    assert_eq!(resumed("2027-01-14 12:00"), "The pause is over. I ask every day at 21:00.");
    assert_eq!(
        resumed("2026-12-20 12:00"),
        "The blanket begins on Friday 1 January 2027.\n\
         I ask from that day on, every day at 21:00."
    );
    let over = resumed("2028-01-20 12:00");
    assert!(over.starts_with("The last day of the blanket was Friday 31 December 2027."), "{over}");
}

#[test]
fn after_the_last_day_a_nudge_comes_once_a_week_at_most() {
    let mut maren = Talker::with_blanket("2027-12-28 12:00", "2027-01-01");
    maren.does(&["yesterday smooth", "[Yes]"]);
    maren.turn("2028-02-20 12:00");
    let after = "2028-01-05".parse::<NaiveDate>().unwrap();
    let nudges = maren.unasked.iter().filter(|said| said.text.contains(" is open."));
    let days: Vec<NaiveDate> = nudges.map(|said| said.on).filter(|on| *on > after).collect();
    assert!(!days.is_empty());
    let apart = |pair: &[NaiveDate]| (pair[1] - pair[0]).num_days();
    assert!(days.windows(2).all(|pair| apart(pair) >= 7), "{days:?}");
}
