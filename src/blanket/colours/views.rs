//! How a colour looks to somebody with a deficiency of colour vision, at its strongest.
//!
//! Linear light is mapped and clamped. Protan and deutan: Machado, Oliveira and Fernandes 2009
//! (IEEE TVCG 15(6), 1291-1298), severity 1.0. Tritan: Brettel, Vienot and Mollon 1997 (JOSA A
//! 14(10), 2647-2655), with the two half-planes worked out for sRGB.

use palette::LinSrgb;

use super::Rgb;
use super::space::{bytes, lab_of, linear, luminance};

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum View {
    Normal,
    /// Without the cones for long waves: red and green are mixed up, and red is dark.
    Protan,
    /// Without the cones for middle waves: red and green are mixed up.
    Deutan,
    /// Without the cones for short waves: blue and green are mixed up.
    Tritan,
}

type Matrix = [[f64; 3]; 3];

const PROTAN: Matrix = [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
];
const DEUTAN: Matrix = [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.011820, 0.042940, 0.968881],
];
/// The plane that parts the two halves, by its normal.
const TRITAN_NORMAL: [f64; 3] = [0.03901, -0.02788, -0.01113];
const TRITAN_ABOVE: Matrix =
    [[1.01277, 0.13548, -0.14826], [-0.01243, 0.86812, 0.14431], [0.07589, 0.80500, 0.11911]];
const TRITAN_BELOW: Matrix =
    [[0.93678, 0.18979, -0.12657], [0.06154, 0.81526, 0.12320], [-0.37562, 1.12767, 0.24796]];

impl View {
    pub const ALL: [View; 4] = [View::Normal, View::Protan, View::Deutan, View::Tritan];

    /// CIE Lab of what is seen.
    pub fn lab(self, rgb: Rgb) -> [f64; 3] {
        lab_of(self.light(linear(rgb))).into()
    }

    /// The colour that looks to anybody as `rgb` looks in this view.
    pub fn rgb(self, rgb: Rgb) -> Rgb {
        match self {
            View::Normal => rgb,
            View::Protan | View::Deutan | View::Tritan => bytes(self.light(linear(rgb))),
        }
    }

    fn light(self, light: LinSrgb<f64>) -> LinSrgb<f64> {
        let channels = [light.red, light.green, light.blue];
        let matrix = match self {
            View::Normal => return light,
            View::Protan => PROTAN,
            View::Deutan => DEUTAN,
            View::Tritan if dot(TRITAN_NORMAL, channels) >= 0.0 => TRITAN_ABOVE,
            View::Tritan => TRITAN_BELOW,
        };
        let [red, green, blue] = matrix.map(|row| dot(row, channels).clamp(0.0, 1.0));
        LinSrgb::new(red, green, blue)
    }
}

/// A colour as it is, as the grey of the same luminance, and in the three other views.
pub fn seen(rgb: Rgb) -> [Rgb; 5] {
    let light = luminance(rgb);
    let grey = bytes(LinSrgb::new(light, light, light));
    [rgb, grey, View::Protan.rgb(rgb), View::Deutan.rgb(rgb), View::Tritan.rgb(rgb)]
}

fn dot(one: [f64; 3], other: [f64; 3]) -> f64 {
    one.iter().zip(other).map(|(one, other)| one * other).sum()
}
