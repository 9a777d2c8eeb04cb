//! What is a colour needed for that is known today: rows that wait, filler rows, joins, border.
//!
//! Never looks at days to come: those are forecast.

use crate::blanket::blocks::RowContent;
use crate::blanket::book::Book;
use crate::blanket::forecast::{Amount, border_cm, seams_cm};
use crate::blanket::scale::YarnId;
use crate::blanket::size::Layout;

use super::estimate::{Lacking, density};
use super::settings::Join;

#[derive(Clone, PartialEq, Debug)]
pub struct Need {
    /// Rows logged and not worked; for the joining colour, the filler rows of blocks with a logged
    /// day.
    pub waiting: u32,
    /// Filler rows of blocks without a logged day.
    pub fillers_to_come: u32,
    pub edging: Edging,
}

/// Yarn for joining the blocks and for the border; the joining colour alone is needed for it.
#[derive(Clone, PartialEq, Debug)]
pub enum Edging {
    Nothing,
    Known {
        joins: Amount,
        border: Amount,
    },
    /// It is needed, and this would tell how much.
    Unknown(Vec<Lacking>),
}

impl Need {
    pub fn rows(&self) -> u32 {
        self.waiting + self.fillers_to_come
    }
}

impl Edging {
    /// Both together; their errors have nothing to do with each other.
    pub fn amount(&self) -> Amount {
        match self {
            Edging::Known { joins, border } => Amount {
                grams: joins.grams + border.grams,
                se_grams: joins.se_grams.hypot(border.se_grams),
            },
            Edging::Nothing | Edging::Unknown(_) => Amount { grams: 0.0, se_grams: 0.0 },
        }
    }
}

pub fn need(book: &Book, yarn: YarnId) -> Need {
    let (mut waiting, mut fillers_to_come) = (0, 0);
    for block in book.plan().blocks() {
        let worked = book.worked(block.number).len();
        let begun = book.answers().range(block.first_day..=block.last_day).next().is_some();
        for row in book.plan().rows(&block).iter().skip(worked) {
            match row.content {
                RowContent::Day(_) if book.yarn_for(row) == Some(yarn) => waiting += 1,
                RowContent::Filler if book.joining() == yarn && begun => waiting += 1,
                RowContent::Filler if book.joining() == yarn => fillers_to_come += 1,
                RowContent::Day(_) | RowContent::Filler => {}
            }
        }
    }
    let edging = if book.joining() == yarn { edging(book) } else { Edging::Nothing };
    Need { waiting, fillers_to_come, edging }
}

/// Joined column by column, there is one seam fewer than there are blocks.
fn edging(book: &Book) -> Edging {
    let (fabric, join) = (book.fabric(), book.yarn_settings().join);
    let blocks = book.plan().block_count();
    let rounds = u32::from(fabric.border_rounds);
    let sewn = blocks > 1 && join != Some(Join::Without);
    if !sewn && rounds == 0 {
        return Edging::Nothing;
    }
    let density = density(book, book.joining());
    let size = fabric.block_size(book.plan().rows_max());
    let columns = if blocks > 1 { fabric.columns } else { Some(1) };
    let layout = columns.and_then(|columns| Layout::of(blocks, columns));
    if let (Some(layout), Some(size), Some(density)) = (layout, size, density)
        && !(sewn && join.is_none())
    {
        let seams = || (layout.seams_of_cm(blocks, size), u32::from(blocks) - 1);
        let joins = join.filter(|_| sewn).and_then(Join::seam).map(|join| {
            let (length_cm, seams) = seams();
            seams_cm(join, length_cm, seams)
        });
        let border = border_cm(layout.perimeter_cm(size), rounds);
        return Edging::Known {
            joins: joins.unwrap_or_default().weight(density),
            border: border.weight(density),
        };
    }
    let lacks = [
        (Lacking::Width, fabric.width.is_none()),
        (Lacking::Swatch, fabric.swatch.is_none()),
        (Lacking::Metres, density.is_none()),
        (Lacking::Columns, columns.is_none()),
        (Lacking::Join, sewn && join.is_none()),
    ];
    Edging::Unknown(lacks.into_iter().filter(|(_, lacks)| *lacks).map(|(what, _)| what).collect())
}
