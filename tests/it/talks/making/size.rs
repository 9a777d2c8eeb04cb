//! The swatch in the forms people type it, the sizes it gives, squares, categories, layouts.

use duskrow::blanket::size::{Basis, Swatch};

use super::{maren, undone};

#[test]
fn a_swatch_is_read_in_the_forms_people_type() {
    let cm = Basis::TenCentimetres;
    let inches = Basis::FourInches;
    let cases: [(&[&str], (u16, u16), Basis); 4] = [
        (
            &["14 x 18", "14x18", "14 18", "14×18", "14*18", "14, 18", "14 X 18.", "14/18"],
            (140, 180),
            cm,
        ),
        (
            &[
                "14.5 sts 18 rows",
                "14,5 x 18",
                "14,5 18",
                "14.5sts x 18rows",
                "14.5 stitches and 18 rows",
                "18 rows, 14.5 sts",
                "14.5 sts 18",
                "14.5 by 18 over 10 cm",
                "14.50 18 10cm",
            ],
            (145, 180),
            cm,
        ),
        (
            &["14 x 18 over 4 in", "14 x 18 in 4 inches", "14 18 4\"", "14 sts 18 rows 4in"],
            (140, 180),
            inches,
        ),
        (&["80 120", "80.0 x 120,0"], (800, 1200), cm),
    ];
    for (all, tenths, basis) in cases {
        for typed in all {
            let mut maren = maren();
            maren.does(&["/stitch", "[Swatch]"]);
            let said = maren.types(typed);
            let swatch = Swatch::from_tenths(tenths.0, tenths.1, basis).unwrap();
            assert_eq!(maren.book().fabric().swatch, Some(swatch), "{typed}: {said}");
        }
    }
}

#[test]
fn what_is_no_swatch_is_refused() {
    for typed in [
        "14",
        "14,18",
        "14.18",
        "-14 x 18",
        "1e9 18",
        "14 x",
        "14 x 18 x 2",
        "14 18 over 5 cm",
        "14 cats 18 rows",
        "14.123 18",
        "NaN 18",
        "14..5 18",
        "14 rows 18 rows",
    ] {
        let mut maren = maren();
        maren.does(&["/stitch", "[Swatch]"]);
        let before = maren.maker.clone();
        let said = maren.types(typed);
        assert!(said.starts_with("I do not know the swatch "), "{typed}: {said}");
        assert_eq!(maren.maker, before, "{typed}");
    }
}

#[test]
fn the_basis_is_chosen_by_a_button_and_kept_with_the_numbers() {
    let mut maren = maren();
    let said = maren.does(&["/stitch", "[Swatch]"]);
    assert_eq!(said, "Swatch: none yet.\nType the stitches and rows over 10 cm, like 14 x 18.");
    let said = maren.taps("Measured over 4 in");
    assert_eq!(said, "Swatch: none yet.\nType the stitches and rows over 4 in, like 14 x 18.");
    let said = undone(&mut maren, &["14 x 18"]);
    assert!(
        said.starts_with(
            "Swatch: 14 stitches and 18 rows over 4 in.\n\
             I take 4 in as 10 cm, as yarn labels do. It is 1.6 % more."
        ),
        "{said}"
    );
    // The next one is asked for over the same.
    assert!(maren.taps("Change").ends_with("Type the stitches and rows over 4 in, like 14 x 18."));
    assert_eq!(maren.labels()[2], "Measured over 10 cm");
}

/// 33 rows at 14 stitches and 18 rows: 18.33 cm high; square at 33 x 14 / 18 = 25.67 stitches.
/// Categories and hooks: Craft Yarn Council, Standard Yarn Weight System (seen in reprints).
#[test]
fn a_swatch_gives_the_size_of_a_block_its_squares_and_its_yarn() {
    let mut maren = maren();
    maren.does(&["/stitch", "[Width]", "36", "/stitch", "[Swatch]"]);
    let said = maren.types("14 x 18");
    assert_eq!(
        said,
        "Swatch: 14 stitches and 18 rows over 10 cm.\n\
         A block of 36 stitches and 33 rows is 25.7 cm wide and 18.3 cm high (10.1 by 7.2 in).\n\
         Nearest to a square:\n\
         25 stitches: 4.8 mm narrower than high (2.6 %).\n\
         26 stitches: 2.4 mm wider than high (1.3 %).\n\
         Yarn categories with this gauge: 3 (hook 4.5 to 5.5 mm), 4 (hook 5.5 to 6.5 mm)."
    );
    assert_eq!(maren.labels(), ["Undo", "Take 25 stitches", "Take 26 stitches", "Change", "Back"]);
    let said = undone(&mut maren, &["[Take 26 stitches]"]);
    assert!(said.starts_with("Width: 26 stitches.\nTo begin a block: chain 27."), "{said}");
}

/// A published worked example in a technique article: 50 stitches at 14 stitches and 18 rows over
/// 4 inches want 64 rows.
#[test]
fn sixty_four_rows_at_14_by_18_want_50_stitches() {
    let mut maren = maren();
    maren.does(&["/stitch", "[Blocks]", "[Rows of a block]", "64"]);
    let said = maren.does(&["/stitch", "[Swatch]", "14 x 18 over 4 in"]);
    assert!(said.contains("\n50 stitches: 1.6 mm wider than high (0.4 %)."), "{said}");
}

