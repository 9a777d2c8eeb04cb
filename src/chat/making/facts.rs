//! What the screens say of a blanket: its blocks, its sizes, its ends.

use super::said::{BlocksSaid, EndsSaid, SizeSaid, SwatchSaid};
use super::shape;
use crate::blanket::size::{Basis, Layout, Swatch};
use crate::blanket::stitch::{Stitch, Width};
use crate::blanket::yarn_weight::Gauge;
use crate::blanket::{Book, Carry, Change, Cut, Fabric, Pieces, Plan, ends};
use crate::chat::say::BlockSaid;

/// Rows over 10 cm that a strip is measured by where the maker has no swatch: an example.
const EXAMPLE_ROWS_PER_10CM: f64 = 16.0;

pub fn blocks(book: &Book) -> BlocksSaid {
    let plan = book.plan();
    let pieces = plan.pieces();
    // Worked short, a block with few days has fewer rows than the others.
    let short = plan.in_pieces(Pieces { short_ends: true, ..pieces });
    let few: Vec<_> = short
        .iter()
        .flat_map(Plan::blocks)
        .filter(|block| pieces.cut != Cut::Strip && block.rows != pieces.rows)
        .map(|block| (block.number, block.days()))
        .collect();
    let whole = plan.blocks().filter(|block| few.iter().all(|(number, _)| *number != block.number));
    let fillers: Vec<u16> = whole.map(|block| block.fillers()).collect();
    BlocksSaid {
        pieces,
        blocks: plan.block_count(),
        days: plan.blocks().map(|block| block.days()).sum(),
        fillers: fillers.iter().min().copied().zip(fillers.iter().max().copied()),
        few,
    }
}

/// Worked rows of one strip, their height, and whether that is by the maker's own swatch.
pub fn strip(book: &Book) -> (u16, f64, bool) {
    let days: u16 = book.plan().blocks().map(|block| block.days()).sum();
    let rows = days.saturating_mul(book.fabric().stitch.rows_per_day());
    match book.fabric().swatch {
        Some(swatch) => (rows, swatch.rows_cm(rows), true),
        None => (rows, 10.0 * f64::from(rows) / EXAMPLE_ROWS_PER_10CM, false),
    }
}

/// Ends of the current block; `None` where none of its days is answered.
pub fn ends_of_block(book: &Book) -> Option<EndsSaid> {
    let block = book.current_block()?;
    if !book.fabric().turned {
        return None;
    }
    let counted = |carry| {
        let fabric = Box::new(Fabric { carry, ..*book.fabric() });
        let mut so = book.clone();
        so.apply(&Change::Shaped { pieces: book.plan().pieces(), fabric });
        ends(&so, &block)
    };
    let never = counted(Carry::Never);
    (never.rows > block.fillers_before).then(|| EndsSaid {
        block: BlockSaid::of(book, block.number),
        rows: never.rows,
        never: never.ends,
        three: counted(Carry::Three).ends,
        five: counted(Carry::Five).ends,
    })
}

pub fn swatch(book: &Book, asks: Option<Basis>) -> SwatchSaid {
    let fabric = *book.fabric();
    let list_rows = book.plan().rows_max();
    let rows = list_rows.saturating_mul(fabric.stitch.rows_per_day());
    let square = |swatch: Swatch| match book.plan().pieces().cut {
        Cut::Months | Cut::FromStart | Cut::Every(_) => swatch.near_square(fabric.stitch, rows),
        // Nobody wants a strip to be square.
        Cut::Strip => Vec::new(),
    };
    SwatchSaid {
        fabric,
        asks,
        rows,
        height_cm: fabric.swatch.map(|swatch| swatch.rows_cm(rows)),
        block: fabric.block_size(list_rows),
        near_square: fabric.swatch.map(square).unwrap_or_default(),
        categories: fabric
            .swatch
            .map(|swatch| categories(swatch, fabric.stitch))
            .unwrap_or_default(),
    }
}

/// The standard counts single crochet and stockinette, and nothing else.
fn categories(swatch: Swatch, stitch: Stitch) -> Vec<(u8, Gauge)> {
    match stitch {
        Stitch::SingleCrochet => swatch.crochet_categories(),
        Stitch::Stockinette => swatch.knit_categories(),
        Stitch::Linen(_)
        | Stitch::HalfDouble { .. }
        | Stitch::Double { .. }
        | Stitch::Garter { .. }
        | Stitch::Own { .. } => Vec::new(),
    }
}

pub fn size(book: &Book) -> SizeSaid {
    let (plan, fabric) = (book.plan(), *book.fabric());
    let (blocks, rows) = (plan.block_count(), plan.rows_max());
    let columns = match plan.pieces().cut {
        Cut::Strip => Some(1),
        Cut::Months | Cut::FromStart | Cut::Every(_) => fabric.columns,
    };
    let laid = Fabric { columns, ..fabric };
    let layout = columns.and_then(|columns| Layout::of(blocks, columns));
    let block = fabric.block_size(rows);
    let of = |length: fn(Layout, u16, crate::blanket::size::Size) -> f64| {
        layout.zip(block).map_or(0.0, |(layout, block)| length(layout, blocks, block))
    };
    SizeSaid {
        fabric: laid,
        cut: plan.pieces().cut,
        blocks,
        block,
        layout,
        whole: laid.blanket_size(blocks, rows),
        seams_cm: of(Layout::seams_of_cm),
        edge_cm: of(|layout, _, block| layout.perimeter_cm(block)),
    }
}

/// Layouts to tap: those whose last row is full, where there are any.
pub fn columns(plan: &Plan) -> Vec<u16> {
    let blocks = plan.block_count();
    let most = shape::columns_max(plan);
    let all = || 2..=most.min(6);
    let full: Vec<u16> = all().filter(|columns| blocks.is_multiple_of(*columns)).collect();
    if full.is_empty() { all().collect() } else { full }
}

/// A width that this stitch allows, near one that many blankets have.
pub fn example_width(stitch: Stitch) -> u16 {
    const USUAL: Width = Width(36);
    match stitch.check(USUAL) {
        Ok(()) => USUAL.0,
        Err(fault) => fault.above.or(fault.below).unwrap_or(USUAL).0,
    }
}
