//! A change of blocks or stitch with rows worked: what it would make of them is shown first, and
//! nothing that is stitched changes.

use std::collections::BTreeMap;

use duskrow::blanket::{BlockNumber, Book, Fabric, Finish, RowNumber};
use duskrow::chat::button::{Act, Button, Choice, Shown};
use duskrow::chat::event::{Event, MessageId};
use duskrow::chat::making::{MakingSaid, WorkedSaid};
use duskrow::chat::respond;
use duskrow::chat::say::Say;
use duskrow::chat::talk::Step;
use duskrow::export::{book_file, day_table, read_book, row_table};
use duskrow::wording::en;
use proptest::prelude::*;

use super::{Talker, choices, worked};

const BLOCKS: &[&str] = &["/stitch", "[Blocks]"];
const STITCH: &[&str] = &["/stitch", "[Stitch]"];
const JANUARY: BlockNumber = BlockNumber(1);

/// 12 rows worked on 14 January: each day in turn Rough, Ordinary, Smooth.
fn shown(way: &[&str], acts: &[&str]) -> (Talker, String) {
    let mut maren = worked(12);
    maren.does(way);
    let before = maren.book().clone();
    let said = maren.does(acts);
    assert_eq!(*maren.book(), before, "{acts:?}");
    (maren, said)
}

#[test]
fn every_change_of_blocks_and_stitch_waits_and_can_be_left_made_and_taken_back() {
    let acts: [(&[&str], &[&str]); 12] = [
        (BLOCKS, &["[Where a block ends]", "[Every so many days]", "20"]),
        (BLOCKS, &["[Where a block ends]", "[One strip]", "[Make it one strip]"]),
        (BLOCKS, &["[Rows of a block]", "40"]),
        (BLOCKS, &["[Filler rows]", "[First and last]"]),
        (BLOCKS, &["[Filler rows]", "[Before the first day]"]),
        (BLOCKS, &["[First and last block]", "[Work it short]"]),
        (STITCH, &["[Linen stitch]", "[Chain-2 edge]"]),
        (STITCH, &["[Half double crochet (US)]", "[It counts]"]),
        (STITCH, &["[Garter stitch]", "[A ridge]"]),
        (STITCH, &["[Stockinette]"]),
        (STITCH, &["[Your own stitch]", "[Knitting]", "6 + 1"]),
        (STITCH, &["[Do not turn]"]),
    ];
    for (way, acts) in acts {
        let (mut maren, said) = shown(way, acts);
        let before = maren.book().clone();
        assert!(said.contains("\n12 rows are worked"), "{acts:?}: {said}");
        assert!(said.contains("Nothing is changed yet."), "{acts:?}: {said}");
        assert_eq!(maren.labels(), ["Make this change", "Leave it as it is"], "{acts:?}");
        let mut leaves = maren.clone();
        leaves.taps("Leave it as it is");
        assert_eq!((leaves.book(), leaves.step()), (&before, &Step::Idle), "{acts:?}");
        let said = maren.taps("Make this change");
        assert_ne!(*maren.book(), before, "{acts:?}: {said}");
        assert_eq!(maren.book().worked(JANUARY), before.worked(JANUARY), "{acts:?}");
        assert_eq!((maren.labels()[0], maren.step()), ("Undo", &Step::Idle), "{acts:?}");
        maren.taps("Undo");
        assert_eq!(*maren.book(), before, "{acts:?}");
    }
}

#[test]
fn the_rows_that_would_differ_are_named_by_block() {
    // Days 1 to 4 and 7 to 12 are Ordinary, 5 and 6 Smooth; all 12 rows are worked.
    let mut maren =
        Talker::working_in("2027-01-14 12:00", Fabric::DEFAULT).answering("444466444444");
    maren.types("worked 12");
    maren.does(BLOCKS);
    let said = maren.does(&["[Filler rows]", "[First and last]"]);
    assert_eq!(
        said,
        "Filler rows: First and last\n\
         12 rows are worked. Nothing is changed yet.\n\
         After the change 3 of them would be in another colour than the row there, or on a day \
         without an answer.\n\
         January: rows 1, 5, 7.\n\
         Worked rows stay worked. Nothing is pulled back.\n\
         You can leave such rows as they are. Where the row has a day with an answer, /today and \
         that day, like /today 3 Jan, offers to pull back."
    );
    maren.taps("Make this change");
    // The rows are what they were; the list goes on above them, a day earlier.
    let said = maren.types("/block");
    assert!(said.contains("\n5 RS Mon 4 Brick, change (planned in Shingle now)\n"), "{said}");
    assert!(maren.types("/rows").contains("Next: row 13 of 33."));
}

