//! `/block`: a block as a list, what was done with it, a line about each, and what comes after the
//! last row.

use duskrow::blanket::size::{Basis, Swatch};
use duskrow::blanket::stitch::Width;
use duskrow::blanket::{BlockNumber, Carry, Change, Cut, Fabric, Finish, Pieces};
use duskrow::chat::event::{Event, MessageId};

use super::talker::Talker;

#[test]
fn a_block_is_listed_with_its_worked_rows_its_open_days_and_its_ends() {
    let mut maren = Talker::with_blanket("2027-01-05 12:00", "2027-01-01").without_nudges();
    maren.does(&["1 Jan Smooth", "2 Jan Smooth", "3 Jan Rough", "5 Jan Ordinary"]);
    maren.does(&["/rows 2", "[Worked]", "2 Jan Ordinary", "/today 3 Jan", "[For now]"]);
    let said = maren.types("/block");
    let lines: Vec<&str> = said.lines().collect();
    assert_eq!(
        lines[..9],
        [
            "January, block 1 of 12. 2 of 33 rows are worked.",
            "Worked:",
            "1 RS Fri 1 Brick",
            "2 WS Sat 2 Brick, keep (planned in Shingle now)",
            "To work:",
            "3 RS Sun 3 Tarred Rope, change (for now)",
            "4 WS Mon 4 is open",
            "5 RS Tue 5 Shingle",
            "6 WS Wed 6 has not come yet",
        ]
    );
    assert_eq!(
        lines[33..],
        [
            "31 RS Sun 31 has not come yet",
            "32 WS filler row Harbour Blue",
            "33 RS filler row Harbour Blue",
            "RS is the right side. WS is the wrong side.",
            "Ends to weave in, of rows 1 to 3: 4.",
        ]
    );
    assert_eq!(maren.labels(), ["Picture", "On paper", "Next block", "All blocks", "Where am I?"]);
}

#[test]
fn a_block_is_named_by_number_month_or_date() {
    let cases = [
        ("", "January, block 1 of 12."),
        ("3", "March, block 3 of 12."),
        ("12", "December, block 12 of 12."),
        ("June", "June, block 6 of 12."),
        ("jun", "June, block 6 of 12."),
        ("May 2027", "May, block 5 of 12."),
        ("14 Feb", "February, block 2 of 12."),
        ("2027-03-31", "March, block 3 of 12."),
        ("today", "January, block 1 of 12."),
    ];
    for (typed, expected) in cases {
        let said = maren().types(&format!("/block {typed}"));
        assert!(said.starts_with(expected), "{typed}: {said}");
    }
    // A year from the 15th has two Januaries: the last one that has begun.
    let mut maren = Talker::with_blanket("2027-01-20 12:00", "2027-01-15");
    assert!(maren.types("/block January").starts_with("January, block 1 of 13."));
    assert!(maren.types("/block January 2028").starts_with("January, block 13 of 13."));
    maren.turn("2028-01-05 12:00");
    assert!(maren.types("/block January").starts_with("January, block 13 of 13."));
}

#[test]
fn a_block_that_is_not_there_is_refused_and_changes_nothing() {
    let typed =
        ["0", "99", "-1", "foo", "1e9", "13", "June 2031", "1 Jan 2031", "3 4", "🧶", "70000"];
    for typed in typed {
        let mut maren = maren();
        let before = maren.maker.clone();
        assert_eq!(
            maren.types(&format!("/block {typed}")),
            format!(
                "I do not know the block \"{typed}\". Nothing was changed.\n\
                 Type a number from 1 to 12 or a month, like /block March."
            )
        );
        assert_eq!(maren.maker, before, "{typed}");
    }
    let mut maren = shaped(Cut::Every(28), Fabric::DEFAULT);
    let said = maren.types("/block June");
    assert!(said.ends_with("Type a number from 1 to 14, like /block 3."), "{said}");
    let mut maren = shaped(Cut::Strip, Fabric::DEFAULT);
    let said = maren.types("/block 2");
    assert!(said.ends_with("The blanket is 1 block. Type /block to see it."), "{said}");
    let mut nobody = Talker::joined("2027-01-14 20:14");
    assert!(nobody.types("/block").starts_with("There is no blanket yet."));
}

#[test]
fn previous_and_next_lead_through_the_blanket_in_one_message() {
    let mut maren = maren();
    maren.types("/block 2");
    let messages = maren.messages.len();
    let labels = maren.labels();
    assert_eq!(labels, ["Picture", "On paper", "Previous block", "Next block", "All blocks"]);
    assert!(maren.taps("Next block").starts_with("March, block 3 of 12."));
    maren.does(&["[Previous block]", "[Previous block]"]);
    assert_eq!(maren.labels(), ["Picture", "On paper", "Next block", "All blocks"]);
    maren.types("/block 12");
    assert_eq!(maren.labels(), ["Picture", "On paper", "Previous block", "All blocks"]);
    assert_eq!(maren.messages.len(), messages + 1);
}

