//! Blocks: where one ends, its rows, its filler rows, a first and a last one with few days.

use duskrow::blanket::{Block, Cut, Fillers, RowContent};

use super::{Talker, from, maren, undone};

#[test]
fn it_is_reached_from_the_settings_and_by_a_word_and_back_leads_back() {
    let mut maren = maren();
    let settings = maren.types("/settings");
    let home = maren.taps("Blocks and stitch");
    assert_eq!(
        home,
        "How the blanket is made\n\
         Each block is a calendar month. There are 12.\n\
         A block has 33 rows. 2 to 5 of them are filler rows.\n\
         Stitch: single crochet (US).\n\
         Turned after each row. Row 1 is on the right side.\n\
         Width: none yet.\n\
         Swatch: none yet.\n\
         Carrying: never."
    );
    assert_eq!(
        maren.labels(),
        [
            "Blocks",
            "Stitch",
            "Width",
            "Swatch",
            "Carrying",
            "Size of the blanket",
            "Names and hand",
            "Back"
        ]
    );
    assert_eq!(maren.taps("Back"), settings);
    assert_eq!(maren.types("/stitch"), home);
    // One message, edited in place.
    let messages = maren.messages.len();
    maren.does(&["[Blocks]", "[Where a block ends]", "[Back]", "[Back]", "[Stitch]", "[Back]"]);
    assert_eq!(maren.messages.len(), messages);
    assert_eq!(maren.messages[messages - 1].text, home);
}

#[test]
fn every_cut_can_be_chosen_and_taken_back() {
    let cases: [(&[&str], Cut, u16, &str); 5] = [
        (
            &["[Months from the first day]"],
            Cut::FromStart,
            33,
            "Blocks\nEach block is a month from the first day on. There are 12.\n\
             A block has 33 rows. 2 to 5 of them are filler rows.\n\
             Filler rows come after the last day.",
        ),
        (
            &["[Every so many days]", "10"],
            Cut::Every(10),
            10,
            "Blocks\nEach block is 10 days. There are 37.\nA block has 10 rows and no filler row.\n\
             Block 37 has 5 days.\nSuch a block has 10 rows too.",
        ),
        (
            &["[Every so many days]", "every 60 days"],
            Cut::Every(60),
            60,
            "Blocks\nEach block is 60 days. There are 7.\nA block has 60 rows and no filler row.\n\
             Block 7 has 5 days.\nSuch a block has 60 rows too.",
        ),
        (
            &["[Every so many days]", "1"],
            Cut::Every(1),
            1,
            "Blocks\nEach block is 1 day. There are 365.\nA block has 1 row and no filler row.",
        ),
        (
            &["[One strip]", "[Make it one strip]"],
            Cut::Strip,
            33,
            "Blocks\nOne strip of 365 rows, one for each day.",
        ),
    ];
    for (acts, cut, rows, expected) in cases {
        let mut maren = maren();
        maren.does(&["/stitch", "[Blocks]", "[Where a block ends]"]);
        assert_eq!(undone(&mut maren, acts), expected, "{acts:?}");
        let pieces = maren.book().plan().pieces();
        assert_eq!((pieces.cut, pieces.rows), (cut, rows), "{acts:?}");
        // From there, months are the months they were.
        maren.does(&["[Where a block ends]", "[Calendar months]"]);
        assert_eq!(maren.book().plan().pieces(), duskrow::blanket::Pieces::DEFAULT, "{acts:?}");
    }
}

#[test]
fn the_filler_rows_of_blocks_of_days_stay_as_many() {
    let mut maren = maren();
    maren.does(&["/stitch", "[Blocks]", "[Where a block ends]", "[Every so many days]", "10"]);
    maren.does(&["[Rows of a block]", "13"]);
    let said = maren.does(&["[Where a block ends]", "[Every so many days]", "20"]);
    assert!(said.contains("A block has 23 rows. 3 of them are filler rows."), "{said}");
}

#[test]
fn one_strip_says_how_high_it_would_be_before_it_begins() {
    // 365 rows at 16 rows over 10 cm are 228 cm: arithmetic.
    let mut maren = maren();
    let before = maren.book().clone();
    let said = maren.does(&["/stitch", "[Blocks]", "[Where a block ends]", "[One strip]"]);
    assert_eq!(
        said,
        "One strip would be 365 rows in one piece.\n\
         There is no swatch yet. For example, at 16 rows over 10 cm it would be 228.1 cm \
         (89.8 in) high.\n\
         Nothing is changed yet."
    );
    assert_eq!(*maren.book(), before);
    assert_eq!(maren.labels(), ["Make it one strip", "Back"]);
    // By the maker's own swatch: 365 / 20 x 10 cm.
    maren.does(&["/stitch", "[Swatch]", "16 x 20"]);
    let said = maren.does(&["/stitch", "[Blocks]", "[Where a block ends]", "[One strip]"]);
    assert!(said.contains("By your swatch it would be 182.5 cm (71.9 in) high."), "{said}");
    // A leap year, with two rows a day.
    let mut ridges = from("2028-01-01");
    ridges.does(&["/stitch", "[Stitch]", "[Garter stitch]", "[A ridge]"]);
    let said = ridges.does(&["/stitch", "[Blocks]", "[Where a block ends]", "[One strip]"]);
    assert!(said.starts_with("One strip would be 732 rows in one piece."), "{said}");
}

