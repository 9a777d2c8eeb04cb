//! A block as a sheet to print and tick off: A4, A5 or Letter, row 1 at the bottom or at the top,
//! readable without colour, with room to fill in open days by hand.

use super::super::facts::{BlockRows, RowFacts, State};
use super::super::labels::Labels;
use super::super::list::{Area, DisplayList, Role, Style};
use super::super::pen::{Align, MUTED, Pen, TEXT};
use super::sheet_row::{Columns, row};
use crate::blanket::{FirstRow, Paper};

const HEAD: f32 = 67.0;
const FOOT: f32 = 14.0;
/// Rows lower than this cannot be ticked by hand.
const ROW_MIN: f32 = 13.0;
const ROW_MAX: f32 = 21.0;

/// The pages, in the order in which the rows are worked.
pub fn sheet(
    facts: &BlockRows,
    paper: Paper,
    first_row: FirstRow,
    labels: &Labels,
) -> Vec<DisplayList> {
    let (width, height) = paper.points();
    let margin = paper.margin();
    let room = height - 2.0 * margin - HEAD - FOOT;
    let per_page = ((room / ROW_MIN) as usize).max(1);
    let pages = facts.rows.len().div_ceil(per_page).max(1);
    let rows = facts.rows.len().div_ceil(pages).max(1);
    let row_height = (room / rows as f32).clamp(ROW_MIN, ROW_MAX);
    let page = |(index, on_page): (usize, &[RowFacts])| {
        let mut page = Page {
            pen: Pen::new(&title(facts, labels), labels.language, width, height),
            facts,
            labels,
            area: Area::new(margin, margin, width - 2.0 * margin, height - 2.0 * margin),
            columns: Columns::of(facts, labels, width - 2.0 * margin),
            row_height,
        };
        page.head(first_row);
        page.table(on_page, first_row);
        if pages > 1 {
            page.foot(index + 1, pages);
        }
        page.pen.done()
    };
    facts.rows.chunks(rows).enumerate().map(page).collect()
}

fn title(facts: &BlockRows, labels: &Labels) -> String {
    (labels.days.block_of)(&facts.block, facts.cut, facts.blocks)
}

struct Page<'a> {
    pen: Pen,
    facts: &'a BlockRows,
    labels: &'a Labels,
    area: Area,
    columns: Columns,
    row_height: f32,
}

impl Page<'_> {
    fn head(&mut self, first_row: FirstRow) {
        let Area { x, y, width, .. } = self.area;
        let title = title(self.facts, self.labels);
        self.pen.role(Role::Title, |pen| {
            pen.text((x, y + 16.0), Align::Left, Style::bold(18.0, TEXT), &title, width);
        });
        let note = match first_row {
            FirstRow::Bottom => self.labels.sheet.bottom_up,
            FirstRow::Top => self.labels.sheet.top_down,
        };
        let style = Style::regular(8.5, MUTED);
        self.pen.role(Role::Paragraph, |pen| {
            pen.text((x, y + 31.0), Align::Left, style, note, width);
        });
        if self.facts.rows.iter().any(|row| row.runs.is_some()) {
            let arrows = self.labels.arrows;
            self.pen.role(Role::Paragraph, |pen| {
                pen.text((x, y + 42.0), Align::Left, style, arrows, width);
            });
        }
    }

    fn table(&mut self, rows: &[RowFacts], first_row: FirstRow) {
        let Page { pen, facts, labels, area, columns, row_height } = self;
        let top = area.y + HEAD;
        let count = rows.len();
        pen.rect(Area::new(area.x, top - 1.4, area.width, 1.0), TEXT);
        pen.role(Role::Table, |pen| {
            pen.role(Role::HeadRow, |pen| columns.head(pen, labels, (area.x, top - 5.5)));
            for place in 0..count {
                let index = match first_row {
                    FirstRow::Bottom => count - 1 - place,
                    FirstRow::Top => place,
                };
                let y = top + place as f32 * *row_height;
                let at = Area::new(area.x, y, area.width, *row_height);
                row(pen, facts, &rows[index], at, columns, labels);
            }
        });
    }

    fn foot(&mut self, page: usize, pages: usize) {
        let text = (self.labels.sheet.page)(page, pages);
        let at = (self.area.right(), self.area.bottom());
        self.pen.role(Role::Paragraph, |pen| {
            pen.text(at, Align::Right, Style::regular(8.0, MUTED), &text, 200.0);
        });
    }
}

impl Paper {
    /// Width and height in points: ISO 216 (210 x 297 mm, 148 x 210 mm) and 8.5 x 11 inches.
    pub fn points(self) -> (f32, f32) {
        match self {
            Paper::A4 => (595.28, 841.89),
            Paper::A5 => (419.53, 595.28),
            Paper::Letter => (612.0, 792.0),
        }
    }

    fn margin(self) -> f32 {
        match self {
            Paper::A4 | Paper::Letter => 36.0,
            Paper::A5 => 24.0,
        }
    }
}

/// Whether a row is ticked.
pub fn is_ticked(row: &RowFacts) -> bool {
    matches!(row.state, State::Worked(_))
}
