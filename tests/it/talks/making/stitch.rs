//! Stitch, width, side, carrying, names: what each says back, and what a stitch does not allow.

use duskrow::blanket::stitch::{Craft, LinenEdge, Stitch, Width};
use duskrow::blanket::{BlockNumber, Carry, Side};

use super::{maren, undone};

#[test]
fn every_stitch_can_be_chosen_and_taken_back() {
    let cases: [(&[&str], Stitch, &str); 11] = [
        (
            &["[Linen stitch]", "[Chain-2 edge]"],
            Stitch::Linen(LinenEdge::ChainTwo),
            "linen stitch, chain-2 edge",
        ),
        (
            &["[Linen stitch]", "[Single crochet edges (US)]"],
            Stitch::Linen(LinenEdge::Single),
            "linen stitch, single crochet edges (US)",
        ),
        (
            &["[Linen stitch]", "[Single crochet at end (US)]"],
            Stitch::Linen(LinenEdge::SingleAtEnd),
            "linen stitch, single crochet at end (US)",
        ),
        (
            &["[Half double crochet (US)]", "[It counts]"],
            Stitch::HalfDouble { chain_counts: true },
            "half double crochet (US), the turning chain counts",
        ),
        (
            &["[Half double crochet (US)]", "[It does not count]"],
            Stitch::HalfDouble { chain_counts: false },
            "half double crochet (US), the turning chain does not count",
        ),
        (
            &["[Double crochet (US)]", "[It counts]"],
            Stitch::Double { chain_counts: true },
            "double crochet (US), the turning chain counts",
        ),
        (
            &["[Garter stitch]", "[A ridge]"],
            Stitch::Garter { day_is_ridge: true },
            "garter stitch, a ridge of 2 rows a day",
        ),
        (
            &["[Garter stitch]", "[A row]"],
            Stitch::Garter { day_is_ridge: false },
            "garter stitch, a row a day",
        ),
        (&["[Stockinette]"], Stitch::Stockinette, "stockinette"),
        (
            &["[Your own stitch]", "[Crochet]", "6 + 1"],
            Stitch::Own { multiple: 6, offset: 1, craft: Craft::Crochet },
            "your own, in crochet",
        ),
        (
            &["[Your own stitch]", "[Knitting]", "multiple of 4"],
            Stitch::Own { multiple: 4, offset: 0, craft: Craft::Knit },
            "your own, knitted",
        ),
    ];
    for (acts, stitch, name) in cases {
        let mut maren = maren();
        maren.does(&["/stitch", "[Stitch]"]);
        let said = undone(&mut maren, acts);
        assert!(said.starts_with(&format!("Stitch\nNow: {name}.\n")), "{said}");
        assert_eq!(maren.book().fabric().stitch, stitch);
        let home = maren.does(&["/stitch"]);
        assert!(home.contains(&format!("\nStitch: {name}.\n")), "{home}");
    }
}

/// Checks of the table of stitches: 40 stitches of linen begin on 42 chains; a chain of 26 gives
/// 12 single crochet. The rest is common practice (no source) and arithmetic.
#[test]
fn a_width_is_said_back_as_the_set_up_of_a_block() {
    for (code, width, expected) in set_ups() {
        let mut maren = maren();
        maren.taps_token(&format!("1|make|stitch|{code}|0"));
        maren.does(&["/stitch", "[Width]"]);
        let said = undone(&mut maren, &[width]);
        assert_eq!(
            said,
            format!("Width: {width} stitches.\nTo begin a block: {expected}"),
            "{code} {width}"
        );
    }
    // Not turned, nothing is said of turning.
    let mut maren = maren();
    maren.does(&["/stitch", "[Stitch]", "[Do not turn]", "/stitch", "[Width]"]);
    let said = maren.types("36");
    assert!(said.ends_with("cut the yarn. The next row begins at the same edge as this one."));
}

