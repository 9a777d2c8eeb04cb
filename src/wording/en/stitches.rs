//! The steps of a row in English, with the stitch count to check.
//!
//! One stitch has two names, by where a pattern was written (common practice): single crochet in
//! US terms is double crochet in UK terms. The terms are always said.

use crate::blanket::stitch::{Craft, Foundation, LinenEdge, RowCount, Stitch};
use crate::blanket::{Fabric, Side, Terms};

/// What the stitches are called.
struct Names {
    single: &'static str,
    half_double: &'static str,
    double: &'static str,
    terms: &'static str,
}

fn names(terms: Terms) -> Names {
    match terms {
        Terms::Us => Names {
            single: "single crochet",
            half_double: "half double crochet",
            double: "double crochet",
            terms: "US terms.",
        },
        Terms::Uk => Names {
            single: "double crochet",
            half_double: "half treble crochet",
            double: "treble crochet",
            terms: "UK terms.",
        },
    }
}

/// How a block begins, before its first row.
pub fn set_up(fabric: &Fabric, yarn: &str) -> String {
    let foundation = fabric.width.map(|width| fabric.stitch.foundation(width));
    match (fabric.stitch, foundation) {
        (Stitch::Own { .. }, _) | (_, Some(Foundation::Own)) => {
            format!("Begin the block with {yarn}, as your pattern says.")
        }
        (_, Some(Foundation::Chain { chains, .. })) => format!("Chain {chains} with {yarn}."),
        (_, Some(Foundation::CastOn(stitches))) => {
            format!("Cast on {stitches} stitches with {yarn}.")
        }
        (_, None) => match fabric.stitch.craft() {
            Craft::Crochet => format!("Make the chain that the block begins with, in {yarn}."),
            Craft::Knit => format!("Cast on with {yarn}."),
        },
    }
}

/// The steps of worked row `row`, which is the first one of its block or stands on another.
pub fn steps(fabric: &Fabric, row: u16, side: Side) -> String {
    let names = names(fabric.terms);
    let count = count(fabric, row, &names);
    let text = match (fabric.stitch, row) {
        (Stitch::Garter { .. }, _) => format!("Knit every stitch{count}"),
        (Stitch::Stockinette, _) => match side {
            Side::Right => format!("Knit every stitch{count}"),
            Side::Wrong => format!("Purl every stitch{count}"),
        },
        (Stitch::Own { .. }, 1) => "Work row 1 of your pattern.".to_owned(),
        (Stitch::Own { craft, .. }, _) => {
            let turn = if craft == Craft::Crochet && fabric.turned { "Turn. " } else { "" };
            format!("{turn}Work row {row} of your pattern.")
        }
        (_, 1) => first_row(fabric.stitch, &names, &count),
        (_, _) => {
            let turn = turn(fabric);
            format!("{turn} {}", above(fabric, row, &names, &count))
        }
    };
    match fabric.stitch {
        Stitch::Garter { .. } | Stitch::Stockinette | Stitch::Own { .. } => text,
        Stitch::Linen(_)
        | Stitch::SingleCrochet
        | Stitch::HalfDouble { .. }
        | Stitch::Double { .. } => format!("{text} {}", names.terms),
    }
}

/// "Chain 1, turn.", or without the turn where every row is worked from the same edge.
fn turn(fabric: &Fabric) -> String {
    let chains = fabric.stitch.turning_chain();
    let turn = if fabric.turned { ", turn" } else { "" };
    let counts = matches!(
        fabric.stitch,
        Stitch::HalfDouble { chain_counts: true } | Stitch::Double { chain_counts: true }
    );
    match counts {
        true => format!("Chain {chains}{turn}: this is the first stitch."),
        false => format!("Chain {chains}{turn}."),
    }
}