#[test]
fn a_change_that_leaves_every_row_in_its_place_says_so() {
    let (mut maren, said) = shown(BLOCKS, &["[Rows of a block]", "40"]);
    assert_eq!(
        said,
        "Rows of a block: 40 rows\n\
         12 rows are worked. Nothing is changed yet.\n\
         After the change all of them would match their days and filler rows.\n\
         Worked rows stay worked. Nothing is pulled back."
    );
    assert!(maren.taps("Make this change").contains("A block has 40 rows."));
}

#[test]
fn a_change_of_stitch_says_which_stitch_the_rows_are_in_and_which_sides_change() {
    let (_, said) = shown(STITCH, &["[Stockinette]"]);
    assert_eq!(
        said,
        "Stitch: stockinette\n\
         12 rows are worked, in single crochet (US). They stay so. Nothing is changed yet.\n\
         After the change all of them would match their days and filler rows.\n\
         Worked rows stay worked. Nothing is pulled back."
    );
    let (_, said) = shown(STITCH, &["[Do not turn]"]);
    assert!(said.contains("\n6 of them would be on the other side in the lists.\n"), "{said}");
    let (_, said) = shown(STITCH, &["[Row 1 on the wrong side]"]);
    assert!(said.contains("\nAll 12 of them would be on the other side in the lists.\n"), "{said}");
    let mut maren = worked(1);
    let said = maren.does(&["/stitch", "[Stitch]", "[Stockinette]"]);
    assert!(said.contains("1 row is worked, in single crochet (US). It stays so."), "{said}");
    assert!(said.contains("After the change it would match its day or its filler row."), "{said}");
}

#[test]
fn rows_over_days_to_come_are_worked_rows_like_others() {
    // With both filler rows first, 12 rows are 10 days; after them, two days to come have rows.
    let mut maren = Talker::with_blanket("2027-01-10 12:00", "2027-01-01").without_nudges();
    maren.does(BLOCKS);
    maren.does(&["[Filler rows]", "[Before the first day]"]);
    let mut maren = maren.answering("4444444444");
    maren.types("worked 12");
    maren.does(BLOCKS);
    let said = maren.does(&["[Filler rows]", "[After the last day]"]);
    assert!(said.contains("\nJanuary: rows 1, 2, 11, 12.\n"), "{said}");
    maren.taps("Make this change");
    let said = maren.types("/rows");
    assert!(
        said.contains("Next: row 13 of 33.\nRow 13 waits: Wednesday 13 January has not come yet."),
        "{said}"
    );
    let said = maren.types("/block");
    assert!(said.contains("\n11 RS Mon 11 Shingle, keep\n"), "{said}");
    maren.turn("2027-01-11 21:00");
    let said = maren.taps("Smooth");
    assert!(said.contains("Row 11 is worked in Shingle. Smooth is Brick."), "{said}");
    assert_eq!(maren.labels()[4], "Pull back 2 rows: 11 to 12");
    maren.taps("Leave row 11 as it is");
    assert_eq!(maren.book().worked(JANUARY).len(), 12);
}

