//! *Where am I?*: stripes tapped from the top down, the place they tell, and what it changes.

use duskrow::blanket::stitch::Stitch;
use duskrow::blanket::{BlockNumber, Change, Fabric, Side};
use proptest::collection::vec;
use proptest::prelude::*;

use super::talker::Talker;

const CHAIN: &str = "Usually the right side faces you when the tail of the starting chain is at the \
    lower left.";

#[test]
fn three_stripes_that_fit_one_place_tell_the_row_its_side_and_what_would_be_crossed_off() {
    let mut maren = january("BKSBKRSKBR");
    maren.does(&["/rows 5", "[Worked]", "/rows"]);
    assert_eq!(
        maren.taps("Where am I?"),
        "January: find the place.\n\
         Tap the colour of the top stripe, next to the hook.\n\
         A stripe is one or more rows in one colour. Leave out a row that is not finished."
    );
    assert_eq!(maren.labels().len(), 8, "a button for each colour");
    assert_eq!(
        maren.taps("Kelp"),
        "January: find the place.\nFrom the hook down: Kelp.\n\
         Tap the colour of the stripe below Kelp."
    );
    assert!(!maren.labels().contains(&"Kelp"), "{:?}", maren.labels());
    maren.taps("Shingle");
    let before = maren.maker.clone();
    assert_eq!(
        maren.taps("Rosehip"),
        format!(
            "January: after row 8.\nNext: row 9, right side, Brick.\n{CHAIN}\n\
             In the list, rows 1 to 5 are worked.\nThe button crosses off rows 6 to 8."
        )
    );
    assert_eq!(maren.maker, before, "nothing is crossed off without a tap");
    assert_eq!(maren.labels(), ["Cross off rows 6 to 8", "Next rows", "Start over"]);
    assert_eq!(
        maren.taps("Cross off rows 6 to 8"),
        "Rows 6 to 8 of January are worked.\nNext: row 9 of 33."
    );
    assert_eq!(worked(&maren), 8);
    maren.taps("Undo");
    assert_eq!(worked(&maren), 5);
}

#[test]
fn more_rows_crossed_off_than_worked_can_be_taken_back() {
    let mut maren = january("BKSBKRSKBR");
    maren.does(&["/rows 10", "[Worked]", "where am I?", "[Kelp]", "[Shingle]"]);
    let said = maren.taps("Rosehip");
    assert!(said.ends_with("rows 1 to 10 are worked.\nThe button takes back 2 rows."), "{said}");
    assert_eq!(worked(&maren), 10);
    assert_eq!(maren.taps("Take back to row 8"), "Taken back.\nRows 1 to 8 of January are worked.");
    assert_eq!(worked(&maren), 8);
    let said = maren.does(&["Where am I", "[Kelp]", "[Shingle]", "[Rosehip]"]);
    assert!(said.ends_with("are worked.\nThat is the same place."), "{said}");
    assert_eq!(maren.labels(), ["Next rows", "Start over"]);
}

#[test]
fn rows_stitched_in_another_colour_count_as_they_were_stitched() {
    let mut maren = january("BKSBKRSKBR");
    maren.does(&["/rows 8", "[Worked]", "3 Jan Very smooth"]);
    // Row 3 is Shingle in the wool, and Rosehip by its tier.
    let said = maren.does(&["where am I", "[Brick]", "[Shingle]", "[Kelp]"]);
    assert!(said.starts_with("January: after row 4.\nNext: row 5, right side, Kelp."), "{said}");
}

#[test]
fn a_top_stripe_of_several_rows_is_counted() {
    let mut maren = january("BKSRRRRKB");
    let said = maren.does(&["where am I", "[Rosehip]", "[Shingle]", "[Kelp]"]);
    assert_eq!(
        said,
        "The top stripe of January begins with row 4, in Rosehip.\n\
         How many rows of Rosehip are finished at the top?"
    );
    assert_eq!(maren.labels(), ["1 row", "2 rows", "3 rows", "4 rows", "Start over"]);
    let said = maren.taps("3 rows");
    assert!(said.starts_with("January: after row 6.\nNext: row 7, right side, Rosehip."), "{said}");
    assert_eq!(maren.labels()[0], "Cross off rows 1 to 6");
}