/// The row that is worked into the foundation chain.
fn first_row(stitch: Stitch, names: &Names, count: &str) -> String {
    let each = |name: &str, first: &str| {
        format!("1 {name} in the {first} chain from the hook and in each chain after it{count}")
    };
    let chain = |chains: &str| format!("The first {chains} chains are the first stitch.");
    match stitch {
        Stitch::SingleCrochet => each(names.single, "2nd"),
        Stitch::HalfDouble { chain_counts: false } => each(names.half_double, "3rd"),
        Stitch::HalfDouble { chain_counts: true } => {
            format!("{} {}", chain("2"), each(names.half_double, "3rd"))
        }
        Stitch::Double { chain_counts: false } => each(names.double, "4th"),
        Stitch::Double { chain_counts: true } => {
            format!("{} {}", chain("3"), each(names.double, "4th"))
        }
        Stitch::Linen(edge) => {
            let first = match edge {
                LinenEdge::ChainTwo => "4th",
                LinenEdge::Single | LinenEdge::SingleAtEnd => "2nd",
            };
            let single = names.single;
            format!(
                "1 {single} in the {first} chain from the hook. Chain 1 and 1 {single} in every \
                 second chain after it{count}"
            )
        }
        Stitch::Garter { .. } | Stitch::Stockinette | Stitch::Own { .. } => String::new(),
    }
}

/// A row that is worked into the row below.
fn above(fabric: &Fabric, row: u16, names: &Names, count: &str) -> String {
    let counting = |name: &str| {
        // Not turned, the chain of the row below stands at the edge where this row begins.
        let last = if fabric.turned { ", the last one in the chain of the row below" } else { "" };
        format!("1 {name} in each stitch after the first{last}{count}")
    };
    let single = names.single;
    match fabric.stitch {
        Stitch::SingleCrochet => format!("1 {single} in each stitch{count}"),
        Stitch::HalfDouble { chain_counts: false } => {
            format!("1 {} in each stitch{count}", names.half_double)
        }
        Stitch::Double { chain_counts: false } => {
            format!("1 {} in each stitch{count}", names.double)
        }
        Stitch::HalfDouble { chain_counts: true } => counting(names.half_double),
        Stitch::Double { chain_counts: true } => counting(names.double),
        Stitch::Linen(LinenEdge::ChainTwo) => format!(
            "1 {single} in the first space. Chain 1 and 1 {single} in each space after it, the \
             last one in the space at the edge{count}"
        ),
        Stitch::Linen(LinenEdge::SingleAtEnd) => format!(
            "1 {single} in the first space. Chain 1 and 1 {single} in each space after it. \
             Chain 1 and 1 {single} in the last stitch{count}"
        ),
        Stitch::Linen(LinenEdge::Single) if row.is_multiple_of(2) => format!(
            "1 {single} in the first stitch and 1 in the first space. Chain 1 and 1 {single} in \
             each space after it. 1 {single} in the last stitch{count}"
        ),
        Stitch::Linen(LinenEdge::Single) => format!(
            "1 {single} in the first stitch. Chain 1 and 1 {single} in each space. Chain 1 and \
             1 {single} in the last stitch{count}"
        ),
        Stitch::Garter { .. } | Stitch::Stockinette | Stitch::Own { .. } => String::new(),
    }
}

/// The end of a sentence that says what a row has; nothing is counted where no width is set.
fn count(fabric: &Fabric, row: u16, names: &Names) -> String {
    let counted = fabric.width.and_then(|width| fabric.stitch.count(width, row));
    match counted {
        None => ".".to_owned(),
        Some(RowCount { stitches, and_chain: true, .. }) => {
            format!(": {stitches}, and the first stitch.")
        }
        Some(RowCount { stitches, spaces: 0, .. }) => format!(": {stitches}."),
        Some(RowCount { stitches, spaces, .. }) => {
            format!(": {stitches} {}, {spaces} spaces.", names.single)
        }
    }
}

/// The end of a block.
pub fn last_row(fabric: &Fabric) -> &'static str {
    match (fabric.stitch.craft(), fabric.terms) {
        (Craft::Crochet, _) => "Cut the yarn and pull it through the last loop.",
        (Craft::Knit, Terms::Us) => "Bind off every stitch, then cut the yarn.",
        (Craft::Knit, Terms::Uk) => "Cast off every stitch, then cut the yarn.",
    }
}