#[test]
fn only_a_swatch_of_single_crochet_or_stockinette_has_categories() {
    for (code, categories) in [
        ("s", Some("Yarn category with this gauge: 2 (hook 3.5 to 4.5 mm).")),
        ("t", Some("Yarn category with this gauge: 4 (needles 4.5 to 5.5 mm).")),
        ("lc", None),
        ("h1", None),
        ("g1", None),
        ("oc6.1", None),
    ] {
        let mut maren = maren();
        maren.taps_token(&format!("1|make|stitch|{code}|0"));
        let said = maren.does(&["/stitch", "[Swatch]", "18 x 24"]);
        match categories {
            Some(line) => assert!(said.ends_with(line), "{code}: {said}"),
            None => assert!(!said.contains("categor"), "{code}: {said}"),
        }
    }
}

#[test]
fn linen_is_square_at_the_widths_it_allows() {
    // 33 x 16 / 20 = 26.4: the even counts 26 and 28.
    let mut maren = maren();
    maren.taps_token("1|make|stitch|lc|0");
    let said = maren.does(&["/stitch", "[Swatch]", "16 x 20"]);
    assert!(
        said.ends_with(
            "A block of 33 rows is 16.5 cm (6.5 in) high.\nNearest to a square:\n\
             26 stitches: 2.5 mm narrower than high (1.5 %).\n\
             28 stitches: 10.0 mm wider than high (6.1 %)."
        ),
        "{said}"
    );
}

/// Seams and edges by arithmetic: 3 by 4 square blocks have 17 seams of one side, 14 sides around.
#[test]
fn a_layout_gives_the_whole_blanket_with_joins_and_border() {
    let mut maren = maren();
    let said = maren.does(&["/stitch", "[Size of the blanket]"]);
    assert_eq!(
        said,
        "Size of the blanket\nThere is no layout yet for 12 blocks.\nBorder: none.\n\
         For sizes I need a swatch and a width."
    );
    // A block of 20 by 20 cm.
    maren.does(&["[Swatch]", "16.5 x 16.5", "/stitch", "[Width]", "33"]);
    maren.does(&["/stitch", "[Size of the blanket]", "[Blocks side by side]"]);
    assert_eq!(maren.labels(), ["2", "3", "4", "6", "Back"]);
    let said = undone(&mut maren, &["[3]"]);
    assert_eq!(
        said,
        "Size of the blanket\n3 blocks side by side, 4 high.\nBorder: none.\n\
         A block is 20.0 cm wide and 20.0 cm high (7.9 by 7.9 in).\n\
         The whole blanket is 60.0 cm wide and 80.0 cm high (23.6 by 31.5 in).\n\
         Seams: 3.4 m in all. If you join the columns first, there are 11 seams.\n\
         Yarn for them, as a guess: 13.5 m sewn, 20.3 m in slip stitch, 22.0 m to 30.5 m in \
         single crochet (US).\n\
         The edge is 2.8 m long without a border."
    );
    maren.taps("Border");
    let said = undone(&mut maren, &["2"]);
    // Two rounds as high as two rows: 2 x 10 / 16.5 cm on each side.
    assert!(said.contains("The whole blanket is 62.4 cm wide and 82.4 cm high"), "{said}");
    assert!(said.contains("The border takes about 30.8 m to 44.8 m of yarn."), "{said}");
}

#[test]
fn thirteen_blocks_have_one_left_for_the_last_line() {
    let mut maren = super::from("2027-01-15");
    maren.does(&["/stitch", "[Size of the blanket]", "[Blocks side by side]"]);
    assert_eq!(maren.labels(), ["2", "3", "4", "5", "6", "Back"]);
    let said = maren.taps("4");
    assert!(said.contains("4 blocks side by side, 4 high. The last line has 1 block."), "{said}");
}

#[test]
fn a_layout_of_more_blocks_than_there_are_is_none_and_undo_brings_it_back() {
    let mut maren = maren();
    maren.does(&["/stitch", "[Size of the blanket]", "[Blocks side by side]", "12"]);
    maren.does(&["/stitch", "[Blocks]", "[Where a block ends]", "[Every so many days]"]);
    undone(&mut maren, &["60"]);
    let said = maren.does(&["/stitch", "[Size of the blanket]"]);
    assert!(said.contains("There is no layout yet for 7 blocks."), "{said}");
}

#[test]
fn one_strip_is_its_own_layout() {
    let mut maren = maren();
    maren.does(&["/stitch", "[Swatch]", "16.5 x 16.5", "/stitch", "[Width]", "33"]);
    maren.does(&["/stitch", "[Blocks]", "[Where a block ends]", "[One strip]"]);
    maren.taps("Make it one strip");
    let said = maren.does(&["/stitch", "[Size of the blanket]"]);
    assert_eq!(
        said,
        "Size of the blanket\nThe blanket is one strip.\nBorder: none.\n\
         The whole blanket is 20.0 cm wide and 221.2 cm high (7.9 by 87.1 in).\n\
         The edge is 4.8 m long without a border."
    );
    assert_eq!(maren.labels(), ["Border", "Back"]);
}