#[test]
fn each_place_of_filler_rows_is_what_its_line_says() {
    // Rows of a 31-day block of 34 rows: filler rows before and after its days.
    let cases = [
        ("After the last day", Fillers::After, 0, 3),
        ("First and last", Fillers::FirstAndLast, 1, 2),
        ("Before the first day", Fillers::Before, 3, 0),
        ("Half and half", Fillers::Balanced, 1, 2),
    ];
    for (label, fillers, before, after) in cases {
        let mut maren = maren();
        maren.does(&["/stitch", "[Blocks]", "[Rows of a block]", "34"]);
        let asked = maren.does(&["[Filler rows]"]);
        assert!(asked.contains("A block has 3 to 6 filler rows."), "{asked}");
        assert!(asked.contains(&format!("\n{label}: ")), "{asked}");
        maren.taps(label);
        assert_eq!(maren.book().plan().pieces().fillers, fillers);
        let plan = maren.book().plan();
        let rows = plan.rows(&plan.blocks().next().unwrap());
        let filler = |row: &&duskrow::blanket::Row| row.content == RowContent::Filler;
        assert_eq!(rows.iter().take_while(filler).count(), before, "{label}");
        assert_eq!(rows.iter().rev().take_while(filler).count(), after, "{label}");
    }
}

#[test]
fn a_first_and_last_block_with_few_days_keep_their_rows_or_are_worked_short() {
    let mut maren = from("2027-01-15");
    let said = maren.does(&["/stitch", "[Blocks]"]);
    // Thirteen blocks: a year from the 15th in calendar months.
    assert!(said.contains("Each block is a calendar month. There are 13."), "{said}");
    assert!(
        said.ends_with("Block 1 has 17 days. Block 13 has 14 days.\nSuch a block has 33 rows too."),
        "{said}"
    );
    let asked = maren.taps("First and last block");
    assert_eq!(
        asked,
        "First and last block\nNow: it keeps its rows.\n\
         A first or last block can have few days.\nBlock 1 has 17 days. Block 13 has 14 days.\n\
         Keep its rows: filler rows bring it to 33 rows, as high as the others.\n\
         Work it short: it has a row for each of its days, and no filler row."
    );
    let fillers = |maren: &Talker| maren.book().plan().blocks().map(|it| it.fillers()).sum::<u16>();
    assert_eq!(fillers(&maren), 64);
    let said = undone(&mut maren, &["[Work it short]"]);
    assert!(said.ends_with("Such a block is worked short: a row for each of its days."), "{said}");
    let rows: Vec<u16> = maren.book().plan().blocks().map(|block: Block| block.rows).collect();
    assert_eq!((rows[0], rows[1], rows[12]), (17, 33, 14));
    // Where all are whole, that is said.
    let said = from("2027-01-01").does(&["/stitch", "[Blocks]", "[First and last block]"]);
    assert!(said.contains("In this blanket every block has all its days."), "{said}");
}

#[test]
fn a_strip_has_no_rows_a_block_and_an_old_button_says_so() {
    let mut maren = maren();
    maren.does(&["/stitch", "[Blocks]"]);
    let old = maren.messages.len() - 1;
    let rows = maren.messages[old].keys[1].1.clone();
    maren.does(&["/stitch", "[Blocks]", "[Where a block ends]", "[One strip]"]);
    maren.taps("Make it one strip");
    assert_eq!(maren.labels(), ["Undo", "Where a block ends", "Back"]);
    assert!(maren.taps_button(rows, old).starts_with("Blocks\nOne strip of 365 rows"));
    let said = maren.taps_token("1|make|rows|40");
    assert_eq!(said, "One strip has one row for each day. Nothing was changed.");
}

#[test]
fn answers_stay_with_their_days_whatever_the_blocks_are() {
    let mut maren = maren();
    maren.does(&["1 Jan Smooth", "13 Jan Rough"]);
    let answers = maren.book().answers().clone();
    maren.does(&["/stitch", "[Blocks]", "[Where a block ends]", "[Every so many days]", "7"]);
    assert_eq!(*maren.book().answers(), answers);
    let plan = maren.book().plan();
    let (block, row) = plan.row_of("2027-01-13".parse().unwrap()).unwrap();
    assert_eq!((block.number.0, row.number.0), (2, 6));
    assert!(maren.types("/rows").starts_with("Block 1 of 53. Next: row 1 of 7."));
}
