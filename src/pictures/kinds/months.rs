//! A year by its months: how many days of each tier, from the lowest at the bottom.

use chrono::Datelike;

use super::super::facts::{Inks, MonthCounts};
use super::super::labels::Labels;
use super::super::list::{Area, DisplayList, Role, Style};
use super::super::pen::{Align, MUTED, OUTLINE, PALE, PAPER, Pen, TEXT};
use super::super::text::width;
use super::key;

const WIDTH: f32 = 1000.0;
const MARGIN: f32 = 28.0;
const TOP: f32 = 84.0;
/// Units of height for a day.
const DAY: f32 = 11.0;
const DAYS_MAX: f32 = 31.0;

pub fn months(inks: &Inks, months: &[MonthCounts], labels: &Labels) -> DisplayList {
    let years = |month: Option<&MonthCounts>| month.map_or(0, |month| month.first_day.year());
    let title = (labels.months_title)(years(months.first()), years(months.last()));
    let inner = WIDTH - 2.0 * MARGIN;
    let bottom = TOP + DAYS_MAX * DAY;
    let below = bottom + 52.0;
    let mut probe = Pen::new("", labels.language, WIDTH, 0.0);
    let height = key::colours(&mut probe, inks, labels, (MARGIN, below), inner) + 6.0;
    let mut pen = Pen::new(&title, labels.language, WIDTH, height);
    pen.role(Role::Title, |pen| {
        pen.text((MARGIN, 44.0), Align::Left, Style::bold(26.0, TEXT), &title, inner);
    });
    scale(&mut pen, bottom, labels);
    let left = MARGIN + 62.0;
    let step = (WIDTH - MARGIN - left) / months.len().max(1) as f32;
    for (index, month) in months.iter().enumerate() {
        let x = (left + index as f32 * step).round();
        let bar = Area::new(x, bottom, (step - 10.0).max(2.0).round(), 0.0);
        let name = (labels.days.month)(month.first_day);
        pen.role(Role::Figure(name.clone()), |pen| column(pen, inks, month, bar, labels));
        let under = Area::new(x - 4.0, bottom + 6.0, bar.width + 8.0, 24.0);
        pen.role(Role::Paragraph, |pen| {
            pen.text_in(under, Align::Middle, Style::regular(15.0, TEXT), &name);
        });
    }
    key::colours(&mut pen, inks, labels, (MARGIN, below), inner);
    pen.done()
}

/// Lines at 10, 20 and 30 days.
fn scale(pen: &mut Pen, bottom: f32, labels: &Labels) {
    for days in [0_u32, 10, 20, 30] {
        let y = bottom - days as f32 * DAY;
        pen.rect(Area::new(MARGIN + 56.0, y, WIDTH - 2.0 * MARGIN - 56.0, 1.0), [0xDD, 0xDB, 0xD6]);
        let at = (MARGIN + 50.0, y + 5.0);
        let text = (labels.days_count)(days);
        pen.role(Role::Paragraph, |pen| {
            pen.text(at, Align::Right, Style::regular(13.0, MUTED), &text, 50.0);
        });
    }
}

fn column(pen: &mut Pen, inks: &Inks, month: &MonthCounts, bar: Area, labels: &Labels) {
    let mut y = bar.y;
    for (key, days) in month.tiers.iter().filter(|(_, days)| *days > 0) {
        let ink = inks.get(inks.keys[*key].ink);
        let height = *days as f32 * DAY;
        y -= height;
        let area = Area::new(bar.x, y, bar.width, height);
        pen.rect(area, ink.rgb);
        // A thin line parts neighbours that grey would merge.
        pen.rect(Area::new(bar.x, y, bar.width, 1.0), PAPER);
        let letter = ink.letter.to_string();
        let style = Style::bold(13.0, on(ink.rgb));
        if height >= 14.0 && width(&letter, style) < bar.width {
            pen.text_in(area, Align::Middle, style, &letter);
        }
    }
    if month.without > 0 {
        let height = month.without as f32 * DAY;
        let area = Area::new(bar.x, y - height, bar.width, height);
        pen.rect(area, PALE);
        pen.frame(area, 1.0, OUTLINE);
        let (open, style) = (labels.states.open, Style::regular(13.0, TEXT));
        if height >= 16.0 && width(open, style) < bar.width - 4.0 {
            pen.text_in(area, Align::Middle, style, open);
        }
    }
}

/// Black or white, whichever is read better on a colour (luma of ITU-R BT.601).
pub fn on([red, green, blue]: [u8; 3]) -> [u8; 3] {
    let luma = 299 * u32::from(red) + 587 * u32::from(green) + 114 * u32::from(blue);
    if luma > 140_000 { TEXT } else { PAPER }
}
