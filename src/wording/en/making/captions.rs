//! Labels of the buttons that say how the blanket is made, in English.

use super::{blocks, capital, count, decimal, names, size};
use crate::blanket::size::Swatch;
use crate::blanket::stitch::{Craft, Stitch, Width};
use crate::blanket::{Carry, Cut, Side, Terms};
use crate::chat::button::{Act, Choice, Screen};

pub fn caption(act: Act, terms: Terms) -> String {
    match act {
        Act::Show(screen) => show(screen, terms),
        Act::Choose(choice) => choose(choice, terms),
        // What it is stands above, with what it makes of worked rows.
        Act::Change { .. } => "Make this change".to_owned(),
    }
}

pub fn show(screen: Screen, terms: Terms) -> String {
    let plain = match screen {
        Screen::Home => "Blocks and stitch",
        Screen::Blocks => "Blocks",
        Screen::Cut => "Where a block ends",
        Screen::Days => "Every so many days",
        Screen::Strip => "One strip",
        Screen::Rows => "Rows of a block",
        Screen::Fillers => "Filler rows",
        Screen::ShortEnds => "First and last block",
        Screen::Stitch => "Stitch",
        Screen::Linen => "Linen stitch",
        Screen::HalfDouble => return capital(names::half_double(terms)),
        Screen::Double => return capital(names::double(terms)),
        Screen::Garter => "Garter stitch",
        Screen::Own => "Your own stitch",
        Screen::OwnWidths(Craft::Crochet) => "Crochet",
        Screen::OwnWidths(Craft::Knit) => "Knitting",
        Screen::Carry => "Carrying",
        Screen::Names => "Names and hand",
        Screen::Width => "Width",
        Screen::Swatch(None) => "Swatch",
        Screen::Swatch(Some(basis)) => return format!("Measured over {}", size::basis(basis)),
        Screen::Size => "Size of the blanket",
        Screen::Columns => "Blocks side by side",
        Screen::Border => "Border",
    };
    plain.to_owned()
}

pub fn choose(choice: Choice, terms: Terms) -> String {
    let plain = match choice {
        Choice::Cut(cut) | Choice::CutAsBefore { cut, .. } => return self::cut(cut),
        Choice::Rows(rows) => return count(rows, "row"),
        Choice::Fillers(fillers) => blocks::caption(fillers),
        Choice::ShortEnds(true) => "Work it short",
        Choice::ShortEnds(false) => "Keep its rows",
        Choice::Stitch { turn: true, .. } => "Turn the work and take it",
        Choice::Stitch { stitch, turn: false } | Choice::StitchAsBefore { stitch, .. } => {
            return self::stitch(stitch, terms);
        }
        Choice::Turned(true) => "Turn after each row",
        Choice::Turned(false) => "Do not turn",
        Choice::FirstSide(Side::Right) => "Row 1 on the right side",
        Choice::FirstSide(Side::Wrong) => "Row 1 on the wrong side",
        Choice::Carry(Carry::Never) => "Never",
        Choice::Carry(carry) => return format!("At most {} rows", carry.rows()),
        Choice::Terms(terms) => return size::terms(terms),
        Choice::LeftHanded(true) => "Left-handed",
        Choice::LeftHanded(false) => "Right-handed",
        Choice::Width(Some(Width(across))) => return format!("Take {across} stitches"),
        Choice::Width(None) => "No width",
        Choice::Swatch(Some(swatch)) => return self::swatch(swatch),
        Choice::Swatch(None) => "No swatch",
        Choice::Columns(Some(columns)) => return columns.to_string(),
        Choice::Columns(None) => "No layout",
        Choice::Border(0) => "No border",
        Choice::Border(rounds) => return count(rounds, "round"),
    };
    plain.to_owned()
}

fn cut(cut: Cut) -> String {
    match cut {
        Cut::Months => "Calendar months".to_owned(),
        Cut::FromStart => "Months from the first day".to_owned(),
        Cut::Every(days) => format!("Every {}", count(days, "day")),
        Cut::Strip => "Make it one strip".to_owned(),
    }
}

fn stitch(stitch: Stitch, terms: Terms) -> String {
    let plain = match stitch {
        Stitch::Linen(edge) => return capital(&names::linen(edge, terms)),
        Stitch::SingleCrochet => return capital(names::single(terms)),
        Stitch::HalfDouble { chain_counts: true } | Stitch::Double { chain_counts: true } => {
            "It counts"
        }
        Stitch::HalfDouble { chain_counts: false } | Stitch::Double { chain_counts: false } => {
            "It does not count"
        }
        Stitch::Garter { day_is_ridge: true } => "A ridge",
        Stitch::Garter { day_is_ridge: false } => "A row",
        Stitch::Stockinette => "Stockinette",
        Stitch::Own { .. } => "Your own stitch",
    };
    plain.to_owned()
}

fn swatch(swatch: Swatch) -> String {
    let (stitches, rows) = (swatch.stitches_per_10cm(), swatch.rows_per_10cm());
    format!("Keep swatch {} x {}", decimal(stitches), decimal(rows))
}
