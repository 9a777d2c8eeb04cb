//! One line of the printed sheet: its cells, and the boxes that are filled in by hand.

use super::super::facts::{BlockRows, RowFacts, Runs, State};
use super::super::labels::Labels;
use super::super::list::{Area, Role, Style};
use super::super::pen::{Align, BAND, DASHES, MUTED, OUTLINE, PAPER, Pen, TEXT};
use super::super::text::width;
use super::arrow::{arrow, tick_box};
use super::sheet::is_ticked;
use crate::blanket::Handling;

/// Left edge and width of each column: done, row, side, date, day, colour, yarn, next to it.
pub struct Columns {
    cells: [(f32, f32); 8],
    size: f32,
    /// Names of neighbours fit; else their letters stand for them.
    names: bool,
}

/// Shares of the width, for wide paper and for narrow.
const WIDE: [f32; 8] = [30.0, 26.0, 44.0, 62.0, 72.0, 104.0, 42.0, 144.0];
const NARROW: [f32; 8] = [24.0, 22.0, 38.0, 54.0, 72.0, 92.0, 34.0, 62.0];
const GAP: f32 = 6.0;

impl Columns {
    pub fn of(facts: &BlockRows, labels: &Labels, width_max: f32) -> Columns {
        let wide = width_max > 450.0;
        let (shares, size) = if wide { (WIDE, 9.0) } else { (NARROW, 7.5) };
        let total: f32 = shares.iter().sum();
        let mut left = 0.0;
        let cells = shares.map(|share| {
            let width = share * width_max / total;
            let cell = (left, width - GAP);
            left += width;
            cell
        });
        let style = Style::regular(size - 1.0, MUTED);
        let fits = |index: usize| {
            // A text is made smaller down to four fifths before it is cut off.
            width(&neighbours(facts, index, true, labels), style) * 0.8 <= cells[7].1 - 1.0
        };
        let names = wide && (0..facts.rows.len()).all(fits);
        Columns { cells, size, names }
    }

    pub fn head(&self, pen: &mut Pen, labels: &Labels, (x, baseline): (f32, f32)) {
        let style = Style::bold(self.size - 0.5, TEXT);
        for ((left, width), name) in self.cells.iter().zip(labels.sheet.columns) {
            pen.role(Role::HeadCell, |pen| {
                pen.text((x + left, baseline), Align::Left, style, name, *width + GAP / 2.0);
            });
        }
    }
}

pub fn row(
    pen: &mut Pen,
    facts: &BlockRows,
    row: &RowFacts,
    at: Area,
    columns: &Columns,
    labels: &Labels,
) {
    if row.number % 2 == 1 {
        pen.rect(at, BAND);
    }
    let index = usize::from(row.number) - 1;
    let cell = |column: usize| {
        let (left, width) = columns.cells[column];
        Area::new(at.x + left, at.y, width, at.height)
    };
    let (plain, bold) = (Style::regular(columns.size, TEXT), Style::bold(columns.size, TEXT));
    let muted = Style::regular(columns.size, MUTED);
    let date = row.day.map_or("–".to_owned(), |day| (labels.days.short)(day));
    let next_to = neighbours(facts, index, columns.names, labels);
    pen.role(Role::Row, |pen| {
        pen.role(Role::Cell, |pen| done(pen, row, cell(0), labels));
        pen.role(Role::Cell, |pen| {
            pen.text_in(cell(1), Align::Left, bold, &row.number.to_string());
        });
        pen.role(Role::Cell, |pen| side(pen, row, cell(2), plain, labels));
        pen.role(Role::Cell, |pen| pen.text_in(cell(3), Align::Left, plain, &date));
        pen.role(Role::Cell, |pen| day(pen, row, cell(4), plain, labels));
        pen.role(Role::Cell, |pen| colour(pen, facts, row, cell(5), plain, labels));
        pen.role(Role::Cell, |pen| {
            let Some(handling) = row.handling else {
                return pen.text_in(cell(6), Align::Left, muted, "–");
            };
            let style = match handling {
                Handling::Change => bold,
                Handling::Start | Handling::Keep | Handling::Carry { .. } => muted,
            };
            pen.text_in(cell(6), Align::Left, style, (labels.handling)(handling));
        });
        pen.role(Role::Cell, |pen| {
            let style = Style::regular(columns.size - 1.0, MUTED);
            pen.text_in(cell(7), Align::Left, style, &next_to);
        });
    });
}

