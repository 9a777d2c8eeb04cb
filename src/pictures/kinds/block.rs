//! One block with its rows named: number, side, which way it runs, date, tier, colour, and whether
//! the yarn is kept, carried or changed. Row 1 is at the bottom, as in the hand, or at the top.

use super::super::facts::{BlockRows, RowFacts, State};
use super::super::labels::Labels;
use super::super::list::{Area, DisplayList, Role, Style};
use super::super::pen::{Align, BAND, MUTED, PALE, PAPER, Pen, TEXT};
use super::arrow::{arrow, tick};
use super::blanket::{Look, row_of};
use crate::blanket::{FirstRow, Handling};

const WIDTH: f32 = 1120.0;
const MARGIN: f32 = 28.0;
const HEAD: f32 = 92.0;
const FABRIC: Area = Area::new(432.0, 0.0, 372.0, 0.0);
/// The highest that all rows together may be, so that the picture is one the platform takes.
const ROWS_MAX: f32 = 7_900.0;

pub fn block(facts: &BlockRows, look: Look, labels: &Labels) -> DisplayList {
    let count = facts.rows.len().max(1) as f32;
    let row = (ROWS_MAX / count).floor().clamp(8.0, 30.0);
    let title = (labels.days.block_of)(&facts.block, facts.cut, facts.blocks);
    let height = HEAD + count * row + 26.0;
    let mut pen = Pen::new(&title, labels.language, WIDTH, height);
    head(&mut pen, facts, &title, labels);
    let fabric = Area::new(FABRIC.x, HEAD, FABRIC.width, count * row);
    let at = |index: usize| match facts.first_row {
        FirstRow::Bottom => HEAD + (count - 1.0 - index as f32) * row,
        FirstRow::Top => HEAD + index as f32 * row,
    };
    for index in (0..facts.rows.len()).filter(|index| index % 2 == 1) {
        pen.rect(Area::new(MARGIN - 8.0, at(index), WIDTH - 2.0 * MARGIN + 16.0, row), BAND);
    }
    pen.role(Role::Figure(title.clone()), |pen| {
        pen.rect(fabric, PALE);
        for (index, facts_of_row) in facts.rows.iter().enumerate() {
            let area = Area::new(fabric.x, at(index), fabric.width, row);
            let rgb = facts_of_row.state.ink().map_or(PALE, |ink| facts.inks.get(ink).rgb);
            row_of(pen, facts_of_row.state, rgb, area, fabric, look, index as u32);
        }
        if look == Look::Flat {
            between_rows(pen, facts, fabric, row);
        }
    });
    for (index, row_facts) in facts.rows.iter().enumerate() {
        let area = Area::new(MARGIN, at(index), WIDTH - 2.0 * MARGIN, row);
        pen.role(Role::Paragraph, |pen| names(pen, facts, row_facts, area, labels));
    }
    pen.done()
}

/// Rows of one colour are counted one by one, as stitched rows are.
fn between_rows(pen: &mut Pen, facts: &BlockRows, fabric: Area, row: f32) {
    let worked = |row: &RowFacts| matches!(row.state, State::Worked(_));
    for (below, two) in facts.rows.windows(2).enumerate() {
        if two.iter().all(worked) {
            let y = fabric.bottom() - (below as f32 + 1.0) * row;
            pen.rect(Area::new(fabric.x, y, fabric.width, 1.0), PAPER);
        }
    }
}

fn head(pen: &mut Pen, facts: &BlockRows, title: &str, labels: &Labels) {
    let width = WIDTH - 2.0 * MARGIN;
    pen.role(Role::Title, |pen| {
        pen.text((MARGIN, 44.0), Align::Left, Style::bold(30.0, TEXT), title, width - 300.0);
    });
    let style = Style::regular(17.0, MUTED);
    let row_1 = match facts.first_row {
        FirstRow::Bottom => labels.row_1_below,
        FirstRow::Top => labels.row_1_above,
    };
    pen.role(Role::Paragraph, |pen| {
        pen.text((WIDTH - MARGIN, 44.0), Align::Right, style, row_1, 290.0);
    });
    if facts.rows.iter().any(|row| row.runs.is_some()) {
        pen.role(Role::Paragraph, |pen| {
            pen.text((MARGIN, 74.0), Align::Left, style, labels.arrows, width);
        });
    }
}

/// What stands on both sides of the fabric.
fn names(pen: &mut Pen, facts: &BlockRows, row: &RowFacts, area: Area, labels: &Labels) {
    let size = (area.height * 0.57).min(17.0);
    let (plain, bold) = (Style::regular(size, TEXT), Style::bold(size, TEXT));
    let muted = Style::regular(size, MUTED);
    let cell = |x: f32, width: f32| Area::new(area.x + x, area.y, width, area.height);
    if matches!(row.state, State::Worked(_)) {
        let side = size * 0.78;
        tick(pen, Area::new(area.x, area.middle() - side / 2.0, side, side), MUTED);
    }
    pen.text_in(cell(16.0, 34.0), Align::Right, bold, &row.number.to_string());
    pen.text_in(cell(64.0, 32.0), Align::Left, plain, (labels.side)(row.side));
    if let Some(runs) = row.runs {
        let tall = size * 0.58;
        arrow(pen, Area::new(area.x + 100.0, area.middle() - tall / 2.0, 20.0, tall), runs, MUTED);
    }
    let date = row.day.map_or(labels.states.filler.to_owned(), |day| (labels.days.short)(day));
    pen.text_in(cell(138.0, 112.0), Align::Left, plain, &date);
    pen.text_in(cell(256.0, 140.0), Align::Left, plain, said_of(row, labels));
    let right = FABRIC.right() - area.x + 18.0;
    let end = area.width;
    if let Some(ink) = row.state.ink().map(|ink| facts.inks.get(ink)) {
        pen.text_in(cell(right, 20.0), Align::Middle, bold, &ink.letter.to_string());
        let now = row.now_in.map(|now| (labels.sheet.now_in)(&facts.inks.get(now).name));
        let name = now.map_or(ink.name.clone(), |now| format!("{}, {now}", ink.name));
        pen.text_in(cell(right + 28.0, end - right - 28.0 - 72.0), Align::Left, plain, &name);
    }
    if let Some(handling) = row.handling {
        let style = match handling {
            Handling::Change => bold,
            Handling::Start | Handling::Keep | Handling::Carry { .. } => muted,
        };
        pen.text_in(cell(end - 66.0, 66.0), Align::Right, style, (labels.handling)(handling));
    }
}

/// The tier, or why there is none.
fn said_of<'a>(row: &'a RowFacts, labels: &'a Labels) -> &'a str {
    match (&row.tier, row.state) {
        (Some(tier), _) => tier,
        (None, State::Open) => labels.states.open,
        (None, State::ToCome) => labels.states.to_come,
        (None, State::Worked(_) | State::Waiting(_)) => "",
    }
}
