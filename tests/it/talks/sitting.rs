//! The next sitting: by minutes, to the end of the block, what to bring, where the yarn may end;
//! and "worked 17".

use chrono::TimeDelta;
use duskrow::blanket::stock::{Entry, EntryKind, Tenths};
use duskrow::blanket::{
    BlockNumber, Change, Fabric, RowNumber, Standing, YarnId, bring, runs, sitting,
};
use proptest::prelude::*;

use super::talker::Talker;

#[test]
fn minutes_are_counted_at_five_a_row_until_the_pace_is_known() {
    let mut maren = maren();
    for (typed, said) in [
        ("40 min", "40 minutes are about 8 rows. I count 5 minutes a row until I have seen"),
        ("40min", "40 minutes are about 8 rows."),
        ("45 Minutes", "45 minutes are about 9 rows."),
        ("5 min", "5 minutes are about 1 row."),
        ("4 min", "I count 5 minutes a row until I have seen your pace: this is 1 row."),
    ] {
        let line = maren.types(&format!("/rows {typed}"));
        let line = line.lines().nth(1).unwrap();
        assert!(line.starts_with(said), "{typed}: {line}");
    }
    assert!(maren.types("/rows 40 min").ends_with("Tap Worked when rows 1 to 8 are worked."));
}

#[test]
fn the_pace_is_that_of_rows_crossed_off_one_by_one() {
    let mut maren = maren();
    maren.does(&["/rows", "[Row by row]"]);
    for minutes in [0, 3, 4, 4, 600, 4, 5] {
        maren.now += TimeDelta::minutes(minutes);
        maren.taps("Worked");
    }
    let said = maren.types("/rows 40 min");
    let expected = "40 minutes are about 10 rows at your pace: 4 minutes a row.";
    assert_eq!(said.lines().nth(1), Some(expected));
    assert!(said.ends_with("Tap Worked when rows 8 to 17 are worked."), "{said}");
    // A backlog crossed off at once says nothing about the pace.
    maren.now += TimeDelta::minutes(2);
    maren.taps("Worked");
    assert!(maren.types("/rows 8 min").contains("8 minutes are about 2 rows at your pace"));
    let said = maren.types("/rows 3 min");
    assert!(said.contains("A row takes you about 4 minutes: this is 1 row."), "{said}");
}

#[test]
fn the_list_goes_to_the_end_of_the_block() {
    let mut maren = maren();
    assert!(maren.types("/rows").contains("Tap Worked when rows 1 to 12 are worked."));
    assert_eq!(maren.labels(), ["Worked", "Row by row", "To the end of the block", "Where am I?"]);
    for said in [maren.taps("To the end of the block"), maren.types("/rows block")] {
        assert!(said.starts_with("January, block 1 of 12. Next: row 1 of 33.\nBring: "), "{said}");
        assert!(said.contains("Row 33 is the last row of this block."), "{said}");
        assert!(said.ends_with("Tap Worked when rows 1 to 33 are worked."), "{said}");
    }
    assert_eq!(maren.labels(), ["Worked", "Row by row", "Where am I?"]);
}

#[test]
fn it_names_what_to_bring_and_where_the_yarn_may_end() {
    let mut maren = maren();
    // Two weighings: 10 g in 8 rows of Shingle.
    maren.does(&["Shingle 100", "/rows 8", "[Worked]", "Shingle 10", "Kelp 100"]);
    let said = maren.types("/rows block");
    let bring = said.lines().nth(1).unwrap();
    assert_eq!(
        bring,
        "Bring: Shingle for 12 rows, about 135 g; Kelp for 11 rows, perhaps 123.8 g; \
         Harbour Blue for 2 rows, perhaps 22.5 g."
    );
    assert!(said.contains("\nYour Shingle on hand makes less than a row: it may end in row 9."));
    assert!(said.contains("\nYour Kelp on hand makes about 8 rows: it may end in row 29."));
    assert!(!said.contains("Harbour Blue on hand"), "{said}");
}

#[test]
fn worked_17_crosses_the_block_off_up_to_there_and_can_be_taken_back() {
    for typed in ["worked 17", "Worked 17.", "worked row 17", "  WORKED   17 "] {
        let mut maren = maren();
        let said = maren.types(typed);
        assert_eq!(said, "Rows 1 to 17 of January are worked.\nNext: row 18 of 33.", "{typed}");
        assert_eq!(maren.book().worked(BlockNumber(1)).len(), 17);
        assert_eq!(maren.types("worked 18").lines().next(), Some("Row 18 of January is worked."));
        maren.taps("Undo");
        assert_eq!(maren.book().worked(BlockNumber(1)).len(), 17);
        assert_eq!(maren.labels(), ["Next rows"]);
    }
}

