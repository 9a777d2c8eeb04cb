//! What cannot be so, in English: one clear sentence, and an example that works.

use super::{Words, capital, count, names, plain, stitch};
use crate::blanket::Terms;
use crate::blanket::stitch::{LinenEdge, Stitch, Width};
use crate::chat::making::MakingRefusal;
use crate::chat::talk::Awaited;
use crate::wording::en::dates::quoted;
use crate::wording::en::rows::{block_name, block_title};

pub fn refused(refusal: &MakingRefusal) -> Words {
    match refusal {
        MakingRefusal::MoreWorked { block, worked, rows } => lines![
            format!(
                "{} of {} are worked, and it would have {}. Nothing was changed.",
                count(*worked, "row"),
                block_name(block),
                count(*rows, "row")
            ),
            format!("If you pull it back to row {rows} first, it can be so."),
        ],
        MakingRefusal::WorkedBlockGone { block } => lines![
            format!(
                "Rows of {} are worked, and block {} would not be there. Nothing was changed.",
                block_name(block),
                block.number
            ),
            "If you pull them back first, it can be so.",
        ],
        MakingRefusal::FinishedBlock { block, rows } => lines![
            format!(
                "{} is woven in or joined, and would have {}. Nothing was changed.",
                block_title(block),
                count(*rows, "row")
            ),
            format!("If you take that back in /block {} first, it can be so.", block.number),
        ],
        MakingRefusal::Unread { typed, wait, least, most, example } => {
            lines![
                format!("I do not know {} {}. Nothing was changed.", what(*wait), quoted(typed)),
                how(*wait, (*least, *most), *example),
            ]
        }
        MakingRefusal::Days { most } => {
            lines![format!("A block has 1 to {most} days. Nothing was changed.")]
        }
        MakingRefusal::Rows { least, most } => lines![format!(
            "A block has {least} to {most} rows: at least one for each of its days. Nothing was \
             changed."
        )],
        MakingRefusal::StripRows => {
            lines!["One strip has one row for each day. Nothing was changed."]
        }
        MakingRefusal::Turned { stitch, terms } => {
            lines![format!("{} Nothing was changed.", turned(*stitch, *terms))]
        }
        MakingRefusal::Width { width: Width(across), fault, stitch, terms } => lines![
            format!(
                "{} does not allow a width of {across}. Nothing was changed.",
                capital(&names::stitch(*stitch, *terms))
            ),
            stitch::nearest(*fault),
        ],
        MakingRefusal::Own { most } => lines![
            format!(
                "A multiple is 1 to {most}, and 0 to {most} can be added. Nothing was changed."
            ),
            "Type it like 6 + 1.",
        ],
        MakingRefusal::Swatch => lines![
            "A swatch has 2 to 80 stitches and 2 to 120 rows. Nothing was changed.",
            "Type it like 14 x 18.",
        ],
        MakingRefusal::Columns { blocks, most } => lines![format!(
            "There are {}, and 1 to {most} can be side by side. Nothing was changed.",
            count(*blocks, "block")
        )],
        MakingRefusal::Border { most } => {
            lines![format!("A border has 0 to {most} rounds. Nothing was changed.")]
        }
    }
}

fn what(wait: Awaited) -> &'static str {
    match wait {
        Awaited::Days => "the number of days",
        Awaited::Rows => "the number of rows",
        Awaited::OwnWidths(_) => "the widths",
        Awaited::Width => "the width",
        Awaited::Swatch(_) => "the swatch",
        Awaited::Columns => "the number of blocks",
        Awaited::Border => "the number of rounds",
    }
}

fn how(wait: Awaited, (least, most): (u16, u16), example: u16) -> String {
    match wait {
        Awaited::Days | Awaited::Rows | Awaited::Columns | Awaited::Border | Awaited::Width => {
            format!("Type a number from {least} to {most}, like {example}.")
        }
        Awaited::OwnWidths(_) => "Type a multiple and what is added, like 6 + 1.".to_owned(),
        Awaited::Swatch(_) => "Type stitches and rows, like 14 x 18.".to_owned(),
    }
}

/// Why a stitch has to be turned, in one sentence.
fn turned(stitch: Stitch, terms: Terms) -> String {
    match stitch {
        Stitch::Linen(LinenEdge::ChainTwo) => {
            "Linen stitch with a chain-2 edge needs turned work, because without a turn its chains \
             lie over its spaces."
                .to_owned()
        }
        Stitch::Linen(LinenEdge::SingleAtEnd) => format!(
            "Linen stitch with {} needs turned work, because without a turn it slants, by about 31 \
             stitches in 33 rows.",
            names::linen(LinenEdge::SingleAtEnd, terms)
        ),
        Stitch::Garter { .. } | Stitch::Stockinette => {
            "Flat knitting needs turned work, because its rows go back and forth.".to_owned()
        }
        Stitch::Linen(LinenEdge::Single)
        | Stitch::SingleCrochet
        | Stitch::HalfDouble { .. }
        | Stitch::Double { .. }
        | Stitch::Own { .. } => "This stitch needs turned work.".to_owned(),
    }
}
