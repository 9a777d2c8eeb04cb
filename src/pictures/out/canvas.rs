//! Pixels, and the two ways they are filled: a rectangle, and a colour through a mask.
//!
//! Masks have 16 steps, so that a picture of few colours stays one of few colours.

use super::super::list::Rgb;

/// Steps of a mask above nothing.
pub const STEPS: u8 = 15;

pub struct Canvas {
    pub width: usize,
    pub height: usize,
    /// Rows from the top, 0x00RRGGBB.
    pub pixels: Vec<u32>,
}

/// How much of each pixel a shape covers, from 0 to [`STEPS`], in rows from the top.
#[derive(Clone, Default, Debug)]
pub struct Mask {
    /// Where its left and top edges are, from where it is put.
    pub left: i32,
    pub top: i32,
    pub width: usize,
    pub cover: Vec<u8>,
}

pub fn packed([red, green, blue]: Rgb) -> u32 {
    u32::from_be_bytes([0, red, green, blue])
}

impl Canvas {
    pub fn new(width: u32, height: u32) -> Canvas {
        let (width, height) = (width as usize, height as usize);
        Canvas { width, height, pixels: vec![packed([255; 3]); width * height] }
    }

    /// From `left` and `top` up to `right` and `bottom`, as far as the canvas goes.
    pub fn fill(&mut self, [left, top, right, bottom]: [i32; 4], rgb: Rgb) {
        let inside = |at: i32, end: usize| usize::try_from(at).unwrap_or(0).min(end);
        let (left, right) = (inside(left, self.width), inside(right, self.width));
        if left >= right {
            return;
        }
        for y in inside(top, self.height)..inside(bottom, self.height) {
            self.pixels[y * self.width + left..y * self.width + right].fill(packed(rgb));
        }
    }

    /// Mixes a colour in where a mask, put at x and y, covers.
    pub fn blend(&mut self, mask: &Mask, x: i32, y: i32, rgb: Rgb) {
        if mask.width == 0 {
            return;
        }
        for (row, cover) in (y + mask.top..).zip(mask.cover.chunks_exact(mask.width)) {
            let Ok(row) = usize::try_from(row) else { continue };
            if row >= self.height {
                break;
            }
            for (column, cover) in (x + mask.left..).zip(cover) {
                match usize::try_from(column) {
                    Ok(column) if column < self.width && *cover > 0 => {
                        let pixel = &mut self.pixels[row * self.width + column];
                        *pixel = mixed(*pixel, rgb, *cover);
                    }
                    Ok(_) | Err(_) => {}
                }
            }
        }
    }
}

fn mixed(below: u32, rgb: Rgb, cover: u8) -> u32 {
    let [_, red, green, blue] = below.to_be_bytes();
    let steps = u16::from(STEPS);
    let mix = |below: u8, above: u8| {
        let (below, above, cover) = (u16::from(below), u16::from(above), u16::from(cover));
        // Between two bytes, so it is one.
        ((below * (steps - cover) + above * cover + steps / 2) / steps) as u8
    };
    packed([mix(red, rgb[0]), mix(green, rgb[1]), mix(blue, rgb[2])])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rectangle_and_a_mask_keep_to_the_canvas() {
        let mut canvas = Canvas::new(3, 2);
        canvas.fill([-5, 1, 1, 99], [0; 3]);
        let mask = Mask { left: -1, top: -1, width: 3, cover: vec![STEPS; 9] };
        canvas.blend(&mask, 3, 0, [255, 0, 0]);
        let (white, black, red) = (0xFF_FFFF, 0, 0xFF_0000);
        assert_eq!(canvas.pixels, [white, white, red, black, white, red]);
        canvas.blend(&mask, -9, -9, [0; 3]);
        canvas.blend(&mask, 99, 99, [0; 3]);
        assert_eq!(canvas.pixels[1], white);
    }

    #[test]
    fn half_a_cover_is_the_colour_between() {
        let check = |cover, expected| {
            let mut canvas = Canvas::new(1, 1);
            canvas.blend(&Mask { left: 0, top: 0, width: 1, cover: vec![cover] }, 0, 0, [0; 3]);
            assert_eq!(canvas.pixels[0], packed([expected; 3]), "{cover}");
        };
        check(0, 255);
        check(5, 170);
        check(STEPS, 0);
    }
}
