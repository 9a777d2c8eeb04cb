//! One row at a time: the card, its steps, and that it never loses its place.

use chrono::TimeDelta;
use duskrow::blanket::stitch::{LinenEdge, Stitch, Width};
use duskrow::blanket::{BlockNumber, Carry, Fabric, RowNumber, Terms};
use duskrow::chat::button::{Button, RowByRow};
use duskrow::chat::outcome::Slot;
use proptest::prelude::*;

use super::talker::Talker;

const WIDE: Fabric = Fabric { width: Some(Width(36)), ..Fabric::DEFAULT };

#[test]
fn a_card_shows_the_row_its_steps_and_its_end() {
    let mut maren = card(WIDE, "664");
    assert_eq!(
        shown(&maren),
        "Row 1. Right side. Brick.\n\
         January, block 1 of 12. Friday 1 January.\n\
         Chain 37 with Brick.\n\
         1 single crochet in the 2nd chain from the hook and in each chain after it: 36. US terms.\n\
         Row 2 is Brick too: keep it."
    );
    assert_eq!(maren.labels(), ["Worked", "Stop here"]);
    assert_eq!(
        maren.taps("Worked"),
        "Row 2. Wrong side. Brick.\n\
         January, block 1 of 12. Saturday 2 January.\n\
         Keep: Brick goes on from row 1.\n\
         Chain 1, turn. 1 single crochet in each stitch: 36. US terms.\n\
         Last stitch: pull through with Shingle.\n\
         Cut Brick, with a tail of 15 cm."
    );
    assert_eq!(maren.labels(), ["Worked", "Back", "Stop here"]);
    assert_eq!(
        maren.taps("Worked"),
        "Row 3. Right side. Shingle.\n\
         January, block 1 of 12. Sunday 3 January.\n\
         Change: Shingle comes in with the last pull-through of row 2. If another colour is on the \
         hook, take out that loop and use Shingle.\n\
         Chain 1, turn. 1 single crochet in each stitch: 36. US terms.\n\
         Last stitch: leave the loop on a marker.\n\
         Row 4 waits: Monday 4 January is open."
    );
    // One message, changed in place.
    let cards = maren.messages.iter().filter(|it| it.slot == Some(Slot::RowByRow)).count();
    assert_eq!(cards, 1);
}

#[test]
fn where_a_day_is_open_the_card_waits_and_goes_on_once_it_is_answered() {
    let mut maren = card(WIDE, "6");
    assert_eq!(
        maren.taps("Worked"),
        "Row 2 waits: Saturday 2 January is open.\n\
         January, block 1 of 12.\n\
         Leave the loop on a marker."
    );
    assert_eq!(maren.labels(), ["Answer Sat 2 Jan", "Row by row", "Back", "Stop here"]);
    let said = maren.taps("Answer Sat 2 Jan");
    assert!(said.starts_with("Saturday 2 January\nWhich fits the day?"), "{said}");
    maren.taps("Rough");
    assert!(maren.taps("Row by row").starts_with("Row 2. Wrong side. Tarred Rope."));
    assert_eq!(worked(&maren), 1);
}

#[test]
fn back_takes_the_last_row_off_and_stop_says_where_the_work_stands() {
    let mut maren = card(WIDE, "6644");
    maren.does(&["[Worked]", "[Worked]", "[Worked]"]);
    assert!(maren.taps("Back").starts_with("Row 3. Right side. Shingle."));
    assert_eq!(worked(&maren), 2);
    assert_eq!(
        maren.taps("Stop here"),
        "You stop here.\n\
         Rows 1 to 2 of January are worked.\n\
         Next: row 3 of 33.\n\
         Leave the loop on a marker."
    );
    assert_eq!(maren.labels(), ["Row by row", "Next rows"]);
    assert!(maren.taps("Row by row").starts_with("Row 3. Right side. Shingle."));
    maren.does(&["[Back]", "[Back]"]);
    assert_eq!(maren.labels(), ["Worked", "Stop here"]);
    assert_eq!(
        maren.taps("Stop here"),
        "You stop here.\nNo row of January is worked.\nNext: block 1, January."
    );
}

