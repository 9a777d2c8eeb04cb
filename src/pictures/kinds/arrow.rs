//! Small drawn signs that no font of ours has: an arrow, a tick, a box.

use super::super::facts::Runs;
use super::super::list::{Area, Rgb};
use super::super::pen::{PAPER, Pen, TEXT};

/// An arrow over the width of an area, at its middle.
pub fn arrow(pen: &mut Pen, area: Area, runs: Runs, rgb: Rgb) {
    let (y, head) = (area.middle(), area.height / 2.0);
    let width = (area.height / 6.0).max(0.7);
    let (tail, tip, back) = match runs {
        Runs::ToLeft => (area.right(), area.x, area.x + head),
        Runs::ToRight => (area.x, area.right(), area.right() - head),
    };
    let shaft = Area::new(tail.min(tip), y - width / 2.0, area.width, width);
    pen.rect(shaft, rgb);
    pen.line((tip, y), (back, y - head), width, rgb);
    pen.line((tip, y), (back, y + head), width, rgb);
}

/// A tick that fills a square.
pub fn tick(pen: &mut Pen, area: Area, rgb: Rgb) {
    let Area { x, y, width, height } = area;
    let at = |across: f32, down: f32| (x + across * width, y + down * height);
    let thick = (height / 7.0).max(0.9);
    pen.line(at(0.08, 0.55), at(0.38, 0.85), thick, rgb);
    pen.line(at(0.38, 0.85), at(0.95, 0.12), thick, rgb);
}

/// A box to tick, ticked or not.
pub fn tick_box(pen: &mut Pen, area: Area, ticked: bool) {
    pen.rect(area, PAPER);
    pen.frame(area, 0.9, TEXT);
    if ticked {
        let inset = area.width * 0.16;
        let side = area.width - 2.0 * inset;
        tick(pen, Area::new(area.x + inset, area.y + inset, side, side), TEXT);
    }
}
