//! The whole blanket: its blocks as the maker lays them out, row on row, and the key below.

use super::super::facts::{Blanket, Piece, State};
use super::super::labels::Labels;
use super::super::limits::fits_photo;
use super::super::list::{Area, DisplayList, Item, Role, Stitches, Style};
use super::super::pen::{Align, MUTED, PALE, Pen, TEXT, TRAY};
use super::key;
use crate::blanket::Cut;
use chrono::Datelike;

/// Flat for counting, cloth for joy.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Look {
    Flat,
    Cloth,
}

const MARGIN: f32 = 28.0;
const WIDTH_MIN: f32 = 640.0;
/// Room for the names of months beside a strip.
const MONTHS: f32 = 48.0;

/// Where everything is: lengths in units.
#[derive(Clone, Copy, PartialEq, Debug)]
struct Layout {
    columns: u16,
    rows: u16,
    row_height: f32,
    block_width: f32,
    block_height: f32,
    gap: f32,
    /// Height of a block's name below it.
    name: f32,
    /// Room on the left of each block.
    beside: f32,
    width: f32,
    top: f32,
}

/// `title` and `note` stand above: what this is, and how far it is.
pub fn blanket(
    facts: &Blanket,
    look: Look,
    title: &str,
    note: &str,
    labels: &Labels,
) -> DisplayList {
    let layout = Layout::of(facts);
    let (tray_width, tray_height) = layout.tray();
    let key_top = layout.top + tray_height + 28.0;
    let key_width = layout.width - 2.0 * MARGIN;
    let height = key_top + key::height(&facts.inks, labels, key_width) + 26.0;
    let mut pen = Pen::new(title, labels.language, layout.width, height);
    head(&mut pen, &layout, facts, title, note, labels);
    let tray = Area::new((layout.width - tray_width) / 2.0, layout.top, tray_width, tray_height);
    pen.rect(tray, TRAY);
    for (index, piece) in facts.blocks.iter().enumerate() {
        let area = layout.block(tray, index, piece);
        let name = (labels.days.block)(&piece.block, piece.cut);
        pen.role(Role::Figure(name.clone()), |pen| rows(pen, facts, piece, area, look, index));
        if layout.name > 0.0 && piece.cut != Cut::Strip {
            let below = Area::new(area.x, area.bottom(), area.width, layout.name);
            let style = Style::regular(15.0, TEXT);
            pen.role(Role::Paragraph, |pen| pen.text_in(below, Align::Middle, style, &name));
        }
        if piece.cut == Cut::Strip {
            months(&mut pen, piece, area, labels);
        }
    }
    key::draw(&mut pen, &facts.inks, labels, (MARGIN, key_top), key_width);
    pen.done()
}

fn head(pen: &mut Pen, layout: &Layout, facts: &Blanket, title: &str, note: &str, labels: &Labels) {
    let width = layout.width - 2.0 * MARGIN;
    let mut lines = note.to_owned();
    if facts.columns.is_some_and(|asked| asked.min(facts.blocks.len() as u16) != layout.columns) {
        lines = format!("{note} · {}", (labels.other_columns)(layout.columns));
    }
    pen.role(Role::Title, |pen| {
        pen.text((MARGIN, 36.0), Align::Left, Style::bold(26.0, TEXT), title, width);
    });
    let note = Style::regular(16.0, MUTED);
    pen.role(Role::Paragraph, |pen| match layout.width >= 900.0 {
        true => pen.text((layout.width - MARGIN, 36.0), Align::Right, note, &lines, width - 330.0),
        false => pen.text((MARGIN, 62.0), Align::Left, note, &lines, width),
    });
}

/// The rows of a block from the bottom up, so that stitches reach over the row below.
fn rows(pen: &mut Pen, facts: &Blanket, piece: &Piece, area: Area, look: Look, index: usize) {
    pen.rect(area, PALE);
    let height = area.height / piece.rows.len().max(1) as f32;
    for (row, state) in piece.rows.iter().enumerate() {
        let y = area.bottom() - (row + 1) as f32 * height;
        let at = Area::new(area.x, y, area.width, height);
        let rgb = state.ink().map(|ink| facts.inks.get(ink).rgb);
        let seed = (index * 1000 + row) as u32;
        row_of(pen, *state, rgb.unwrap_or(PALE), at, area, look, seed);
    }
}

/// One row: full where it is worked, a thin thread where it waits, dashes where it is open.
pub fn row_of(
    pen: &mut Pen,
    state: State,
    rgb: [u8; 3],
    at: Area,
    clip: Area,
    look: Look,
    seed: u32,
) {
    match (state, look) {
        (State::Worked(_), Look::Flat) => pen.rect(at, rgb),
        (State::Worked(_), Look::Cloth) => {
            let half_over = seed % 2 == 1;
            pen.item(Item::Stitches(Stitches { area: at, rgb, clip, half_over, seed }));
        }
        (State::Waiting(_), _) => {
            pen.rect(at, PALE);
            let thread = (at.height * 0.36).max(1.0);
            let y = at.middle() - thread / 2.0;
            pen.rect(Area::new(at.x, y.round(), at.width, thread.round()), rgb);
        }
        (State::Open, _) => {
            pen.rect(at, [255; 3]);
            pen.dashes(at, (at.height / 5.0).clamp(1.0, 2.0).round());
        }
        (State::ToCome, _) => pen.rect(at, PALE),
    }
}