#[test]
fn old_and_repeated_taps_change_nothing_and_show_the_row_that_is_next() {
    let mut maren = card(WIDE, "66444");
    let button = |maren: &Talker, label: &str| {
        let keys = &maren.messages.last().unwrap().keys;
        keys.iter().find(|(caption, _)| caption == label).unwrap().1.clone()
    };
    let message = maren.messages.len() - 1;
    let first = button(&maren, "Worked");
    let said = maren.taps_button(first.clone(), message);
    // The same tap, delivered twice.
    assert_eq!(maren.taps_button(first.clone(), message), said);
    assert_eq!(worked(&maren), 1);
    let back = button(&maren, "Back");
    maren.does(&["[Worked]", "[Worked]"]);
    let before = maren.maker.clone();
    for old in [first, back] {
        let said = maren.taps_button(old, message);
        assert!(said.starts_with("Row 4. Wrong side. Shingle."), "{said}");
        assert!(said.ends_with("That tap was for another row. Nothing was changed."), "{said}");
        assert_eq!(maren.maker, before);
    }
    // Back, delivered twice, takes one row off.
    let back = button(&maren, "Back");
    let said = maren.taps_button(back.clone(), message);
    assert_eq!(maren.taps_button(back, message), said);
    assert_eq!(worked(&maren), 2);
}

#[test]
fn a_card_whose_colour_has_changed_since_crosses_nothing_off() {
    let mut maren = card(WIDE, "66");
    let message = maren.messages.len() - 1;
    let old = maren.messages[message].keys[0].1.clone();
    maren.does(&["/today 1 Jan", "[Change]", "[Rough]"]);
    let said = maren.taps_button(old, message);
    assert!(said.starts_with("Row 1. Right side. Tarred Rope."), "{said}");
    assert!(said.ends_with("Nothing was changed."), "{said}");
    assert_eq!(worked(&maren), 0);
}

#[test]
fn forged_cards_cross_nothing_off() {
    let mut maren = card(WIDE, "66");
    let before = maren.maker.clone();
    for token in [
        "1|card|done|1|2|40509",
        "1|card|done|2|1|40509",
        "1|card|done|1|0|1",
        "1|card|done|99|1|40509",
        "1|card|back|1|0",
        "1|card|back|1|1",
        "1|card|back|0|0",
        "1|card|back|65535|65535",
    ] {
        maren.taps_token(token);
        assert_eq!(maren.maker, before, "{token}");
    }
    for token in ["1|card|ask|20270103", "1|card|ask|20300101", "1|card|ask|20261231"] {
        maren.taps_token(token);
        assert_eq!(maren.maker.book, before.book, "{token}");
    }
}

#[test]
fn a_block_ends_and_the_next_one_begins_on_the_card_and_back_leads_over_it() {
    let mut maren = card(WIDE, &"4".repeat(32));
    maren.types("worked 32");
    maren.does(&["/rows", "[Row by row]"]);
    assert_eq!(
        shown(&maren),
        "Row 33. Right side. Harbour Blue.\n\
         January, block 1 of 12. Filler row.\n\
         Keep: Harbour Blue goes on from row 32.\n\
         Chain 1, turn. 1 single crochet in each stitch: 36. US terms.\n\
         It is the last row of the block.\n\
         Cut the yarn and pull it through the last loop."
    );
    let said = maren.taps("Worked");
    assert!(said.starts_with("Row 1. Right side. Shingle.\nFebruary, block 2 of 12."), "{said}");
    assert_eq!(
        maren.clone().taps("Stop here"),
        "You stop here.\nRows 1 to 33 of January are worked.\nNext: block 2, February."
    );
    assert!(maren.taps("Back").starts_with("Row 33. Right side. Harbour Blue.\nJanuary"));
    assert_eq!(worked(&maren), 32);
}