#[test]
fn the_last_row_says_what_comes_next_and_one_tap_keeps_what_is_done() {
    let mut maren = january_answered(Fabric::DEFAULT);
    maren.types("/rows 33");
    assert_eq!(
        maren.taps("Worked"),
        "Rows 1 to 33 of January are worked.\n\
         Every row of January is worked.\n\
         Ends to weave in: 4.\n\
         Next: weave in the ends, then join it, then block 2, February."
    );
    assert_eq!(maren.labels(), ["Undo", "Next rows", "Ends are woven", "Joined"]);
    assert_eq!(
        maren.taps("Ends are woven"),
        "January.\nIts 4 ends are woven in.\nNext: join it, then block 2, February."
    );
    assert_eq!(maren.labels(), ["Not woven", "Joined", "List of January", "Next rows"]);
    assert_eq!(
        maren.taps("Joined"),
        "January.\nIts 4 ends are woven in.\nIt is joined.\nNext: block 2, February."
    );
    assert!(maren.book().is_finished(BlockNumber(1), Finish::Joined));
    let said = maren.taps("List of January");
    assert!(said.starts_with("January, block 1 of 12. All 33 rows are worked.\nWorked:\n1 RS"));
    assert!(said.ends_with("\nIts 4 ends are woven in.\nIt is joined."), "{said}");
    assert!(!said.contains("To work:"), "{said}");
    let labels = maren.labels();
    assert_eq!(
        labels,
        ["Not woven", "Not joined", "Picture", "On paper", "Next block", "All blocks"]
    );
    maren.taps("Not woven");
    maren.taps("Not joined");
    assert_eq!(maren.labels()[..2], ["Ends are woven", "Joined"]);
    assert!(!maren.book().is_finished(BlockNumber(1), Finish::Woven));
}

#[test]
fn a_block_crossed_off_in_one_go_says_the_same() {
    let mut maren = january_answered(Fabric::DEFAULT);
    let said = maren.does(&["worked up to block 1, row 33", "[Cross them off]"]);
    assert_eq!(
        said,
        "Every row up to block 1, row 33 is worked.\n\
         Ends to weave in: 4.\n\
         Next: weave in the ends, then join it, then block 2, February."
    );
    assert_eq!(maren.labels(), ["Undo", "Next rows", "Ends are woven", "Joined"]);
}

#[test]
fn a_repeated_tap_on_what_is_done_changes_nothing_and_says_the_same() {
    let mut maren = january_answered(Fabric::DEFAULT);
    maren.does(&["/rows 33", "[Worked]"]);
    let message = maren.messages.len() - 1;
    let woven = maren.messages[message].keys[2].1.clone();
    let first = maren.taps_button(woven.clone(), message);
    let before = maren.maker.clone();
    assert_eq!(maren.taps_button(woven, message), first);
    assert_eq!(maren.maker, before);
}

#[test]
fn a_block_with_rows_left_is_neither_woven_nor_joined() {
    for (token, said) in [
        ("1|finish|1|woven|1", "Rows 6 to 33 of January are to be worked first."),
        ("1|finish|2|joined|1", "Rows 1 to 33 of February are to be worked first."),
        ("1|finish|99|joined|1", "That button is from an earlier step."),
        ("1|finish|0|woven|0", "That button is from an earlier step."),
    ] {
        let mut maren = january_answered(Fabric::DEFAULT);
        maren.does(&["/rows 5", "[Worked]"]);
        let before = maren.maker.clone();
        let answer = maren.taps_token(token);
        assert!(answer.starts_with(said) && answer.ends_with("Nothing was changed."), "{answer}");
        assert_eq!(maren.maker, before, "{token}");
    }
    // A block that is gone from the blanket: the one in work.
    assert!(maren().taps_token("1|block|99").starts_with("January, block 1 of 12."));
}

#[test]
fn a_finished_block_with_rows_pulled_back_is_not_finished_any_more() {
    let mut maren = january_answered(Fabric::DEFAULT);
    maren.does(&["/rows 33", "[Worked]"]);
    let undo = maren.messages.last().unwrap().keys[0].1.clone();
    maren.taps("Ends are woven");
    maren.taps("Joined");
    let message = MessageId(0);
    maren.happens(&Event::Tapped { button: Ok(undo), message });
    assert_eq!(maren.book().worked(BlockNumber(1)).len(), 0);
    maren.does(&["/rows 33", "[Worked]"]);
    assert_eq!(maren.labels(), ["Undo", "Next rows", "Ends are woven", "Joined"]);
}