#[test]
fn a_block_with_more_rows_worked_than_it_would_have_is_refused() {
    let (mut maren, said) = shown(BLOCKS, &["[Where a block ends]", "[Every so many days]", "10"]);
    assert_eq!(
        said,
        "12 rows of January are worked, and it would have 10 rows. Nothing was changed.\n\
         If you pull it back to row 10 first, it can be so."
    );
    assert_eq!(maren.labels(), ["Pull back 2 rows: 11 to 12", "Back"]);
    // Pulled back to there, it is shown.
    let said = maren.taps("Pull back 2 rows: 11 to 12");
    assert_eq!(said, "Taken back.\nRows 1 to 10 of January are worked.");
    maren.does(BLOCKS);
    let said = maren.does(&["[Where a block ends]", "[Every so many days]", "10"]);
    assert!(said.contains("10 rows are worked. Nothing is changed yet."), "{said}");
    maren.taps("Make this change");
    assert_eq!(maren.book().plan().block_count(), 37);
}

#[test]
fn a_worked_block_that_would_not_be_there_is_refused() {
    let mut maren = two_blocks();
    maren.does(BLOCKS);
    let before = maren.book().clone();
    let said = maren.does(&["[Where a block ends]", "[One strip]", "[Make it one strip]"]);
    assert_eq!(
        said,
        "Rows of February are worked, and block 2 would not be there. Nothing was changed.\n\
         If you pull them back first, it can be so."
    );
    assert_eq!((maren.book(), maren.labels()), (&before, vec!["Pull back 5 rows: 1 to 5", "Back"]));
    maren.taps("Pull back 5 rows: 1 to 5");
    assert!(maren.book().worked(BlockNumber(2)).is_empty());
}

#[test]
fn a_block_that_is_woven_in_is_not_made_longer() {
    let mut maren = two_blocks();
    maren.does(&["/block 1", "[Ends are woven]"]);
    maren.does(BLOCKS);
    let before = maren.book().clone();
    let said = maren.does(&["[Rows of a block]", "40"]);
    assert_eq!(
        said,
        "January is woven in or joined, and would have 40 rows. Nothing was changed.\n\
         If you take that back in /block 1 first, it can be so."
    );
    assert_eq!(*maren.book(), before);
    assert_eq!(maren.labels(), ["List of January", "Back"]);
    maren.does(&["[List of January]", "[Not woven]"]);
    maren.does(BLOCKS);
    maren.does(&["[Rows of a block]", "40", "[Make this change]"]);
    assert!(maren.types("/rows").contains("Next: row 34 of 40."));
    assert!(!maren.book().is_finished(JANUARY, Finish::Woven));
}

#[test]
fn a_tap_after_other_rows_were_worked_shows_it_anew() {
    let (mut maren, first) = shown(BLOCKS, &["[Filler rows]", "[First and last]"]);
    let message = maren.messages.len() - 1;
    let tap = maren.messages[message].keys[0].1.clone();
    maren.does(&["13 Jan Smooth", "worked 13"]);
    let before = maren.book().clone();
    let said = maren.taps_button(tap.clone(), message);
    assert!(said.contains("13 rows are worked. Nothing is changed yet."), "{said}");
    assert_ne!(said, first);
    assert_eq!(*maren.book(), before);
    // What the old button carries is not what is shown now.
    let now = maren.messages[message].keys[0].1.clone();
    assert_ne!(now, tap);
    maren.taps_button(now, message);
    assert_ne!(*maren.book(), before);
}

#[test]
fn a_tap_after_another_answer_shows_it_anew_if_other_rows_would_differ() {
    let mut maren =
        Talker::working_in("2027-01-14 12:00", Fabric::DEFAULT).answering("444466444444");
    maren.types("worked 12");
    maren.does(BLOCKS);
    maren.does(&["[Filler rows]", "[First and last]"]);
    let message = maren.messages.len() - 1;
    let tap = maren.messages[message].keys[0].1.clone();
    maren.types("10 Jan Rough");
    let before = maren.book().clone();
    let said = maren.taps_button(tap, message);
    assert!(said.contains("\nJanuary: rows 1, 5, 7, 11.\n"), "{said}");
    assert_eq!(*maren.book(), before);
}

