//! Masks of glyphs and of lines that are neither level nor upright.

use std::collections::HashMap;

use rustybuzz::ttf_parser::{GlyphId, OutlineBuilder};
use tiny_skia::{FillRule, Path, PathBuilder, Stroke, Transform};

use super::super::list::{Line, Text, Weight};
use super::super::text::{face, shape};
use super::canvas::{Canvas, Mask, STEPS};

/// A glyph is drawn at a quarter of a pixel.
const PARTS: f32 = 4.0;

/// Each glyph of a size is drawn once.
#[derive(Default)]
pub struct Glyphs {
    masks: HashMap<(Weight, u16, u32, u8), Mask>,
}

impl Glyphs {
    pub fn draw(&mut self, canvas: &mut Canvas, text: &Text, scale: f32) {
        let pixels_per_em = text.style.size * scale;
        let weight = text.style.weight;
        for placed in shape(&text.text, weight).0 {
            let x = text.x * scale + placed.x * pixels_per_em;
            let y = text.baseline * scale - placed.y * pixels_per_em;
            let parts = (x * PARTS).round();
            let whole = (parts / PARTS).floor();
            let part = parts - whole * PARTS;
            let key = (weight, placed.glyph, pixels_per_em.to_bits(), part as u8);
            let mask = self.masks.entry(key).or_insert_with(|| {
                glyph(weight, placed.glyph, pixels_per_em, part / PARTS).unwrap_or_default()
            });
            canvas.blend(mask, whole as i32, y.round() as i32, text.style.rgb);
        }
    }
}

pub fn slanted(canvas: &mut Canvas, line: &Line, scale: f32) {
    let mut path = PathBuilder::new();
    path.move_to(line.from.0 * scale, line.from.1 * scale);
    path.line_to(line.to.0 * scale, line.to.1 * scale);
    let line_cap = tiny_skia::LineCap::Round;
    let stroke = Stroke { width: line.width * scale, line_cap, ..Stroke::default() };
    let outline = path.finish().and_then(|path| path.stroke(&stroke, 1.0));
    if let Some(mask) = outline.and_then(|outline| covered(&outline)) {
        canvas.blend(&mask, 0, 0, line.rgb);
    }
}

fn glyph(weight: Weight, glyph: u16, pixels_per_em: f32, part: f32) -> Option<Mask> {
    let face = face(weight)?;
    let scale = pixels_per_em / face.units_per_em() as f32;
    let mut outline = Outline { path: PathBuilder::new(), scale, part };
    face.outline_glyph(GlyphId(glyph), &mut outline)?;
    covered(&outline.path.finish()?)
}

/// How much of each pixel a path covers.
fn covered(path: &Path) -> Option<Mask> {
    let bounds = path.bounds();
    let (left, top) = (bounds.left().floor(), bounds.top().floor());
    let width = (bounds.right().ceil() - left).max(1.0) as u32;
    let height = (bounds.bottom().ceil() - top).max(1.0) as u32;
    let mut mask = tiny_skia::Mask::new(width, height)?;
    mask.fill_path(path, FillRule::Winding, true, Transform::from_translate(-left, -top));
    // A byte times 15 over 255 is at most 15.
    let steps = |cover: u8| ((u16::from(cover) * u16::from(STEPS) + 127) / 255) as u8;
    let cover = mask.data().iter().map(|cover| steps(*cover)).collect();
    Some(Mask { left: left as i32, top: top as i32, width: width as usize, cover })
}

/// Font units, y upwards, to pixels, y downwards.
struct Outline {
    path: PathBuilder,
    scale: f32,
    part: f32,
}

impl Outline {
    fn at(&self, x: f32, y: f32) -> (f32, f32) {
        (x * self.scale + self.part, -y * self.scale)
    }
}

impl OutlineBuilder for Outline {
    fn move_to(&mut self, x: f32, y: f32) {
        let (x, y) = self.at(x, y);
        self.path.move_to(x, y);
    }

    fn line_to(&mut self, x: f32, y: f32) {
        let (x, y) = self.at(x, y);
        self.path.line_to(x, y);
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        let ((x1, y1), (x, y)) = (self.at(x1, y1), self.at(x, y));
        self.path.quad_to(x1, y1, x, y);
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        let ((x1, y1), (x2, y2), (x, y)) = (self.at(x1, y1), self.at(x2, y2), self.at(x, y));
        self.path.cubic_to(x1, y1, x2, y2, x, y);
    }

    fn close(&mut self) {
        self.path.close();
    }
}
