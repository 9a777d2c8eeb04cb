//! How wide is a line of text, which glyphs is it, and can the fonts show it at all?
//!
//! The fonts are Noto Sans, Latin, Greek and Cyrillic. What they lack is never drawn as boxes: the
//! caller draws the letter of the colour instead.

use std::sync::LazyLock;

use rustybuzz::{Face, UnicodeBuffer};

use super::list::{Style, Weight};
use crate::blanket::letters::piles_up;

/// The font files, for outputs that embed them.
pub static REGULAR: &[u8] = include_bytes!("fonts/NotoSans-Regular.ttf");
pub static BOLD: &[u8] = include_bytes!("fonts/NotoSans-Bold.ttf");

/// Height of capitals, in parts of the size.
pub const CAPITALS: f32 = 0.714;

/// Text is made smaller down to this part of its size before it is cut off.
const SMALLEST: f32 = 0.8;

static FACES: LazyLock<[Option<Face<'static>>; 2]> =
    LazyLock::new(|| [Face::from_slice(REGULAR, 0), Face::from_slice(BOLD, 0)]);

pub fn face(weight: Weight) -> Option<&'static Face<'static>> {
    match weight {
        Weight::Regular => FACES[0].as_ref(),
        Weight::Bold => FACES[1].as_ref(),
    }
}

/// A glyph and where it stands on the line, in parts of the size.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Placed {
    pub glyph: u16,
    pub x: f32,
    pub y: f32,
}

/// The glyphs of a line, and how far it reaches, in parts of the size.
pub fn shape(text: &str, weight: Weight) -> (Vec<Placed>, f32) {
    let Some(face) = face(weight) else { return (Vec::new(), 0.0) };
    let mut buffer = UnicodeBuffer::new();
    buffer.push_str(text);
    buffer.set_direction(rustybuzz::Direction::LeftToRight);
    let shaped = rustybuzz::shape(face, &[], buffer);
    let em = face.units_per_em() as f32;
    let mut reach = 0_i32;
    let mut placed = Vec::with_capacity(shaped.len());
    for (info, position) in shaped.glyph_infos().iter().zip(shaped.glyph_positions()) {
        placed.push(Placed {
            glyph: u16::try_from(info.glyph_id).unwrap_or(0),
            x: (reach + position.x_offset) as f32 / em,
            y: position.y_offset as f32 / em,
        });
        reach += position.x_advance;
    }
    (placed, reach as f32 / em)
}

pub fn width(text: &str, style: Style) -> f32 {
    shape(text, style.weight).1 * style.size
}

/// Whether the fonts have every character of a text, it reads from left to right, and it stays
/// within its line.
pub fn shows(text: &str) -> bool {
    let Some(face) = face(Weight::Regular) else { return false };
    let known = text.chars().all(|c| face.glyph_index(c).is_some());
    !text.is_empty() && known && !piles_up(text)
}

/// A text that fits into `width`: smaller where that is enough, else cut off with an ellipsis.
pub fn fit(text: &str, style: Style, width_max: f32) -> (String, Style) {
    let full = width(text, style);
    if full <= width_max {
        return (text.to_owned(), style);
    }
    // Quarters of a unit, so that sizes stay few.
    let smaller = (style.size * width_max / full * 4.0).floor() / 4.0;
    if smaller >= style.size * SMALLEST {
        return (text.to_owned(), Style { size: smaller, ..style });
    }
    let style = Style { size: (style.size * SMALLEST * 4.0).ceil() / 4.0, ..style };
    let letters: Vec<char> = text.chars().collect();
    let cut = |count: usize| {
        let kept: String = letters[..count].iter().collect();
        format!("{}…", kept.trim_end())
    };
    // The longest beginning that fits; widths only grow with it.
    let (mut fits, mut too_long) = (0, letters.len());
    while too_long - fits > 1 {
        let half = fits.midpoint(too_long);
        if width(&cut(half), style) <= width_max { fits = half } else { too_long = half }
    }
    (cut(fits), style)
}

#[cfg(test)]
mod tests {
    use super::*;

    const PLAIN: Style = Style::regular(14.0, [0; 3]);

    #[test]
    fn fonts_show_three_scripts_and_say_what_they_cannot() {
        for text in ["Shingle", "Zażółć gęślą jaźń", "Θάλασσα μπλε", "Морская волна", "Mỹ", "– · …"]
        {
            assert!(shows(text), "{text}");
        }
        for text in [
            "",
            "海の青",
            "🧶",
            "שלום",
            "a\u{202E}b",
            "a\u{7}",
            "→",
            "✓",
            "a\u{200B}",
            "e\u{301}\u{301}\u{301}\u{301}",
        ] {
            assert!(!shows(text), "{text:?}");
        }
    }

    #[test]
    fn a_text_that_fits_stays_and_a_longer_one_shrinks_and_then_is_cut_off() {
        let full = width("Tarred Rope", PLAIN);
        assert_eq!(fit("Tarred Rope", PLAIN, full), ("Tarred Rope".to_owned(), PLAIN));
        let (text, style) = fit("Tarred Rope", PLAIN, full * 0.9);
        assert_eq!(text, "Tarred Rope");
        assert!(style.size < PLAIN.size);
        for share in [0.7, 0.5, 0.4] {
            let (text, style) = fit("WWWWWWWWWWWWWWWWWWWWWWWW", PLAIN, full * share);
            assert!(text.ends_with('…') && text.starts_with('W'), "{text}");
            assert!(width(&text, style) <= full * share, "{text}");
        }
        assert_eq!(fit("WWWW", PLAIN, full * 0.2).0, "…", "where not even one letter fits");
    }

    #[test]
    fn marks_stand_on_their_letters() {
        let (placed, reach) = shape("e\u{301}", Weight::Regular);
        let (composed, reach_composed) = shape("\u{e9}", Weight::Regular);
        assert_eq!((placed, reach), (composed, reach_composed));
    }
}
