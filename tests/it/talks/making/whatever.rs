//! Whatever is tapped and typed: what is kept can be worked, and every day has exactly one row.

use std::collections::BTreeMap;

use duskrow::blanket::stitch::Stitch;
use duskrow::blanket::{BlockNumber, Pieces, RowContent, WorkedRow, YarnId};
use duskrow::chat::button::{Act, Button, Choice};
use proptest::prelude::*;
use proptest::sample::{Index, select};

use super::{Talker, acts, choices, maren};

#[derive(Clone, Debug)]
enum Deed {
    Does(Act),
    Taps(Index),
    Types(String),
}

fn deeds() -> impl Strategy<Value = Deed> {
    let typed = select(vec![
        "/stitch",
        "/settings",
        "0",
        "1",
        "7",
        "36",
        "45",
        "200",
        "14 x 18",
        "6 + 1",
        "14,5 20",
        "zebra",
        "/rows 3",
        "worked up to block 1, row 2",
        "4 Jan Smooth",
        "/cancel",
    ]);
    prop_oneof![
        4 => acts().prop_map(Deed::Does),
        4 => any::<Index>().prop_map(Deed::Taps),
        3 => typed.prop_map(|typed| Deed::Types(typed.to_owned())),
    ]
}

fn does(maren: &mut Talker, deed: &Deed) -> String {
    match deed {
        Deed::Does(act) => maren.taps_button(Button::Making { act: *act }, 0),
        Deed::Types(text) => maren.types(text),
        Deed::Taps(index) => {
            let last = maren.messages.len() - 1;
            let keys = maren.messages[last].keys.clone();
            if keys.is_empty() {
                return maren.types("/stitch");
            }
            maren.taps_button(index.get(&keys).1.clone(), last)
        }
    }
}

fn every_day_has_one_row(maren: &Talker) {
    let plan = maren.book().plan();
    let mut rows: BTreeMap<_, usize> = BTreeMap::new();
    for block in plan.blocks() {
        for row in plan.rows(&block) {
            match row.content {
                RowContent::Day(day) => *rows.entry(day).or_default() += 1,
                RowContent::Filler => {}
            }
        }
    }
    let mut day = plan.first_day();
    for (dated, count) in &rows {
        assert_eq!((*dated, *count), (day, 1), "{:?}", plan.pieces());
        day = day.succ_opt().unwrap();
    }
    assert_eq!(day.pred_opt(), Some(plan.last_day()));
}

/// The yarns of all worked rows, each block's from row 1.
fn stitched(maren: &Talker) -> BTreeMap<BlockNumber, Vec<YarnId>> {
    let yarns = |rows: &[WorkedRow]| rows.iter().map(|row| row.yarn).collect();
    maren.book().all_worked().map(|(block, rows)| (block, yarns(rows))).collect()
}

/// Whether a tap goes on with a change after what it makes of worked rows was shown.
fn goes_on(deed: &Deed, maren: &Talker) -> bool {
    let last = maren.messages.last().unwrap();
    let change = |button: &Button| matches!(button, Button::Making { act: Act::Change { .. } });
    match deed {
        Deed::Does(act) => matches!(act, Act::Change { .. }),
        Deed::Taps(index) => !last.keys.is_empty() && change(&index.get(&last.keys).1),
        Deed::Types(_) => false,
    }
}

/// What gives a worked row its day and its stitch.
fn made(maren: &Talker) -> (Pieces, Stitch, bool) {
    let fabric = maren.book().fabric();
    (maren.book().plan().pieces(), fabric.stitch, fabric.turned)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn what_is_kept_can_be_worked_and_every_day_has_one_row(
        deeds in prop::collection::vec(deeds(), 1..30),
    ) {
        let mut maren = maren();
        maren.does(&["1 Jan Smooth", "2 Jan Rough", "3 Jan Smooth", "/stitch"]);
        for deed in &deeds {
            let (stitched, made) = (stitched(&maren), made(&maren));
            let goes_on = goes_on(deed, &maren);
            let said = does(&mut maren, deed);
            prop_assert!(!said.is_empty(), "{deed:?}");
            let fabric = maren.book().fabric();
            prop_assert_eq!(fabric.check(), Ok(()), "{:?}", deed);
            prop_assert_eq!(maren.book().plan().faces(), fabric.faces());
            every_day_has_one_row(&maren);
            if !stitched.is_empty() && !goes_on {
                prop_assert_eq!(made, self::made(&maren), "{:?} moves worked rows", deed);
            }
            if made != self::made(&maren) {
                prop_assert_eq!(stitched, self::stitched(&maren), "{:?}", deed);
            }
            for (block, rows) in self::stitched(&maren) {
                let block = maren.book().plan().block(block);
                prop_assert!(block.is_some_and(|it| usize::from(it.rows) >= rows.len()));
            }
        }
    }

    #[test]
    fn undo_leads_back_from_every_choice(
        before in prop::collection::vec(choices(), 0..8),
        choice in choices(),
    ) {
        let mut maren = maren();
        let taps = |maren: &mut Talker, choice: Choice| {
            maren.taps_button(Button::Making { act: Act::Choose(choice) }, 0)
        };
        for choice in before {
            taps(&mut maren, choice);
        }
        let book = maren.book().clone();
        let said = taps(&mut maren, choice);
        if *maren.book() == book {
            return Ok(());
        }
        prop_assert!(!said.contains("Nothing was changed."), "{said}");
        maren.taps("Undo");
        prop_assert_eq!(maren.book(), &book, "{:?}: {}", choice, said);
    }
}
