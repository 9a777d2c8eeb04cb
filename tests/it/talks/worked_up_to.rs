//! "Already worked up to block 3, row 12": shown back, refused at an open day, undone.

use duskrow::blanket::{BlockNumber, Change};

use super::talker::Talker;

#[test]
fn it_is_shown_back_and_one_tap_crosses_everything_off() {
    for typed in [
        "already worked up to block 3, row 12",
        "Worked up to block 3 row 12",
        "worked up to row 12, block 3",
        "Already worked up to Block 3, Row 12.",
    ] {
        let mut maren = answered();
        let before = maren.maker.book.clone();
        let said = maren.types(typed);
        assert_eq!(
            said,
            "No row of the blanket is worked.\n\
             Shall I cross off every row up to block 3, row 12?\n\
             Nothing is crossed off yet.",
            "{typed}"
        );
        assert_eq!(maren.maker.book, before);
        assert_eq!(maren.labels(), ["Cross them off", "Do not cross them off"]);
        assert_eq!(maren.taps("Cross them off"), "Every row up to block 3, row 12 is worked.");
        assert_eq!(worked(&maren), [33, 33, 12, 0]);
        assert_eq!(maren.labels(), ["Undo", "Next rows"]);
        assert_eq!(maren.taps("Undo"), "Taken back.\nNo row of the blanket is worked.");
        assert_eq!(maren.maker.book, before);
    }
}

#[test]
fn it_goes_on_from_where_the_work_stands_and_undo_leads_back_there() {
    let mut maren = answered();
    maren.does(&["/rows 5", "[Worked]"]);
    let said = maren.types("worked up to block 2, row 1");
    assert!(said.starts_with("The work stands at block 1, row 5."), "{said}");
    maren.taps("Cross them off");
    assert_eq!(worked(&maren), [33, 1, 0, 0]);
    assert_eq!(maren.taps("Undo"), "Taken back.\nThe work stands at block 1, row 5.");
    assert_eq!(worked(&maren), [5, 0, 0, 0]);
    // From the end of a block.
    maren.does(&["worked up to block 1, row 33", "[Cross them off]"]);
    let said = maren.types("worked up to block 2, row 3");
    assert!(said.starts_with("Every row of block 1 is worked."), "{said}");
    maren.does(&["[Cross them off]", "[Undo]"]);
    assert_eq!(worked(&maren), [33, 0, 0, 0]);
}

#[test]
fn undo_of_a_crossing_leaves_rows_a_later_block_had_before() {
    let mut maren = answered();
    maren.does(&["worked up to block 2, row 5", "[Cross them off]"]);
    // A tier of January was changed, and rows were pulled back for it.
    maren.maker.apply(&Change::PulledBack { block: BlockNumber(1), rows_left: 19 });
    maren.now += chrono::TimeDelta::minutes(1);
    let before = maren.maker.book.clone();
    maren.does(&["worked up to block 2, row 8", "[Cross them off]"]);
    assert_eq!(worked(&maren), [33, 8, 0, 0]);
    assert_eq!(maren.taps("Undo"), "Taken back.\nThe work stands at block 1, row 19.");
    assert_eq!(worked(&maren), [19, 5, 0, 0]);
    assert_eq!(maren.maker.book, before);
}

#[test]
fn a_crossing_whose_last_row_was_worked_anew_is_not_undone_in_part() {
    let mut maren = answered();
    maren.does(&["worked up to block 2, row 3", "[Cross them off]"]);
    let message = maren.messages.len() - 1;
    let undo = maren.messages[message].keys[0].1.clone();
    maren.now += chrono::TimeDelta::minutes(1);
    let rows = maren.book().worked(BlockNumber(2)).to_vec();
    maren.maker.apply(&Change::PulledBack { block: BlockNumber(2), rows_left: 2 });
    let (block, yarns) = (BlockNumber(2), vec![rows[2].yarn]);
    maren.maker.apply(&Change::Worked { block, yarns, at: maren.now });
    let before = maren.maker.book.clone();
    let said = maren.taps_button(undo, message);
    assert!(said.contains("Nothing was changed."), "{said}");
    assert_eq!(maren.maker.book, before);
}

#[test]
fn it_is_refused_at_an_open_day_and_at_a_day_to_come() {
    let mut maren = all_but_one_answered();
    let before = maren.maker.book.clone();
    let said = maren.types("worked up to block 3, row 12");
    assert_eq!(
        said,
        "Block 2 waits: Saturday 20 February is open. Nothing was crossed off.\n\
         Answer it first with /today 20 Feb, or name an earlier row."
    );
    let said = answered().types("worked up to block 4, row 2");
    assert!(said.starts_with("Block 4 waits: Thursday 1 April has not come yet."), "{said}");
    assert_eq!(maren.maker.book, before);
    // An earlier row can be named.
    maren.does(&["worked up to block 2, row 19", "[Cross them off]"]);
    assert_eq!(worked(&maren), [33, 19, 0, 0]);
}

