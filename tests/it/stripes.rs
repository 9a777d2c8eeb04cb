//! Places by stripes, held to a slow and plain reading of the same words: random books, every row.

use chrono::{DateTime, NaiveDate};
use duskrow::blanket::stitch::Stitch;
use duskrow::blanket::stripes::{Seen, places};
use duskrow::blanket::{Beginning, Block, Book, Change, Cut, Fabric, Fillers, How, Label, Pieces};
use duskrow::blanket::{Plan, RowNumber, Scale, Side, Tier, TierId, Yarn, YarnId};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn true_stripes_from_the_top_always_fit_and_a_place_named_alone_is_the_right_one(
        book in books(),
    ) {
        for block in book.plan().blocks().take(3) {
            let colours = colours(&book, &block);
            for row in 1..=colours.len() {
                let shown = shown(&colours[..row]);
                let number = RowNumber(u16::try_from(row).unwrap());
                for count in 1..=shown.len().min(Seen::MAX) {
                    for lowest in [false, count == shown.len()] {
                        let seen = Seen::new(shown[..count].to_vec(), lowest).unwrap();
                        let fit = places(&book, &block, &seen);
                        let here = fit.iter().filter(|place| place.has(number)).count();
                        prop_assert_eq!(here, 1, "row {} {:?} {:?}", row, seen, fit);
                        // So that a single place is the right one; to the lowest, it is single.
                        prop_assert!(!lowest || fit.len() == 1, "row {} {:?}", row, fit);
                    }
                }
            }
        }
    }

    #[test]
    fn every_row_of_a_place_shows_the_stripes_and_no_other_row_does(
        book in books(),
        tapped in vec(1..=5_u8, 0..=5),
        lowest in any::<bool>(),
    ) {
        let yarns = tapped.into_iter().map(YarnId).collect();
        let Some(seen) = Seen::new(yarns, lowest) else { return Ok(()) };
        for block in book.plan().blocks().take(3) {
            let colours = colours(&book, &block);
            let fit = places(&book, &block, &seen);
            for row in 1..=block.rows {
                let shows = colours.get(..usize::from(row)).is_some_and(|worked| {
                    let shown = shown(worked);
                    let whole = !seen.lowest() || shown.len() == seen.stripes().len();
                    whole && shown.starts_with(seen.stripes())
                });
                let named = fit.iter().any(|place| place.has(RowNumber(row)));
                prop_assert_eq!(named, shows, "row {} {:?}", row, seen);
            }
        }
    }
}

#[test]
fn stripes_that_cannot_be_neighbours_are_no_stripes() {
    let seen = |ids: &[u8], lowest| Seen::new(ids.iter().copied().map(YarnId).collect(), lowest);
    assert!(seen(&[1, 1], false).is_none());
    assert!(seen(&[1, 2, 2], false).is_none());
    assert!(seen(&[1, 2, 1, 2, 1, 2], false).is_none());
    assert!(seen(&[], true).is_none());
    assert!(seen(&[], false).is_some() && seen(&[1, 2, 1, 2, 1], true).is_some());
    assert!(seen(&[1], true).unwrap().and(YarnId(2)).is_none());
}

/// The colours of rows 1 up to the first open one: as stitched, else as planned.
fn colours(book: &Book, block: &Block) -> Vec<YarnId> {
    let worked = book.worked(block.number);
    let rows = book.plan().rows(block);
    let colour = |(index, row): (usize, &duskrow::blanket::Row)| match worked.get(index) {
        Some(row) => Some(row.yarn),
        None => book.yarn_for(row),
    };
    rows.iter().enumerate().map_while(colour).collect()
}

/// The stripes somebody sees of these rows, from the top down.
fn shown(rows: &[YarnId]) -> Vec<YarnId> {
    let mut shown: Vec<YarnId> = rows.iter().rev().copied().collect();
    shown.dedup();
    shown
}

/// Few colours, so that places are alike; a day is open now and then; rows stitched as planned or
/// in another colour.
fn books() -> impl Strategy<Value = Book> {
    let cuts = select(vec![Cut::Months, Cut::FromStart, Cut::Every(9), Cut::Strip]);
    let placements =
        select(vec![Fillers::After, Fillers::FirstAndLast, Fillers::Before, Fillers::Balanced]);
    let answers = vec(prop_oneof![40 => (1..=4_u8).prop_map(Some), 1 => Just(None)], 70);
    let stitched = vec(prop_oneof![9 => Just(None), 1 => (1..=5_u8).prop_map(Some)], 0..40);
    (2..=4_u8, cuts, placements, any::<bool>(), answers, stitched).prop_map(
        |(tiers, cut, fillers, ridges, answers, stitched)| {
            let mut book = Book::begin(&beginning(tiers, (cut, fillers), ridges));
            let first = book.plan().first_day();
            for (day, tier) in first.iter_days().zip(answers) {
                let Some(tier) = tier else { continue };
                let (tier, at) = (TierId((tier - 1) % tiers + 1), DateTime::UNIX_EPOCH);
                book.apply(&Change::Answered { day, tier, how: How::Answered, at });
            }
            let block = book.plan().blocks().next().unwrap();
            let planned = colours(&book, &block);
            let yarns = stitched.iter().zip(planned);
            let yarns = yarns.map(|(other, planned)| other.map_or(planned, YarnId)).collect();
            let at = DateTime::UNIX_EPOCH;
            book.apply(&Change::Worked { block: block.number, yarns, at });
            book
        },
    )
}

fn beginning(tiers: u8, (cut, fillers): (Cut, Fillers), ridges: bool) -> Beginning {
    let label = |name: String| Label::parse(&name).unwrap();
    let tier = |id| Tier { id: TierId(id), label: label(format!("T{id}")), yarn: YarnId(id) };
    let yarn =
        |id| Yarn { id: YarnId(id), name: label(format!("Y{id}")), rgb: [id; 3], after: None };
    let stitch = match ridges {
        true => Stitch::Garter { day_is_ridge: true },
        false => Stitch::SingleCrochet,
    };
    let year = Plan::year_from(NaiveDate::from_ymd_opt(2027, 1, 10).unwrap());
    let pieces = Pieces { cut, rows: 33, fillers, short_ends: false };
    Beginning {
        plan: year.in_pieces(pieces).unwrap(),
        fabric: Fabric { stitch, first_side: Side::Wrong, ..Fabric::DEFAULT },
        scale: Scale::new((1..=tiers).map(tier).collect(), TierId(1)).unwrap(),
        yarns: (1..=5).map(yarn).collect(),
        joining: YarnId(5),
        hours: duskrow::blanket::Hours {
            zone: chrono_tz::Europe::Lisbon,
            ask_at: chrono::NaiveTime::MIN,
            day_turns_at: chrono::NaiveTime::MIN,
        },
    }
}
