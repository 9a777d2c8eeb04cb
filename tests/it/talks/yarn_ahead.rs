//! What `/yarn` says ahead: chances, dates, what to buy, and what a maker says once about yarn.

use duskrow::blanket::stock::{Ball, Entry, EntryKind, Tenths};
use duskrow::blanket::yarn::{Ahead, Target, Units, YarnSettings};
use duskrow::blanket::{Book, Change, YarnId};
use proptest::prelude::*;

use super::talker::Talker;

#[test]
fn the_colour_that_may_run_out_first_is_on_top_with_its_chance_and_its_dates() {
    let mut maren = weighed();
    maren.types("Brick 200");
    let list = maren.types("/yarn");
    let lines: Vec<&str> = list.lines().collect();
    assert_eq!(lines[0], "If your days go on much as they have:");
    assert!(lines[1].starts_with("Shingle: 150 g, about 120 rows. It lasts in about "), "{list}");
    assert!(lines[2].starts_with("Brick: 200 g, about 160 rows."), "{list}");
    let detail = maren.taps("Shingle");
    for part in [
        "By weighing, a row takes about 1.25 g: ",
        "\nIf your days go on much as they have, it lasts in about ",
        " That it lasts is ",
        "\nIt could run out as early as the row of ",
        "\nBy the row of ",
    ] {
        assert!(detail.contains(part), "{part:?} in {detail}");
    }
    // Nobody said what a ball weighs.
    assert!(detail.contains("What a ball weighs is not known yet. Tap \"Add a ball\"."));
    maren.types("Kelp +50 lot 7");
    let said = "So that it lasts in 90 of 100 cases: buy ";
    let detail = maren.does(&["/yarn", "[Shingle]"]);
    assert!(detail.contains(said) && detail.ends_with(" of 50 g."), "{detail}");
    // The lot of its own balls comes first.
    maren.types("Shingle +50 lot 4471");
    let detail = maren.does(&["/yarn", "[Shingle]"]);
    assert!(detail.ends_with(", lot 4471 if the shop has it."), "{detail}");
}

#[test]
fn before_any_weighing_the_fabric_and_a_label_make_a_guess_and_what_lacks_is_named() {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01").without_nudges();
    let ask = |maren: &mut Talker| maren.does(&["/yarn", "[Shingle]"]);
    maren.types("Shingle +50");
    let weigh = "Weigh it, work some rows in it, then weigh it once more.";
    let said = ask(&mut maren);
    let lacking = "if I know the width (/stitch), your swatch (/stitch) and the length of a ball.";
    assert!(said.contains(&format!("{weigh} I can guess it before that, {lacking}")), "{said}");
    maren.does(&["/stitch", "[Width]", "36", "/stitch", "[Swatch]", "14 x 16"]);
    assert!(ask(&mut maren).contains("before that, if I know the length of a ball."));
    // 12.4 cm of yarn a square centimetre, 25.71 cm by 0.625 cm, and 30 cm of tails: 229.3 cm, at
    // 50 g in 85 m 1.349 g; give or take 20 %: 1.08 to 1.62 g.
    maren.types("Shingle +50 g 85 m");
    let said = ask(&mut maren);
    assert!(said.contains("\nFrom the fabric I guess 1.08 to 1.62 g a row.\n"), "{said}");
    assert!(said.contains("To know it: weigh it, work 14 rows in it"), "{said}");
    // Finer scales need fewer rows.
    maren.does(&["/yarn", "[Yarn settings]", "[Kitchen scale: 0.1 g]"]);
    assert!(ask(&mut maren).contains("weigh it, work 5 rows in it"));
    // Of a stitch nobody measured, there is no guess.
    maren.does(&["/stitch", "[Stitch]", "[Stockinette]"]);
    let said = ask(&mut maren);
    assert!(said.contains(&format!("{weigh} For this stitch I know no other way.")), "{said}");
}