#[test]
fn several_places_ask_for_one_more_stripe_and_after_five_are_listed() {
    let mut maren = january("BKBKBKBKRBKB");
    let said = maren.does(&["where am I", "[Brick]", "[Kelp]", "[Brick]"]);
    assert_eq!(
        said,
        "January: find the place.\nFrom the hook down: Brick, Kelp, Brick.\n\
         That fits 4 places. One more stripe helps.\nTap the colour of the stripe below Brick."
    );
    maren.taps("Kelp");
    assert_eq!(
        maren.taps("Brick"),
        "These places in January fit:\nAfter row 5.\nAfter row 7.\n\
         To know which, count the rows from the start of the block. Then tap it."
    );
    assert_eq!(maren.labels(), ["After row 5", "After row 7", "Start over"]);
    assert!(
        maren.taps("After row 7").starts_with("January: after row 7.\nNext: row 8, wrong side")
    );
}

#[test]
fn the_lowest_stripe_can_be_named_where_there_are_fewer_than_three() {
    let mut maren = january("BKBKBKBKRBKB");
    maren.does(&["where am I", "[Kelp]", "[Brick]"]);
    assert!(maren.taps("No stripe below").starts_with("January: after row 2."));
    // With one colour alone, the rows tell.
    let mut maren = january("BBBBK");
    maren.does(&["where am I", "[Brick]"]);
    assert!(maren.taps("No stripe below").starts_with("The top stripe of January begins with row"));
    assert!(maren.taps("2 rows").starts_with("January: after row 2."));
}

#[test]
fn stripes_that_fit_nowhere_lead_to_another_block_or_the_start() {
    let mut maren = january("BKSBKRSKBR");
    let before = maren.maker.clone();
    let said = maren.does(&["where am I", "[Mussel]"]);
    assert_eq!(
        said,
        "No place in January fits: Mussel.\n\
         It may be another block, or a row may be worked in another colour.\n\
         Nothing was changed."
    );
    assert_eq!(maren.labels(), ["Start over"]);
    assert!(maren.taps("Start over").starts_with("January: find the place."));
    assert_eq!(maren.maker, before);
}

#[test]
fn a_neighbouring_block_where_they_fit_is_offered() {
    let mut maren = Talker::with_blanket("2027-02-20 12:00", "2027-01-01").without_nudges();
    for day in 1..=31 {
        maren.types(&format!("{day} Jan {}", ["Smooth", "Rough"][day % 2]));
    }
    maren.does(&["1 Feb Ordinary", "2 Feb Smooth", "3 Feb Ordinary", "4 Feb Smooth"]);
    maren.does(&["where am I", "[Shingle]"]);
    assert_eq!(maren.labels(), ["Look in February", "Start over"]);
    let said = maren.does(&["[Look in February]", "[Brick]", "[Shingle]"]);
    assert!(said.starts_with("February: after row 3.\nNext: row 4, wrong side, Brick."), "{said}");
    assert!(said.ends_with("every row up to block 2, row 3, earlier blocks too."), "{said}");
    maren.taps("Cross them off");
    assert_eq!(maren.book().worked(BlockNumber(1)).len(), 33);
    assert_eq!(maren.book().worked(BlockNumber(2)).len(), 3);
    // From February, January is the neighbour, and its rows can be taken back.
    let said = maren.does(&["where am I", "[Harbour Blue]"]);
    assert!(said.starts_with("No place in February fits"), "{said}");
    maren.does(&["[Look in January]", "[Tarred Rope]", "[Brick]", "[1 row]"]);
    assert_eq!(maren.labels()[0], "Take back to row 32");
}

#[test]
fn an_open_day_in_an_earlier_block_is_never_crossed_off() {
    let mut maren = Talker::with_blanket("2027-02-20 12:00", "2027-01-01").without_nudges();
    maren.does(&["1 Jan Rough", "1 Feb Ordinary", "2 Feb Smooth", "3 Feb Ordinary"]);
    maren.does(&["where am I", "[Shingle]"]);
    let said = maren.does(&["[Look in February]", "[Brick]", "[Shingle]"]);
    assert!(said.ends_with("Earlier blocks have rows that wait, so nothing can be crossed off."));
    assert_eq!(maren.labels(), ["Next rows", "Start over"]);
}

#[test]
fn the_next_row_of_an_open_day_waits_and_the_last_row_is_called_that() {
    let mut maren = january("BKS");
    let said = maren.does(&["where am I", "[Shingle]", "[Kelp]", "[Brick]"]);
    assert!(said.contains("\nNext: row 4, wrong side. It waits: Monday 4 January is open.\n"));
    let mut maren = january(&"BK".repeat(16)[..31]);
    maren.does(&["where am I", "[Harbour Blue]", "[Brick]", "[Kelp]"]);
    let said = maren.taps("2 rows");
    assert!(said.contains("\nThat is the last row of this block.\n"), "{said}");
    let said = maren.taps("Cross off rows 1 to 33");
    assert!(said.contains("\nEvery row of January is worked.\nEnds to weave in: 64.\n"), "{said}");
}

