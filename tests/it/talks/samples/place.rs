//! Samples about the place in a block: the stripes asked for, and what was found.

use duskrow::blanket::stitch::Craft;
use duskrow::blanket::{BlockNumber, Edge, RowNumber, Side, StartTail};
use duskrow::chat::button::Position;
use duskrow::chat::place::{AskStripe, NextRow, PlaceSaid, PlaceStep, WhichPlace};
use duskrow::chat::say::{BlockSaid, Say};

use super::{day, label};

pub fn every_say() -> Vec<Say> {
    let block = BlockSaid { number: BlockNumber(1), month: Some(day()) };
    let numbered = BlockSaid { number: BlockNumber(7), month: None };
    let five = || ["Tarred Rope", "Net Float", "Very smooth", "Harbour Blue", "Shingle"].map(label);
    let ask = |block, seen: usize, craft, fits| {
        Say::AskStripe(AskStripe { block, seen: five()[..seen].to_vec(), craft, fits })
    };
    let rows = |from, to| (RowNumber(from), RowNumber(to));
    let which = |more| {
        let places = (1..9).map(|number| rows(number, number + number % 3)).collect();
        Say::WhichPlace(WhichPlace { block, places, more })
    };
    let (row, yarn) = (RowNumber(17), label("Brick"));
    let top = |ridges| Say::TopRows { block, yarn: yarn.clone(), begins: row, ridges };
    let mut all = vec![
        ask(block, 0, Craft::Crochet, None),
        ask(numbered, 0, Craft::Knit, None),
        ask(block, 1, Craft::Crochet, None),
        ask(block, 4, Craft::Knit, Some(12)),
        Say::NoStripes { block, day: day(), to_come: true },
        Say::NoStripes { block: numbered, day: day(), to_come: false },
        Say::StripesUnfit { block, seen: five().to_vec() },
        which(0),
        which(1),
        which(2),
        top(true),
        top(false),
    ];
    all.extend(found(block));
    all
}

fn found(block: BlockSaid) -> Vec<Say> {
    let side = Side::Wrong;
    let next = NextRow::Row { number: RowNumber(18), side, yarn: label("Brick") };
    let waits = |to_come| NextRow::Waits { number: RowNumber(18), side, day: day(), to_come };
    let said = |next, tail, worked, step| {
        Say::Place(PlaceSaid { block, row: RowNumber(17), next, tail, worked, step })
    };
    let (chain, knit) =
        (StartTail::Chain(Edge::Left), StartTail::CastOn { long_tail: Edge::Right });
    let to = Position { block: BlockNumber(3), row: RowNumber(17) };
    vec![
        said(next.clone(), chain, 17, PlaceStep::Same),
        said(next.clone(), knit, 14, PlaceStep::CrossOff { from: RowNumber(15) }),
        said(next.clone(), knit, 16, PlaceStep::CrossOff { from: RowNumber(17) }),
        said(waits(true), chain, 20, PlaceStep::TakeBack { rows: 3 }),
        said(waits(false), knit, 18, PlaceStep::TakeBack { rows: 1 }),
        said(NextRow::BlockDone, knit, 0, PlaceStep::CrossOffUpTo { to }),
        said(next, knit, 1, PlaceStep::EarlierWait),
    ]
}
