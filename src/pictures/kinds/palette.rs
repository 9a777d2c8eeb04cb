//! The palette: each tier with its letter and yarn, and the same colours in grey and as eyes with
//! a deficiency of colour vision see them.

use super::super::facts::{Ink, Inks, Key};
use super::super::labels::Labels;
use super::super::list::{Area, DisplayList, Rgb, Role, Style};
use super::super::pen::{Align, MUTED, OUTLINE, Pen, TEXT};
use super::months::on;

/// How a colour looks, in each of the views that `Labels::views` names, the first as it is. Given
/// by the caller: how eyes differ is not a matter of drawing.
pub type See = fn(Rgb) -> [Rgb; 5];

const WIDTH: f32 = 1000.0;
const MARGIN: f32 = 28.0;
const TOP: f32 = 112.0;
const LINE: f32 = 46.0;
const LEFT: f32 = 390.0;

pub fn palette(inks: &Inks, see: See, labels: &Labels) -> DisplayList {
    let title = labels.palette_title;
    let height = TOP + inks.keys.len() as f32 * LINE + 24.0;
    let mut pen = Pen::new(title, labels.language, WIDTH, height);
    let inner = WIDTH - 2.0 * MARGIN;
    pen.role(Role::Title, |pen| {
        pen.text((MARGIN, 44.0), Align::Left, Style::bold(26.0, TEXT), title, inner);
    });
    let step = (WIDTH - MARGIN - LEFT) / labels.views.len() as f32;
    for (index, view) in labels.views.into_iter().enumerate() {
        let head = Area::new(LEFT + index as f32 * step + 3.0, TOP - 32.0, step - 6.0, 24.0);
        pen.role(Role::Paragraph, |pen| {
            pen.text_in(head, Align::Middle, Style::regular(14.0, MUTED), view);
        });
    }
    // The joining colour is the last of the key; the tiers go up from the lowest, as rows do.
    let tiers = inks.keys.len().saturating_sub(1);
    for (index, key) in inks.keys.iter().enumerate() {
        let place = if index < tiers { tiers - 1 - index } else { index };
        let y = TOP + place as f32 * LINE + if index < tiers { 0.0 } else { 10.0 };
        let ink = inks.get(key.ink);
        names(&mut pen, ink, key, y, labels);
        for (view, rgb) in see(ink.rgb).into_iter().enumerate() {
            let edge = |view: usize| (LEFT + view as f32 * step).round();
            let area = Area::new(edge(view), y, edge(view + 1) - edge(view), LINE);
            let seen = format!("{}: {}", labels.views[view], ink.name);
            pen.role(Role::Figure(seen), |pen| pen.rect(area, rgb));
            if view == 0 {
                let letter = ink.letter.to_string();
                pen.text_in(area, Align::Middle, Style::bold(16.0, on(rgb)), &letter);
            }
        }
    }
    for (from, count) in [(TOP, tiers), (TOP + tiers as f32 * LINE + 10.0, 1)] {
        let area = Area::new(LEFT, from, WIDTH - MARGIN - LEFT, count as f32 * LINE);
        pen.frame(area, 1.0, OUTLINE);
    }
    pen.done()
}

fn names(pen: &mut Pen, ink: &Ink, key: &Key, y: f32, labels: &Labels) {
    let cell = |x: f32, width: f32| Area::new(x, y, width, LINE);
    let tier = key.tier.as_deref().unwrap_or(labels.joining);
    pen.role(Role::Paragraph, |pen| {
        let letter = ink.letter.to_string();
        pen.text_in(cell(MARGIN, 20.0), Align::Middle, Style::bold(17.0, TEXT), &letter);
        pen.text_in(cell(MARGIN + 32.0, 160.0), Align::Left, Style::regular(17.0, TEXT), tier);
        let yarn = Style::regular(15.0, MUTED);
        pen.text_in(cell(MARGIN + 200.0, 152.0), Align::Left, yarn, &ink.name);
    });
}
