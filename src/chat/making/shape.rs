//! What a choice makes of a blanket, and what takes it back. Refuses what cannot be worked, and
//! what leaves worked rows without a place.

use std::mem::discriminant;

use super::said::MakingRefusal;
use super::{DAYS_OF_BLOCK, worked};
use crate::blanket::stitch::{Stitch, Width};
use crate::blanket::{Book, Cut, Fabric, FabricFault, Pieces, Plan, PlanFault, Terms};
use crate::chat::button::Choice;

/// How a blanket is made.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Shape {
    pub pieces: Pieces,
    pub fabric: Fabric,
}

impl Shape {
    pub fn of(book: &Book) -> Shape {
        Shape { pieces: book.plan().pieces(), fabric: *book.fabric() }
    }
}

/// The blanket with this choice.
pub fn with(book: &Book, choice: Choice) -> Result<Shape, MakingRefusal> {
    let now = Shape::of(book);
    let after = chosen(book, now, choice);
    let plan = check(book, now, after, choice)?;
    if after.pieces != now.pieces {
        worked::fits(book, &plan)?;
    }
    Ok(after)
}

fn chosen(book: &Book, now: Shape, choice: Choice) -> Shape {
    let Shape { mut pieces, mut fabric } = now;
    match choice {
        Choice::Cut(cut) => {
            pieces = Pieces { cut, rows: rows_for(pieces, cut), ..pieces };
            // A layout of more blocks than there are then is none.
            let most = book.plan().in_pieces(pieces).map_or(0, |plan| columns_max(&plan));
            fabric.columns = fabric.columns.filter(|columns| *columns <= most);
        }
        Choice::CutAsBefore { cut, rows, columns } => {
            pieces = Pieces { cut, rows, ..pieces };
            fabric.columns = columns;
        }
        Choice::Rows(rows) => pieces.rows = rows,
        Choice::Fillers(fillers) => pieces.fillers = fillers,
        Choice::ShortEnds(short) => pieces.short_ends = short,
        Choice::Stitch { stitch, turn } => fabric = in_stitch(fabric, stitch, turn),
        Choice::StitchAsBefore { stitch, width, turned, swatch } => {
            fabric = Fabric { stitch, width, turned, swatch, ..fabric };
        }
        Choice::Turned(turned) => fabric.turned = turned,
        Choice::FirstSide(side) => fabric.first_side = side,
        Choice::Carry(carry) => fabric.carry = carry,
        Choice::Terms(terms) => fabric.terms = terms,
        Choice::LeftHanded(left) => fabric.left_handed = left,
        Choice::Width(width) => fabric.width = width,
        Choice::Swatch(swatch) => fabric.swatch = swatch,
        Choice::Columns(columns) => fabric.columns = columns,
        Choice::Border(rounds) => fabric.border_rounds = rounds,
    }
    Shape { pieces, fabric }
}

/// Rows a block that go with a cut: those there are, if they are rows of months; for blocks of
/// days one for each, and as many filler rows as such blocks had before.
fn rows_for(now: Pieces, cut: Cut) -> u16 {
    match (now.cut, cut) {
        (_, Cut::Strip) => now.rows,
        (Cut::Every(before), Cut::Every(days)) => {
            (days.saturating_add(now.rows.saturating_sub(before))).min(Plan::ROWS_MAX)
        }
        (Cut::Months | Cut::FromStart | Cut::Strip, Cut::Every(days)) => days,
        (Cut::Every(_), Cut::Months | Cut::FromStart) => Plan::ROWS_DEFAULT,
        (Cut::Months | Cut::FromStart | Cut::Strip, Cut::Months | Cut::FromStart) => {
            let least = cut.days_max().unwrap_or(1);
            if now.rows >= least { now.rows } else { Plan::ROWS_DEFAULT }
        }
    }
}

/// A width the stitch does not allow is not kept, nor the swatch of another kind of stitch.
fn in_stitch(fabric: Fabric, stitch: Stitch, turn: bool) -> Fabric {
    let same_kind = discriminant(&stitch) == discriminant(&fabric.stitch)
        && stitch.craft() == fabric.stitch.craft();
    Fabric {
        stitch,
        width: fabric.width.filter(|width| stitch.allows(*width)),
        turned: fabric.turned || turn,
        swatch: fabric.swatch.filter(|_| same_kind),
        ..fabric
    }
}