#[test]
fn knitting_has_ridges_starts_rows_with_their_colour_and_counts_nothing_without_a_width() {
    let garter = Stitch::Garter { day_is_ridge: true };
    let mut maren = card(Fabric { stitch: garter, ..Fabric::DEFAULT }, "64");
    assert_eq!(
        shown(&maren),
        "Row 1, a ridge of 2 rows. Right side. Brick.\n\
         January, block 1 of 12. Friday 1 January.\n\
         Cast on with Brick.\n\
         Knit every stitch.\n\
         Turn. Knit every stitch.\n\
         Start the next row with Shingle.\n\
         Cut Brick, with a tail of 15 cm."
    );
    let said = maren.taps("Worked");
    assert!(said.contains("\nChange: start the row with Shingle.\n"), "{said}");
    assert!(said.contains("\nLeave the stitches on the needle.\nRow 3 waits: "), "{said}");
}

#[test]
fn a_colour_that_is_picked_up_later_is_not_cut() {
    let linen = Stitch::Linen(LinenEdge::ChainTwo);
    let fabric = Fabric { stitch: linen, width: Some(Width(40)), ..Fabric::DEFAULT };
    let mut maren = card(Fabric { carry: Carry::Three, terms: Terms::Uk, ..fabric }, "6446");
    let said = maren.does(&["[Worked]", "[Back]"]);
    assert!(said.contains("\nChain 42 with Brick.\n"), "{said}");
    assert!(said.contains("\nLast stitch: pull through with Shingle.\nDo not cut Brick: row 4"));
    let said = maren.does(&["[Worked]", "[Worked]"]);
    assert!(said.contains("Last stitch: pull through with Brick, carried up from row 1."));
    assert!(said.contains(": 20 double crochet, 20 spaces. UK terms.\n"), "{said}");
    assert!(maren.taps("Worked").contains("\nCarry: Brick comes up from row 1.\n"));
}

#[test]
fn work_that_is_not_turned_is_cut_after_every_row() {
    let mut maren = card(Fabric { turned: false, ..WIDE }, "664");
    let said = maren.taps("Worked");
    assert!(said.starts_with("Row 2. Right side. Brick."), "{said}");
    assert!(said.contains("\nJoin Brick in the first stitch.\nChain 1. 1 single crochet in each"));
    assert!(said.ends_with(
        "\nCut Brick, with a tail of 15 cm.\nRow 3 starts with Shingle at the same edge."
    ));
}

#[test]
fn a_day_kept_for_now_is_said_on_its_card() {
    let mut maren = card(WIDE, "66");
    maren.does(&["/today 1 Jan", "[For now]", "/rows", "[Row by row]"]);
    let said = shown(&maren);
    assert!(said.contains("Friday 1 January (for now).\n"), "{said}");
    assert!(said.ends_with("\"For now\" is not settled. To change row 1, type /today 1 Jan."));
}

