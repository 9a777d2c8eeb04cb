//! Rows of stitches as cloth: each stitch two plump legs that meet in the row below. Columns are
//! over by half a stitch in every other row, so that neighbours interlock.
//!
//! A stitch is worked out once for each size and variant, in a few steps of shade; which variant
//! stands where comes from an integer hash. Only +, -, x, / and square roots, which every computer
//! rounds alike, so the same book gives the same bytes everywhere.

use std::collections::HashMap;

use super::super::list::{Area, Rgb, Stitches};
use super::canvas::{Canvas, packed};
use super::raster::edges;

/// Width of a stitch and height of its legs, in heights of a row.
pub const WIDTH: f32 = 1.25;
pub const HEIGHT: f32 = 1.7;
const VARIANTS: u32 = 6;
/// Points looked at in each direction of a pixel.
const SAMPLES: u32 = 4;

/// Shades of one colour, in 256ths: below 256 darker, above it part of the way to white.
const SHADES: [u16; 9] = [96, 130, 164, 196, 222, 244, 262, 284, 308];
/// The shade of what lies between the legs.
const GROUND: usize = 2;

/// Sprites of the sizes that a picture needs.
#[derive(Default)]
pub struct Cloth {
    sprites: HashMap<(u32, u32), Vec<Sprite>>,
}

/// For each pixel, which shade, or none where it covers nothing.
struct Sprite {
    width: usize,
    shades: Vec<Option<u8>>,
}

impl Cloth {
    pub fn draw(&mut self, canvas: &mut Canvas, row: &Stitches, scale: f32) {
        let [left, top, right, bottom] = edges(row.area, scale);
        let tones = tones(row.rgb);
        canvas.fill([left, top, right, bottom], tones[GROUND]);
        let (width, height) = sprite_size(row.area, scale);
        let sprites = self.sprites.entry((width, height)).or_insert_with(|| {
            (0..VARIANTS).map(|variant| sprite(width, height, variant)).collect()
        });
        let clip = edges(row.clip, scale);
        let width = width as i32;
        let mut x = left - width + if row.half_over { width / 2 } else { 0 };
        let mut seed = row.seed;
        while x < right {
            seed = hashed(seed.wrapping_add(1));
            let sprite = &sprites[(seed % VARIANTS) as usize];
            // Legs begin a little above their row, so that no straight edge shows.
            put(canvas, sprite, x, top - height as i32 / 12, clip, &tones.map(packed));
            x += width;
        }
    }
}

/// Pixels of one stitch: an even width, so that half of it is whole.
fn sprite_size(area: Area, scale: f32) -> (u32, u32) {
    let row = (area.height * scale).max(2.0);
    let width = ((row * WIDTH / 2.0).round() * 2.0).max(4.0);
    (width as u32, (row * HEIGHT).round() as u32)
}

fn put(canvas: &mut Canvas, sprite: &Sprite, x: i32, y: i32, clip: [i32; 4], tones: &[u32; 9]) {
    let [left, top, right, bottom] = clip;
    let (right, bottom) = (right.min(canvas.width as i32), bottom.min(canvas.height as i32));
    for (row, shades) in (y..).zip(sprite.shades.chunks_exact(sprite.width)) {
        if row < top.max(0) || row >= bottom {
            continue;
        }
        let from = row as usize * canvas.width;
        for (column, shade) in (x..).zip(shades) {
            if let Some(shade) = shade
                && (left.max(0)..right).contains(&column)
            {
                canvas.pixels[from + column as usize] = tones[usize::from(*shade)];
            }
        }
    }
}

/// A colour in each shade.
pub fn tones(rgb: Rgb) -> [Rgb; 9] {
    SHADES.map(|shade| {
        rgb.map(|byte| {
            let byte = u16::from(byte);
            let whole = match shade.checked_sub(256) {
                None => u32::from(byte) * u32::from(shade) / 256,
                Some(light) => u32::from(byte) + u32::from(255 - byte) * u32::from(light) / 256,
            };
            u8::try_from(whole).unwrap_or(u8::MAX)
        })
    })
}

