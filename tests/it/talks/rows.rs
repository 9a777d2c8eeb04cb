//! `/rows`: the next rows, crossing them off, and taking that back.

use duskrow::blanket::BlockNumber;
use duskrow::chat::talk::Step;

use super::talker::Talker;

#[test]
fn the_list_goes_up_to_the_first_open_day() {
    let mut maren = answered("2027-01-04 12:00", &["Smooth", "Smooth", "Kelp?", "Rough"]);
    assert_eq!(
        maren.types("/rows"),
        "January, block 1 of 12. Next: row 1 of 33.\n\
         Bring: Brick for 2 rows.\n\
         1 RS to 2 WS, Fri 1 to Sat 2: Brick, 2 rows\n\
         RS is the right side. WS is the wrong side.\n\
         Row 3 waits: Sunday 3 January is open.\n\
         Tap Worked when rows 1 to 2 are worked."
    );
    assert_eq!(maren.labels(), ["Worked", "Row by row", "Answer Sun 3 Jan", "Where am I?"]);
    assert!(maren.taps("Answer Sun 3 Jan").starts_with("Sunday 3 January\nWhich fits the day?"));
    maren.taps("Ordinary");
    assert!(maren.types("/rows").contains("3 RS Sun 3 Shingle, change\n4 WS Mon 4 Tarred Rope"));
}

#[test]
fn nothing_can_be_worked_over_an_open_row() {
    let mut maren = Talker::with_blanket("2027-01-04 12:00", "2027-01-01");
    let said = maren.types("/rows");
    assert!(said.ends_with("Row 1 waits: Friday 1 January is open."), "{said}");
    assert_eq!(maren.labels(), ["Answer Fri 1 Jan"]);
    let said = maren.taps_token("1|worked|1|1|1|258");
    assert!(said.contains("Nothing was changed."), "{said}");
    assert!(maren.book().worked(BlockNumber(1)).is_empty());
}

#[test]
fn a_day_to_come_is_not_called_open() {
    let mut maren = answered("2027-01-01 12:00", &["Smooth"]);
    let said = maren.types("/rows");
    assert!(said.contains("Row 2 waits: Saturday 2 January has not come yet."), "{said}");
    assert!(said.ends_with("Tap Worked when row 1 is worked."), "{said}");
    assert_eq!(maren.labels(), ["Worked", "Row by row", "Where am I?"]);
}

#[test]
fn worked_rows_are_crossed_off_and_undo_takes_that_back() {
    let mut maren = answered("2027-01-04 12:00", &["Smooth", "Rough", "Ordinary"]);
    maren.types("/rows");
    let said = maren.taps("Worked");
    assert_eq!(said, "Rows 1 to 3 of January are worked.\nNext: row 4 of 33.");
    assert_eq!(maren.labels(), ["Undo", "Next rows"]);
    assert_eq!(maren.taps("Undo"), "Taken back.\nNo row of January is worked.");
    assert!(maren.book().worked(BlockNumber(1)).is_empty());
    assert!(maren.taps("Next rows").starts_with("January, block 1 of 12. Next: row 1 of 33."));
}

#[test]
fn a_repeated_tap_on_worked_or_undo_changes_nothing_and_says_the_same() {
    let mut maren = answered("2027-01-04 12:00", &["Smooth", "Rough", "Ordinary"]);
    maren.types("/rows");
    for label in ["Worked", "Undo"] {
        let index = maren.messages.len() - 1;
        let keys = maren.messages[index].keys.clone();
        let (_, button) = keys.into_iter().find(|(caption, _)| caption == label).unwrap();
        let first = maren.taps_button(button.clone(), index);
        let (before, labels) = (maren.maker.clone(), maren.labels().join(" "));
        assert_eq!(maren.taps_button(button, index), first, "{label}");
        assert_eq!((&maren.maker, maren.labels().join(" ")), (&before, labels), "{label}");
    }
}

#[test]
fn a_list_from_an_earlier_sitting_changes_nothing() {
    let mut maren = answered("2027-01-04 12:00", &["Smooth", "Rough", "Ordinary"]);
    maren.types("/rows 1");
    let old = maren.messages.last().unwrap().keys[0].1.clone();
    maren.types("/rows 2");
    maren.taps("Worked");
    let before = maren.maker.clone();
    let said = maren.taps_button(old, 0);
    assert!(said.contains("Nothing was changed.\nRows 1 to 2 of January are worked."), "{said}");
    assert_eq!(maren.maker, before);
    assert!(maren.taps("Next rows").contains("\n3 RS Sun 3 Shingle, change"));
}

