//! Yarn as bars: for each colour what is worked, what waits to be worked, and what is on hand.

use super::super::facts::Bar;
use super::super::labels::Labels;
use super::super::list::{Area, DisplayList, Role, Style};
use super::super::pen::{Align, BAND, MUTED, OUTLINE, Pen, TEXT};

const WIDTH: f32 = 1000.0;
const MARGIN: f32 = 28.0;
const TOP: f32 = 90.0;
const LINE: f32 = 58.0;
const LEFT: f32 = 250.0;

pub fn bars(bars: &[Bar], labels: &Labels) -> DisplayList {
    let height = TOP + bars.len() as f32 * LINE + 18.0;
    let title = labels.bars_title;
    let mut pen = Pen::new(title, labels.language, WIDTH, height);
    let inner = WIDTH - 2.0 * MARGIN;
    pen.role(Role::Title, |pen| {
        pen.text((MARGIN, 44.0), Align::Left, Style::bold(26.0, TEXT), title, inner);
    });
    pen.role(Role::Paragraph, |pen| {
        let style = Style::regular(14.0, MUTED);
        pen.text((MARGIN, 68.0), Align::Left, style, labels.bars_note, inner);
    });
    let reach = |bar: &Bar| bar.rows_worked + bar.rows_waiting.max(bar.rows_on_hand.unwrap_or(0));
    let most = bars.iter().map(reach).max().unwrap_or(0).max(1);
    for (index, bar) in bars.iter().enumerate() {
        let y = TOP + index as f32 * LINE;
        if index % 2 == 0 {
            pen.rect(Area::new(MARGIN - 8.0, y - 3.0, inner + 16.0, LINE), BAND);
        }
        one(&mut pen, bar, y, (inner - LEFT + MARGIN) / most as f32, labels);
    }
    pen.done()
}

/// Worked rows full, waiting rows as a thread behind them; a mark where the yarn on hand ends.
fn one(pen: &mut Pen, bar: &Bar, y: f32, row: f32, labels: &Labels) {
    let said = (labels.bar)(bar);
    let letter = bar.ink.letter.to_string();
    pen.role(Role::Paragraph, |pen| {
        pen.swatch(Area::new(MARGIN, y + 7.0, 18.0, 18.0), bar.ink.rgb);
        let style = Style::bold(16.0, TEXT);
        pen.text((MARGIN + 38.0, y + 22.0), Align::Middle, style, &letter, 20.0);
        let name = Style::regular(16.0, TEXT);
        pen.text((MARGIN + 54.0, y + 22.0), Align::Left, name, &bar.ink.name, LEFT - MARGIN - 66.0);
    });
    let worked = bar.rows_worked as f32 * row;
    let waiting = bar.rows_waiting as f32 * row;
    pen.role(Role::Figure(said.clone()), |pen| {
        if worked > 0.0 {
            pen.swatch(Area::new(LEFT, y + 4.0, worked, 22.0), bar.ink.rgb);
        }
        if waiting > 0.0 {
            pen.rect(Area::new(LEFT + worked, y + 11.0, waiting, 8.0), bar.ink.rgb);
            pen.frame(Area::new(LEFT + worked, y + 11.0, waiting, 8.0), 1.0, OUTLINE);
        }
        if let Some(on_hand) = bar.rows_on_hand {
            // From the worked rows on: what is on hand is not worked yet.
            let x = (LEFT + worked + on_hand as f32 * row).min(WIDTH - MARGIN);
            pen.rect(Area::new(x - 1.0, y + 1.0, 3.0, 28.0), TEXT);
        }
    });
    pen.role(Role::Paragraph, |pen| {
        let style = Style::regular(13.0, MUTED);
        pen.text((LEFT, y + 45.0), Align::Left, style, &said, WIDTH - LEFT - MARGIN);
    });
}
