//! `/yarn`: what is on hand, balls, weighings, and what a row takes.

use duskrow::blanket::Label;
use duskrow::blanket::stock::{Ball, Decimetres, EntryKind, Tenths};
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
    let colours = ["Mussel", "Tarred Rope", "Kelp", "Shingle", "Net Float", "Brick", "Rosehip"];
    assert_eq!(maren.labels()[..2], ["Add a ball", "Weigh"]);
    assert_eq!(maren.labels()[2..9], colours);
    assert_eq!(maren.labels()[9..], ["Harbour Blue", "What to buy", "Yarn settings", "Picture"]);
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
        "Shingle: 73.5 g, about 61 rows. 12 rows wait to be worked.\n\
         Weighed. 8 rows were worked in this colour since the last time.\n\
         A row takes about 1.19 g.\n\
         If your days go on much as they have, it lasts in fewer than 1 of 100 cases."
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
    for (typed, tenths) in [
        ("Shingle +50", 500),
        ("Shingle + 50", 500),
        ("Shingle +12.5 g", 125),
        ("/yarn shingle +100g", 1000),
        // An ounce is 28.349523125 g.
        ("Shingle +1 3/4 oz", 496),
        ("Shingle +1¾ oz", 496),
        ("Shingle +3.5oz", 992),
        ("Shingle +1/2 oz", 142),
    ] {
        let mut maren = answered();
        let said = maren.types(typed);
        assert!(said.contains("The ball is added."), "{typed}: {said}");
        assert_eq!(entries(&maren), [(true, tenths)], "{typed}");
    }
}

#[test]
fn a_line_about_a_ball_says_its_length_its_lot_and_what_it_weighs() {
    let cases = [
        ("Shingle +50 g 115 m lot 4471", ball(1, 500, Some(1150), Some("4471"), None)),
        ("Shingle +3.5 oz 230 yd", ball(1, 992, Some(2103), None, None)),
        ("Shingle +2 x 50 g 115m LOT a7/3", ball(2, 500, Some(1150), Some("a7/3"), None)),
        ("Shingle +3x50", ball(3, 500, None, None, None)),
        ("Shingle +100 lot 9 weighs 103.5 g", ball(1, 1000, None, Some("9"), Some(1035))),
    ];
    for (typed, expected) in cases {
        let mut maren = answered();
        let said = maren.types(typed);
        assert!(said.contains(" added"), "{typed}: {said}");
        assert_eq!(kinds(&maren), [EntryKind::Ball(expected)], "{typed}");
    }
    let mut maren = answered();
    let said = maren.types("Shingle +2 x 50 g lot 4471");
    assert!(said.contains("2 balls are added."), "{said}");
    // The same lot a second time is another ball of it, and that is said.
    let said = maren.types("Shingle +50 g lot 4471");
    assert!(said.contains("That makes 3 balls of lot 4471."), "{said}");
    assert!(maren.types("Shingle +50 g lot 9").contains("It is your first ball of lot 9."));
}

#[test]
fn a_correction_sets_what_is_there_and_is_no_weighing() {
    let mut maren = answered();
    maren.does(&["Shingle 83", "/rows 8", "[Worked]", "Shingle 73"]);
    for typed in ["Shingle = 60", "Shingle =60 g", "Shingle = 60,0"] {
        let mut maren = maren.clone();
        let said = maren.types(typed);
        assert!(said.starts_with("Shingle: 60 g, about 48 rows."), "{typed}: {said}");
        assert!(said.contains("Set to that. This was no weighing"), "{said}");
    }
    let said = maren.does(&["/yarn", "[Shingle]", "[Correct it]", "60"]);
    assert!(said.starts_with("Shingle: 60 g, about 48 rows."), "{said}");
    assert_eq!(kinds(&maren).last(), Some(&EntryKind::Correction(Tenths(600))));
    assert!(maren.taps("Undo").contains("Shingle: 73 g, about 58 rows."));
}