#[test]
fn the_size_and_what_carrying_would_save_are_said_where_they_are_known() {
    let swatch = Swatch::new(16.0, 20.0, Basis::TenCentimetres).ok();
    let sized = Fabric { width: Some(Width(40)), swatch, ..Fabric::DEFAULT };
    let mut maren = january_answered(sized);
    // 10 x 40 / 16 and 10 x 33 / 20 cm, and those over 2.54.
    let size = "\nSize: 25.0 by 16.5 cm (9.8 by 6.5 in).";
    assert!(maren.types("/block").ends_with(size));
    maren.types("/rows 33");
    assert!(maren.taps("Worked").contains(&format!("{size}\nNext: weave in the ends")));
    // Rows 1, 4 and 7 alike: two changes can be carried, four ends.
    let saved = |carry| {
        let mut maren = shaped(Cut::Months, Fabric { carry, ..Fabric::DEFAULT });
        let tiers = ["Smooth", "Rough", "Rough", "Smooth", "Rough", "Rough", "Smooth"];
        for (day, tier) in (1..).zip(tiers) {
            maren.types(&format!("{day} Jan {tier}"));
        }
        maren
    };
    let line = |maren: &mut Talker| {
        let said = maren.types("/block");
        let ends = said.lines().skip_while(|line| !line.starts_with("Ends")).map(str::to_owned);
        ends.collect::<Vec<_>>()
    };
    let mut maren = saved(Carry::Never);
    assert_eq!(
        line(&mut maren),
        [
            "Ends to weave in, of rows 1 to 7: 10.",
            "Carrying at most 5 rows from here on leaves 4 fewer.",
        ]
    );
    // What is cut cannot be carried any more.
    maren.does(&["/rows 3", "[Worked]"]);
    assert_eq!(line(&mut maren)[1], "Carrying at most 5 rows from here on leaves 2 fewer.");
    assert_eq!(line(&mut saved(Carry::Five)).len(), 1);
}

#[test]
fn all_blocks_are_a_line_each() {
    let mut maren = january_answered(Fabric::DEFAULT);
    maren.does(&["/rows 33", "[Worked]", "[Ends are woven]"]);
    maren.does(&["1 Feb Smooth", "/rows", "[Worked]"]);
    let said = maren.types("/block all");
    let lines: Vec<&str> = said.lines().collect();
    assert_eq!(
        lines[..4],
        [
            "All blocks",
            "1. January: all 33 rows are worked, woven in, not joined.",
            "2. February: 1 of 33 rows is worked.",
            "3. March: none of 33 rows is worked.",
        ]
    );
    assert_eq!(lines.len(), 13);
    assert_eq!(maren.labels(), ["List of February"]);
    assert!(maren.taps("List of February").starts_with("February, block 2 of 12. 1 of 33"));
    assert!(maren.taps("All blocks").starts_with("All blocks\n1. January"));
    // Where blocks are no months, they have numbers, and dates have their month.
    let mut maren = shaped(Cut::Every(28), Fabric::DEFAULT);
    assert!(maren.types("/block all").contains("\nBlock 1: none of 33 rows is worked.\n"));
    assert!(
        maren.types("/block").starts_with("Block 1 of 14. None of 33 rows is worked.\nTo work")
    );
    assert!(maren.types("/block").contains("\n28 WS Thu 28 Jan has not come yet\n"));
}

#[test]
fn a_strip_has_nothing_to_join() {
    let mut maren = shaped(Cut::Strip, Fabric::DEFAULT);
    maren.turn("2028-01-01 12:00");
    for day in maren.book().plan().first_day().iter_days().take(365) {
        let (tier, at) = (maren.book().scale().default_tier().id, maren.now);
        let how = duskrow::blanket::How::Answered;
        maren.maker.book.as_mut().unwrap().apply(&Change::Answered { day, tier, how, at });
    }
    maren.types("/rows 365");
    let said = maren.taps("Worked");
    assert!(
        said.ends_with("Next: weave in the ends.\nEvery row of the blanket is worked."),
        "{said}"
    );
    assert_eq!(maren.labels(), ["Undo", "Next rows", "Ends are woven"]);
    let said = maren.taps_token("1|finish|1|joined|1");
    assert!(said.starts_with("Block 1.\nEnds to weave in: 2."), "{said}");
    assert!(!maren.book().is_finished(BlockNumber(1), Finish::Joined));
    // After the last row, /block and the place are about the last block.
    assert!(maren.types("/block").starts_with("Block 1 of 1. All 365 rows are worked."));
    assert!(maren.types("where am I").starts_with("Block 1: find the place."));
}

fn maren() -> Talker {
    Talker::with_blanket("2027-01-14 12:00", "2027-01-01").without_nudges()
}

fn shaped(cut: Cut, fabric: Fabric) -> Talker {
    let mut maren = maren();
    let pieces = Pieces { cut, ..Pieces::DEFAULT };
    let shaped = Change::Shaped { pieces, fabric: Box::new(fabric) };
    maren.maker.book.as_mut().unwrap().apply(&shaped);
    maren
}

/// Every day of January is Smooth.
fn january_answered(fabric: Fabric) -> Talker {
    let mut maren = shaped(Cut::Months, fabric);
    maren.turn("2027-02-01 22:00");
    for day in 1..=31 {
        maren.types(&format!("{day} Jan Smooth"));
    }
    maren
}