/// A stitch by its code, a width, and how a block begins.
fn set_ups() -> [(&'static str, &'static str, String); 9] {
    let turn = "At the end of each row,";
    [
        (
            "s",
            "36",
            format!(
                "chain 37. The first stitch goes in the 2nd chain from the hook.\n\
                 Each row: 36 single crochet (US).\n{turn} chain 1 and turn."
            ),
        ),
        (
            "lc",
            "40",
            format!(
                "chain 42. The first stitch goes in the 4th chain from the hook.\n\
                 Each row: 20 single crochet (US), 19 chain-1 spaces, and the chain-2 space at the \
                 edge.\n\
                 {turn} chain 2 and turn."
            ),
        ),
        (
            "lc",
            "24",
            format!(
                "chain 26. The first stitch goes in the 4th chain from the hook.\n\
                 Each row: 12 single crochet (US), 11 chain-1 spaces, and the chain-2 space at the \
                 edge.\n\
                 {turn} chain 2 and turn."
            ),
        ),
        (
            "ls",
            "37",
            format!(
                "chain 38. The first stitch goes in the 2nd chain from the hook.\n\
                 Rows 1, 3, 5: 19 single crochet (US) and 18 chain-1 spaces between.\n\
                 Rows 2, 4, 6: 20 single crochet (US) and 17 chain-1 spaces between.\n\
                 {turn} chain 1 and turn."
            ),
        ),
        (
            "h1",
            "36",
            format!(
                "chain 37. The first stitch goes in the 3rd chain from the hook.\n\
                 Each row: 35 half double crochet (US), and the turning chain as one more.\n\
                 {turn} chain 2 and turn."
            ),
        ),
        (
            "d0",
            "36",
            format!(
                "chain 39. The first stitch goes in the 4th chain from the hook.\n\
                 Each row: 36 double crochet (US).\n{turn} chain 3 and turn."
            ),
        ),
        ("g1", "36", "cast on 36.\nEach row: knit 36.".to_owned()),
        (
            "t",
            "36",
            "cast on 36.\nEach row: 36, knit on the right side, purl on the wrong side.".to_owned(),
        ),
        ("oc6.1", "31", format!("as your own pattern says.\n{turn} turn.")),
    ]
}

#[test]
fn a_width_the_stitch_does_not_allow_names_the_nearest_and_takes_them_by_a_tap() {
    let cases = [
        ("lc", "25", "The nearest widths are 24 and 26."),
        ("ls", "24", "The nearest widths are 23 and 25."),
        ("le", "24", "The nearest widths are 23 and 25."),
        ("ok6.1", "30", "The nearest widths are 25 and 31."),
        ("s", "1", "The nearest width is 2."),
        ("s", "900", "The nearest width is 400."),
        ("s", "999999", "The nearest width is 400."),
    ];
    for (code, typed, expected) in cases {
        let mut maren = maren();
        maren.taps_token(&format!("1|make|stitch|{code}|0"));
        maren.does(&["/stitch", "[Width]"]);
        let before = maren.maker.clone();
        let said = maren.types(typed);
        assert!(said.contains("does not allow a width of "), "{said}");
        assert!(said.ends_with(&format!("Nothing was changed.\n{expected}")), "{said}");
        assert_eq!(maren.maker, before, "{code} {typed}");
        let label = maren.labels()[0].to_owned();
        assert!(maren.taps(&label).starts_with("Width: "), "{label}");
    }
}

