//! One evening: the question, the answer, and changing it.

use duskrow::chat::talk::Step;

use super::talker::Talker;

#[test]
fn at_nine_in_the_evening_the_question_comes_with_a_button_for_each_tier() {
    let mut maren = maren();
    assert_eq!(maren.turn("2027-01-14 20:59"), "");
    assert_eq!(maren.turn("2027-01-14 21:00"), "Thursday 14 January\nWhich fits the day?");
    let tiers =
        ["Very rough", "Rough", "A bit rough", "Ordinary", "A bit smooth", "Smooth", "Very smooth"];
    assert_eq!(maren.labels()[..7], tiers);
    assert_eq!(maren.labels()[7..], ["Not sure?", "Later", "Skip"]);
}

#[test]
fn a_tap_a_label_and_a_number_answer_the_same() {
    let kept = "Kept: Thursday 14 January, Smooth.\nRow 14, wrong side, Brick.";
    for (how, typed) in [("tap", None), ("label", Some(" sMOOTH ")), ("number", Some("6"))] {
        let mut maren = asked();
        let said = match typed {
            None => maren.taps("Smooth"),
            Some(typed) => maren.types(typed),
        };
        assert!(said.starts_with(kept), "{how}: {said}");
        assert_eq!(maren.kept("2027-01-14").as_deref(), Some("Smooth"), "{how}");
        assert_eq!(maren.labels(), ["Change", "Note", "For now"], "{how}");
        assert_eq!(maren.book().answers().len(), 1, "{how}");
    }
}

#[test]
fn the_question_itself_changes_when_an_answer_is_typed() {
    let mut maren = asked();
    let question = maren.messages.len() - 1;
    maren.types("Smooth");
    assert!(maren.messages[question].text.starts_with("Kept: Thursday 14 January, Smooth."));
    assert!(maren.messages[question].keys.is_empty());
}

#[test]
fn a_lowest_and_a_highest_tier_get_the_same_sentence() {
    for (tier, yarn) in [("Very rough", "Mussel"), ("Very smooth", "Rosehip")] {
        let said = asked().taps(tier);
        assert_eq!(
            said,
            format!("Kept: Thursday 14 January, {tier}.\nRow 14, wrong side, {yarn}.")
        );
    }
}

#[test]
fn the_same_tap_twice_changes_nothing_and_says_the_same() {
    let mut maren = asked();
    let (_, smooth) = maren.messages.last().unwrap().keys[5].clone();
    let index = maren.messages.len() - 1;
    let first = maren.taps_button(smooth.clone(), index);
    let before = maren.maker.clone();
    maren.turn("2027-01-14 21:05");
    assert_eq!(maren.taps_button(smooth, index), first);
    assert_eq!(maren.maker, before);
}

#[test]
fn change_shows_the_tiers_and_what_is_kept() {
    let mut maren = asked();
    maren.taps("Smooth");
    let said = maren.taps("Change");
    assert_eq!(said, "Thursday 14 January\nWhich fits the day?\nKept now: Smooth.");
    assert_eq!(maren.labels().len(), 8);
    assert!(maren.taps("Rough").starts_with("Kept: Thursday 14 January, Rough."));
    assert_eq!(maren.kept("2027-01-14").as_deref(), Some("Rough"));
}

#[test]
fn leave_keeps_the_day_as_it_is() {
    let mut maren = asked();
    maren.taps("Smooth");
    maren.taps("Change");
    let before = maren.maker.book.clone();
    assert!(maren.taps("Leave it as it is").starts_with("Kept: Thursday 14 January, Smooth."));
    assert_eq!((maren.maker.book.clone(), maren.step()), (before, &Step::Idle));
    assert_eq!(maren.labels(), ["Change", "Note", "For now"]);
}

#[test]
fn a_tier_typed_for_a_day_that_has_one_asks_before_it_changes_anything() {
    let mut maren = asked();
    maren.taps("Smooth");
    let said = maren.types("Rough");
    assert_eq!(said, "Thursday 14 January\nWhich fits the day?\nKept now: Smooth.");
    assert_eq!(maren.kept("2027-01-14").as_deref(), Some("Smooth"));
    maren.types("Rough");
    assert_eq!(maren.kept("2027-01-14").as_deref(), Some("Rough"));
}

#[test]
fn a_tap_after_midnight_counts_for_the_day_that_was_asked() {
    let mut maren = asked();
    maren.turn("2027-01-15 00:40");
    assert!(maren.taps("Smooth").starts_with("Kept: Thursday 14 January, Smooth."));
}

#[test]
fn a_tap_a_day_later_counts_for_the_day_that_was_asked() {
    let mut maren = asked();
    let (_, thursday) = maren.messages.last().unwrap().keys[5].clone();
    let question = maren.messages.len() - 1;
    maren.turn("2027-01-15 21:00");
    assert!(maren.taps_button(thursday, question).starts_with("Kept: Thursday 14 January"));
    // The question of the 15th still takes the next typed line.
    assert!(maren.types("Rough").starts_with("Kept: Friday 15 January, Rough."));
}

#[test]
fn an_answered_day_is_not_asked_about() {
    let mut maren = maren();
    assert!(maren.types("Smooth").starts_with("Kept: Thursday 14 January, Smooth."));
    assert_eq!(maren.turn("2027-01-15 20:59"), "");
    assert!(maren.asked.is_empty());
}

#[test]
fn a_worked_row_keeps_its_colour_and_is_shown_as_differing() {
    let mut maren = Talker::with_blanket("2027-01-01 21:00", "2027-01-01");
    maren.turn("2027-01-01 21:00");
    maren.taps("Smooth");
    maren.types("/rows");
    maren.taps("Worked");
    maren.types("/today");
    maren.taps("Change");
    let said = maren.taps("Ordinary");
    assert_eq!(
        said,
        "Kept: Friday 1 January, Ordinary.\nRow 1 is worked in Brick. Ordinary is Shingle."
    );
    maren.taps("Change");
    let said = maren.taps("Smooth");
    assert_eq!(said, "Kept: Friday 1 January, Smooth.\nRow 1, right side, Brick.");
}

#[test]
fn the_last_day_is_asked_about_and_then_no_more() {
    let mut maren = Talker::with_blanket("2027-12-31 12:00", "2027-01-01");
    maren.turn("2028-03-01 12:00");
    let days: Vec<String> = maren.asked.iter().map(|(day, _)| day.to_string()).collect();
    assert_eq!(days, ["2027-12-31"]);
    // The question of the last day still takes its answer; after that there is no open question.
    assert!(maren.types("6").starts_with("Kept: Friday 31 December, Smooth."));
    assert!(
        maren.types("6").starts_with("The last day of the blanket was Friday 31 December 2027.")
    );
}

#[test]
fn before_the_first_day_a_tier_is_not_kept() {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-02-01");
    // A tier, and what is nearly one.
    for typed in ["Smooth", "6", "smoth", "8"] {
        let said = maren.types(typed);
        assert!(said.starts_with("The blanket begins on Monday 1 February 2027."), "{said}");
    }
    assert!(maren.book().answers().is_empty());
}

fn maren() -> Talker {
    Talker::with_blanket("2027-01-14 12:00", "2027-01-01").without_nudges()
}

fn asked() -> Talker {
    let mut maren = maren();
    maren.turn("2027-01-14 21:00");
    maren
}