#[test]
fn a_block_that_begins_with_an_open_day_has_no_stripes() {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01");
    assert_eq!(
        maren.types("where am I?"),
        "I know no colour of January.\nRow 1 waits: Friday 1 January is open."
    );
    assert_eq!(maren.labels(), ["Answer Fri 1 Jan"]);
    maren.types("/rows");
    assert!(!maren.labels().contains(&"Where am I?"));
}

#[test]
fn the_hint_and_the_words_follow_hand_craft_and_side() {
    let place = |fabric: Fabric| {
        let mut maren = january("BKSBKRSKBR");
        let pieces = maren.book().plan().pieces();
        let shaped = Change::Shaped { pieces, fabric: Box::new(fabric) };
        maren.maker.book.as_mut().unwrap().apply(&shaped);
        maren.does(&["where am I", "[Kelp]", "[Shingle]", "[Rosehip]"])
    };
    let mut fabric = Fabric { left_handed: true, ..Fabric::DEFAULT };
    assert!(place(fabric).contains("starting chain is at the lower right."));
    fabric.first_side = Side::Wrong;
    let said = place(fabric);
    assert!(said.contains("starting chain is at the lower left."), "{said}");
    assert!(said.contains("Next: row 9, wrong side"), "{said}");
    let said = place(Fabric { stitch: Stitch::Stockinette, ..Fabric::DEFAULT });
    let cast_on = "long-tail cast-on is at the lower right, or that of a knitted or cable cast-on \
        at the lower left.";
    assert!(said.contains(cast_on), "{said}");
    // A ridge a day: every row of the list begins on the right side, and rows are ridges.
    let ridge = Fabric { stitch: Stitch::Garter { day_is_ridge: true }, ..Fabric::DEFAULT };
    assert!(place(ridge).contains("Next: row 9, right side"));
    let mut maren = january("BKSRRRR");
    let (pieces, fabric) = (maren.book().plan().pieces(), Box::new(ridge));
    maren.maker.book.as_mut().unwrap().apply(&Change::Shaped { pieces, fabric });
    assert!(maren.types("where am I").contains("next to the needle"));
    let said = maren.does(&["[Rosehip]", "[Shingle]", "[Kelp]"]);
    assert!(said.ends_with("One ridge is one row of the list."), "{said}");
    assert_eq!(maren.labels()[..2], ["1 ridge", "2 ridges"]);
}

#[test]
fn stripes_can_be_typed_and_other_words_are_a_note() {
    for typed in [
        "where am I: Kelp, Shingle, Rosehip",
        "Where was I? kelp, shingle, rosehip.",
        "where am i kelp, kelp, shingle, rosehip",
    ] {
        let said = january("BKSBKRSKBR").types(typed);
        assert!(said.starts_with("January: after row 8."), "{typed}: {said}");
    }
    let mut maren = january("BKSBKRSKBR");
    let before = maren.maker.clone();
    let said = maren.types("where am I: Kelp, Sand");
    assert!(
        said.starts_with("I do not know the colour \"Sand\". Nothing was changed.\n"),
        "{said}"
    );
    assert_eq!(maren.maker, before);
    assert!(maren.types("where am I going with this").starts_with("Note kept: "));
}

#[test]
fn forged_and_old_buttons_start_over_or_say_what_fits_now_and_change_nothing() {
    let cases = [
        // A colour, a block and a row that are not there.
        ("1|stripes|1|200|0", "January: find the place.\nTap the colour of the top stripe"),
        ("1|stripes|99|6.3|0", "January: find the place.\nTap the colour of the top stripe"),
        ("1|stripes|0||0", "January: find the place.\nTap the colour of the top stripe"),
        ("1|after|1|60|3.4.7|0", "January: after row 8."),
        ("1|after|1|2|3.4.7|0", "January: after row 8."),
        ("1|after|65535|65535|6|0", "January: find the place.\nTap the colour of the top stripe"),
        ("1|top|1|0|3.4.7|0", "January: after row 8."),
        // Two alike, too many, no stripe at all: no button of ours.
        ("1|stripes|1|6.6|0", "That button is from an earlier step. Nothing was changed."),
        ("1|stripes|1|1.2.1.2.1.2|0", "That button is from an earlier step."),
        ("1|stripes|1||1", "That button is from an earlier step."),
    ];
    for (token, expected) in cases {
        let mut maren = january("BKSBKRSKBR");
        let before = maren.book().clone();
        let said = maren.taps_token(token);
        assert!(said.starts_with(expected), "{token}: {said}");
        assert_eq!(maren.book(), &before, "{token}");
    }
}

