//! Colour spaces: sRGB (IEC 61966-2-1) to linear light, CIE Lab with the D65 white point
//! (0.95047, 1, 1.08883), OKLab (Ottosson 2020); differences by CIEDE2000 (CIE 142-2001).

use palette::color_difference::Ciede2000;
use palette::convert::FromColorUnclamped;
use palette::white_point::D65;
use palette::{Lab, LinSrgb, Oklab, Srgb};

use super::Rgb;

/// Linear light, each channel from 0 to 1.
pub(super) fn linear(rgb: Rgb) -> LinSrgb<f64> {
    Srgb::from(rgb).into_format::<f64>().into_linear()
}

/// The sRGB bytes nearest to a light.
pub(super) fn bytes(light: LinSrgb<f64>) -> Rgb {
    Srgb::<f64>::from_linear(light).into_format::<u8>().into()
}

/// CIE L*, a*, b*.
pub fn lab(rgb: Rgb) -> [f64; 3] {
    lab_of(linear(rgb)).into()
}

pub(super) fn lab_of(light: LinSrgb<f64>) -> Lab<D65, f64> {
    Lab::from_color_unclamped(light)
}

/// CIEDE2000 between two CIE Lab colours: 0 is the same, about 1 is a difference that can just be
/// noticed on large even fields side by side.
pub fn difference(one: [f64; 3], other: [f64; 3]) -> f64 {
    Lab::<D65, f64>::from(one).difference(Lab::from(other))
}

/// OKLab L, a, b.
pub fn oklab(rgb: Rgb) -> [f64; 3] {
    let oklab = Oklab::<f64>::from_color_unclamped(linear(rgb));
    [oklab.l, oklab.a, oklab.b]
}

/// The sRGB bytes nearest to an OKLab colour; `None` where a channel of the light is further than
/// 0.001 outside what a screen can show.
pub(super) fn from_oklab([l, a, b]: [f64; 3]) -> Option<Rgb> {
    const SLACK: f64 = 0.001;
    let light = LinSrgb::<f64>::from_color_unclamped(Oklab::new(l, a, b));
    let channels = [light.red, light.green, light.blue];
    let inside = channels.iter().all(|channel| (-SLACK..=1.0 + SLACK).contains(channel));
    inside.then(|| bytes(light))
}

/// Relative luminance from 0 to 1, as in WCAG 2.1 and with the sRGB primaries.
pub fn luminance(rgb: Rgb) -> f64 {
    weighed(rgb, [0.2126, 0.7152, 0.0722])
}

/// Contrast of two colours as WCAG 2.1 defines it: from 1, the same, to 21, black and white.
pub fn contrast(one: Rgb, other: Rgb) -> f64 {
    let (one, other) = (luminance(one) + 0.05, luminance(other) + 0.05);
    (one / other).max(other / one)
}

/// CIE L* from 0 to 100: what is left of a colour in a black-and-white photo.
pub fn lightness(rgb: Rgb) -> f64 {
    lab(rgb)[0]
}

/// CIE L* of what the rods of the eye see, from 0 to 100. An approximation for daylight going
/// dark: CIE V'(lambda) fitted to sRGB reflectances (Smits 1999) under D65, rms error 0.003.
pub fn dim_lightness(rgb: Rgb) -> f64 {
    star(weighed(rgb, [0.005, 0.656, 0.341]))
}

fn weighed(rgb: Rgb, [red, green, blue]: [f64; 3]) -> f64 {
    let light = linear(rgb);
    red * light.red + green * light.green + blue * light.blue
}

/// L* of a luminance from 0 to 1 (CIE 15:2004).
fn star(luminance: f64) -> f64 {
    const KNEE: f64 = 6.0 / 29.0;
    let root = match luminance > KNEE.powi(3) {
        true => libm::cbrt(luminance),
        false => luminance / (3.0 * KNEE.powi(2)) + 4.0 / 29.0,
    };
    116.0 * root - 16.0
}
