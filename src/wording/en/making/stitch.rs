//! Stitch, width, carrying and names in English, and the set-up of a block.

use super::{Words, capital, count, heading, names, plain, size};
use crate::blanket::stitch::{Craft, Foundation, LinenEdge, RowCount, Stitch, Width, WidthFault};
use crate::blanket::{Carry, Fabric, Side, Terms};
use crate::chat::button::Screen;
use crate::chat::making::{EndsSaid, Lost};
use crate::wording::en::rows::block_name;

pub fn short(fabric: &Fabric) -> Vec<String> {
    vec![
        format!("Stitch: {}.", names::stitch(fabric.stitch, fabric.terms)),
        turned(fabric),
        across(fabric),
        size::swatch_line(fabric),
        carrying(fabric.carry),
    ]
}

fn turned(fabric: &Fabric) -> String {
    let side = match fabric.first_side {
        Side::Right => "right",
        Side::Wrong => "wrong",
    };
    match fabric.turned {
        true => format!("Turned after each row. Row 1 is on the {side} side."),
        false => "Not turned: each row is cut, and the right side always faces you.".to_owned(),
    }
}

fn across(fabric: &Fabric) -> String {
    match fabric.width {
        Some(Width(across)) => format!("Width: {}.", stitches(across)),
        None => "Width: none yet.".to_owned(),
    }
}

fn stitches(number: u16) -> String {
    match number {
        1 => "1 stitch".to_owned(),
        _ => format!("{number} stitches"),
    }
}

pub fn whole(fabric: &Fabric, lost: &Lost) -> Words {
    let mut lines =
        vec![format!("Now: {}.", names::stitch(fabric.stitch, fabric.terms)), turned(fabric)];
    if let Some((Width(before), fault)) = lost.width {
        lines.push(format!(
            "It does not allow the {before} stitches you had, so there is no width now. {}",
            nearest(fault)
        ));
    } else {
        lines.push(allowed(fabric.stitch));
    }
    if let Some(swatch) = lost.swatch {
        lines.push(format!(
            "The swatch of {} was of another stitch, so there is no swatch now.",
            size::swatch_counts(swatch)
        ));
    }
    heading("Stitch").and(plain(lines))
}

/// "The nearest widths are 24 and 26."
pub fn nearest(fault: WidthFault) -> String {
    match (fault.below, fault.above) {
        (Some(below), Some(above)) => {
            format!("The nearest widths are {} and {}.", below.0, above.0)
        }
        (Some(width), None) | (None, Some(width)) => format!("The nearest width is {}.", width.0),
        (None, None) => "No width fits it.".to_owned(),
    }
}

pub fn allowed(stitch: Stitch) -> String {
    let most = Stitch::WIDTH_MAX;
    match stitch {
        Stitch::Linen(LinenEdge::ChainTwo) => {
            format!("Width: an even number of stitches, from 2 to {most}.")
        }
        Stitch::Linen(LinenEdge::Single) => {
            format!("Width: an odd number of stitches, from 5 to {}.", most - 1)
        }
        Stitch::Linen(LinenEdge::SingleAtEnd) => {
            format!("Width: an odd number of stitches, from 3 to {}.", most - 1)
        }
        Stitch::Own { multiple, offset: 0, .. } => {
            format!("Width: a multiple of {multiple}, from 2 to {most}.")
        }
        Stitch::Own { multiple, offset, .. } => {
            format!("Width: a multiple of {multiple} and {offset} more, from 2 to {most}.")
        }
        Stitch::SingleCrochet
        | Stitch::HalfDouble { .. }
        | Stitch::Double { .. }
        | Stitch::Garter { .. }
        | Stitch::Stockinette => format!("Width: any number of stitches from 2 to {most}."),
    }
}

pub fn ask_form(of: Screen, terms: Terms) -> Words {
    let chain = |name: &str| {
        heading(&capital(name)).and(lines![
            "Does the turning chain count as a stitch?",
            format!("If it counts, a row has one {name} less, and the chain stands for it."),
        ])
    };
    match of {
        Screen::HalfDouble => chain(names::half_double(terms)),
        Screen::Double => chain(names::double(terms)),
        Screen::Garter => heading("Garter stitch").and(lines![
            "Is a day a ridge or a row?",
            "A ridge is 2 rows: one on the right side and one on the wrong side.",
        ]),
        Screen::Linen
        | Screen::Home
        | Screen::Blocks
        | Screen::Cut
        | Screen::Days
        | Screen::Strip
        | Screen::Rows
        | Screen::Fillers
        | Screen::ShortEnds
        | Screen::Stitch
        | Screen::Own
        | Screen::OwnWidths(_)
        | Screen::Carry
        | Screen::Names
        | Screen::Width
        | Screen::Swatch(_)
        | Screen::Size
        | Screen::Columns
        | Screen::Border => {
            let edge = |edge| capital(&names::linen(edge, terms));
            heading("Linen stitch").and(lines![
                "Which edge?",
                format!("{}: an even width. Every row is alike.", edge(LinenEdge::ChainTwo)),
                format!("{}: an odd width. Odd and even rows differ.", edge(LinenEdge::Single)),
                format!("{}: an odd width. Every row is alike.", edge(LinenEdge::SingleAtEnd)),
            ])
        }
    }
}

fn carrying(carry: Carry) -> String {
    match carry {
        Carry::Never => "Carrying: never.".to_owned(),
        Carry::Three | Carry::Five => format!("Carrying: at most {} rows.", carry.rows()),
    }
}