#[test]
fn worked_twice_over_an_open_day_or_no_row_at_all_changes_nothing() {
    let mut maren =
        Talker::working_in("2027-01-20 22:00", Fabric::DEFAULT).answering("44444444440444444444");
    maren.types("worked 8");
    let before = maren.maker.clone();
    for (typed, said) in [
        ("worked 8", "Every row up to block 1, row 8 was crossed off before."),
        ("worked 3", "Every row up to block 1, row 3 was crossed off before."),
        ("worked 11", "Block 1 waits: Monday 11 January is open. Nothing was crossed off."),
        ("worked 21", "Block 1 waits: Monday 11 January is open. Nothing was crossed off."),
        ("worked 34", "The blanket has 12 blocks of 33 rows. Nothing was changed."),
        ("worked 0", "The blanket has 12 blocks of 33 rows. Nothing was changed."),
        ("worked -3", "The blanket has 12 blocks of 33 rows. Nothing was changed."),
        ("worked 1e9", "The blanket has 12 blocks of 33 rows. Nothing was changed."),
        ("worked 99999", "The blanket has 12 blocks of 33 rows. Nothing was changed."),
    ] {
        let answer = maren.types(typed);
        assert!(answer.starts_with(said), "{typed}: {answer}");
        assert_eq!(maren.maker, before, "{typed}");
    }
    // Other sentences are notes.
    for typed in ["worked late", "worked 9 hours", "worked all day, 12 rows"] {
        assert!(maren.types(typed).starts_with("Note kept:"), "{typed}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// The runs are the rows of the sitting, what is brought is for all of them, and yarn ends in
    /// the first row of its colour that what is on hand does not make.
    #[test]
    fn runs_and_yarn_are_those_of_the_rows(
        days in "[1-4]{31}", rows_max in 1..40_u16, hand in 0..200_u32,
    ) {
        let mut maren = Talker::working_in("2027-02-01 03:00", Fabric::DEFAULT).answering(&days);
        maren.types("worked 6");
        let (at, today) = (maren.now, maren.book().hours().day_at(maren.now));
        // The colour of the first row took a gram a row; then there is so much of it.
        let yarn = YarnId(days.as_bytes()[0] - b'0');
        let since = maren.book().rows_in(yarn);
        let book = maren.maker.book.as_mut().unwrap();
        let grams = [(1000, 0), (1000 - 10 * since, since)];
        for (tenths, rows) in grams {
            let entry = Entry { kind: EntryKind::Weighing(Tenths(tenths)), rows, at };
            book.apply(&Change::Stocked { yarn, entry });
        }
        let entry = Entry { kind: EntryKind::Weighing(Tenths(hand)), rows: since, at };
        book.apply(&Change::Stocked { yarn, entry });
        let Standing::At(found) = sitting(book, today, rows_max) else { unreachable!() };
        let lines = &found.lines;
        prop_assert_eq!(runs(lines).flatten().collect::<Vec<_>>(), lines.iter().collect::<Vec<_>>());
        let colours: Vec<YarnId> = runs(lines).map(|run| run[0].colour.yarn().unwrap()).collect();
        prop_assert!(colours.windows(2).all(|pair| pair[0] != pair[1]));
        let brought = bring(book, lines);
        let all: u16 = brought.iter().map(|it| it.rows).sum();
        prop_assert_eq!(usize::from(all), lines.len());
        let of: Vec<RowNumber> = lines
            .iter()
            .filter(|line| line.colour.yarn() == Some(yarn))
            .map(|line| line.row.number)
            .collect();
        // A gram a row: whole grams are whole rows.
        let made = usize::try_from(hand / 10).unwrap();
        let ends = brought.iter().find(|it| it.yarn == yarn).and_then(|it| it.ends);
        prop_assert_eq!(ends.map(|ends| ends.row), of.get(made).copied());
        let others = brought.iter().filter(|it| it.yarn != yarn);
        prop_assert!(others.clone().all(|it| it.ends.is_none()));
    }
}

/// In the night of 31 January: 20 days of Shingle, 11 of Kelp.
fn maren() -> Talker {
    Talker::working_in("2027-02-01 03:00", Fabric::DEFAULT)
        .answering("4444444444444444444433333333333")
}