#[test]
fn undo_after_more_rows_were_worked_shows_what_that_would_make_of_them() {
    let (mut maren, _) = shown(BLOCKS, &["[Rows of a block]", "40"]);
    maren.taps("Make this change");
    let message = maren.messages.len() - 1;
    let undo = maren.messages[message].keys[0].1.clone();
    maren.does(&["13 Jan Smooth", "worked 13"]);
    let before = maren.book().clone();
    let said = maren.taps_button(undo, message);
    assert!(said.starts_with("Rows of a block: 33 rows\n13 rows are worked."), "{said}");
    assert_eq!(*maren.book(), before);
    maren.taps("Make this change");
    assert!(maren.types("/rows").contains("Next: row 14 of 33."));
}

#[test]
fn a_button_from_before_any_row_was_worked_shows_it_too() {
    for (token, title) in [
        ("1|make|rows|40", "Rows of a block: 40 rows"),
        ("1|make|go|0|0|rows|40", "Rows of a block: 40 rows"),
        ("1|make|go|12|65535|rows|40", "Rows of a block: 40 rows"),
        ("1|make|cut|m|40|3", "Where a block ends: Calendar months"),
        ("1|make|stitch|h1|36|1|", "Stitch: half double crochet (US), the turning chain counts"),
    ] {
        let mut maren = worked(12);
        let before = maren.book().clone();
        let said = maren.taps_token(token);
        assert!(said.starts_with(title), "{token}: {said}");
        assert_eq!(*maren.book(), before, "{token}");
    }
}

#[test]
fn a_second_tap_says_the_same_and_changes_nothing_more() {
    let (mut maren, _) = shown(BLOCKS, &["[Filler rows]", "[First and last]"]);
    let message = maren.messages.len() - 1;
    let tap = maren.messages[message].keys[0].1.clone();
    let said = maren.taps_button(tap.clone(), message);
    let book = maren.book().clone();
    assert_eq!(maren.taps_button(tap, message), said);
    assert_eq!(*maren.book(), book);
}

#[test]
fn what_is_typed_in_the_middle_loses_nothing() {
    // Where a number was typed, another can be; nonsense is refused.
    let (mut maren, _) = shown(BLOCKS, &["[Rows of a block]", "40"]);
    let before = maren.book().clone();
    let said = maren.types("🧶 zebra");
    assert!(said.contains("Nothing was changed.") && said.contains("like 33"), "{said}");
    let said = maren.types("41");
    assert!(said.starts_with("Rows of a block: 41 rows\n12 rows are worked."), "{said}");
    assert_eq!(*maren.book(), before);
    // Where one was tapped, words are what they are anywhere, and the button waits.
    let (mut maren, _) = shown(STITCH, &["[Stockinette]"]);
    let before = maren.book().fabric().stitch;
    assert!(maren.types("-3").starts_with("Note kept:"));
    assert_eq!(maren.book().fabric().stitch, before);
    let said = maren.taps("Make this change");
    assert!(said.starts_with("Stitch\nNow: stockinette."), "{said}");
    // A command leaves it, and so does a week.
    for way_out in ["/cancel", "/rows", "/settings"] {
        let (mut maren, _) = shown(BLOCKS, &["[Rows of a block]", "40"]);
        let before = maren.book().clone();
        maren.types(way_out);
        maren.types("14 Jan Smooth");
        assert_eq!(maren.book().plan(), before.plan(), "{way_out}");
        assert_eq!(maren.step(), &Step::Idle, "{way_out}");
    }
}

fn two_blocks() -> Talker {
    let mut maren =
        Talker::working_in("2027-02-10 12:00", Fabric::DEFAULT).answering(&"4".repeat(36));
    maren.does(&["worked up to block 2, row 5", "[Cross them off]"]);
    assert_eq!(maren.book().worked(BlockNumber(2)).len(), 5);
    maren
}

/// What the last message that was shown says of worked rows, and the button that goes on.
fn last_shown(maren: &Talker, button: &Button) -> Option<(WorkedSaid, Choice, Shown)> {
    let event = Event::Tapped { button: Ok(button.clone()), message: MessageId(0) };
    let outcome = respond(&maren.maker, maren.now, &event, &en::LEXICON);
    outcome.replies.into_iter().find_map(|reply| match (reply.say, reply.keys.first()?.first()) {
        (Say::Making(MakingSaid::Worked(said)), Some(key)) => match key.button {
            Button::Making { act: Act::Change { choice, shown } } => Some((said, choice, shown)),
            _ => None,
        },
        _ => None,
    })
}

