//! Rows, filler rows and sides: the month block of the trade (33 rows, made up with joining-colour
//! rows: common practice) and plain arithmetic.

use std::collections::BTreeMap;

use chrono::{Days, NaiveDate};
use duskrow::blanket::{Cut, Faces, Fillers, Pieces, Plan, RowContent, Side};
use proptest::prelude::*;

#[test]
fn a_block_of_33_rows_has_2_to_5_filler_rows() {
    // Arithmetic: 33 - 31, 33 - 30, 33 - 29, 33 - 28.
    let cases = [("2027-01-01", 2), ("2027-04-01", 3), ("2028-02-01", 4), ("2027-02-01", 5)];
    for (month, fillers) in cases {
        let block = Plan::year_from(date(month)).blocks().next().unwrap();
        assert_eq!(block.fillers(), fillers, "{month}");
        assert_eq!(block.days() + fillers, 33, "{month}");
    }
}

#[test]
fn a_year_is_12_blocks_of_396_rows_with_31_filler_rows_or_30_in_a_leap_year() {
    // Arithmetic: 12 x 33 = 396; 396 - 365 = 31; 396 - 366 = 30. From the 15th: 13 x 33 = 429 and
    // 429 - 365 = 64, counted in calendar months.
    let cases = [
        ("2027-01-01", "2027-12-31", 12, 31),
        ("2028-01-01", "2028-12-31", 12, 30),
        ("2027-09-01", "2028-08-31", 12, 30),
        ("2027-01-15", "2028-01-14", 13, 64),
        ("2028-02-29", "2029-02-28", 13, 63),
        ("2027-03-31", "2028-03-30", 13, 63),
    ];
    for (first, last, blocks, fillers) in cases {
        let plan = Plan::year_from(date(first));
        assert_eq!(plan.last_day(), date(last), "{first}");
        assert_eq!(plan.block_count(), blocks, "{first}");
        assert_eq!(plan.blocks().map(|block| block.rows).sum::<u16>(), blocks * 33, "{first}");
        assert_eq!(plan.blocks().map(|block| block.fillers()).sum::<u16>(), fillers, "{first}");
    }
}

#[test]
fn months_counted_from_the_first_day_make_twelve_blocks_of_any_year() {
    // Arithmetic, each beginning clipped to the length of its month.
    for first in ["2027-01-31", "2027-03-31", "2028-02-29", "2027-01-15", "2027-12-30"] {
        let year = Plan::year_from(date(first));
        let plan = year.in_pieces(Pieces { cut: Cut::FromStart, ..Pieces::DEFAULT }).unwrap();
        assert_eq!(plan.block_count(), 12, "{first}");
    }
    let year = Plan::year_from(date("2027-01-31"));
    let plan = year.in_pieces(Pieces { cut: Cut::FromStart, ..Pieces::DEFAULT }).unwrap();
    let begins: Vec<String> = plan.blocks().map(|block| block.first_day.to_string()).collect();
    assert_eq!(begins[..4], ["2027-01-31", "2027-02-28", "2027-03-31", "2027-04-30"]);
}

#[test]
fn in_a_block_that_starts_on_the_1st_the_row_number_is_the_date() {
    // Common practice: fillers after the last day. Arithmetic: so the row of the 14th is row 14,
    // and odd dates are worked on the right side.
    let plan = Plan::year_from(date("2027-01-01"));
    for day in plan.first_day().iter_days().take(365) {
        let (_, row) = plan.row_of(day).unwrap();
        let of_month: u16 = day.format("%d").to_string().parse().unwrap();
        assert_eq!(row.number.0, of_month, "{day}");
        assert_eq!(row.side == Side::Right, of_month % 2 == 1, "{day}");
    }
}

#[test]
fn thirty_three_rows_start_and_end_on_the_right_side() {
    for block in Plan::year_from(date("2027-01-01")).blocks() {
        let rows = Plan::year_from(date("2027-01-01")).rows(&block);
        let sides: Vec<Side> = rows.iter().map(|row| row.side).collect();
        assert_eq!((sides[0], sides[32], sides.len()), (Side::Right, Side::Right, 33));
        assert!(sides.windows(2).all(|pair| pair[0] != pair[1]), "sides alternate");
    }
}

#[test]
fn a_row_1_on_the_wrong_side_turns_every_side() {
    let (first, last) = (date("2027-01-01"), date("2027-12-31"));
    let faces = Faces { first: Side::Wrong, ..Faces::DEFAULT };
    let plan = Plan::new(first, last, Pieces::DEFAULT, faces).unwrap();
    let (_, row) = plan.row_of(date("2027-01-14")).unwrap();
    assert_eq!(row.side, Side::Right);
}

#[test]
fn the_fillers_of_a_part_of_a_month_follow_its_days() {
    let plan = Plan::year_from(date("2027-01-15"));
    let first = plan.blocks().next().unwrap();
    let rows = plan.rows(&first);
    assert_eq!(rows[0].content, RowContent::Day(date("2027-01-15")));
    assert_eq!(rows[16].content, RowContent::Day(date("2027-01-31")));
    assert!(rows[17..].iter().all(|row| row.content == RowContent::Filler));
}

pub fn pieces() -> impl Strategy<Value = Pieces> {
    let cuts = prop_oneof![
        3 => Just(Cut::Months),
        3 => Just(Cut::FromStart),
        4 => (1..=60_u16).prop_map(Cut::Every),
        1 => Just(Cut::Strip),
    ];
    let fillers = proptest::sample::select(vec![
        Fillers::After,
        Fillers::FirstAndLast,
        Fillers::Before,
        Fillers::Balanced,
    ]);
    (cuts, 0..=30_u16, fillers, any::<bool>()).prop_map(|(cut, more, fillers, short_ends)| {
        let rows = cut.days_max().unwrap_or(1) + more;
        Pieces { cut, rows, fillers, short_ends }
    })
}

proptest! {
    #[test]
    fn every_day_of_the_blanket_is_in_exactly_one_row(
        start in 0..4000_u64,
        days in 0..732_u64,
        pieces in pieces(),
    ) {
        let first = date("2024-01-01") + Days::new(start);
        let last = first + Days::new(days);
        let plan = Plan::new(first, last, pieces, Faces::DEFAULT).unwrap();
        let mut seen: BTreeMap<NaiveDate, u32> = BTreeMap::new();
        for block in plan.blocks() {
            let block_rows = plan.rows(&block);
            prop_assert_eq!(block_rows.len(), usize::from(block.rows));
            let fillers = block_rows.iter().filter(|row| row.content == RowContent::Filler);
            prop_assert_eq!(fillers.count(), usize::from(block.rows - block.days()));
            prop_assert!(pieces.short_ends || pieces.cut == Cut::Strip || block.rows == pieces.rows);
            prop_assert!(block_rows.windows(2).all(|pair| pair[0].side != pair[1].side));
            for row in block_rows {
                if let RowContent::Day(day) = row.content {
                    *seen.entry(day).or_default() += 1;
                    prop_assert_eq!(plan.row_of(day), Some((block, row)));
                }
            }
        }
        prop_assert_eq!(seen.len() as u64, days + 1);
        prop_assert!(seen.values().all(|rows| *rows == 1));
        prop_assert_eq!(seen.keys().next(), Some(&first));
        prop_assert_eq!(plan.row_of(first - Days::new(1)), None);
        prop_assert_eq!(plan.row_of(first + Days::new(days + 1)), None);
    }
}

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}
