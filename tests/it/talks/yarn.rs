//! `/yarn`: what is on hand, balls, weighings, and what a row takes.

use duskrow::blanket::stock::EntryKind;
use duskrow::chat::talk::Step;

use super::talker::Talker;

#[test]
fn nothing_entered_says_how_to_begin() {
    let mut maren = Talker::with_blanket("2027-01-01 12:00", "2027-01-01").without_nudges();
    assert_eq!(
        maren.types("/yarn"),
        "I know of no yarn yet.\n\
         Tap a button, or type a colour and its grams, like Shingle 83."
    );
    assert_eq!(maren.labels(), ["Add a ball", "Weigh"]);
    // Logged rows are known before any yarn is.
    maren.types("Smooth");
    let said = maren.types("/yarn");
    assert!(said.contains("Brick: nothing entered yet. 1 row waits to be worked."), "{said}");
}

#[test]
fn two_weighings_with_rows_between_them_tell_what_a_row_takes() {
    let mut maren = answered();
    let said = maren.types("Shingle 83");
    assert_eq!(
        said,
        "Shingle: 83 g. 20 rows wait to be worked.\n\
         Weighed. Work some rows in it, then weigh it once more.\nThat tells what a row takes."
    );
    maren.does(&["/rows 8", "[Worked]"]);
    // 8 rows from 83 g to 73.5 g: 1.1875 g a row, and 61 rows in what is left.
    let said = maren.types("shingle 73,5 g");
    assert_eq!(
        said,
        "Shingle: 73.5 g, about 61 rows. 12 rows wait to be worked. A row takes about 1.2 g.\n\
         Weighed. 8 rows were worked in this colour since the last time."
    );
    // Rows worked since take their share from what is on hand.
    maren.does(&["/rows 4", "[Worked]"]);
    let said = maren.types("/yarn");
    assert!(said.contains("Shingle: 68.8 g, about 57 rows. 8 rows wait to be worked."), "{said}");
    // And give it back when they are pulled back.
    maren.taps("Undo");
    assert!(maren.types("/yarn").contains("Shingle: 73.5 g, about 61 rows."));
}

#[test]
fn a_weight_is_read_in_every_way_people_type_it() {
    let cases = [
        ("Shingle 83", 830),
        ("shingle 83g", 830),
        ("SHINGLE 83 g", 830),
        ("Shingle: 83.5", 835),
        ("Shingle = 83,5", 835),
        ("Shingle 0", 0),
        ("Shingle 0.1", 1),
        ("Shingle 10000", 100_000),
        ("/yarn Shingle 83.5", 835),
        ("  Shingle   83.5  G ", 835),
    ];
    for (typed, tenths) in cases {
        let mut maren = answered();
        let said = maren.types(typed);
        assert!(said.contains("Weighed."), "{typed}: {said}");
        assert_eq!(entries(&maren), [(false, tenths)], "{typed}");
    }
    for (typed, tenths) in
        [("Shingle +50", 500), ("Shingle +12.5 g", 125), ("/yarn shingle +100g", 1000)]
    {
        let mut maren = answered();
        let said = maren.types(typed);
        assert!(said.contains("The ball is added."), "{typed}: {said}");
        assert_eq!(entries(&maren), [(true, tenths)], "{typed}");
    }
}

#[test]
fn balls_and_weighings_can_be_tapped() {
    let mut maren = answered();
    assert_eq!(maren.does(&["/yarn", "[Add a ball]"]), "Which colour?");
    assert_eq!(maren.labels().len(), 9);
    assert!(maren.taps("Shingle").starts_with("How many grams of Shingle does the label say?"));
    assert!(maren.types("+50 g").contains("The ball is added."));
    assert_eq!(maren.step(), &Step::Idle);
    assert!(maren.taps("All yarn").contains("Shingle: 50 g."));
    let said = maren.does(&["[Weigh]", "[Shingle]"]);
    assert!(said.starts_with("Put all your Shingle on the scale."), "{said}");
    maren.types("48,5");
    assert_eq!(entries(&maren), [(true, 500), (false, 485)]);
    // Back leads back, and then a number is no weight.
    maren.does(&["/yarn", "[Weigh]", "[Shingle]", "[Back]"]);
    assert!(maren.types("40").starts_with("I do not know the tier"));
    assert_eq!(entries(&maren).len(), 2);
}

#[test]
fn a_weighing_that_grew_is_refused_and_a_ball_explains_it() {
    let mut maren = answered();
    maren.types("Shingle 83");
    let before = maren.maker.clone();
    let said = maren.types("Shingle 83.1");
    assert_eq!(
        said,
        "Shingle was 83 g before, and 83.1 g is more. Nothing was changed.\n\
         If a ball came, add it first. Type it like: Shingle +50"
    );
    assert_eq!(maren.maker, before);
    maren.types("Shingle +50");
    assert!(maren.types("Shingle 130").contains("Weighed."));
    // In the flow: the step waits for another number, and the whole line works as well.
    maren.does(&["/yarn", "[Weigh]", "[Shingle]"]);
    assert!(maren.types("500").contains("Nothing was changed."));
    assert_eq!(maren.step(), &Step::Weigh { yarn: 4 });
    assert!(maren.types("Shingle +400").contains("The ball is added."));
}