#[test]
fn a_list_whose_colours_have_changed_since_changes_nothing() {
    let mut maren = answered("2027-01-04 12:00", &["Smooth", "Rough", "Ordinary"]);
    maren.types("/rows");
    let list = maren.messages.len() - 1;
    let listed = maren.messages[list].keys[0].1.clone();
    maren.types("/today 2 Jan");
    maren.taps("Change");
    maren.taps("Very rough");
    let said = maren.taps_button(listed, list);
    assert!(said.contains("Nothing was changed.\nNo row of January is worked."), "{said}");
    assert!(maren.book().worked(BlockNumber(1)).is_empty());
    maren.taps("Next rows");
    assert!(maren.taps("Worked").starts_with("Rows 1 to 3 of January are worked."));
}

#[test]
fn an_undo_from_before_later_rows_changes_nothing() {
    let mut maren = answered("2027-01-04 12:00", &["Smooth", "Rough", "Ordinary"]);
    maren.types("/rows 1");
    maren.taps("Worked");
    let undo = maren.messages.last().unwrap().keys[0].1.clone();
    maren.types("/rows 1");
    maren.taps("Worked");
    let before = maren.maker.clone();
    assert!(maren.taps_button(undo, 0).contains("Nothing was changed."));
    assert_eq!(maren.maker, before);
}

#[test]
fn rows_takes_a_number_of_the_block_and_refuses_others() {
    let days = ["Smooth"; 14];
    for (typed, rows) in [("", "12 rows"), ("1", "1 row"), ("5", "5 rows"), ("33", "14 rows")] {
        let mut maren = answered("2027-01-14 22:00", &days);
        let said = maren.types(&format!("/rows {typed}"));
        assert!(said.contains(&format!("\nBring: Brick for {rows}.\n")), "{typed:?}: {said}");
    }
    for typed in [
        "0",
        "34",
        "-1",
        "-3",
        "twelve",
        "1.5",
        "1e9",
        "99999999999",
        "12 13",
        "🧶",
        "40 h",
        "0 min",
        "-5 min",
        "601 min",
        "1e3 min",
        "min",
        "40 min 3",
        "block 2",
        "½",
        "4٣",
    ] {
        let mut maren = answered("2027-01-14 22:00", &days);
        let before = maren.maker.clone();
        let said = maren.types(&format!("/rows {typed}"));
        assert!(said.starts_with("I do not know how many rows"), "{typed:?}: {said}");
        assert!(said.contains(typed) && said.contains("Nothing was changed."), "{said}");
        assert_eq!(maren.maker, before, "{typed:?}");
    }
}

#[test]
fn filler_rows_end_the_block_and_the_next_block_begins() {
    let mut maren = answered("2027-02-01 12:00", &["Smooth"; 31]);
    for _ in 0..2 {
        maren.types("/rows");
        maren.taps("Worked");
    }
    let said = maren.types("/rows");
    assert!(
        said.contains(
            "\n25 RS to 31 RS, Mon 25 to Sun 31: Brick, keep, 7 rows\n\
             32 WS to 33 RS, 2 filler rows: Harbour Blue, change, 2 rows\n"
        ),
        "{said}"
    );
    assert!(said.contains("Row 33 is the last row of this block."), "{said}");
    let said = maren.taps("Worked");
    assert_eq!(
        said,
        "Rows 25 to 33 of January are worked.\n\
         Every row of January is worked.\n\
         Ends to weave in: 4.\n\
         Next: weave in the ends, then join it, then block 2, February."
    );
    assert!(maren.types("/rows").starts_with("February, block 2 of 12. Next: row 1 of 33."));
}

#[test]
fn when_every_row_is_worked_the_bot_says_so() {
    let mut maren = answered("2028-01-01 12:00", &["Smooth"; 365]);
    for _ in 0..12 {
        maren.types("/rows 33");
        maren.taps("Worked");
    }
    assert_eq!(maren.types("/rows"), "Every row of the blanket is worked.");
    assert!(maren.labels().is_empty());
    assert_eq!(maren.step(), &Step::Idle);
}

/// A blanket from 1 January 2027 with these days answered in order; an unknown label leaves open.
fn answered(local: &str, labels: &[&str]) -> Talker {
    let mut maren = Talker::with_blanket(local, "2027-01-01");
    let first = maren.book().plan().first_day();
    for (day, label) in first.iter_days().zip(labels) {
        if maren.book().scale().typed(label).is_some() {
            maren.types(&format!("/today {day}"));
            maren.types(label);
        }
    }
    maren
}
