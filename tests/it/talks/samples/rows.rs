//! Samples about rows: the list of a sitting, one row at a time, rows that differ from their day.

use duskrow::blanket::YarnEnds;
use duskrow::blanket::forecast::RowWeight;
use duskrow::blanket::stitch::{Craft, LinenEdge, Stitch, Width};
use duskrow::blanket::yarn::Units;
use duskrow::blanket::{
    BlockNumber, Carry, Fabric, Handling, How, KnownBy, Pace, PerRow, RowNumber, Side, Terms,
};
use duskrow::chat::caption::Caption;
use duskrow::chat::say::{
    BlockSaid, BringSaid, EndingSaid, MinutesSaid, Next, RowSaid, RowToWork, RowWaiting, Rows, Say,
    StopSaid, Stopped,
};

use super::{day, label};

pub fn every_say() -> Vec<Say> {
    let mut all = lists();
    all.extend(cards());
    let (block, day) = (block(), day());
    let waiting =
        |to_come, held| RowWaiting { block, blocks: 12, row: RowNumber(15), day, to_come, held };
    let stopped = |worked, next, held| Say::Stopped(Stopped { block, worked, next, held });
    all.extend([
        Say::RowWaitsHere { row: waiting(false, Some(Craft::Crochet)), stale: false },
        Say::RowWaitsHere { row: waiting(true, Some(Craft::Knit)), stale: true },
        Say::RowWaitsHere { row: waiting(false, None), stale: false },
        stopped(13, Next::Row { number: RowNumber(14), rows: 33 }, Some(Craft::Crochet)),
        stopped(13, Next::Row { number: RowNumber(14), rows: 33 }, Some(Craft::Knit)),
        stopped(0, Next::Block(block), None),
        stopped(33, Next::Done, None),
        Say::RowLeft {
            row: RowNumber(14),
            stitched_in: label("Shingle"),
            day,
            tier: label("Smooth"),
        },
        Say::RowsPulledOff { block, from: RowNumber(14), to: RowNumber(22) },
        Say::RowsPulledOff { block, from: RowNumber(1), to: RowNumber(1) },
    ]);
    all
}

pub fn every_caption() -> Vec<Caption> {
    vec![
        Caption::RowByRow,
        Caption::StopHere,
        Caption::ToBlockEnd,
        Caption::LeaveRow(RowNumber(366)),
        Caption::PullBack { to: RowNumber(0), rows: 365 },
        Caption::PullBack { to: RowNumber(13), rows: 1 },
        Caption::PullBack { to: RowNumber(99), rows: 120 },
        Caption::PullBack { to: RowNumber(120), rows: 120 },
    ]
}

fn block() -> BlockSaid {
    BlockSaid { number: BlockNumber(1), month: Some(day()) }
}

fn row(number: u16, handling: Handling, how: Option<How>) -> RowSaid {
    let day = how.map(|_| day() + chrono::Days::new(number.into()));
    let side = if number % 2 == 1 { Side::Right } else { Side::Wrong };
    RowSaid { number: RowNumber(number), side, day, yarn: label("Net Float"), handling, how }
}

