//! What the platform takes as a photo: width and height together at most 10,000 pixels, neither
//! more than 20 times the other (Bot API, `sendPhoto`), and 10 MB.

pub const WIDTH_AND_HEIGHT_MAX: f32 = 10_000.0;
pub const RATIO_MAX: f32 = 20.0;
pub const PHOTO_BYTES_MAX: usize = 10_000_000;

/// So that a picture is drawn in a moment and in little memory: a quarter of what we could draw.
const PIXELS_MAX: f32 = 9_000_000.0;

pub fn fits_photo(width: f32, height: f32) -> bool {
    width + height <= WIDTH_AND_HEIGHT_MAX
        && width <= height * RATIO_MAX
        && height <= width * RATIO_MAX
        && width * height <= PIXELS_MAX
}

/// The most pixels a unit at which a picture is still a photo and no more than so many pixels.
pub fn scale_for(width: f32, height: f32, scale_max: u32) -> u32 {
    let fits = |scale: &u32| {
        let scale = *scale as f32;
        fits_photo(width * scale, height * scale)
    };
    (1..=scale_max).rev().find(fits).unwrap_or(1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_photo_is_neither_too_large_nor_too_long() {
        assert!(fits_photo(1182.0, 1080.0));
        assert!(!fits_photo(9000.0, 1001.0));
        assert!(!fits_photo(100.0, 2001.0));
        assert!(!fits_photo(2001.0, 100.0));
        assert_eq!((scale_for(1200.0, 1100.0, 3), scale_for(1200.0, 3600.0, 3)), (2, 1));
    }
}