fn check(book: &Book, now: Shape, after: Shape, choice: Choice) -> Result<Plan, MakingRefusal> {
    let Shape { pieces, fabric } = after;
    let (stitch, terms) = (fabric.stitch, fabric.terms);
    let days = matches!(pieces.cut, Cut::Every(days) if !DAYS_OF_BLOCK.contains(&days));
    if days && pieces.cut != now.pieces.cut {
        return Err(MakingRefusal::Days { most: *DAYS_OF_BLOCK.end() });
    }
    if matches!(choice, Choice::Rows(_)) && pieces.cut == Cut::Strip {
        return Err(MakingRefusal::StripRows);
    }
    let plan = book.plan().in_pieces(pieces).map_err(|fault| match fault {
        PlanFault::Rows | PlanFault::LastBeforeFirst | PlanFault::TooLong => {
            MakingRefusal::Rows { least: pieces.rows_min(), most: Plan::ROWS_MAX }
        }
        PlanFault::Days => MakingRefusal::Days { most: *DAYS_OF_BLOCK.end() },
    })?;
    if stitch != now.fabric.stitch && !stitch.is_within_limits() {
        return Err(MakingRefusal::Own { most: Stitch::OWN_MAX });
    }
    fabric.check().map_err(|fault| match (fault, fabric.width) {
        (FabricFault::Width, Some(width)) => width_refused(stitch, width, terms),
        (FabricFault::Width | FabricFault::Turned, _) => MakingRefusal::Turned { stitch, terms },
    })?;
    let (blocks, most) = (plan.block_count(), columns_max(&plan));
    let columns = fabric.columns.filter(|_| fabric.columns != now.fabric.columns);
    if columns.is_some_and(|columns| !(1..=most).contains(&columns)) {
        return Err(MakingRefusal::Columns { blocks, most });
    }
    match fabric.border_rounds > Fabric::BORDER_ROUNDS_MAX {
        true => Err(MakingRefusal::Border { most: Fabric::BORDER_ROUNDS_MAX }),
        false => Ok(plan),
    }
}

fn width_refused(stitch: Stitch, width: Width, terms: Terms) -> MakingRefusal {
    match stitch.check(width) {
        Err(fault) => MakingRefusal::Width { width, fault, stitch, terms },
        Ok(()) => MakingRefusal::Turned { stitch, terms },
    }
}

/// The most blocks side by side.
pub fn columns_max(plan: &Plan) -> u16 {
    plan.block_count().min(Fabric::COLUMNS_MAX)
}

/// Whether rows can become rows of other days, of another side or of another stitch.
pub fn moves_rows(choice: Choice) -> bool {
    match choice {
        Choice::Cut(_)
        | Choice::CutAsBefore { .. }
        | Choice::Rows(_)
        | Choice::Fillers(_)
        | Choice::ShortEnds(_)
        | Choice::Stitch { .. }
        | Choice::StitchAsBefore { .. }
        | Choice::FirstSide(_)
        | Choice::Turned(_) => true,
        Choice::Carry(_)
        | Choice::Terms(_)
        | Choice::LeftHanded(_)
        | Choice::Width(_)
        | Choice::Swatch(_)
        | Choice::Columns(_)
        | Choice::Border(_) => false,
    }
}

/// The choice that leads back to how it was before `choice`.
pub fn back(before: &Shape, choice: Choice) -> Choice {
    let Shape { pieces, fabric } = *before;
    match choice {
        Choice::Cut(_) | Choice::CutAsBefore { .. } => {
            let columns = fabric.columns;
            Choice::CutAsBefore { cut: pieces.cut, rows: pieces.rows, columns }
        }
        Choice::Rows(_) => Choice::Rows(pieces.rows),
        Choice::Fillers(_) => Choice::Fillers(pieces.fillers),
        Choice::ShortEnds(_) => Choice::ShortEnds(pieces.short_ends),
        Choice::Stitch { .. } | Choice::StitchAsBefore { .. } => Choice::StitchAsBefore {
            stitch: fabric.stitch,
            width: fabric.width,
            turned: fabric.turned,
            swatch: fabric.swatch,
        },
        Choice::Turned(_) => Choice::Turned(fabric.turned),
        Choice::FirstSide(_) => Choice::FirstSide(fabric.first_side),
        Choice::Carry(_) => Choice::Carry(fabric.carry),
        Choice::Terms(_) => Choice::Terms(fabric.terms),
        Choice::LeftHanded(_) => Choice::LeftHanded(fabric.left_handed),
        Choice::Width(_) => Choice::Width(fabric.width),
        Choice::Swatch(_) => Choice::Swatch(fabric.swatch),
        Choice::Columns(_) => Choice::Columns(fabric.columns),
        Choice::Border(_) => Choice::Border(fabric.border_rounds),
    }
}
