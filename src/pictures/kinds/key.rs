//! The key under a picture: each colour with its letter, tier and yarn, and how rows stand.

use super::super::facts::{Inks, Key, State};
use super::super::labels::Labels;
use super::super::list::{Area, Role, Style};
use super::super::pen::{Align, MUTED, OUTLINE, Pen, TEXT};
use super::super::text::width;
use super::blanket::{Look, row_of};

const LINE: f32 = 44.0;
const SWATCH: f32 = 18.0;
const LETTER: f32 = 20.0;
const GAP: f32 = 22.0;
const NAME: Style = Style::regular(15.0, TEXT);
const YARN: Style = Style::regular(13.0, MUTED);

pub fn height(inks: &Inks, labels: &Labels, width_max: f32) -> f32 {
    let states = grid(5, state_width(labels), width_max);
    let lines = with_earlier(inks, labels);
    let colours = grid(lines.len(), key_width(inks, &lines), width_max);
    colours.1 as f32 * LINE + 12.0 + states.1 as f32 * 26.0
}

pub fn draw(pen: &mut Pen, inks: &Inks, labels: &Labels, at: (f32, f32), width_max: f32) {
    let below = worked(pen, inks, labels, at, width_max);
    let (columns, _) = grid(5, state_width(labels), width_max);
    let step = width_max / columns as f32;
    // A colour in the middle of the scale, so that neither dark nor pale ones mislead.
    let ink = inks.keys[(inks.keys.len() - 1) / 2].ink;
    for (index, (state, name)) in states(labels, ink, inks.joining).into_iter().enumerate() {
        let x = (at.0 + (index % columns) as f32 * step).round();
        let y = below + 12.0 + (index / columns) as f32 * 26.0;
        let sample = Area::new(x, y, 38.0, 12.0);
        let rgb = state.ink().map_or([255; 3], |ink| inks.get(ink).rgb);
        pen.role(Role::Figure(name.to_owned()), |pen| {
            row_of(pen, state, rgb, sample, sample, Look::Flat, 0);
            pen.frame(Area::new(x - 1.0, y - 1.0, 40.0, 14.0), 1.0, OUTLINE);
        });
        let text = Area::new(x + 47.0, y, step - 52.0, 12.0);
        pen.role(Role::Paragraph, |pen| pen.text_in(text, Align::Left, NAME, name));
    }
}

/// The colours of the tiers and the joining colour alone; gives back where the next line begins.
pub fn colours(pen: &mut Pen, inks: &Inks, labels: &Labels, at: (f32, f32), width_max: f32) -> f32 {
    drawn(pen, inks, &of_tiers(inks, labels), at, width_max)
}

/// Those, and the colours rows were worked in before.
pub fn worked(pen: &mut Pen, inks: &Inks, labels: &Labels, at: (f32, f32), width_max: f32) -> f32 {
    drawn(pen, inks, &with_earlier(inks, labels), at, width_max)
}

/// An ink and what it stands for.
type Line<'a> = (usize, &'a str);

fn of_tiers<'a>(inks: &'a Inks, labels: &'a Labels) -> Vec<Line<'a>> {
    inks.keys.iter().map(|key| (key.ink, tier(key, labels))).collect()
}

fn with_earlier<'a>(inks: &'a Inks, labels: &'a Labels) -> Vec<Line<'a>> {
    let earlier = inks.earlier.iter().map(|ink| (*ink, labels.earlier));
    of_tiers(inks, labels).into_iter().chain(earlier).collect()
}

fn drawn(pen: &mut Pen, inks: &Inks, key: &[Line<'_>], at: (f32, f32), width_max: f32) -> f32 {
    let (columns, lines) = grid(key.len(), key_width(inks, key), width_max);
    let step = width_max / columns as f32;
    for (index, line) in key.iter().enumerate() {
        let x = (at.0 + (index % columns) as f32 * step).round();
        let y = at.1 + (index / columns) as f32 * LINE;
        entry(pen, inks, *line, (x, y), step - GAP / 2.0);
    }
    at.1 + lines as f32 * LINE
}

fn entry(pen: &mut Pen, inks: &Inks, (ink, of): Line<'_>, (x, y): (f32, f32), width_max: f32) {
    let ink = inks.get(ink);
    let letter = ink.letter.to_string();
    pen.role(Role::Figure(ink.name.clone()), |pen| {
        pen.swatch(Area::new(x, y, SWATCH, SWATCH), ink.rgb);
    });
    pen.role(Role::Paragraph, |pen| {
        let middle = (x + SWATCH + LETTER / 2.0 + 2.0, y + 14.5);
        pen.text(middle, Align::Middle, Style::bold(15.0, TEXT), &letter, LETTER);
        let left = x + SWATCH + LETTER + 6.0;
        let room = width_max - (left - x);
        pen.text((left, y + 14.5), Align::Left, NAME, of, room);
        pen.text((left, y + 32.0), Align::Left, YARN, &ink.name, room);
    });
}

fn tier<'a>(key: &'a Key, labels: &'a Labels) -> &'a str {
    key.tier.as_deref().unwrap_or(labels.joining)
}

fn states(labels: &Labels, ink: usize, joining: usize) -> [(State, &'static str); 5] {
    let states = &labels.states;
    [
        (State::Worked(ink), states.worked),
        (State::Waiting(ink), states.waiting),
        (State::Open, states.open),
        (State::Worked(joining), states.filler),
        (State::ToCome, states.to_come),
    ]
}

fn key_width(inks: &Inks, key: &[Line<'_>]) -> f32 {
    let text = |(ink, of): &Line<'_>| width(of, NAME).max(width(&inks.get(*ink).name, YARN));
    key.iter().map(text).fold(0.0, f32::max) + SWATCH + LETTER + 6.0
}

fn state_width(labels: &Labels) -> f32 {
    states(labels, 0, 0).iter().map(|(_, name)| width(name, NAME)).fold(0.0, f32::max) + 47.0
}

/// Columns and lines for so many entries, in columns of much the same length.
fn grid(count: usize, entry_width: f32, width_max: f32) -> (usize, usize) {
    let most = ((width_max / (entry_width + GAP)).floor() as usize).clamp(1, count.max(1));
    let lines = count.div_ceil(most);
    (count.div_ceil(lines.max(1)).max(1), lines)
}