#[test]
fn a_stitch_that_does_not_allow_the_width_says_so_and_offers_the_nearest() {
    let mut maren = maren();
    maren.does(&["/stitch", "[Width]", "37", "/stitch", "[Swatch]", "14 x 18"]);
    maren.does(&["/stitch", "[Stitch]", "[Linen stitch]"]);
    let said = undone(&mut maren, &["[Chain-2 edge]"]);
    assert_eq!(
        said,
        "Stitch\nNow: linen stitch, chain-2 edge.\n\
         Turned after each row. Row 1 is on the right side.\n\
         It does not allow the 37 stitches you had, so there is no width now. \
         The nearest widths are 36 and 38.\n\
         The swatch of 14 stitches and 18 rows over 10 cm was of another stitch, so there is no \
         swatch now."
    );
    let labels = maren.labels();
    assert_eq!(
        &labels[..4],
        ["Undo", "Take 36 stitches", "Take 38 stitches", "Keep swatch 14 x 18"]
    );
    maren.taps("Keep swatch 14 x 18");
    assert_eq!(maren.book().fabric().swatch.unwrap().tenths(), (140, 180));
    // Another form of the same stitch keeps its swatch.
    maren.does(&["/stitch", "[Stitch]", "[Linen stitch]", "[Single crochet edges (US)]"]);
    assert!(maren.book().fabric().swatch.is_some());
}

#[test]
fn what_has_to_be_turned_says_why_in_one_sentence() {
    let chains = "Linen stitch with a chain-2 edge needs turned work, because without a turn its \
        chains lie over its spaces. Nothing was changed.";
    let slants = "Linen stitch with single crochet at end (US) needs turned work, because without \
        a turn it slants, by about 31 stitches in 33 rows. Nothing was changed.";
    let flat = "Flat knitting needs turned work, because its rows go back and forth. \
        Nothing was changed.";
    let cases: [(&str, &[&str], &str); 4] = [
        ("lc", &["[Linen stitch]", "[Chain-2 edge]"], chains),
        ("le", &["[Linen stitch]", "[Single crochet at end (US)]"], slants),
        ("t", &["[Stockinette]"], flat),
        ("g1", &["[Garter stitch]", "[A ridge]"], flat),
    ];
    for (code, acts, expected) in cases {
        // First the stitch, then not turned.
        let mut maren = maren();
        maren.taps_token(&format!("1|make|stitch|{code}|0"));
        let before = maren.book().clone();
        assert_eq!(maren.does(&["/stitch", "[Stitch]", "[Do not turn]"]), expected, "{code}");
        assert_eq!(*maren.book(), before);
        // First not turned, then the stitch: one tap turns and takes it.
        let mut maren = super::maren();
        maren.does(&["/stitch", "[Stitch]", "[Do not turn]", "/stitch", "[Stitch]"]);
        let before = maren.book().clone();
        assert_eq!(maren.does(acts), expected, "{code}");
        assert_eq!(*maren.book(), before);
        undone(&mut maren, &["[Turn the work and take it]"]);
        assert!(maren.book().fabric().turned && maren.book().fabric().check().is_ok());
    }
    for code in ["ls", "s", "h0", "h1", "d0", "d1", "oc6.1"] {
        let mut maren = maren();
        maren.taps_token(&format!("1|make|stitch|{code}|0"));
        maren.does(&["/stitch", "[Stitch]", "[Do not turn]"]);
        assert!(!maren.book().fabric().turned, "{code}");
    }
}

#[test]
fn row_1_can_face_either_side_and_the_rows_follow() {
    let mut maren = maren();
    maren.types("1 Jan Smooth");
    maren.does(&["/stitch", "[Stitch]"]);
    let said = undone(&mut maren, &["[Row 1 on the wrong side]"]);
    assert!(said.contains("Row 1 is on the wrong side."), "{said}");
    assert_eq!(maren.book().fabric().first_side, Side::Wrong);
    assert!(maren.types("/rows").contains("1 WS Fri 1 Brick"));
    // Not turned, there is no choice of sides.
    maren.does(&["/stitch", "[Stitch]", "[Do not turn]"]);
    assert!(!maren.labels().iter().any(|label| label.starts_with("Row 1 on")));
    assert!(maren.types("/rows").contains("1 RS Fri 1 Brick"));
}