fn lists() -> Vec<Say> {
    let runs = vec![
        vec![row(14, Handling::Start, Some(How::ForNow))],
        vec![
            row(15, Handling::Change, Some(How::Answered)),
            row(16, Handling::Keep, Some(How::Assumed)),
            row(17, Handling::Keep, None),
        ],
        vec![row(18, Handling::Carry { from: RowNumber(14) }, None), row(19, Handling::Keep, None)],
    ];
    let bring = |rows, per_row, ends| {
        let units = Units::Grams;
        BringSaid { yarn: label("Net Float"), rows, per_row, units, ends }
    };
    let takes = |grams, by| Some(PerRow { weight: RowWeight { grams, se_grams: 0.05 }, by });
    let weighed = KnownBy::Weighings { pairs: 1, disagree: false };
    let ends = |rows_possible| Some(YarnEnds { rows_possible, row: RowNumber(16) });
    let bring = vec![
        bring(1, None, None),
        bring(4, takes(1.13, weighed), ends(0)),
        bring(5, takes(1.0, KnownBy::OtherColours), ends(1)),
        BringSaid { units: Units::Ounces, ..bring(6, takes(1.0, KnownBy::Fabric), ends(3)) },
    ];
    let rows = |stop| Rows {
        block: block(),
        blocks: 12,
        rows: 33,
        worked: 13,
        minutes: None,
        bring: bring.clone(),
        runs: runs.clone(),
        stop,
    };
    let minutes = |minutes, rows_in, pace| {
        let minutes = Some(MinutesSaid { minutes, rows: rows_in, pace });
        Say::Rows(Rows { minutes, ..rows(StopSaid::Enough) })
    };
    let measured = |seconds_a_row| Pace::Measured { seconds_a_row };
    let open = StopSaid::Open { row: RowNumber(14), day: day() };
    vec![
        Say::Rows(rows(StopSaid::Enough)),
        Say::Rows(rows(StopSaid::Open { row: RowNumber(20), day: day() })),
        Say::Rows(rows(StopSaid::ToCome { row: RowNumber(20), day: day() })),
        Say::Rows(rows(StopSaid::BlockDone)),
        Say::Rows(Rows { runs: Vec::new(), bring: Vec::new(), ..rows(open) }),
        minutes(40, 8, Pace::Assumed),
        minutes(3, 0, Pace::Assumed),
        minutes(1, 1, measured(45)),
        minutes(3, 0, measured(210)),
        minutes(40, 40, measured(60)),
    ]
}

fn cards() -> Vec<Say> {
    let ends = [
        EndingSaid::BlockDone,
        EndingSaid::Waits { row: RowNumber(15), day: day(), to_come: false },
        EndingSaid::Waits { row: RowNumber(15), day: day(), to_come: true },
        EndingSaid::Next {
            row: RowNumber(15),
            yarn: label("Brick"),
            handling: Handling::Carry { from: RowNumber(12) },
            picked_up: Some(RowNumber(17)),
        },
        EndingSaid::Next {
            row: RowNumber(15),
            yarn: label("Brick"),
            handling: Handling::Change,
            picked_up: None,
        },
        EndingSaid::Next {
            row: RowNumber(15),
            yarn: label("Net Float"),
            handling: Handling::Keep,
            picked_up: None,
        },
    ];
    let handlings = [
        Handling::Start,
        Handling::Keep,
        Handling::Change,
        Handling::Carry { from: RowNumber(10) },
    ];
    let mut all = Vec::new();
    for fabric in fabrics() {
        for ending in &ends {
            for handling in handlings {
                let number = if handling == Handling::Start { 1 } else { 14 };
                let rows = fabric.stitch.rows_per_day();
                let row = RowToWork {
                    block: block(),
                    blocks: 12,
                    row: row(number, handling, Some(How::ForNow)),
                    worked_rows: ((number - 1) * rows + 1, number * rows),
                    fabric,
                    ending: ending.clone(),
                };
                all.push(Say::Row { row: Box::new(row), stale: number == 1 });
            }
        }
    }
    all
}

/// Every stitch, with and without a width, turned or not, in the words of both sides.
fn fabrics() -> Vec<Fabric> {
    let stitches = [
        (Stitch::Linen(LinenEdge::ChainTwo), 40),
        (Stitch::Linen(LinenEdge::Single), 41),
        (Stitch::Linen(LinenEdge::SingleAtEnd), 41),
        (Stitch::SingleCrochet, 36),
        (Stitch::HalfDouble { chain_counts: true }, 36),
        (Stitch::HalfDouble { chain_counts: false }, 36),
        (Stitch::Double { chain_counts: true }, 36),
        (Stitch::Double { chain_counts: false }, 36),
        (Stitch::Garter { day_is_ridge: true }, 36),
        (Stitch::Garter { day_is_ridge: false }, 36),
        (Stitch::Stockinette, 36),
        (Stitch::Own { multiple: 6, offset: 1, craft: Craft::Crochet }, 37),
        (Stitch::Own { multiple: 6, offset: 1, craft: Craft::Knit }, 37),
    ];
    let mut all = Vec::new();
    for (stitch, width) in stitches {
        for (width, terms) in [(Some(Width(width)), Terms::Us), (None, Terms::Uk)] {
            for turned in [true, false] {
                let carry = Carry::Five;
                let fabric = Fabric { stitch, width, terms, turned, carry, ..Fabric::DEFAULT };
                all.extend(fabric.check().is_ok().then_some(fabric));
            }
        }
    }
    assert!(all.len() > 30);
    all
}