#[test]
fn what_is_no_row_of_the_blanket_is_refused_with_an_example() {
    for typed in [
        "worked up to block 13, row 1",
        "worked up to block 0, row 1",
        "worked up to block 1, row 34",
        "worked up to block 1, row 0",
        "worked up to block 3",
        "worked up to row 12",
        "worked up to block three, row 12",
        "worked up to block 99999999, row 1",
        "worked up to block -1, row 1",
        "worked up to block 1, row 12345",
    ] {
        let mut maren = answered();
        let before = maren.maker.clone();
        let said = maren.types(typed);
        assert_eq!(
            said,
            "The blanket has 12 blocks of 33 rows. Nothing was changed.\n\
             Type it like: worked up to block 3, row 12",
            "{typed}"
        );
        assert_eq!(maren.maker, before);
    }
}

#[test]
fn rows_that_are_worked_stay_worked() {
    let mut maren = answered();
    maren.does(&["worked up to block 2, row 10", "[Cross them off]"]);
    let before = maren.maker.clone();
    for typed in ["worked up to block 2, row 10", "worked up to block 1, row 3"] {
        let said = maren.types(typed);
        assert!(said.ends_with("was crossed off before.\nNothing was changed."), "{said}");
    }
    assert_eq!(maren.maker, before);
}

#[test]
fn taps_that_come_twice_say_the_same() {
    let mut maren = answered();
    maren.types("worked up to block 3, row 12");
    for label in ["Cross them off", "Undo"] {
        let index = maren.messages.len() - 1;
        let keys = maren.messages[index].keys.clone();
        let button = keys.into_iter().find(|(caption, _)| caption == label).unwrap().1;
        let first = maren.taps_button(button.clone(), index);
        let (before, labels) = (maren.maker.clone(), maren.labels().join(" "));
        assert_eq!(maren.taps_button(button, index), first, "{label}");
        assert_eq!((&maren.maker, maren.labels().join(" ")), (&before, labels), "{label}");
    }
}

#[test]
fn an_undo_from_before_later_rows_changes_nothing() {
    let mut maren = answered();
    maren.does(&["worked up to block 2, row 10", "[Cross them off]"]);
    let message = maren.messages.len() - 1;
    let undo = maren.messages[message].keys[0].1.clone();
    maren.does(&["/rows 3", "[Worked]"]);
    let before = maren.maker.clone();
    let said = maren.taps_button(undo, message);
    assert!(said.contains("Nothing was changed."), "{said}");
    assert_eq!(maren.maker, before);
}

#[test]
fn a_tap_after_other_rows_were_worked_shows_where_the_work_stands_now() {
    let mut maren = answered();
    maren.types("worked up to block 3, row 12");
    let message = maren.messages.len() - 1;
    let cross = maren.messages[message].keys[0].1.clone();
    maren.does(&["/rows 5", "[Worked]"]);
    let said = maren.taps_button(cross, message);
    assert!(said.starts_with("The work stands at block 1, row 5."), "{said}");
    assert_eq!(worked(&maren), [5, 0, 0, 0]);
    maren.taps("Cross them off");
    assert_eq!(worked(&maren), [33, 33, 12, 0]);
}

#[test]
fn do_not_cross_them_off_shows_the_next_rows_instead() {
    let mut maren = answered();
    maren.types("worked up to block 3, row 12");
    assert!(maren.taps("Do not cross them off").starts_with("January, block 1 of 12."));
    assert_eq!(worked(&maren), [0, 0, 0, 0]);
}

fn worked(maren: &Talker) -> [usize; 4] {
    [1, 2, 3, 4].map(|block| maren.book().worked(BlockNumber(block)).len())
}

/// In the night of 31 March: January to March is answered.
fn answered() -> Talker {
    let mut maren = all_but_one_answered();
    maren.does(&["/open", "[Set Sat 20 Feb to Ordinary]"]);
    maren
}

/// As above, but 20 February is open.
fn all_but_one_answered() -> Talker {
    let mut maren = Talker::with_blanket("2027-04-01 03:00", "2027-01-01").without_nudges();
    maren.does(&[&format!("1 Jan: {}", "4".repeat(50)), "[Keep these 50 days]"]);
    maren.does(&[&format!("21 Feb: {}", "6".repeat(39)), "[Keep these 39 days]"]);
    maren
}
