//! PNG: each colour from a palette where there are at most 256, else three bytes a pixel.

use png::{BitDepth, ColorType, Compression, Encoder, Filter};

use super::super::list::DisplayList;
use super::DrawFault;
use super::canvas::Canvas;
use super::raster::raster;

/// A list as PNG, with `scale` pixels a unit.
///
/// # Errors
/// A [`DrawFault`] where the picture would be too large.
pub fn png(list: &DisplayList, scale: u32) -> Result<Vec<u8>, DrawFault> {
    encode(&raster(list, scale)?).map_err(|fault| DrawFault::Png(fault.to_string()))
}

fn encode(canvas: &Canvas) -> Result<Vec<u8>, png::EncodingError> {
    let mut bytes = Vec::new();
    let (width, height) = (canvas.width as u32, canvas.height as u32);
    let mut encoder = Encoder::new(&mut bytes, width, height);
    encoder.set_depth(BitDepth::Eight);
    encoder.set_compression(Compression::Balanced);
    let data = match indexed(canvas) {
        Some((palette, indices)) => {
            encoder.set_color(ColorType::Indexed);
            encoder.set_palette(palette);
            encoder.set_filter(Filter::NoFilter);
            indices
        }
        None => {
            encoder.set_color(ColorType::Rgb);
            let bytes = |pixel: &u32| pixel.to_be_bytes().into_iter().skip(1);
            canvas.pixels.iter().flat_map(bytes).collect()
        }
    };
    let mut writer = encoder.write_header()?;
    writer.write_image_data(&data)?;
    writer.finish()?;
    Ok(bytes)
}

/// The colours in the order in which they come, and the place of each pixel's colour among them.
fn indexed(canvas: &Canvas) -> Option<(Vec<u8>, Vec<u8>)> {
    let mut places = Places::new();
    let mut indices = Vec::with_capacity(canvas.pixels.len());
    let mut latest = (u32::MAX, 0);
    for pixel in &canvas.pixels {
        if *pixel != latest.0 {
            latest = (*pixel, places.of(*pixel)?);
        }
        indices.push(latest.1);
    }
    Some((places.palette, indices))
}

/// Where colours are in a palette. Cloth changes colour at every pixel, so a general map is slow.
struct Places {
    palette: Vec<u8>,
    /// A colour and its place, at or after where its bits point.
    slots: Vec<Option<(u32, u8)>>,
}

impl Places {
    const SLOTS: usize = 2048;

    fn new() -> Places {
        Places { palette: Vec::new(), slots: vec![None; Places::SLOTS] }
    }

    fn of(&mut self, pixel: u32) -> Option<u8> {
        // The upper bits of a product with an odd number depend on all bits below.
        let mut slot = (pixel.wrapping_mul(0x9E37_79B1) >> 21) as usize;
        loop {
            match self.slots[slot] {
                Some((known, place)) if known == pixel => return Some(place),
                Some(_) => slot = (slot + 1) % Places::SLOTS,
                None => {
                    let place = u8::try_from(self.palette.len() / 3).ok()?;
                    self.slots[slot] = Some((pixel, place));
                    self.palette.extend(pixel.to_be_bytes().into_iter().skip(1));
                    return Some(place);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A canvas of so many colours, each a few pixels.
    fn of(colours: u32) -> Canvas {
        let mut canvas = Canvas::new(colours, 3);
        for (index, pixel) in (0..).zip(&mut canvas.pixels) {
            *pixel = 0x01_0101 * (index % colours % 256) + index % colours / 256;
        }
        canvas
    }

    #[test]
    fn a_palette_holds_256_colours_exactly() {
        let (palette, indices) = indexed(&of(256)).unwrap();
        assert_eq!((palette.len(), indices.len()), (768, 768));
        assert_eq!(&palette[3..6], [1, 1, 1]);
        assert!(indexed(&of(257)).is_none());
    }
}
