//! Samples of how the blanket is made, with the largest numbers there are.

use duskrow::blanket::size::{Basis, Layout, NearSquare, Size, Swatch};
use duskrow::blanket::stitch::{Craft, LinenEdge, Stitch, Width, WidthFault};
use duskrow::blanket::yarn_weight::YarnWeight;
use duskrow::blanket::{BlockNumber, Carry, Cut, Fabric, Fillers, Pieces, RowNumber, Side, Terms};
use duskrow::chat::button::{Act, Choice, Screen, Shown};
use duskrow::chat::caption::Caption;
use duskrow::chat::making::{
    BlocksSaid, EndsSaid, Lost, MakingRefusal, MakingSaid, SizeSaid, SwatchSaid, WorkedSaid,
};
use duskrow::chat::say::{BlockSaid, Say};
use duskrow::chat::talk::Awaited;

use super::day;

pub const STITCHES: [Stitch; 12] = [
    Stitch::Linen(LinenEdge::ChainTwo),
    Stitch::Linen(LinenEdge::Single),
    Stitch::Linen(LinenEdge::SingleAtEnd),
    Stitch::SingleCrochet,
    Stitch::HalfDouble { chain_counts: true },
    Stitch::HalfDouble { chain_counts: false },
    Stitch::Double { chain_counts: true },
    Stitch::Double { chain_counts: false },
    Stitch::Garter { day_is_ridge: true },
    Stitch::Garter { day_is_ridge: false },
    Stitch::Stockinette,
    Stitch::Own { multiple: 6, offset: 1, craft: Craft::Crochet },
];

const AWAITED: [Awaited; 7] = [
    Awaited::Days,
    Awaited::Rows,
    Awaited::OwnWidths(Craft::Knit),
    Awaited::Width,
    Awaited::Swatch(Basis::FourInches),
    Awaited::Columns,
    Awaited::Border,
];

pub fn every_say() -> Vec<Say> {
    let said = every_said().into_iter().map(Say::Making);
    said.chain(every_refusal().into_iter().map(Say::MakingRefused)).collect()
}

pub fn quoting(typed: &str) -> Vec<Say> {
    let unread = |wait| MakingRefusal::Unread {
        typed: typed.to_owned(),
        wait,
        least: 31,
        most: 120,
        example: 33,
    };
    AWAITED.map(unread).map(Say::MakingRefused).into()
}

fn fabric(stitch: Stitch) -> Fabric {
    let width = [36, 37].map(Width).into_iter().find(|width| stitch.allows(*width));
    Fabric { stitch, width, carry: Carry::Five, border_rounds: 30, ..Fabric::DEFAULT }
}

fn swatch() -> Swatch {
    Swatch::new(14.5, 118.5, Basis::FourInches).unwrap()
}

fn blocks(pieces: Pieces) -> BlocksSaid {
    BlocksSaid {
        pieces,
        blocks: 13,
        days: 365,
        fillers: Some((2, 5)),
        few: vec![(BlockNumber(1), 17), (BlockNumber(13), 14)],
    }
}

pub fn every_said() -> Vec<MakingSaid> {
    let size = Size { width_cm: 1025.75, height_cm: 918.33 };
    let mut all = vec![
        MakingSaid::AskCut,
        MakingSaid::AskDays,
        MakingSaid::StripWarning { rows: 365, height_cm: 228.125, by_swatch: false },
        MakingSaid::StripWarning { rows: 732, height_cm: 456.25, by_swatch: true },
        MakingSaid::AskRows { least: 31, most: 120, now: 33 },
        MakingSaid::AskOwnCraft,
        MakingSaid::AskOwnWidths,
        MakingSaid::AskColumns { blocks: 12, most: 12 },
        MakingSaid::AskBorder { most: 30 },
    ];
    for cut in [Cut::Months, Cut::FromStart, Cut::Every(1), Cut::Every(60), Cut::Strip] {
        for (fillers, short_ends) in [
            (Fillers::After, false),
            (Fillers::FirstAndLast, true),
            (Fillers::Before, false),
            (Fillers::Balanced, true),
        ] {
            let said = blocks(Pieces { cut, rows: 33, fillers, short_ends });
            for fillers in [None, Some((0, 0)), Some((1, 1)), Some((3, 3)), Some((2, 5))] {
                all.push(MakingSaid::Blocks(BlocksSaid { fillers, ..said.clone() }));
                all.push(MakingSaid::AskFillers { fillers, now: said.pieces.fillers });
            }
            all.push(MakingSaid::AskShortEnds(BlocksSaid { few: Vec::new(), ..said.clone() }));
            all.push(MakingSaid::AskShortEnds(said));
        }
    }
    for stitch in STITCHES {
        for terms in [Terms::Us, Terms::Uk] {
            let fabric = Fabric { terms, ..fabric(stitch) };
            all.extend(of_fabric(fabric, size));
            let bare = Fabric { width: None, turned: false, first_side: Side::Wrong, ..fabric };
            all.extend(of_fabric(bare, size));
        }
    }
    for terms in [Terms::Us, Terms::Uk] {
        for of in [Screen::Linen, Screen::HalfDouble, Screen::Double, Screen::Garter] {
            all.push(MakingSaid::AskForm { of, terms });
        }
        all.push(MakingSaid::Names { terms, left_handed: terms == Terms::Uk });
    }
    all.extend(sizes(size));
    all.extend(worked().into_iter().map(MakingSaid::Worked));
    all
}