/// The names of months on the left of a strip, each beside its first row.
fn months(pen: &mut Pen, piece: &Piece, area: Area, labels: &Labels) {
    let height = area.height / piece.rows.len().max(1) as f32;
    let first = piece.block.first_day;
    let style = Style::regular(13.0, MUTED);
    let days = first.iter_days().take(usize::from(piece.block.days()));
    for (row, day) in days.enumerate().filter(|(row, day)| day.day() == 1 || *row == 0) {
        let middle = area.bottom() - (row as f32 + 0.5) * height;
        // The name of a first month that is almost over would stand on the next.
        if row == 0 && day.day() > 1 && 14.0 / height > f32::from(32 - day.day() as u16) {
            continue;
        }
        pen.rect(Area::new(area.x - 7.0, middle.round(), 5.0, 1.0), MUTED);
        let at = (area.x - 10.0, (middle + 4.5).round());
        pen.text(at, Align::Right, style, &(labels.days.month)(day), MONTHS - 12.0);
    }
}

impl Layout {
    /// As asked where that is a photo the platform takes; else with lower rows, then without
    /// names, then in more columns.
    fn of(facts: &Blanket) -> Layout {
        let blocks = facts.blocks.len().max(1) as u16;
        let asked = facts.columns.unwrap_or_else(|| columns_for(blocks)).clamp(1, blocks);
        let sizes = [(8.0, 27.0), (6.0, 27.0), (4.0, 24.0), (3.0, 0.0), (2.0, 0.0), (1.0, 0.0)];
        let all = (asked..=blocks).flat_map(|columns| sizes.map(|size| (columns, size)));
        let mut smallest = None;
        for (columns, (row_height, name)) in all {
            let layout = Layout::with(facts, columns, row_height, name);
            // The key and the head of no picture are higher than this.
            let height = layout.top + layout.tray().1 + 700.0;
            if fits_photo(layout.width, height) {
                return layout;
            }
            smallest.get_or_insert(layout);
        }
        smallest.unwrap_or_else(|| Layout::with(facts, blocks, 1.0, 0.0))
    }

    fn with(facts: &Blanket, columns: u16, row_height: f32, name: f32) -> Layout {
        let most = facts.blocks.iter().map(|piece| piece.rows.len()).max().unwrap_or(1);
        let strip = facts.blocks.iter().any(|piece| piece.cut == Cut::Strip);
        let block_height = most as f32 * row_height;
        let natural = match facts.width_per_mille {
            Some(per_mille) => block_height * per_mille as f32 / 1000.0,
            None if strip => 33.0 * row_height,
            None => block_height,
        };
        let block_width = natural.clamp(12.0 * row_height, 100.0 * row_height).round();
        let gap = if name > 0.0 { 14.0 } else { 3.0 };
        let beside = if strip { MONTHS } else { 0.0 };
        let rows = (facts.blocks.len() as u16).div_ceil(columns);
        let (name, width, top) = (if strip { 0.0 } else { name }, 0.0, 0.0);
        let mut layout = Layout {
            columns,
            rows,
            row_height,
            block_width,
            block_height,
            gap,
            name,
            beside,
            width,
            top,
        };
        layout.width = (layout.tray().0 + 2.0 * MARGIN).max(WIDTH_MIN);
        layout.top = if layout.width >= 900.0 { 56.0 } else { 80.0 };
        layout
    }

    /// Width and height of the ground the blocks lie on.
    fn tray(&self) -> (f32, f32) {
        let (columns, rows) = (f32::from(self.columns), f32::from(self.rows));
        let across = columns * (self.block_width + self.beside) + (columns + 1.0) * self.gap;
        let below = if self.name > 0.0 { self.name - self.gap / 2.0 } else { 0.0 };
        let down = rows * (self.block_height + below) + (rows + 1.0) * self.gap;
        (across, down.round())
    }

    /// Where a block is; one of few rows stands on the same line as its neighbours.
    fn block(&self, tray: Area, index: usize, piece: &Piece) -> Area {
        let (column, row) = (index as u16 % self.columns, index as u16 / self.columns);
        let below = if self.name > 0.0 { self.name - self.gap / 2.0 } else { 0.0 };
        let (column, row) = (f32::from(column), f32::from(row));
        let x =
            tray.x + self.gap + self.beside + column * (self.block_width + self.beside + self.gap);
        let y = tray.y + self.gap + row * (self.block_height + below + self.gap);
        let height = piece.rows.len() as f32 * self.row_height;
        let y = (y + self.block_height - height).round();
        Area::new(x.round(), y, self.block_width, height)
    }
}

/// Where the maker named no layout: 12 as 4 by 3, others near that.
fn columns_for(blocks: u16) -> u16 {
    (1..blocks).find(|columns| columns * columns * 3 >= blocks * 4).unwrap_or(blocks)
}