#[test]
fn a_label_may_be_lighter_than_the_ball_and_pulled_back_rows_weigh() {
    let mut maren = answered();
    maren.types("Shingle +50");
    assert!(maren.types("Shingle 52.5").contains("Weighed."));
    maren.does(&["/rows 8", "[Worked]"]);
    let undo = maren.messages.last().unwrap().keys[0].1.clone();
    maren.types("Shingle 43");
    maren.taps_button(undo, 0);
    assert!(maren.types("Shingle 52").contains("Weighed."));
    assert_eq!(entries(&maren).len(), 4);
}

#[test]
fn weights_that_are_none_are_refused_and_nothing_becomes_a_note() {
    for typed in [
        "Shingle 10001",
        "Shingle 99999999999",
        "Shingle -5",
        "Shingle 8.55",
        "Shingle 1e3",
        "Shingle 83kg",
        "Shingle +0",
        "Shingle +10001",
        "/yarn Shingle 5.",
    ] {
        let mut maren = answered();
        let before = maren.maker.clone();
        let said = maren.types(typed);
        assert!(said.starts_with("I do not know the weight in \""), "{typed}: {said}");
        assert!(said.contains("Nothing was changed."), "{said}");
        assert_eq!(maren.maker, before, "{typed}");
    }
    for typed in ["", "many", "-5", "10001", "8.55", "Smooth", "🧶", "0x10"] {
        let mut maren = answered();
        maren.does(&["/yarn", "[Weigh]", "[Shingle]"]);
        let before = maren.maker.clone();
        let said = maren.types(typed);
        assert!(said.starts_with("I do not know the weight in "), "{typed}: {said}");
        assert_eq!(maren.maker, before, "{typed}");
    }
}

#[test]
fn an_unknown_colour_is_answered_with_those_there_are() {
    for typed in ["Shingel 83", "/yarn Granite 83", "/yarn Shingle", "/yarn 83"] {
        let mut maren = answered();
        let before = maren.maker.clone();
        let said = maren.types(typed);
        assert!(said.starts_with("I do not know the colour \""), "{typed}: {said}");
        assert!(said.contains("Your colours are Mussel, Tarred Rope, Kelp, Shingle,"), "{said}");
        assert_eq!(maren.maker, before, "{typed}");
    }
    // What has nothing of a colour is a note.
    assert!(answered().types("walked 12 km").starts_with("Note kept:"));
    assert!(answered().types("Room 83").starts_with("Note kept:"));
}

#[test]
fn a_colour_of_several_words_is_understood() {
    let mut maren = answered();
    assert!(maren.types("harbour  blue 83").contains("Harbour Blue: 83 g."));
    assert!(maren.types("Net Float +50").contains("Net Float: 50 g."));
}

#[test]
fn the_other_colours_lend_what_a_row_takes_and_that_is_said() {
    let mut maren = answered();
    maren.types("Shingle 80");
    maren.does(&["/rows 8", "[Worked]"]);
    maren.types("Shingle 70");
    let said = maren.types("Brick 10");
    assert!(
        said.starts_with(
            "Brick: 10 g, about 8 rows. 5 rows wait to be worked. \
             A row takes about 1.3 g, if it is as in your other colours."
        ),
        "{said}"
    );
    let said = maren.types("/yarn");
    assert!(said.contains("To know what a row takes:"), "{said}");
}

#[test]
fn known_rows_that_need_more_than_there_is_are_said() {
    let mut maren = answered();
    maren.types("Shingle 20");
    maren.does(&["/rows 8", "[Worked]"]);
    let said = maren.types("Shingle 8");
    assert!(
        said.contains("12 rows wait to be worked. That is more than the yarn makes."),
        "{said}"
    );
    let said = maren.types("/recap");
    assert!(said.ends_with("Yarn that needs attention: Shingle. /yarn says more."), "{said}");
}

#[test]
fn the_joining_colour_waits_for_the_filler_rows_of_blocks_that_have_begun() {
    let mut maren = answered();
    assert!(maren.types("/yarn").contains("Harbour Blue: nothing entered yet. 2 rows wait"));
}

#[test]
fn so_many_entries_and_no_more() {
    let mut maren = answered();
    for _ in 0..700 {
        maren.types("Shingle +1");
    }
    let before = maren.maker.clone();
    let said = maren.types("Shingle +1");
    assert_eq!(said, "Shingle has 700 entries, which is all I keep. Nothing was changed.");
    assert_eq!(maren.maker, before);
}

/// Whether each entry of Shingle is a ball, and its tenths of a gram.
fn entries(maren: &Talker) -> Vec<(bool, u32)> {
    let ledger = maren.book().ledger(duskrow::blanket::YarnId(4));
    let entry = |entry: &duskrow::blanket::stock::Entry| match entry.kind {
        EntryKind::Ball(tenths) => (true, tenths.0),
        EntryKind::Weighing(tenths) => (false, tenths.0),
    };
    ledger.entries().iter().map(entry).collect()
}

/// 26 January: twenty Ordinary days in Shingle, then five Smooth ones in Brick.
fn answered() -> Talker {
    let mut maren = Talker::with_blanket("2027-01-26 03:00", "2027-01-01").without_nudges();
    maren.does(&[&format!("1 Jan: {}66666", "4".repeat(20)), "[Keep these 25 days]"]);
    maren
}