/// A stitch of `width` by `height` pixels.
fn sprite(width: u32, height: u32, variant: u32) -> Sprite {
    let mut shades = Vec::with_capacity((width * height) as usize);
    let near = Leg::of(variant, -1.0);
    let far = Leg::of(variant, 1.0);
    for y in 0..height {
        for x in 0..width {
            let (mut covered, mut light) = (0, 0.0);
            for sample in 0..SAMPLES * SAMPLES {
                let part = |index: u32| (index as f32 + 0.5) / SAMPLES as f32;
                let across = (x as f32 + part(sample % SAMPLES)) / width as f32 - 0.5;
                let down = (y as f32 + part(sample / SAMPLES)) / height as f32;
                if let Some(lit) = near.light(across, down).or_else(|| far.light(across, down)) {
                    covered += 1;
                    light += lit;
                }
            }
            let most = SAMPLES * SAMPLES / 2;
            shades.push((covered >= most).then(|| {
                let light = light / covered as f32;
                (light * (SHADES.len() - 1) as f32).round().clamp(0.0, 8.0) as u8
            }));
        }
    }
    Sprite { width: width as usize, shades }
}

/// One leg, in parts of the stitch: across from -0.5 to 0.5, down from 0 to 1.
struct Leg {
    top: f32,
    bottom: f32,
    thick: f32,
    begins: f32,
    lit: f32,
}

impl Leg {
    fn of(variant: u32, side: f32) -> Leg {
        // A few hundredths more or less.
        let seed = hashed(variant * 2 + u32::from(side > 0.0));
        let jitter = |shift: u32| (((seed >> shift) & 15) as f32 - 7.5) / 7.5;
        Leg {
            top: side * (0.27 + 0.02 * jitter(0)),
            bottom: side * 0.15,
            thick: 0.25 + 0.012 * jitter(4),
            begins: 0.03 + 0.03 * jitter(8),
            lit: 0.04 * jitter(12),
        }
    }

    /// How light a point of the leg is, from 0 to 1; `None` beside it.
    fn light(&self, across: f32, down: f32) -> Option<f32> {
        let along = (down - self.begins) / (0.97 - self.begins);
        if !(0.0..=1.0).contains(&along) {
            return None;
        }
        // Rounded ends: the leg keeps its thickness but near them.
        let from_middle = 2.0 * along - 1.0;
        let bulge = 1.0 - from_middle * from_middle * from_middle * from_middle;
        let thick = self.thick * bulge.sqrt() * (1.0 - 0.3 * along * along);
        let centre = self.top + (self.bottom - self.top) * along;
        let beside = (across - centre) / thick.max(0.001);
        if beside.abs() > 1.0 {
            return None;
        }
        let round = (1.0 - beside * beside).sqrt();
        // The ply: a slanting ripple along the yarn.
        let ply = triangle(along * 3.2 + beside * 0.45);
        let tucked = if along > 0.68 { (along - 0.68) * 0.95 } else { 0.0 };
        Some(0.1 + 0.72 * round - 0.13 * beside + 0.075 * ply - tucked + self.lit)
    }
}

/// A wave of straight lines between -1 and 1, of length 1.
fn triangle(x: f32) -> f32 {
    let part = x - x.floor();
    4.0 * (part - 0.5).abs() - 1.0
}

/// Mixes the bits of a number (the finaliser of MurmurHash3, public domain).
pub fn hashed(mut seed: u32) -> u32 {
    seed ^= seed >> 16;
    seed = seed.wrapping_mul(0x85EB_CA6B);
    seed ^= seed >> 13;
    seed = seed.wrapping_mul(0xC2B2_AE35);
    seed ^ (seed >> 16)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stitch_has_a_dark_edge_a_light_middle_and_differs_from_its_neighbours() {
        let one = sprite(20, 27, 0);
        let shades: Vec<u8> = one.shades.iter().flatten().copied().collect();
        assert!(shades.contains(&0) || shades.contains(&1), "no dark edge");
        assert!(shades.iter().any(|shade| *shade >= 6), "no light middle");
        let covers = shades.len() * 100 / one.shades.len();
        assert!((50..85).contains(&covers), "{covers} %");
        assert_ne!(one.shades, sprite(20, 27, 1).shades);
    }

    #[test]
    fn shades_of_a_colour_grow_lighter_and_go_from_dark_to_near_it() {
        let grey = tones([100; 3]).map(|tone| tone[0]);
        assert!(grey.is_sorted() && grey[0] < 50 && grey[8] < 150, "{grey:?}");
        assert_eq!(tones([255; 3])[8], [255; 3]);
    }
}
