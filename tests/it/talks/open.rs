//! `/open`: the open days, what is known around the oldest, and setting all of them.

use duskrow::blanket::How;

use super::talker::Talker;

#[test]
fn the_open_days_are_listed_with_their_weekdays_oldest_first() {
    let mut maren = tuesday_wednesday_friday_open();
    assert_eq!(
        maren.types("/open"),
        "Open: Tue 12, Wed 13, Fri 15 January.\n\
         Tuesday 12 January. The day before: A bit rough. The day after: open.\n\
         Your note on Mon 11 Jan: \"dentist\"\n\
         A diary, photos or messages of that date may help."
    );
    let labels = maren.labels();
    assert_eq!(labels[0], "Very rough");
    assert_eq!(
        labels[7..],
        ["Not sure?", "Later", "Set Tue 12 Jan to Ordinary", "Set all 3 to Ordinary"]
    );
}

#[test]
fn answering_one_offers_the_next() {
    let mut maren = tuesday_wednesday_friday_open();
    maren.does(&["/open", "[Rough]"]);
    assert_eq!(maren.kept("2027-01-12").as_deref(), Some("Rough"));
    let said = maren.taps("Answer Wed 13 Jan");
    assert!(said.starts_with("Wednesday 13 January\nWhich fits the day?"), "{said}");
    // A day that is put off is not offered.
    maren.does(&["[Later]", "[I will come back]"]);
    maren.does(&["/today 5 Jan", "[Change]", "[Smooth]"]);
    assert!(maren.labels().contains(&"Answer Fri 15 Jan"), "{:?}", maren.labels());
}

#[test]
fn notes_near_the_oldest_day_are_shown_and_others_are_not() {
    let mut maren = tuesday_wednesday_friday_open();
    for (day, note) in [("2027-01-09", "far before"), ("2027-01-14", "near after")] {
        maren.replies(day, note);
    }
    maren.replies("2027-01-15", "far after");
    let said = maren.types("/open");
    assert!(said.contains("Your note on Thu 14 Jan: \"near after\""), "{said}");
    assert!(!said.contains("far"), "{said}");
}

#[test]
fn set_all_says_how_many_marks_them_and_is_undone_by_one_tap() {
    let mut maren = tuesday_wednesday_friday_open();
    let before = maren.maker.book.clone();
    let said = maren.does(&["/open", "[Set all 3 to Ordinary]"]);
    assert_eq!(
        said,
        "3 open days are now set to Ordinary.\n\
         They stay marked as set. To change one, type /today and its date."
    );
    for day in ["2027-01-12", "2027-01-13", "2027-01-15"] {
        assert_eq!(maren.how(day), Some(How::Assumed), "{day}");
    }
    assert_eq!(maren.types("/open"), "No day before today is open.");
    let said = maren.taps("Undo");
    assert_eq!(
        said,
        "Taken back: 3 days from Tue 12 Jan to Fri 15 Jan.\nThey are as they were before."
    );
    assert_eq!(maren.maker.book, before);
}

#[test]
fn a_second_tap_on_set_all_or_undo_says_the_same() {
    let mut maren = tuesday_wednesday_friday_open();
    maren.types("/open");
    for label in ["Set all 3 to Ordinary", "Undo"] {
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
fn set_all_from_an_old_list_sets_nothing() {
    let mut maren = tuesday_wednesday_friday_open();
    maren.types("/open");
    let list = maren.messages.len() - 1;
    let set_all = maren.messages[list].keys.last().unwrap().1.clone();
    // A week later there are more open days than the button spoke of.
    maren.passes(7);
    let before = maren.maker.clone();
    let said = maren.taps_button(set_all, list);
    assert_eq!(said, "That button is from an earlier step. Nothing was changed.");
    assert_eq!(maren.maker, before);
}

#[test]
fn undo_takes_back_the_days_that_were_not_answered_since() {
    let mut maren = tuesday_wednesday_friday_open();
    maren.does(&["/open", "[Set all 3 to Ordinary]"]);
    let message = maren.messages.len() - 1;
    let undo = maren.messages[message].keys[0].1.clone();
    maren.does(&["/today 12 Jan", "[Change]", "[Rough]"]);
    maren.does(&["/today 13 Jan", "[Change]", "[Ordinary]"]);
    let said = maren.taps_button(undo, message);
    assert_eq!(said, "Taken back: Friday 15 January. It is as it was before.");
    assert_eq!(maren.kept("2027-01-12").as_deref(), Some("Rough"));
    assert_eq!(maren.how("2027-01-13"), Some(How::Answered));
    assert_eq!(maren.how("2027-01-15"), None);
}

#[test]
fn undo_brings_a_promise_back_as_well() {
    let mut maren = tuesday_wednesday_friday_open();
    maren.does(&["/today 12 Jan", "[Later]", "[In 3 days]"]);
    maren.does(&["/today 13 Jan", "[Later]", "[I will come back]"]);
    let before = maren.maker.book.clone();
    maren.does(&["/open", "[Set all 3 to Ordinary]", "[Undo]"]);
    assert_eq!(maren.maker.book, before);
}

#[test]
fn one_open_day_has_no_set_all_and_none_is_said_plainly() {
    let mut maren = tuesday_wednesday_friday_open();
    maren.does(&["/open", "[Rough]", "/open", "[Rough]", "/open"]);
    assert!(!maren.labels().iter().any(|label| label.starts_with("Set all")));
    maren.taps("Rough");
    assert_eq!(maren.types("/open"), "No day before today is open.");
    assert!(maren.labels().is_empty());
}

#[test]
fn a_year_of_open_days_is_a_list_that_ends() {
    let mut maren = Talker::with_blanket("2027-12-01 12:00", "2027-01-01");
    let said = maren.types("/open");
    assert!(said.starts_with("Open: Fri 1, Sat 2, Sun 3, "), "{said}");
    assert!(said.contains("Sun 31 January. 303 more, up to Tuesday 30 November."), "{said}");
    assert!(said.chars().count() < 600, "{said}");
    assert!(maren.labels().contains(&"Set all 334 to Ordinary"));
    maren.taps("Set all 334 to Ordinary");
    assert_eq!(maren.book().answers().len(), 334);
    maren.taps("Undo");
    assert_eq!(maren.book().answers().len(), 0);
}

/// Saturday 16 January at noon: Tuesday, Wednesday and Friday are open, Monday has a note.
fn tuesday_wednesday_friday_open() -> Talker {
    let mut maren = Talker::with_blanket("2027-01-16 12:00", "2027-01-01").without_nudges();
    for day in 1..=15 {
        let tier = if day == 11 { "A bit rough" } else { "Ordinary" };
        if ![12, 13, 15].contains(&day) {
            maren.types(&format!("{day} Jan {tier}"));
        }
    }
    maren.replies("2027-01-11", "dentist");
    maren
}