fn done(pen: &mut Pen, row: &RowFacts, cell: Area, labels: &Labels) {
    let side = (cell.height * 0.62).min(11.0);
    let alt = (labels.sheet.tick)(row.number, row.state);
    let area = Area::new(cell.x + 4.0, cell.middle() - side / 2.0, side, side);
    pen.role(Role::Figure(alt), |pen| tick_box(pen, area, is_ticked(row)));
}

fn side(pen: &mut Pen, row: &RowFacts, cell: Area, style: Style, labels: &Labels) {
    pen.text_in(cell, Align::Left, style, (labels.side)(row.side));
    let Some(runs) = row.runs else { return };
    let (left, tall) = (style.size * 2.1, style.size * 0.52);
    let area = Area::new(cell.x + left, cell.middle() - tall / 2.0, style.size * 1.25, tall);
    let alt = (labels.sheet.arrow)(runs == Runs::ToLeft);
    pen.role(Role::Figure(alt.to_owned()), |pen| arrow(pen, area, runs, MUTED));
}

fn day(pen: &mut Pen, row: &RowFacts, cell: Area, style: Style, labels: &Labels) {
    match (&row.tier, row.state, row.day) {
        (Some(tier), ..) => pen.text_in(cell, Align::Left, style, tier),
        (None, _, None) => pen.text_in(cell, Align::Left, style, labels.states.filler),
        (None, State::Open | State::ToCome, Some(_)) => {
            let text = match row.state {
                State::Open => labels.states.open,
                State::ToCome | State::Worked(_) | State::Waiting(_) => labels.states.to_come,
            };
            let style = Style { rgb: MUTED, ..style };
            pen.text_in(cell, Align::Left, style, text);
            let from = cell.x + width(text, style) + 4.0;
            // A line to write on.
            let y = cell.middle() + style.size * 0.45;
            if from + 12.0 < cell.right() {
                pen.line((from, y), (cell.right(), y), 0.5, DASHES);
            }
        }
        (None, State::Worked(_) | State::Waiting(_), Some(_)) => {
            pen.text_in(cell, Align::Left, style, "–");
        }
    }
}

/// Swatch, letter and name; an empty box where the colour is not known yet.
fn colour(
    pen: &mut Pen,
    facts: &BlockRows,
    row: &RowFacts,
    cell: Area,
    style: Style,
    labels: &Labels,
) {
    let tall = (cell.height * 0.68).min(13.0);
    let swatch = Area::new(cell.x, cell.middle() - tall / 2.0, tall * 2.1, tall);
    let ink = row.state.ink().map(|ink| facts.inks.get(ink));
    let alt = (labels.sheet.swatch)(ink.map(|ink| ink.name.as_str()));
    let Some(ink) = ink else {
        pen.role(Role::Figure(alt), |pen| {
            pen.rect(swatch, PAPER);
            pen.frame(swatch, 0.6, OUTLINE);
        });
        return;
    };
    pen.role(Role::Figure(alt), |pen| {
        pen.rect(swatch, ink.rgb);
        pen.frame(swatch, 0.6, OUTLINE);
    });
    let left = swatch.right() + 5.0;
    let letter = Area::new(left, cell.y, style.size, cell.height);
    let bold = Style::bold(style.size, TEXT);
    pen.text_in(letter, Align::Left, bold, &ink.letter.to_string());
    let room = cell.right() - letter.right() - 3.0;
    let name = Area::new(letter.right() + 3.0, cell.y, room, cell.height);
    pen.text_in(name, Align::Left, style, &ink.name);
}

/// What can be seen below and above a row, where it differs from the row: so that the maker finds
/// the place on the piece. In a row stitched in a colour its day does not call for now: that.
fn neighbours(facts: &BlockRows, index: usize, names: bool, labels: &Labels) -> String {
    let row = &facts.rows[index];
    let name = |ink: usize| {
        let ink = facts.inks.get(ink);
        if names { ink.name.clone() } else { ink.letter.to_string() }
    };
    if let Some(now) = row.now_in {
        return (labels.sheet.now_in)(&name(now));
    }
    let Some(own) = row.state.ink() else { return String::new() };
    let beside = |index: Option<usize>| {
        let ink = index.and_then(|index| facts.rows.get(index)).and_then(|row| row.state.ink())?;
        (ink != own).then(|| name(ink))
    };
    let (below, above) = (beside(index.checked_sub(1)), beside(index.checked_add(1)));
    (labels.sheet.neighbours)(below.as_deref(), above.as_deref())
}