/// Worked rows in another yarn than the book now calls for, told without its help.
fn differing(book: &Book) -> BTreeMap<u16, Vec<u16>> {
    let mut found: BTreeMap<u16, Vec<u16>> = BTreeMap::new();
    for block in book.plan().blocks() {
        for (row, worked) in (1..).zip(book.worked(block.number)) {
            let row = book.plan().row(&block, RowNumber(row)).unwrap();
            if book.yarn_for(&row) != Some(worked.yarn) {
                found.entry(block.number.0).or_default().push(row.number.0);
            }
        }
    }
    found
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Whatever is chosen, one after the other: worked rows stay what they are, each has a place,
    /// what was shown is what is so afterwards, and *Undo* leads back. The book can be written,
    /// read and looked at in every way.
    #[test]
    fn what_was_shown_of_worked_rows_is_so_after_the_change(
        tiers in prop::collection::vec(0..4_u8, 31..50),
        open in 0..4_usize,
        rows in 1..34_u16,
        all in prop::collection::vec(choices(), 1..12),
    ) {
        let days: String = tiers.iter().map(|tier| char::from(b'1' + tier)).collect();
        let days = &days[..days.len() - open];
        let mut maren =
            Talker::working_in("2027-02-20 12:00", Fabric::DEFAULT).answering(days);
        maren.types(&format!("worked {rows}"));
        let stitched = |maren: &Talker| -> Vec<_> {
            let all = maren.book().all_worked();
            all.map(|(block, rows)| (block, rows.to_vec())).collect()
        };
        let before = stitched(&maren);
        for choice in all {
            let button = Button::Making { act: Act::Choose(choice) };
            let book = maren.book().clone();
            let shown = last_shown(&maren, &button);
            maren.taps_button(button, 0);
            if let Some((said, named, shown)) = shown {
                prop_assert_eq!(maren.book(), &book, "{:?}", choice);
                prop_assert_eq!(named, choice);
                let go = Button::Making { act: Act::Change { choice, shown } };
                maren.taps_button(go, 0);
                prop_assert_ne!(maren.book(), &book);
                let of = |(block, runs): &(duskrow::chat::say::BlockSaid, Vec<(RowNumber, RowNumber)>)| {
                    let rows = runs.iter().flat_map(|(first, last)| first.0..=last.0);
                    (block.number.0, rows.collect::<Vec<u16>>())
                };
                let told: BTreeMap<u16, Vec<u16>> = said.differing.iter().map(of).collect();
                prop_assert_eq!(told, differing(maren.book()), "{:?}", choice);
                prop_assert_eq!(said.differing_rows(), maren.book().differing_rows());
                let mut back = maren.clone();
                back.taps("Undo");
                prop_assert_eq!(back.book(), &book, "{:?}", choice);
            }
            prop_assert_eq!(&stitched(&maren), &before, "{:?}", choice);
            for (block, rows) in &before {
                let block = maren.book().plan().block(*block);
                prop_assert!(block.is_some_and(|it| usize::from(it.rows) >= rows.len()));
            }
        }
        for looked in ["/rows", "/rows 40", "/block 1", "/block all", "/yarn", "/recap", "/open",
            "where am I", "/stitch", "worked up to block 1, row 30"] {
            prop_assert!(!maren.types(looked).is_empty());
        }
        maren.taps_token("1|card|open");
        let (book, today) = (maren.book(), maren.book().hours().day_at(maren.now));
        prop_assert!(!row_table(book, today).is_empty() && !day_table(book, today).is_empty());
        let mut read = None;
        for change in read_book(book_file(book, &[]).as_bytes()).unwrap() {
            duskrow::blanket::apply(&mut read, &change);
        }
        prop_assert_eq!(read.as_ref(), Some(book));
    }
}