pub fn carry(fabric: &Fabric, ends: Option<&EndsSaid>) -> Words {
    let words = heading("Carrying").and(lines![
        carrying(fabric.carry),
        "A carried colour goes up the side and is picked up later. It is not cut.",
        "Never: a colour is cut where another begins.",
    ]);
    // Counted in worked rows: ridge 4 ends with row 8, ridges 6 and 7 begin with 11 and 13.
    let words = words.and(match fabric.stitch.rows_per_day() > 1 {
        true => lines![
            "At most 3 rows: a colour left at the end of ridge 4 can go on in ridge 6.",
            "At most 5 rows: it can go on in ridge 7 too.",
        ],
        false => lines![
            "At most 3 rows: a colour left at the end of row 4 can go on in row 7.",
            "At most 5 rows: it can go on in row 9 too.",
        ],
    });
    if !fabric.turned {
        return words
            .and(lines!["The work is not turned, so each row is cut: nothing is carried."]);
    }
    let Some(EndsSaid { block, rows, never, three, five }) = ends else { return words };
    words.and(lines![
        format!(
            "{}, {} so far: {never} ends if never carried.",
            capital(&block_name(block)),
            count(*rows, "row")
        ),
        format!(
            "At most 3 rows saves {} of them, at most 5 rows saves {}.",
            never - three,
            never - five
        ),
    ])
}

pub fn names(terms: Terms, left_handed: bool) -> Words {
    let hand = if left_handed { "left-handed" } else { "right-handed" };
    heading("Names and hand").and(lines![
        format!("Stitch names: {}.", names::terms(terms)),
        format!("{} is {}.", capital(names::single(Terms::Us)), names::single(Terms::Uk)),
        format!("You work {hand}."),
        "Right side and wrong side are the same for both hands.",
    ])
}

pub fn width(fabric: &Fabric, asks: Option<u16>) -> Words {
    let mut lines = vec![across(fabric)];
    if let Some(width) = fabric.width {
        lines.extend(set_up(fabric, width));
    }
    if let Some(example) = asks {
        lines.push(format!("Stitch: {}.", names::stitch(fabric.stitch, fabric.terms)));
        lines.push(allowed(fabric.stitch));
        lines.push(format!("Type the number of stitches, like {example}."));
    }
    plain(lines)
}

/// How a block begins, and what each row has.
pub fn set_up(fabric: &Fabric, width: Width) -> Vec<String> {
    let Fabric { stitch, terms, turned, .. } = *fabric;
    let mut lines = Vec::new();
    lines.push(match stitch.foundation(width) {
        Foundation::Chain { chains, first_in } => format!(
            "To begin a block: chain {chains}. The first stitch goes in the {} chain from the hook.",
            ordinal(first_in)
        ),
        Foundation::CastOn(stitches) => format!("To begin a block: cast on {stitches}."),
        Foundation::Own => "To begin a block: as your own pattern says.".to_owned(),
    });
    let (odd, even) = (stitch.count(width, 1), stitch.count(width, 2));
    match (odd, even) {
        (Some(odd), Some(even)) if odd != even => {
            lines.push(format!("Rows 1, 3, 5: {}.", row(stitch, odd, terms)));
            lines.push(format!("Rows 2, 4, 6: {}.", row(stitch, even, terms)));
        }
        (Some(odd), _) => lines.push(format!("Each row: {}.", row(stitch, odd, terms))),
        (None, _) => {}
    }
    lines.extend(at_the_end(stitch, turned));
    lines
}

fn row(stitch: Stitch, row: RowCount, terms: Terms) -> String {
    let RowCount { stitches, spaces, and_chain } = row;
    match stitch {
        Stitch::Linen(LinenEdge::ChainTwo) => format!(
            "{stitches} {}, {}, and the chain-2 space at the edge",
            names::single(terms),
            count(spaces.saturating_sub(1), "chain-1 space")
        ),
        Stitch::Linen(_) => {
            format!(
                "{stitches} {} and {} between",
                names::single(terms),
                count(spaces, "chain-1 space")
            )
        }
        Stitch::SingleCrochet => format!("{stitches} {}", names::single(terms)),
        Stitch::HalfDouble { .. } | Stitch::Double { .. } => {
            let name = match stitch {
                Stitch::HalfDouble { .. } => names::half_double(terms),
                _ => names::double(terms),
            };
            let chain = if and_chain { ", and the turning chain as one more" } else { "" };
            format!("{stitches} {name}{chain}")
        }
        Stitch::Garter { .. } => format!("knit {stitches}"),
        Stitch::Stockinette => {
            format!("{stitches}, knit on the right side, purl on the wrong side")
        }
        Stitch::Own { .. } => format!("{stitches} stitches"),
    }
}

fn at_the_end(stitch: Stitch, turned: bool) -> Option<String> {
    match (stitch.craft(), stitch.turning_chain(), turned) {
        (Craft::Crochet | Craft::Knit, _, false) => Some(
            "At the end of each row, cut the yarn. The next row begins at the same edge as this one."
                .to_owned(),
        ),
        (Craft::Crochet, 0, true) => Some("At the end of each row, turn.".to_owned()),
        (Craft::Crochet, chains, true) => {
            Some(format!("At the end of each row, chain {chains} and turn."))
        }
        (Craft::Knit, _, true) => None,
    }
}

fn ordinal(number: u16) -> String {
    match number {
        1 => "1st".to_owned(),
        2 => "2nd".to_owned(),
        3 => "3rd".to_owned(),
        _ => format!("{number}th"),
    }
}
