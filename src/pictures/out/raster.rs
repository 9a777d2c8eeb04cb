//! A display list as pixels. Rectangles and level lines keep to whole pixels, so that a row is one
//! colour from edge to edge.

use super::super::list::{Area, DisplayList, Item, Line};
use super::DrawFault;
use super::canvas::Canvas;
use super::glyphs::{Glyphs, slanted};
use super::stitches::Cloth;

/// More would take more memory than a small computer can spare: 48 MB at four bytes a pixel.
const PIXELS_MAX: u64 = 12_000_000;

/// Draws a list with `scale` pixels a unit.
///
/// # Errors
/// [`DrawFault::Size`] where the picture has no pixels or more than [`PIXELS_MAX`].
pub fn raster(list: &DisplayList, scale: u32) -> Result<Canvas, DrawFault> {
    let scale = scale as f32;
    let (width, height) = ((list.width * scale) as u32, (list.height * scale) as u32);
    let pixels = u64::from(width) * u64::from(height);
    if pixels == 0 || pixels > PIXELS_MAX {
        return Err(DrawFault::Size { width, height });
    }
    let mut canvas = Canvas::new(width, height);
    let mut glyphs = Glyphs::default();
    let mut cloth = Cloth::default();
    for item in &list.items {
        match item {
            Item::Rect(area, rgb) => canvas.fill(edges(*area, scale), *rgb),
            Item::Line(line) => draw_line(&mut canvas, line, scale),
            Item::Text(text) => glyphs.draw(&mut canvas, text, scale),
            Item::Stitches(row) => cloth.draw(&mut canvas, row, scale),
            Item::Open(_) | Item::Close => {}
        }
    }
    Ok(canvas)
}

/// Left, top, right and bottom on whole pixels; never empty.
pub fn edges(area: Area, scale: f32) -> [i32; 4] {
    let at = |units: f32| (units * scale).round() as i32;
    let (left, top) = (at(area.x), at(area.y));
    [left, top, at(area.right()).max(left + 1), at(area.bottom()).max(top + 1)]
}

fn draw_line(canvas: &mut Canvas, line: &Line, scale: f32) {
    let Line { from, to, width, rgb, dash } = *line;
    let half = width / 2.0;
    if from.1 == to.1 {
        let (left, right) = (from.0.min(to.0), from.0.max(to.0));
        let (dash, gap) = dash.unwrap_or((right - left, 1.0));
        let mut x = left;
        while x < right && dash > 0.0 {
            let dash = dash.min(right - x);
            canvas.fill(edges(Area::new(x, from.1 - half, dash, width), scale), rgb);
            x += dash + gap;
        }
    } else if from.0 == to.0 {
        let (top, bottom) = (from.1.min(to.1), from.1.max(to.1));
        canvas.fill(edges(Area::new(from.0 - half, top, width, bottom - top), scale), rgb);
    } else {
        slanted(canvas, line, scale);
    }
}