#[test]
fn yarn_can_be_weighed_before_and_after_rows_step_by_step_or_in_one_line() {
    let mut maren = answered();
    maren.types("Shingle +100");
    let asked = maren.does(&["/yarn", "[Shingle]", "[Before and after rows]"]);
    assert!(
        asked.starts_with("Put the Shingle you work with next on the kitchen scale."),
        "{asked}"
    );
    let asked = maren.types("90");
    assert!(asked.starts_with("Work some rows with this Shingle."), "{asked}");
    let asked = maren.types("6 rows");
    assert!(asked.starts_with("Weigh the Shingle that is left after 6 rows."), "{asked}");
    let said = maren.types("83");
    assert!(said.contains("Kept: 6 rows weighed.\nA row takes about 1.17 g."), "{said}");
    assert!(said.starts_with("Shingle: 100 g, about 85 rows."), "{said}");
    assert_eq!(maren.step(), &Step::Idle);
    let by_step = kinds(&maren);
    let mut typed = answered();
    typed.types("Shingle +100");
    typed.types("Shingle 90 to 83 g in 6 rows");
    assert_eq!(kinds(&typed), by_step);
}

#[test]
fn weighings_that_disagree_are_said() {
    let mut maren = answered();
    maren.types("Shingle 100 to 60 in 5 rows");
    let said = maren.types("Shingle 100 to 54 in 5 rows");
    // Two pairs of 40 and 46 g differ by the ratio 4.06.
    assert!(said.contains("Your weighings disagree. Check how many rows were worked"), "{said}");
    assert!(maren.does(&["/yarn", "[Shingle]"]).contains("Your weighings disagree."));
}

#[test]
fn balls_and_weighings_can_be_tapped() {
    let mut maren = answered();
    assert_eq!(maren.does(&["/yarn", "[Add a ball]"]), "Which colour?");
    assert_eq!(maren.labels().len(), 9);
    assert!(maren.taps("Shingle").starts_with("What does the label of your Shingle say?"));
    assert!(maren.types("+50 g").contains("The ball is added."));
    assert_eq!(maren.step(), &Step::Idle);
    assert!(maren.taps("All yarn").contains("Shingle: 50 g."));
    let said = maren.does(&["[Weigh]", "[Shingle]"]);
    assert!(said.starts_with("Put all your Shingle on the kitchen scale."), "{said}");
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
         If a ball came, add it first. Type it like: Shingle +50\n\
         If the weight before was wrong, tap the button."
    );
    assert_eq!(maren.labels(), ["It is 83.1 g now"]);
    assert_eq!(maren.maker, before);
    maren.types("Shingle +50");
    assert!(maren.types("Shingle 130").contains("Weighed."));
    // In the flow: the step waits for another number, and the whole line works as well.
    maren.does(&["/yarn", "[Weigh]", "[Shingle]"]);
    assert!(maren.types("500").contains("Nothing was changed."));
    assert_eq!(maren.step(), &Step::Weigh { yarn: 4 });
    assert!(maren.types("Shingle +400").contains("The ball is added."));
    // Or the weight before was wrong: then it is corrected by a tap.
    let said = maren.does(&["Shingle 700", "[It is 700 g now]"]);
    assert!(said.starts_with("Shingle: 700 g.") && said.contains("Set to that."), "{said}");
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
        "Shingle -5 oz",
        "Shingle 8.5.5",
        "Shingle 1/0 oz",
        "Shingle 3 1 oz",
        "Shingle = -3",
        "Shingle =",
        "Shingle 90 to 83",
        "Shingle 90 to in 6 rows",
        "/yarn Shingle 5.",
    ] {
        let mut maren = answered();
        let before = maren.maker.clone();
        let said = maren.types(typed);
        assert!(said.starts_with("I do not know the weight in \""), "{typed}: {said}");
        assert!(said.contains("Nothing was changed."), "{said}");
        assert_eq!(maren.maker, before, "{typed}");
    }
    let refused = [
        ("Shingle +0", "I do not know the ball in \"0\"."),
        ("Shingle +-5", "I do not know the ball in \"-5\"."),
        ("Shingle +50 g 0 m", "I do not know the ball in \"50 g 0 m\"."),
        ("Shingle +50 g 115", "I do not know the ball in \"50 g 115\"."),
        ("Shingle +50 kg", "I do not know the ball in \"50 kg\"."),
        ("Shingle +0 x 50", "I keep at most 200 balls of a blanket."),
        ("Shingle +201 x 50", "I keep at most 200 balls of a blanket."),
        ("Shingle +10000", "I know no ball of more than 2000 g."),
        ("Shingle +10000 g lot 3", "I know no ball of more than 2000 g."),
        ("Shingle +50 lot", "I do not know the lot in \"50 lot\"."),
        ("Shingle +50 lot 1 lot 2", "\"50 lot 1 lot 2\" names two lots."),
        ("Shingle +50 lot 4471 lot 4471", "\"50 lot 4471 lot 4471\" names two lots."),
        ("Shingle 90 to 83 in 0 rows", "I do not know how many rows \"0 rows\" is."),
        ("Shingle 90 to 83 in 1001 rows", "I do not know how many rows \"1001 rows\" is."),
        ("Shingle 83 to 90 in 6 rows", "83 g before the rows and 90 g after them is not less."),
        ("Shingle 83 to 83 in 6 rows", "83 g before the rows and 83 g after them is not less."),
    ];
    for (typed, expected) in refused {
        let mut maren = answered();
        let before = maren.maker.clone();
        let said = maren.types(typed);
        assert!(said.starts_with(expected), "{typed}: {said}");
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
        let meant = match typed.contains("Granite") || typed.contains("/yarn 83") {
            true => "Your colours are Mussel, Tarred Rope, Kelp, Shingle,",
            false => "Did you mean Shingle?",
        };
        assert!(said.contains(meant), "{said}");
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
            "Brick: 10 g, about 8 rows. 5 rows wait to be worked.\n\
             Weighed. Work about 15 rows in it, then weigh it once more."
        ),
        "{said}"
    );
    let said = maren.does(&["/yarn", "[Brick]"]);
    let lent = "A row may take about 1.25 g, if it is as in your other colours.\n\
        To know it: weigh it, work 15 rows in it, then weigh it once more.";
    assert!(said.contains(lent), "{said}");
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
    assert!(
        said.ends_with("Yarn that is less than the waiting rows take: Shingle. /yarn says more."),
        "{said}"
    );
}

