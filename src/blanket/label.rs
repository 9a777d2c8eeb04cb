//! A short name of the maker's own: what may be in it, and when two are the same.

use std::fmt;

use icu_normalizer::ComposingNormalizerBorrowed;

use super::letters::{hides, joins, shows};

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
        if line.chars().any(hides) {
            return Err(LabelFault::Unprintable);
        }
        match line.chars().count() {
            _ if !shows(&line) => Err(LabelFault::Empty),
            ..=LABEL_CHARS_MAX => Ok(Label(line)),
            _ => Err(LabelFault::TooLong),
        }
    }

    /// As it was kept. What may be typed can have become less since; what is there stays.
    #[must_use]
    pub fn kept(text: String) -> Label {
        Label(text)
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

/// Phone keyboards add a full stop; capitals, spaces, how an accent is written, and what nobody
/// sees do not matter either.
fn fold(text: &str) -> String {
    let seen: String =
        text.chars().filter(|c| c.is_whitespace() || !(hides(*c) || joins(*c))).collect();
    let line = seen.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    let line = line.trim_end_matches(['.', '!', ',']);
    match line.is_ascii() {
        true => line.to_owned(),
        false => ComposingNormalizerBorrowed::new_nfc().normalize(line).into_owned(),
    }
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
            ("\u{FE0F} \u{E0100}", Err(LabelFault::Empty)),
            ("a\u{206F}b", Err(LabelFault::Unprintable)),
            ("a\u{FFF9}b", Err(LabelFault::Unprintable)),
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
        assert!(Label::parse("☀\u{FE0F}").unwrap().is("☀"));
        assert!(Label::parse("Rou\u{200D}gh").unwrap().is("Rough\u{200E}"));
        assert!(label.nearly("a bit tuogh") && !label.nearly("a bit"));
    }
}