fn january() -> BlockSaid {
    BlockSaid { number: BlockNumber(1), month: Some(day()) }
}

fn second() -> BlockSaid {
    BlockSaid { number: BlockNumber(2), month: None }
}

/// Worked rows before a change: one and many, all, some and none of them differing.
fn worked() -> Vec<WorkedSaid> {
    let runs = |runs: &[(u16, u16)]| {
        runs.iter().map(|(first, last)| (RowNumber(*first), RowNumber(*last))).collect::<Vec<_>>()
    };
    let many = WorkedSaid {
        choice: Choice::Fillers(Fillers::Before),
        terms: Terms::Us,
        rows: 396,
        differing: vec![
            (january(), runs(&[(3, 3), (5, 8), (10, 11)])),
            (second(), runs(&[(7, 7)])),
        ],
        differing_in_others: 37,
        turned_over: 198,
        stitched_in: None,
    };
    let none = WorkedSaid {
        differing: Vec::new(),
        differing_in_others: 0,
        turned_over: 0,
        ..many.clone()
    };
    let all = WorkedSaid {
        rows: 2,
        differing: vec![(january(), runs(&[(1, 2)]))],
        differing_in_others: 0,
        turned_over: 2,
        ..many.clone()
    };
    let one = WorkedSaid { rows: 1, ..none.clone() };
    let one_differs = WorkedSaid {
        rows: 1,
        differing: vec![(january(), runs(&[(1, 1)]))],
        turned_over: 1,
        ..none.clone()
    };
    let one_elsewhere = WorkedSaid { differing_in_others: 1, ..many.clone() };
    let said = vec![many, none.clone(), all, one.clone(), one_differs, one_elsewhere];
    let chosen = |choice| WorkedSaid { choice, ..none.clone() };
    let in_stitch =
        |of: &WorkedSaid| STITCHES.map(|it| WorkedSaid { stitched_in: Some(it), ..of.clone() });
    let stitched: Vec<WorkedSaid> = [none.clone(), one].iter().flat_map(in_stitch).collect();
    said.into_iter().chain(every_choice().into_iter().map(chosen)).chain(stitched).collect()
}

fn of_fabric(fabric: Fabric, size: Size) -> Vec<MakingSaid> {
    let fault = WidthFault { below: Some(Width(35)), above: Some(Width(38)) };
    let lost = Lost { width: Some((Width(36), fault)), swatch: Some(swatch()) };
    let block = BlockSaid { number: BlockNumber(1), month: Some(day()) };
    let ends = EndsSaid { block, rows: 31, never: 62, three: 50, five: 44 };
    let measured = Fabric { swatch: Some(swatch()), ..fabric };
    let blocks = blocks(Pieces::DEFAULT);
    vec![
        MakingSaid::Home { blocks: blocks.clone(), fabric: measured, block: Some(size) },
        MakingSaid::Home { blocks, fabric, block: None },
        MakingSaid::Stitch { fabric, lost: Lost::default() },
        MakingSaid::Stitch { fabric, lost },
        MakingSaid::Carry { fabric, ends: Some(ends) },
        MakingSaid::Carry { fabric: Fabric { carry: Carry::Never, ..fabric }, ends: None },
        MakingSaid::Width { fabric, asks: Some(36) },
        MakingSaid::Width { fabric, asks: None },
        MakingSaid::Swatch(SwatchSaid {
            fabric: measured,
            asks: Some(Basis::FourInches),
            rows: 66,
            height_cm: Some(44.0),
            block: fabric.width.map(|_| size),
            near_square: vec![near(35, -4.76), near(38, 0.0), near(40, 2.4)],
            categories: YarnWeight::of(13.0, fabric.stitch.craft()),
        }),
        MakingSaid::Swatch(SwatchSaid {
            fabric,
            asks: None,
            rows: 33,
            height_cm: None,
            block: None,
            near_square: Vec::new(),
            categories: Vec::new(),
        }),
    ]
}

fn near(width: u16, residual_mm: f64) -> NearSquare {
    NearSquare { width: Width(width), residual_mm, residual_percent: residual_mm / 2.0 }
}