#[test]
fn a_first_purchase_is_counted_from_the_guess_before_the_first_day() {
    let mut maren = Talker::with_blanket("2026-12-20 12:00", "2027-01-01").without_nudges();
    maren.does(&["/stitch", "[Width]", "36", "/stitch", "[Swatch]", "14 x 16"]);
    maren.does(&["/yarn", "[What to buy]"]);
    assert!(maren.taps("What a ball weighs").starts_with("What does the label of a ball say?"));
    maren.types("50 g 85 m");
    let middle = maren.does(&["/yarn", "[What to buy]"]);
    let basis = "if the middle of your scale is the most common:";
    assert!(middle.contains(basis) && middle.contains("I count by your guess"), "{middle}");
    maren.does(&["[How common is each tier]", "[Ordinary]", "[Most days]"]);
    let guessed = maren.does(&["[What to buy]"]);
    assert!(guessed.contains("if your days go much as you guess:"), "{guessed}");
    let balls = |list: &str, yarn: &str| -> u32 {
        let line = list.lines().find_map(|line| line.strip_prefix(&format!("{yarn}: ")));
        line.unwrap().split(' ').next().unwrap().parse().unwrap()
    };
    assert!(balls(&guessed, "Shingle") > balls(&middle, "Shingle"));
    assert!(balls(&guessed, "Rosehip") < balls(&guessed, "Shingle"));
    assert!(guessed.contains("Begin with Shingle: the most rows are expected in it."));
    assert!(guessed.contains("Buy all balls of a colour in one lot."));
    // More sure is more yarn, and for the whole blanket more than for each colour.
    maren.does(&["[Yarn settings]", "[95 of 100 cases]"]);
    let surer = maren.does(&["/yarn", "[What to buy]"]);
    assert!(balls(&surer, "Shingle") > balls(&guessed, "Shingle"), "{surer}");
    maren.does(&["[Yarn settings]", "[For the whole blanket]"]);
    let whole = maren.does(&["/yarn", "[What to buy]"]);
    assert!(whole.contains("So that no colour runs out in 95 of 100 cases"), "{whole}");
    assert!(balls(&whole, "Shingle") > balls(&surer, "Shingle"));
}

#[test]
fn the_joining_colour_is_known_and_keeps_yarn_back_for_joins_and_border() {
    let mut maren = weighed();
    maren.does(&["Harbour Blue +50 g 85 m", "Harbour Blue 50"]);
    let ask = |maren: &mut Talker| maren.does(&["/yarn", "[Harbour Blue]"]);
    let said = ask(&mut maren);
    assert!(said.contains("Yarn for joins and border is not counted."), "{said}");
    assert!(said.contains("how the blocks are joined (Yarn settings)"), "{said}");
    // 31 filler rows of a year, 2 of them in January: at 1.25 g they take 38.8 g.
    assert!(said.contains("Filler rows of blocks to come: 29."), "{said}");
    assert!(said.contains("Its rows are known. What is there is enough in "), "{said}");
    assert!(!said.contains("days go on"), "{said}");
    maren.does(&["/stitch", "[Width]", "36", "/stitch", "[Swatch]", "14 x 16"]);
    maren.does(&["/stitch", "[Size of the blanket]", "[Blocks side by side]", "3"]);
    maren.does(&["/yarn", "[Yarn settings]", "[How blocks are joined]", "[Sewn]"]);
    // 9 seams of 25.71 cm and 8 of 20.625 cm, three times, and 22 tails: 1519.3 cm, 8.94 g.
    assert!(ask(&mut maren).contains("Kept back of Harbour Blue: about 8.9 g for joins."));
    maren.does(&["/stitch", "[Size of the blanket]", "[Border]", "2"]);
    // Two rounds of 319.3 cm at 6.75 times that: 25.4 g. That is more than there is.
    let said = ask(&mut maren);
    assert!(said.contains("about 8.9 g for joins and about 25.4 g for the border."), "{said}");
    assert!(said.contains("enough in fewer than 1 of 100 cases"), "{said}");
}

#[test]
fn two_lots_are_parted_between_blocks() {
    let mut maren = weighed();
    maren.does(&["Shingle +10 lot 1", "Shingle = 160"]);
    let said = maren.does(&["/yarn", "[Shingle]"]);
    assert!(!said.contains("Lots can differ"), "{said}");
    maren.types("Shingle +150 lot 2");
    let said = maren.does(&["/yarn", "[Shingle]"]);
    assert!(said.contains("Do not change lots inside a block."), "{said}");
    let there = "If lot 1 was used first, 160 g of it and 150 g of lot 2 are there.";
    assert!(said.contains(there), "{said}");
    let plan = said.lines().find(|line| line.starts_with("Use lot ")).unwrap();
    assert!(plan.contains(" up to the end of ") && plan.contains(", then lot "), "{plan}");
}

#[test]
fn ounces_and_yards_are_said_where_they_are_wanted() {
    let mut maren = weighed();
    let said = maren.does(&["/yarn", "[Yarn settings]", "[Ounces and yards]"]);
    assert!(said.starts_with("Weights are in ounces, lengths in yards."), "{said}");
    // 150 g are 5.291 oz; a number alone is in ounces from now on.
    assert!(maren.types("/yarn").contains("Shingle: 5.29 oz, about 120 rows."));
    let said = maren.types("Kelp +1 3/4 oz 126 yd");
    assert!(said.starts_with("Kelp: 1.75 oz"), "{said}");
    assert!(maren.types("Kelp 1 1/2").starts_with("Kelp: 1.5 oz"));
    assert!(maren.types("Kelp 40 g").starts_with("Kelp: 1.41 oz"));
    maren.types("Kelp +3");
    let said = maren.does(&["/yarn", "[What to buy]"]);
    assert!(said.contains(" of 3 oz"), "{said}");
    // Twelve rows at 1.25 g are 15 g.
    let mut maren = Talker::with_blanket("2027-01-26 03:00", "2027-01-01").without_nudges();
    maren.does(&["1 Jan: 4444 4444 4444", "[Keep these 12 days]", "Shingle 100 to 90 in 8 rows"]);
    maren.does(&["/yarn", "[Yarn settings]", "[Ounces and yards]"]);
    assert!(maren.types("/rows").contains("Bring: Shingle for 12 rows, about 0.53 oz."));
}