#[test]
fn carrying_says_what_it_means_and_how_many_ends_it_saves() {
    let mut maren = maren();
    let said = maren.does(&["/stitch", "[Carrying]"]);
    assert_eq!(
        said,
        "Carrying\nCarrying: never.\n\
         A carried colour goes up the side and is picked up later. It is not cut.\n\
         Never: a colour is cut where another begins.\n\
         At most 3 rows: a colour left at the end of row 4 can go on in row 7.\n\
         At most 5 rows: it can go on in row 9 too."
    );
    // Rows 1 to 9, by hand: Smooth in 1 and 4 and 9, so that 4 comes 3 after 1, and 9 comes 5
    // after 4; Rough in 2, 3; Ordinary 5 to 8. Five runs of two ends each.
    for (days, tier) in [("1", "Smooth"), ("2", "Rough"), ("3", "Rough"), ("4", "Smooth")] {
        maren.types(&format!("{days} Jan {tier}"));
    }
    for day in 5..=8 {
        maren.types(&format!("{day} Jan Ordinary"));
    }
    maren.types("9 Jan Smooth");
    let said = maren.does(&["/stitch", "[Carrying]"]);
    assert!(
        said.ends_with(
            "January, 9 rows so far: 10 ends if never carried.\n\
             At most 3 rows saves 2 of them, at most 5 rows saves 4."
        ),
        "{said}"
    );
    let said = undone(&mut maren, &["[At most 5 rows]"]);
    assert!(said.starts_with("Carrying\nCarrying: at most 5 rows."), "{said}");
    assert_eq!(maren.book().fabric().carry, Carry::Five);
    assert!(maren.types("/rows").contains("4 WS Mon 4 Brick, carry"));
    maren.does(&["/stitch", "[Stitch]", "[Do not turn]"]);
    let said = maren.does(&["/stitch", "[Carrying]"]);
    assert!(said.ends_with("The work is not turned, so each row is cut: nothing is carried."));
}

/// US and UK words for one stitch (common practice): sc is dc, hdc is htr, dc is tr; gauge is
/// tension. A bare "dc" would be either.
#[test]
fn the_names_are_of_the_terms_the_maker_chose_and_say_which() {
    let mut maren = maren();
    maren.does(&["/stitch", "[Names and hand]"]);
    let said = undone(&mut maren, &["[UK names]"]);
    assert_eq!(
        said,
        "Names and hand\nStitch names: UK.\nSingle crochet (US) is double crochet (UK).\n\
         You work right-handed.\nRight side and wrong side are the same for both hands."
    );
    maren.does(&["/stitch", "[Stitch]"]);
    let labels = maren.labels().join(", ");
    assert!(labels.contains("Double crochet (UK), Half treble crochet (UK), Treble crochet (UK)"));
    let said = maren.does(&["/stitch", "[Width]", "36"]);
    assert!(said.contains("Each row: 36 double crochet (UK)."), "{said}");
    let said = maren.does(&["/stitch", "[Swatch]", "14 x 18"]);
    assert!(said.contains("Yarn categories with this tension: "), "{said}");
    maren.does(&["/stitch", "[Names and hand]"]);
    let said = undone(&mut maren, &["[Left-handed]"]);
    assert!(said.contains("You work left-handed."), "{said}");
    assert!(maren.book().fabric().left_handed);
}

#[test]
fn a_ridge_a_day_is_two_rows_and_both_kinds_of_day_keep_their_row() {
    let mut maren = maren();
    maren.does(&["1 Jan Smooth", "2 Jan Rough"]);
    maren.does(&["/stitch", "[Stitch]", "[Garter stitch]", "[A ridge]"]);
    maren.does(&["/rows", "[Worked]"]);
    assert_eq!(maren.book().worked(BlockNumber(1)).len(), 2);
    // 33 ridges are 66 rows: common practice.
    maren.does(&["/stitch", "[Width]", "40", "/stitch", "[Swatch]"]);
    let said = maren.types("20 x 40");
    assert!(said.contains("A block of 40 stitches and 66 rows is 20.0 cm wide and 16.5 cm high"));
    assert_eq!(maren.book().fabric().width, Some(Width(40)));
}
