//! *For now*: an answer that is not settled; and a day set to the default tier, which stays marked.

use duskrow::blanket::How;

use super::talker::Talker;

#[test]
fn for_now_marks_the_answer_and_settled_takes_the_mark_off() {
    let mut maren = answered();
    let said = maren.taps("For now");
    assert!(said.starts_with("Kept for now: Thursday 14 January, Smooth."), "{said}");
    assert_eq!(maren.how("2027-01-14"), Some(How::ForNow));
    assert_eq!(maren.labels(), ["Change", "Note", "Settled"]);
    assert!(maren.taps("Settled").starts_with("Kept: Thursday 14 January, Smooth."));
    assert_eq!(maren.how("2027-01-14"), Some(How::Answered));
}

#[test]
fn rows_says_so_before_the_row_is_worked() {
    let mut maren = answered();
    maren.taps("For now");
    let said = maren.types("/rows");
    assert!(said.contains("\n1 RS Thu 14 Brick (for now)\n"), "{said}");
    assert!(
        said.contains("\"For now\" is not settled. To change row 1, type /today 14 Jan."),
        "{said}"
    );
    maren.does(&["/today 14 Jan", "[Settled]"]);
    assert!(!maren.types("/rows").to_lowercase().contains("for now"));
}

#[test]
fn an_answer_for_now_is_no_open_day_and_is_marked_in_the_week() {
    let mut maren = answered();
    maren.taps("For now");
    maren.passes(1);
    assert!(maren.types("/recap").contains("\nThu 14 Jan: Smooth (for now).\n"));
    maren.types("/today");
    maren.taps("Skip");
    maren.passes(1);
    let open = maren.types("/open");
    assert!(open.starts_with("Open: Fri 15 January."), "{open}");
    assert!(open.contains("The day before: Smooth (for now)."), "{open}");
    maren.does(&["/today 14 Jan", "[Change]"]);
    assert!(maren.messages.last().unwrap().text.ends_with("Kept now: Smooth (for now)."));
}

#[test]
fn a_new_answer_is_settled() {
    let mut maren = answered();
    maren.taps("For now");
    maren.does(&["[Change]", "[Rough]"]);
    assert_eq!(maren.how("2027-01-14"), Some(How::Answered));
}

#[test]
fn the_same_tap_twice_changes_nothing() {
    let mut maren = answered();
    let index = maren.messages.len() - 1;
    let button = maren.messages[index].keys[2].1.clone();
    let first = maren.taps_button(button.clone(), index);
    let before = maren.maker.clone();
    assert_eq!(maren.taps_button(button, index), first);
    assert_eq!(maren.maker, before);
}

#[test]
fn a_day_set_to_the_default_tier_stays_marked_everywhere() {
    let mut maren = set();
    assert_eq!(maren.how("2027-01-14"), Some(How::Assumed));
    let places = [
        (vec!["/today 14 Jan"], "Set to the default tier: Thursday 14 January, Ordinary."),
        (vec!["/today 14 Jan", "[Change]"], "Kept now: Ordinary (set)."),
        (vec!["/rows"], "1 RS Thu 14 Shingle (set)"),
        (vec!["/recap"], "Thu 14 Jan: Ordinary (set)."),
    ];
    for (acts, mark) in places {
        let said = maren.does(&acts);
        assert!(said.contains(mark), "{acts:?}: {said}");
    }
    maren.passes(1);
    let said = maren.types("/open");
    assert!(said.contains("The day before: Ordinary (set)."), "{said}");
}

#[test]
fn the_mark_of_a_set_day_cannot_be_turned_into_another() {
    let mut maren = set();
    maren.types("/today 14 Jan");
    assert_eq!(maren.labels(), ["Change", "Note"]);
    for token in ["1|fornow|20270114|1", "1|fornow|20270114|0"] {
        maren.taps_token(token);
        assert_eq!(maren.how("2027-01-14"), Some(How::Assumed), "{token}");
    }
    // The maker's own answer takes it off, even with the same tier.
    maren.does(&["[Change]", "[Ordinary]"]);
    assert_eq!(maren.how("2027-01-14"), Some(How::Answered));
}

fn answered() -> Talker {
    let mut maren = Talker::with_blanket("2027-01-14 21:00", "2027-01-14").without_nudges();
    maren.turn("2027-01-14 21:00");
    maren.taps("Smooth");
    maren
}

/// The 14th was left open, and set the day after.
fn set() -> Talker {
    let mut maren = Talker::with_blanket("2027-01-14 21:00", "2027-01-14").without_nudges();
    maren.turn("2027-01-15 12:00");
    maren.does(&["/open", "[Set Thu 14 Jan to Ordinary]"]);
    maren
}