#[test]
fn left_half_way_it_goes_on_days_later_with_the_book_as_it_is_then() {
    let mut maren = january("BKSBKRSKBR");
    maren.does(&["where am I", "[Kelp]", "[Shingle]"]);
    let message = maren.messages.len() - 1;
    let keys = maren.messages[message].keys.clone();
    maren.turn("2027-02-05 12:00");
    maren.does(&["8 Jan Very rough", "11 Jan Smooth", "12 Jan Ordinary"]);
    let rosehip = keys.into_iter().find(|(label, _)| label == "Rosehip").unwrap().1;
    let said = maren.taps_button(rosehip.clone(), message);
    assert!(said.starts_with("No place in January fits: Kelp, Shingle, Rosehip."), "{said}");
    maren.types("8 Jan A bit rough");
    assert!(maren.taps_button(rosehip.clone(), message).starts_with("January: after row 8."));
    // The same tap once more says the same.
    let before = maren.maker.clone();
    assert!(maren.taps_button(rosehip, message).starts_with("January: after row 8."));
    assert_eq!(maren.maker, before);
}

#[test]
fn an_offer_from_before_the_book_changed_crosses_nothing_off() {
    let mut maren = january("BKSBKRSKBR");
    maren.does(&["where am I", "[Kelp]", "[Shingle]", "[Rosehip]"]);
    let message = maren.messages.len() - 1;
    let cross_off = maren.messages[message].keys[0].1.clone();
    maren.types("4 Jan Rough");
    let said = maren.taps_button(cross_off, message);
    assert!(said.contains("Nothing was changed.\nNo row of January is worked."), "{said}");
    assert_eq!(worked(&maren), 0);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Somebody taps what they see; the row that is named, or one of those listed, is theirs.
    #[test]
    fn whoever_taps_what_they_see_is_told_their_row(days in vec("[BKSR]", 4..14)) {
        let days = days.concat();
        for row in 1..=days.len() {
            let mut maren = january(&days);
            let colours: Vec<char> = days[..row].chars().rev().collect();
            let top = colours.iter().take_while(|colour| **colour == colours[0]).count();
            let mut stripes = colours.clone();
            stripes.dedup();
            maren.types("where am I");
            for colour in &stripes {
                if maren.labels().contains(&yarn(*colour)) {
                    maren.taps(yarn(*colour));
                }
            }
            if maren.labels().contains(&"No stripe below") {
                maren.taps("No stripe below");
            }
            let theirs = |label: &&str| {
                let place = label.strip_prefix("After row ");
                let numbers = place.or(label.strip_prefix("After one of rows ")).map(|rows| {
                    rows.split(" to ").map(|row| row.parse::<usize>().unwrap()).collect::<Vec<_>>()
                });
                numbers.is_some_and(|rows| (rows[0]..=rows[rows.len() - 1]).contains(&row))
            };
            if let Some(place) = maren.labels().into_iter().find(theirs).map(str::to_owned) {
                maren.taps(&place);
            }
            let count = if top == 1 { "1 row".to_owned() } else { format!("{top} rows") };
            if maren.labels().contains(&count.as_str()) {
                maren.taps(&count);
            }
            let said = &maren.messages.last().unwrap().text;
            let expected = format!("January: after row {row}.\n");
            prop_assert!(said.starts_with(&expected), "{} row {}: {}", days, row, said);
        }
    }
}

/// A January whose first days have these colours: Brick, Kelp, Shingle, Rosehip.
fn january(colours: &str) -> Talker {
    let mut maren = Talker::with_blanket("2027-01-31 22:00", "2027-01-01").without_nudges();
    let lines = (1..).zip(colours.chars()).map(|(day, colour)| {
        let tier = match colour {
            'B' => "Smooth",
            'K' => "A bit rough",
            'S' => "Ordinary",
            'R' => "Very smooth",
            other => panic!("no colour {other}"),
        };
        format!("{day} Jan {tier}")
    });
    maren.types(&lines.collect::<Vec<_>>().join("\n"));
    maren.taps(&format!("Keep these {} days", colours.len()));
    maren
}

fn yarn(colour: char) -> &'static str {
    match colour {
        'B' => "Brick",
        'K' => "Kelp",
        'S' => "Shingle",
        'R' => "Rosehip",
        other => panic!("no colour {other}"),
    }
}

fn worked(maren: &Talker) -> usize {
    maren.book().worked(BlockNumber(1)).len()
}
