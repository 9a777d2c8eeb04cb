//! A short name of the maker's own: what may be in it, and when two are the same.

use std::fmt;

use icu_normalizer::ComposingNormalizerBorrowed;

/// The longest label, counted in characters.
pub const LABEL_CHARS_MAX: usize = 24;

/// A name of a tier or a yarn: 1 to [`LABEL_CHARS_MAX`] characters on one line, trimmed.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Label(String);

/// Why a text cannot be a label.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum LabelFault {
    Empty,
    TooLong,
    /// A control character, a mark that changes the direction of the text around it, or one that
    /// shows nothing, so that two labels that look the same could be two.
    Unprintable,
}

impl Label {
    /// Reads a label, with white space at the ends taken off and runs of it made one space.
    ///
    /// # Errors
    /// A [`LabelFault`] where the text is empty, too long, or holds characters that are not shown.
    pub fn parse(text: &str) -> Result<Label, LabelFault> {
        let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
        if line.chars().any(|c| c.is_control() || turns_direction(c) || shows_nothing(c)) {
            return Err(LabelFault::Unprintable);
        }
        if line.chars().all(joins) {
            return Err(LabelFault::Empty);
        }
        match line.chars().count() {
            0 => Err(LabelFault::Empty),
            1..=LABEL_CHARS_MAX => Ok(Label(line)),
            _ => Err(LabelFault::TooLong),
        }
    }

    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// What two labels that count as the same have in common.
    pub(super) fn folded(&self) -> String {
        fold(&self.0)
    }

    /// Whether the maker typed this label, whatever the capitals and the spaces.
    pub fn is(&self, typed: &str) -> bool {
        fold(&self.0) == fold(typed)
    }

    /// Whether the maker typed almost this label: one letter is off, two in a long one, none in a
    /// very short one.
    pub fn nearly(&self, typed: &str) -> bool {
        let slips_max = match self.0.chars().count() {
            ..4 => 0,
            4..7 => 1,
            7.. => 2,
        };
        super::places::slips(&fold(typed), &fold(&self.0)) <= slips_max
    }
}

impl fmt::Display for Label {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Phone keyboards add a full stop; capitals, spaces and how an accent is written do not matter
/// either.
fn fold(text: &str) -> String {
    let line = text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    let line = line.trim_end_matches(['.', '!', ',']);
    match line.is_ascii() {
        true => line.to_owned(),
        false => ComposingNormalizerBorrowed::new_nfc().normalize(line).into_owned(),
    }
}

/// Embeddings, overrides and isolates of the Unicode bidirectional algorithm (UAX #9, table 4).
pub(super) fn turns_direction(c: char) -> bool {
    matches!(c, '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}

/// Zero-width spaces, marks of direction, fillers and tags.
fn shows_nothing(c: char) -> bool {
    matches!(c, '\u{AD}' | '\u{61C}' | '\u{115F}' | '\u{1160}' | '\u{180E}' | '\u{200B}'
        | '\u{200E}' | '\u{200F}' | '\u{2028}' | '\u{2029}' | '\u{2060}'..='\u{2064}'
        | '\u{2800}' | '\u{3164}' | '\u{FEFF}' | '\u{FFA0}' | '\u{E0000}'..='\u{E007F}')
}

/// What emoji and some scripts need between characters, and what shows nothing alone.
fn joins(c: char) -> bool {
    matches!(c, '\u{200C}' | '\u{200D}' | '\u{FE0E}' | '\u{FE0F}') || c.is_whitespace()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_label_is_one_printable_line_of_at_most_24_characters() {
        let cases = [
            ("  Net   Float ", Ok("Net Float")),
            ("Ελαφρύ", Ok("Ελαφρύ")),
            ("", Err(LabelFault::Empty)),
            (" \n ", Err(LabelFault::Empty)),
            ("a\u{7}b", Err(LabelFault::Unprintable)),
            ("abc\u{202E}def", Err(LabelFault::Unprintable)),
            ("\u{200B}", Err(LabelFault::Unprintable)),
            ("Kelp\u{FEFF}", Err(LabelFault::Unprintable)),
            (
                "\u{6A9}\u{62A}\u{627}\u{628}\u{200C}\u{647}\u{627}",
                Ok("\u{6A9}\u{62A}\u{627}\u{628}\u{200C}\u{647}\u{627}"),
            ),
            ("Smo\u{200B}oth", Err(LabelFault::Unprintable)),
            ("\u{200D}", Err(LabelFault::Empty)),
            ("🧑\u{200D}🌾 <b>", Ok("🧑\u{200D}🌾 <b>")),
            ("abcdefghijklmnopqrstuvwx", Ok("abcdefghijklmnopqrstuvwx")),
            ("abcdefghijklmnopqrstuvwxy", Err(LabelFault::TooLong)),
        ];
        for (typed, expected) in cases {
            let got = Label::parse(typed);
            assert_eq!(got.as_ref().map(Label::as_str), expected.as_ref().copied(), "{typed:?}");
        }
    }

    #[test]
    fn capitals_and_spaces_do_not_make_another_label() {
        let label = Label::parse("A bit rough").unwrap();
        assert!(label.is(" a BIT  rough"));
        assert!(label.is("A bit rough."));
        assert!(!label.is("rough"));
        assert!(Label::parse("Café").unwrap().is("cafe\u{301}"));
        assert!(label.nearly("a bit tuogh") && !label.nearly("a bit"));
    }
}