#[test]
fn the_joining_colour_waits_for_the_filler_rows_of_blocks_that_have_begun() {
    let mut maren = answered();
    assert!(maren.types("/yarn").contains("Harbour Blue: nothing entered yet. 2 rows wait"));
}

#[test]
fn so_many_entries_and_no_more() {
    let mut maren = answered();
    // 200 balls and 500 weighings of all colours together.
    maren.does(&["Shingle +150 x 50", "Kelp +49 x 50"]);
    for index in 0..250 {
        maren.types(&format!("Shingle = {index}"));
        maren.types("Kelp 40 to 30 in 8 rows");
    }
    for (typed, said) in [
        ("Brick +2 x 50", "I keep at most 200 balls of a blanket. Nothing was changed."),
        ("Brick 5", "I keep at most 500 weighings of a blanket. Nothing was changed."),
        ("Brick = 5", "I keep at most 500 weighings of a blanket. Nothing was changed."),
    ] {
        let before = maren.maker.clone();
        assert_eq!(maren.types(typed), said);
        assert_eq!(maren.maker, before);
    }
    assert!(maren.types("Brick +50").contains("The ball is added."));
}

/// What was entered of Shingle.
fn kinds(maren: &Talker) -> Vec<EntryKind> {
    let ledger = maren.book().ledger(duskrow::blanket::YarnId(4));
    ledger.entries().iter().map(|entry| entry.kind.clone()).collect()
}

/// Whether each entry of Shingle is a ball by its label, and its tenths of a gram.
fn entries(maren: &Talker) -> Vec<(bool, u32)> {
    let entry = |kind: EntryKind| match kind {
        EntryKind::Ball(ball) => {
            assert_eq!(ball, Ball::of(ball.each));
            (true, ball.each.0)
        }
        EntryKind::Weighing(tenths) => (false, tenths.0),
        EntryKind::Correction(_) | EntryKind::Tried { .. } => panic!("{kind:?}"),
    };
    kinds(maren).into_iter().map(entry).collect()
}

fn ball(
    count: u16,
    each: u32,
    length: Option<u32>,
    lot: Option<&str>,
    weighed: Option<u32>,
) -> Ball {
    let lot = lot.map(|lot| Label::parse(lot).unwrap());
    let (length_each, weighed) = (length.map(Decimetres), weighed.map(Tenths));
    Ball { count, each: Tenths(each), length_each, lot, weighed }
}

/// 26 January: twenty Ordinary days in Shingle, then five Smooth ones in Brick.
fn answered() -> Talker {
    let mut maren = Talker::with_blanket("2027-01-26 03:00", "2027-01-01").without_nudges();
    maren.does(&[&format!("1 Jan: {}66666", "4".repeat(20)), "[Keep these 25 days]"]);
    maren
}