#[test]
fn when_every_row_is_worked_the_card_says_so_and_back_leads_to_the_last_row() {
    let mut maren = Talker::working_in("2028-01-01 12:00", WIDE).answering(&"4".repeat(365));
    maren.does(&["worked up to block 12, row 32", "[Cross them off]", "/rows", "[Row by row]"]);
    let said = maren.taps("Worked");
    let (card, block) = said.split_once("\n--\n").unwrap();
    assert_eq!(card, "Every row of the blanket is worked.");
    // The last row of a block is said to be that, as under every other list.
    assert!(
        block.starts_with("December.\nEnds to weave in: 4.\nNext: weave in the ends"),
        "{block}"
    );
    assert_eq!(maren.labels(), ["Ends are woven", "Joined"]);
    assert!(maren.taps("Back").starts_with("Row 33. Right side. Harbour Blue.\nDecember"));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    /// Whatever is tapped, old or new, in whatever order: worked rows stay an unbroken run from
    /// row 1 that never reaches over an open day, and the card shows the row after it.
    #[test]
    fn the_card_never_loses_its_place(
        days in "[1-7]{28,40}",
        open in 0..40_usize,
        ridge in any::<bool>(),
        start in 0..34_usize,
        taps in prop::collection::vec((any::<prop::sample::Index>(), any::<bool>(), 0..900_i64), 1..60),
    ) {
        let stitch = match ridge {
            true => Stitch::Garter { day_is_ridge: true },
            false => Stitch::SingleCrochet,
        };
        let mut days = days;
        if open < days.len() {
            days.replace_range(open..=open, "0");
        }
        let mut maren = Talker::working_in("2027-02-10 12:00", Fabric { stitch, ..WIDE });
        maren = maren.answering(&days);
        maren.does(&[&format!("worked {start}"), "/rows"]);
        maren.taps_token("1|card|open");
        let mut seen: Vec<Button> = Vec::new();
        for (which, old, seconds) in taps {
            maren.now += TimeDelta::seconds(seconds);
            let fresh = maren.messages.iter().flat_map(|it| &it.keys).map(|(_, button)| button);
            let rows = |button: &&Button| {
                matches!(button, Button::RowByRow(_) | Button::Worked { .. } | Button::Undo { .. }
                    | Button::Rows | Button::RowsToEnd)
            };
            let fresh: Vec<Button> = fresh.filter(rows).cloned().collect();
            seen.extend(fresh.iter().cloned());
            let from = if old || fresh.is_empty() { &seen } else { &fresh };
            let button = from[which.index(from.len())].clone();
            let message = maren.messages.len() - 1;
            let before: Vec<usize> = lens(&maren);
            let said = maren.taps_button(button.clone(), message);
            let after = lens(&maren);
            let moved: usize = before.iter().zip(&after).map(|(a, b)| a.abs_diff(*b)).sum();
            let one = matches!(button, Button::RowByRow(_));
            prop_assert!(!one || moved <= 1, "{button:?} moved {moved} rows");
            let shows = match button {
                Button::RowByRow(tap) => matches!(
                    tap,
                    RowByRow::Worked { .. } | RowByRow::Back { .. } | RowByRow::GoOn
                ),
                _ => false,
            };
            // The card that was tapped shows what a new one would.
            let anew = maren.clone().taps_token("1|card|open");
            prop_assert!(!shows || said.starts_with(&anew), "{said}\n--\n{anew}");
            check_place(&maren)?;
        }
    }
}

fn lens(maren: &Talker) -> Vec<usize> {
    let blocks = maren.book().plan().blocks();
    blocks.map(|block| maren.book().worked(block.number).len()).collect()
}

fn check_place(maren: &Talker) -> Result<(), TestCaseError> {
    let book = maren.book();
    for block in book.plan().blocks() {
        let rows = book.plan().rows(&block);
        let worked = book.worked(block.number).len();
        let open = rows[..worked].iter().any(|row| book.yarn_for(row).is_none());
        prop_assert!(!open, "row over an open day");
    }
    // What the card would show now is the row right above the last worked one.
    let mut fresh = maren.clone();
    let said = fresh.taps_token("1|card|open");
    let current = book.current_block().unwrap();
    let next = RowNumber(u16::try_from(book.worked(current.number).len()).unwrap() + 1);
    let row = book.plan().row(&current, next).unwrap();
    let expected = match book.yarn_for(&row) {
        Some(yarn) => {
            let name = book.yarn_name(yarn).unwrap();
            let first = said.lines().next().unwrap();
            prop_assert!(first.ends_with(&format!(". {name}.")), "{said}");
            format!("Row {next}")
        }
        None => format!("Row {next} waits: "),
    };
    prop_assert!(said.starts_with(&expected), "{said}");
    prop_assert!(said.contains(&format!(", block {} of 12.", current.number)), "{said}");
    // *Worked* is offered for that row, where it can be worked.
    let offers = fresh.messages.last().unwrap().keys.iter().any(|(_, button)| {
        matches!(button, Button::RowByRow(RowByRow::Worked { row, .. }) if *row == next)
    });
    prop_assert_eq!(offers, book.yarn_for(&row).is_some());
    Ok(())
}

fn worked(maren: &Talker) -> usize {
    maren.book().worked(BlockNumber(1)).len()
}

fn shown(maren: &Talker) -> &str {
    &maren.messages.last().unwrap().text
}

/// A card for row 1, these days answered, long after them.
fn card(fabric: Fabric, days: &str) -> Talker {
    let mut maren = Talker::working_in("2027-03-20 12:00", fabric).answering(days);
    maren.does(&["/rows", "[Row by row]"]);
    maren
}
