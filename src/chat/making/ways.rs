//! Which screen leads where, and what each waits for.

use super::basis;
use crate::blanket::size::Basis;
use crate::blanket::{Book, Cut};
use crate::chat::button::{Choice, Screen};
use crate::chat::talk::Awaited;

/// The screen to show instead where a blanket has no use for one.
pub fn of_this_blanket(book: &Book, screen: Screen) -> Screen {
    let strip = book.plan().pieces().cut == Cut::Strip;
    match screen {
        Screen::Rows | Screen::Fillers | Screen::ShortEnds if strip => Screen::Blocks,
        Screen::Columns if strip => Screen::Size,
        Screen::Swatch(None) => Screen::Swatch(Some(basis(book))),
        screen => screen,
    }
}

/// What a screen waits for.
pub fn waits(screen: Screen) -> Option<Awaited> {
    match screen {
        Screen::Days => Some(Awaited::Days),
        Screen::Rows => Some(Awaited::Rows),
        Screen::OwnWidths(craft) => Some(Awaited::OwnWidths(craft)),
        Screen::Width => Some(Awaited::Width),
        Screen::Swatch(basis) => Some(Awaited::Swatch(basis.unwrap_or(Basis::TenCentimetres))),
        Screen::Columns => Some(Awaited::Columns),
        Screen::Border => Some(Awaited::Border),
        Screen::Home
        | Screen::Blocks
        | Screen::Cut
        | Screen::Strip
        | Screen::Fillers
        | Screen::ShortEnds
        | Screen::Stitch
        | Screen::Linen
        | Screen::HalfDouble
        | Screen::Double
        | Screen::Garter
        | Screen::Own
        | Screen::Carry
        | Screen::Names
        | Screen::Size => None,
    }
}

/// The screen that waits for it.
pub fn of(wait: Awaited) -> Screen {
    match wait {
        Awaited::Days => Screen::Days,
        Awaited::Rows => Screen::Rows,
        Awaited::OwnWidths(craft) => Screen::OwnWidths(craft),
        Awaited::Width => Screen::Width,
        Awaited::Swatch(basis) => Screen::Swatch(Some(basis)),
        Awaited::Columns => Screen::Columns,
        Awaited::Border => Screen::Border,
    }
}

/// The screen that shows what was chosen.
pub fn of_choice(choice: Choice) -> Screen {
    match choice {
        Choice::Cut(_)
        | Choice::CutAsBefore { .. }
        | Choice::Rows(_)
        | Choice::Fillers(_)
        | Choice::ShortEnds(_) => Screen::Blocks,
        Choice::Stitch { .. }
        | Choice::StitchAsBefore { .. }
        | Choice::Turned(_)
        | Choice::FirstSide(_) => Screen::Stitch,
        Choice::Carry(_) => Screen::Carry,
        Choice::Terms(_) | Choice::LeftHanded(_) => Screen::Names,
        Choice::Width(_) => Screen::Width,
        Choice::Swatch(_) => Screen::Swatch(None),
        Choice::Columns(_) | Choice::Border(_) => Screen::Size,
    }
}

/// The screen that *Back* leads to; `None` for all settings.
pub fn parent(screen: Screen) -> Option<Screen> {
    match screen {
        Screen::Home => None,
        Screen::Blocks
        | Screen::Stitch
        | Screen::Carry
        | Screen::Names
        | Screen::Width
        | Screen::Swatch(_)
        | Screen::Size => Some(Screen::Home),
        Screen::Cut | Screen::Rows | Screen::Fillers | Screen::ShortEnds => Some(Screen::Blocks),
        Screen::Days | Screen::Strip => Some(Screen::Cut),
        Screen::Linen | Screen::HalfDouble | Screen::Double | Screen::Garter | Screen::Own => {
            Some(Screen::Stitch)
        }
        Screen::OwnWidths(_) => Some(Screen::Own),
        Screen::Columns | Screen::Border => Some(Screen::Size),
    }
}