fn sizes(size: Size) -> Vec<MakingSaid> {
    let fabric = fabric(Stitch::SingleCrochet);
    let laid = SizeSaid {
        fabric: Fabric { swatch: Some(swatch()), terms: Terms::Uk, ..fabric },
        cut: Cut::Months,
        blocks: 13,
        block: Some(size),
        layout: Some(Layout { columns: 4, rows: 4 }),
        whole: Some(size),
        seams_cm: 18_450.0,
        edge_cm: 9_500.0,
    };
    let bare = SizeSaid {
        fabric: Fabric { border_rounds: 0, ..fabric },
        block: None,
        layout: None,
        whole: None,
        ..laid.clone()
    };
    let strip = SizeSaid { cut: Cut::Strip, blocks: 1, ..laid.clone() };
    let without_width = SizeSaid { fabric: Fabric { width: None, ..laid.fabric }, ..bare.clone() };
    let without_both = SizeSaid { fabric: Fabric { width: None, ..bare.fabric }, ..bare.clone() };
    [laid, bare, strip, without_width, without_both].map(MakingSaid::Size).into()
}

pub fn every_refusal() -> Vec<MakingRefusal> {
    let mut all = vec![
        MakingRefusal::MoreWorked { block: january(), worked: 12, rows: 1 },
        MakingRefusal::MoreWorked { block: second(), worked: 33, rows: 31 },
        MakingRefusal::WorkedBlockGone { block: january() },
        MakingRefusal::FinishedBlock { block: second(), rows: 120 },
        MakingRefusal::Days { most: 60 },
        MakingRefusal::Rows { least: 31, most: 120 },
        MakingRefusal::StripRows,
        MakingRefusal::Own { most: 100 },
        MakingRefusal::Swatch,
        MakingRefusal::Columns { blocks: 1, most: 1 },
        MakingRefusal::Columns { blocks: 12, most: 12 },
        MakingRefusal::Border { most: 30 },
    ];
    for stitch in STITCHES {
        let terms = Terms::Uk;
        all.push(MakingRefusal::Turned { stitch, terms });
        for (below, above) in
            [(None, None), (None, Some(2)), (Some(400), None), (Some(35), Some(37))]
        {
            let fault = WidthFault { below: below.map(Width), above: above.map(Width) };
            all.push(MakingRefusal::Width { width: Width(1), fault, stitch, terms });
        }
    }
    all.extend(AWAITED.map(|wait| MakingRefusal::Unread {
        typed: "zebra".to_owned(),
        wait,
        least: 31,
        most: 120,
        example: 33,
    }));
    all
}

pub fn every_caption() -> Vec<Caption> {
    let both = |act| [Terms::Us, Terms::Uk].map(|terms| Caption::Making(act, terms));
    let shown = Screen::ALL.map(Act::Show);
    let chosen = every_choice().into_iter().map(Act::Choose);
    let changed = Act::Change { choice: Choice::Rows(40), shown: Shown { rows: 12, sum: 1 } };
    shown.into_iter().chain(chosen).chain([changed]).flat_map(both).collect()
}

pub fn every_choice() -> Vec<Choice> {
    let swatch = Swatch::new(79.5, 119.5, Basis::FourInches).unwrap();
    let mut all = vec![
        Choice::CutAsBefore { cut: Cut::Strip, rows: 120, columns: None },
        Choice::Rows(33),
        Choice::ShortEnds(false),
        Choice::ShortEnds(true),
        Choice::Turned(false),
        Choice::Turned(true),
        Choice::FirstSide(Side::Right),
        Choice::FirstSide(Side::Wrong),
        Choice::Terms(Terms::Us),
        Choice::Terms(Terms::Uk),
        Choice::LeftHanded(false),
        Choice::LeftHanded(true),
        Choice::Width(None),
        Choice::Width(Some(Width(u16::MAX))),
        Choice::Swatch(None),
        Choice::Swatch(Some(swatch)),
        Choice::Columns(None),
        Choice::Columns(Some(40)),
        Choice::Border(0),
        Choice::Border(30),
    ];
    all.extend([Cut::Months, Cut::FromStart, Cut::Every(60), Cut::Strip].map(Choice::Cut));
    all.extend(
        [Fillers::After, Fillers::FirstAndLast, Fillers::Before, Fillers::Balanced]
            .map(Choice::Fillers),
    );
    all.extend([Carry::Never, Carry::Three, Carry::Five].map(Choice::Carry));
    for stitch in STITCHES {
        all.push(Choice::Stitch { stitch, turn: false });
        all.push(Choice::Stitch { stitch, turn: true });
        let (width, swatch) = (Some(Width(u16::MAX)), Some(swatch));
        all.push(Choice::StitchAsBefore { stitch, width, turned: true, swatch });
    }
    all
}
