//! Bad input gets one clear sentence and changes nothing; a flow that is left leaves nothing
//! behind.

use duskrow::chat::talk::Step;

use super::{Talker, maren, worked};

const ROWS: &[&str] = &["/stitch", "[Blocks]", "[Rows of a block]"];
const DAYS: &[&str] = &["/stitch", "[Blocks]", "[Where a block ends]", "[Every so many days]"];
const WIDTH: &[&str] = &["/stitch", "[Width]"];
const SWATCH: &[&str] = &["/stitch", "[Swatch]"];
const OWN: &[&str] = &["/stitch", "[Stitch]", "[Your own stitch]", "[Crochet]"];
const COLUMNS: &[&str] = &["/stitch", "[Size of the blanket]", "[Blocks side by side]"];
const BORDER: &[&str] = &["/stitch", "[Size of the blanket]", "[Border]"];
const TYPED: [&[&str]; 7] = [ROWS, DAYS, WIDTH, SWATCH, OWN, COLUMNS, BORDER];

#[test]
fn numbers_that_no_blanket_has_are_refused_with_those_it_can_have() {
    let rows = "A block has 31 to 120 rows: at least one for each of its days. \
        Nothing was changed.";
    let days = "A block has 1 to 60 days. Nothing was changed.";
    let swatch = "A swatch has 2 to 80 stitches and 2 to 120 rows. Nothing was changed.\n\
        Type it like 14 x 18.";
    let own = "A multiple is 1 to 100, and 0 to 100 can be added. Nothing was changed.\n\
        Type it like 6 + 1.";
    let columns = "There are 12 blocks, and 1 to 12 can be side by side. Nothing was changed.";
    let cases: [(&[&str], &[&str], &str); 7] = [
        (ROWS, &["0", "200", "30", "121", "99999", "30 rows"], rows),
        (DAYS, &["0", "61", "365"], days),
        (SWATCH, &["0 18", "14 x 0", "900 x 18", "14 900", "1 x 1", "81 x 20"], swatch),
        (OWN, &["0", "0 + 1", "101", "6 + 101"], own),
        (COLUMNS, &["0", "13", "400"], columns),
        (BORDER, &["31", "900"], "A border has 0 to 30 rounds. Nothing was changed."),
        (
            WIDTH,
            &["1", "width 1", "0"],
            "Single crochet (US) does not allow a width of 1. Nothing was changed.\n\
             The nearest width is 2.",
        ),
    ];
    for (acts, typed, expected) in cases {
        for typed in typed {
            let mut maren = maren();
            maren.does(acts);
            let before = maren.maker.clone();
            let said = maren.types(typed);
            let expected = match *typed {
                "0" => expected.replace("a width of 1", "a width of 0"),
                _ => expected.to_owned(),
            };
            assert_eq!(said, expected, "{acts:?} {typed}");
            // The step waits for another try.
            assert_eq!(maren.maker, before, "{acts:?} {typed}");
        }
    }
}

#[test]
fn a_block_of_45_days_has_45_rows_or_more() {
    let mut maren = maren();
    maren.does(DAYS);
    maren.types("45");
    let said = maren.does(&["[Rows of a block]", "44"]);
    assert!(said.starts_with("A block has 45 to 120 rows"), "{said}");
    assert!(maren.types("46").contains("A block has 46 rows. 1 of them is a filler row."));
}

#[test]
fn nonsense_is_quoted_with_an_example_that_works() {
    let nonsense = ["", "🧶", "-3", "1e9", "many", "Smooth", "\u{202E}", "3.7.1", "x1000"];
    for acts in TYPED {
        for typed in nonsense.map(|typed| typed.replace("x1000", &"x".repeat(1000))) {
            let mut maren = maren();
            maren.does(acts);
            let before = maren.maker.clone();
            let said = maren.types(&typed);
            assert!(said.starts_with("I do not know the "), "{acts:?} {typed}: {said}");
            assert!(said.contains("Nothing was changed.") && said.contains("like"), "{said}");
            assert_eq!((said.lines().count(), said.len() < 300), (2, true), "{said}");
            assert_eq!(maren.maker, before, "{acts:?} {typed}");
            // The example of the refusal works.
            let example = said.rsplit("like ").next().unwrap().trim_end_matches('.').to_owned();
            maren.types(&example);
            assert_ne!(maren.maker, before, "{acts:?} {example}");
            assert_eq!(maren.step(), &Step::Idle, "{acts:?} {example}");
        }
    }
}

