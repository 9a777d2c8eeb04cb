//! `/pause` and `/resume`: nothing comes of itself in between, and everything can be answered.

use super::talker::Talker;

#[test]
fn nothing_comes_in_a_pause_however_long() {
    let mut maren = busy();
    assert!(
        maren.types("/pause").starts_with("Paused: I send no question, no nudge and no recap.")
    );
    assert_eq!(maren.labels(), ["Go on asking"]);
    let before = maren.unasked.len();
    assert_eq!(maren.turn("2027-06-01 12:00"), "");
    assert_eq!(maren.unasked.len(), before);
    assert!(
        maren.types("/settings").contains("Paused: I send no question, no nudge and no recap.")
    );
}

#[test]
fn days_can_be_answered_in_a_pause_and_nothing_else_changes() {
    let mut maren = busy();
    maren.does(&["/pause", "/today"]);
    assert!(maren.taps("Smooth").starts_with("Kept: Friday 15 January, Smooth."));
    maren.passes(1);
    assert!(maren.types("Rough").starts_with("Kept: Saturday 16 January, Rough."));
    assert!(maren.types("/rows").contains("block 1 of"));
    assert!(maren.types("/recap").contains("Fri 15 Jan: Smooth."));
}

#[test]
fn resume_by_word_or_tap_brings_this_evenings_question_and_none_of_the_past() {
    let resume: [fn(&mut Talker) -> String; 3] = [
        |maren| maren.types("/resume"),
        |maren| maren.taps("Go on asking"),
        |maren| maren.does(&["/settings", "[Go on asking]"]),
    ];
    for resume in resume {
        let mut maren = busy();
        maren.types("/pause");
        maren.turn("2027-02-10 20:00");
        assert_eq!(resume(&mut maren), "The pause is over. I ask every day at 21:00.");
        assert!(!maren.book().reminders().paused);
        maren.turn("2027-02-10 22:00");
        let came = maren.came_since("2027-02-10 20:00");
        let questions: Vec<_> = came.iter().filter(|(at, _)| at.ends_with("21:00")).collect();
        assert_eq!(questions.len(), 1, "{came:?}");
        assert!(came.len() <= 2, "{came:?}");
    }
}

#[test]
fn a_pause_that_ends_after_the_hour_asks_while_the_day_is_on() {
    let mut maren = busy();
    maren.types("/pause");
    maren.turn("2027-01-16 23:30");
    maren.types("/resume");
    maren.turn("2027-01-17 12:00");
    let asked: Vec<String> = maren.asked.iter().map(|(day, _)| day.to_string()).collect();
    assert_eq!(asked.last().map(String::as_str), Some("2027-01-16"));
}

#[test]
fn pausing_twice_and_resuming_unpaused_change_nothing_more() {
    let mut maren = busy();
    maren.types("/pause");
    let before = maren.maker.clone();
    maren.types("/pause");
    assert_eq!(maren.maker, before);
    maren.types("/resume");
    let before = maren.maker.clone();
    maren.types("/resume");
    assert_eq!(maren.maker, before);
}

/// Friday at noon; the days before are open and nudges are on.
fn busy() -> Talker {
    let mut maren = Talker::with_blanket("2027-01-12 12:00", "2027-01-12").with_nudges();
    maren.turn("2027-01-15 12:00");
    maren
}