#[test]
fn the_settings_of_yarn_are_shown_and_changed_in_place() {
    let mut maren = weighed();
    let said = maren.does(&["/yarn", "[Yarn settings]"]);
    assert!(said.contains("so much that each colour lasts in 90 of 100 cases."), "{said}");
    let messages = maren.messages.len();
    let said = maren.does(&["[80 of 100 cases]", "[For the whole blanket]"]);
    assert!(said.contains("so much that no colour runs out in 80 of 100 cases."), "{said}");
    assert!(maren.taps("For each colour").contains("each colour lasts in 80 of 100 cases."));
    assert_eq!(maren.messages.len(), messages);
    let settings = YarnSettings { target: Target::Eighty, ..YarnSettings::default() };
    assert_eq!(maren.book().yarn_settings(), &settings);
    assert_eq!(settings.units, Units::Grams);
    // A label that cannot be read changes nothing, and may be typed anew.
    maren.taps("What a ball weighs");
    let before = maren.maker.clone();
    for typed in ["many", "50 lot 1 lot 2", "3000 g", "50 g 9000 m"] {
        assert!(maren.types(typed).contains("Nothing was changed."), "{typed}");
        assert_eq!(maren.maker, before, "{typed}");
    }
    assert!(maren.types("100 g").contains("A ball is 100 g, where a colour has none yet."));
}

/// 26 January: twenty Ordinary and five Smooth days, eight rows of Shingle weighed at 1.25 g each,
/// and all rows of those days worked; 150 g of Shingle are left.
fn weighed() -> Talker {
    let mut maren = Talker::with_blanket("2027-01-26 03:00", "2027-01-01").without_nudges();
    maren.does(&[&format!("1 Jan: {}66666", "4".repeat(20)), "[Keep these 25 days]"]);
    maren.does(&["Shingle 175", "/rows 20", "[Worked]", "Shingle 150", "/rows 5", "[Worked]"]);
    maren
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// More yarn on hand never lowers the chance that it lasts, and never asks for more balls.
    #[test]
    fn more_on_hand_never_lowers_the_chance(
        days in "[1-7]{0,200}", worked in 0..25_u16, tenths in 0..20_000_u32,
        more in 1..5_000_u32, weighed in any::<bool>(),
    ) {
        let maren = Talker::with_blanket("2027-08-01 03:00", "2027-01-01").without_nudges();
        let mut maren = maren.answering(&days);
        if worked > 0 {
            maren.types(&format!("worked {worked}"));
        }
        let pair = EntryKind::Tried { before: Tenths(900), after: Tenths(790), rows: 8 };
        let ball = EntryKind::Ball(Ball::of(Tenths(500)));
        let chance = |tenths| {
            let mut book: Book = maren.book().clone();
            let kind = match weighed {
                true => EntryKind::Weighing(Tenths(tenths)),
                false => EntryKind::Correction(Tenths(tenths)),
            };
            for kind in [ball.clone(), pair.clone(), kind] {
                let rows = book.rows_in(YarnId(4));
                let entry = Entry { kind, rows, at: maren.now };
                book.apply(&Change::Stocked { yarn: YarnId(4), entry });
            }
            let ahead = Ahead::of(&book);
            let lasts = ahead.one(YarnId(4)).unwrap().lasts.unwrap();
            (lasts, ahead.purchase(YarnId(4)))
        };
        let ((less, to_buy), (enough, then_to_buy)) = (chance(tenths), chance(tenths + more));
        prop_assert!(less.chance <= enough.chance + 1e-12, "{:?} {:?}", less, enough);
        prop_assert!(balls(to_buy) >= balls(then_to_buy));
        prop_assert!((0.0..=1.0).contains(&less.chance));
        prop_assert!(less.likely.is_none() || less.early.is_some());
    }
}

fn balls(purchase: duskrow::blanket::yarn::Purchase) -> u32 {
    use duskrow::blanket::yarn::Purchase;
    match purchase {
        Purchase::Nothing => 0,
        Purchase::Balls { balls, .. } => balls,
        Purchase::TooMany { .. } => u32::MAX,
        Purchase::BallUnknown | Purchase::RowUnknown => panic!("{purchase:?}"),
    }
}
