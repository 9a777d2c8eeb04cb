//! Slips of a tired hand, and the way back from each.

use super::talker::Talker;

#[test]
fn a_weighing_typed_wrong_is_taken_back_and_the_right_one_counts() {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01");
    maren.types("Shingle 100");
    let wrong = maren.types("Shingle 8.3");
    assert!(wrong.contains("8.3 g"), "{wrong}");
    let back = maren.taps("Undo");
    assert!(back.contains("Shingle: 100 g"), "{back}");
    let right = maren.types("Shingle 83");
    assert!(right.contains("83 g"), "{right}");
    let entries = |talker: &Talker| {
        let yarns = talker.book().yarns();
        yarns.iter().map(|yarn| talker.book().ledger(yarn.id).entries().len()).sum::<usize>()
    };
    assert_eq!(entries(&maren), 2);
}

#[test]
fn an_undo_of_yarn_from_before_a_later_entry_changes_nothing() {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01");
    maren.types("Shingle 100");
    let old = maren.messages.last().unwrap().keys[0].1.clone();
    maren.types("Shingle 90");
    let before = maren.book().clone();
    maren.taps_button(old, 0);
    assert_eq!(*maren.book(), before);
}

#[test]
fn a_full_stop_or_a_cheer_after_a_tier_is_the_keyboards() {
    for typed in ["Smooth.", "smooth!", " A bit smooth. "] {
        let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01");
        assert!(maren.types(typed).starts_with("Kept: Thursday 14 January"), "{typed}");
    }
}

#[test]
fn a_date_alone_shows_that_day_and_is_no_note() {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01");
    maren.types("Smooth");
    assert!(maren.types("10 Jan").starts_with("Sunday 10 January\nWhich fits the day?"));
    assert!(maren.types("14.1.").starts_with("Kept: Thursday 14 January, Smooth."));
    assert!(maren.book().notes("2027-01-14".parse().unwrap()).is_empty());
}

#[test]
fn another_command_leaves_a_step_that_waits_for_a_number() {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01");
    maren.types("/settings");
    maren.taps("Hour of the question");
    maren.types("/yarn");
    assert!(maren.types("Shingle 83").starts_with("Shingle: 83 g"));
}
