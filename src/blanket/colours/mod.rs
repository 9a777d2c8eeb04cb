//! Can the yarns of a blanket be told apart: in normal sight, with three deficiencies of colour
//! vision, in a black-and-white photo and in very dim light? And where not, what would help?
//!
//! Never forbids a colour, and never says how a yarn looks in the hand: a colour on a screen is
//! several units of difference off.

mod check;
mod hex;
mod mend;
mod order;
mod space;
mod views;

#[cfg(test)]
mod tests;

pub use check::{Band, Pair, bad_pairs, in_dim_light, in_grey, in_view, worst};
pub use hex::{read_hex, written_hex};
pub use mend::{Mend, Shade, mend, shades, to_change};
pub use order::{Lightness, Path, by_lightness, smooth};
pub use space::{contrast, difference, dim_lightness, lab, lightness, luminance, oklab};
pub use views::{View, seen};

/// A colour as its sRGB bytes.
pub type Rgb = [u8; 3];

/// Below this CIEDE2000 difference in any view, a pair is bad.
pub const APART: f64 = 10.0;