#[test]
fn back_and_cancel_and_a_command_leave_every_step() {
    for acts in TYPED {
        for way_out in ["[Back]", "/cancel", "/rows", "/settings"] {
            let mut maren = maren();
            let before = maren.book().clone();
            maren.does(acts);
            assert_ne!(maren.step(), &Step::Idle, "{acts:?}");
            maren.does(&["zzz", way_out]);
            assert_eq!(maren.book(), &before, "{acts:?} {way_out}");
            // Now a tier is a tier.
            maren.types("Smooth");
            assert_eq!(maren.kept("2027-01-14").as_deref(), Some("Smooth"), "{acts:?} {way_out}");
        }
    }
}

#[test]
fn a_number_typed_after_rows_were_worked_meanwhile_shows_what_it_makes_of_them() {
    for (acts, typed) in [(ROWS, "40"), (DAYS, "10"), (OWN, "6 + 1")] {
        let mut maren = maren();
        maren.types("1 Jan Smooth");
        maren.types("/rows 1");
        let list = maren.messages.len() - 1;
        let worked = maren.messages[list].keys[0].1.clone();
        maren.does(acts);
        maren.taps_button(worked, list);
        let before = maren.book().clone();
        let said = maren.types(typed);
        assert!(said.contains("\n1 row is worked"), "{acts:?}: {said}");
        assert_eq!(*maren.book(), before);
        maren.taps("Leave it as it is");
        assert_eq!((maren.book(), maren.step()), (&before, &Step::Idle), "{acts:?}");
    }
}

#[test]
fn with_rows_worked_everything_else_is_free() {
    let acts: [&[&str]; 9] = [
        &["[Width]", "36"],
        &["[Swatch]", "14 x 18"],
        &["[Carrying]", "[At most 5 rows]"],
        &["[Names and hand]", "[UK names]"],
        &["[Names and hand]", "[Left-handed]"],
        &["[Size of the blanket]", "[Blocks side by side]", "[3]"],
        &["[Size of the blanket]", "[Border]", "[2 rounds]"],
        &["[Size of the blanket]", "[Blocks side by side]", "5"],
        &["[Size of the blanket]", "[Border]", "7"],
    ];
    for acts in acts {
        let mut maren = worked(12);
        maren.types("/stitch");
        let rows = maren.book().worked(duskrow::blanket::BlockNumber(1)).to_vec();
        super::undone(&mut maren, acts);
        assert_eq!(maren.book().worked(duskrow::blanket::BlockNumber(1)), rows, "{acts:?}");
    }
}

#[test]
fn before_there_is_a_blanket_set_up_comes_first() {
    let mut maren = Talker::joined("2027-01-14 20:14");
    assert!(maren.types("/stitch").starts_with("There is no blanket yet."));
    let said = maren.taps_token("1|make|cut|s");
    assert!(said.contains("Nothing was changed."), "{said}");
    assert!(maren.maker.book.is_none());
}

#[test]
fn a_button_tapped_twice_says_the_same_and_changes_nothing_more() {
    for acts in [
        &["[Blocks]", "[Where a block ends]", "[Months from the first day]"][..],
        &["[Stitch]", "[Stockinette]"],
        &["[Carrying]", "[At most 3 rows]"],
        &["[Size of the blanket]", "[Border]", "[1 round]"],
    ] {
        let mut maren = maren();
        maren.types("/stitch");
        let (last, before) = acts.split_last().unwrap();
        maren.does(before);
        let message = maren.messages.len() - 1;
        let label = last.trim_matches(['[', ']']);
        let keys = maren.messages[message].keys.clone();
        let button = keys.into_iter().find(|(caption, _)| caption == label).unwrap().1;
        let first = maren.taps_button(button.clone(), message);
        let book = maren.book().clone();
        assert_eq!(maren.taps_button(button, message), first, "{acts:?}");
        assert_eq!(*maren.book(), book, "{acts:?}");
    }
}
