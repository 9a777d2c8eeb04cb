//! The maker's own people and numbers: whom they may want to reach, a line each, as they wrote it.
//!
//! Never reads what is in a line.

use super::one_line::{LineFault, one_line};

/// The longest line, in characters.
pub const PERSON_CHARS_MAX: usize = 120;
/// The most lines.
pub const PEOPLE_MAX: usize = 5;

/// A line's name. Lines stand in the order of these.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct PersonId(pub i64);

/// 1 to [`PERSON_CHARS_MAX`] characters on one line, trimmed.
#[derive(Clone, PartialEq, Eq)]
pub struct PersonLine(String);

impl PersonLine {
    /// Reads a line.
    ///
    /// # Errors
    /// A [`LineFault`] where nothing is left, or too much.
    pub fn parse(text: &str) -> Result<PersonLine, LineFault> {
        one_line(text, PERSON_CHARS_MAX).map(PersonLine)
    }

    /// As it was kept. What may be typed can have become less since; what is there stays.
    #[must_use]
    pub fn kept(text: String) -> PersonLine {
        PersonLine(text)
    }

    pub fn as_str(&self) -> &str {
        &self.0
    }
}

/// Names and numbers of other people never reach a log.
impl std::fmt::Debug for PersonLine {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("PersonLine(hidden)")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_one_line_of_1_to_120_characters_that_show() {
        let long = "x".repeat(PERSON_CHARS_MAX);
        let cases = [
            (" Ida,\n 555 0134 ", Ok("Ida, 555 0134")),
            ("<b>Ida</b> 🧶", Ok("<b>Ida</b> 🧶")),
            ("a\u{202E}b\u{7}c", Ok("abc")),
            ("\u{202E} \u{7}", Err(LineFault::Empty)),
            (&long, Ok(long.as_str())),
            (&format!("{long}y"), Err(LineFault::TooLong)),
        ];
        for (typed, expected) in cases {
            let got = PersonLine::parse(typed);
            let got = got.as_ref().map(PersonLine::as_str);
            assert_eq!(got, expected.as_ref().copied(), "{typed:?}");
        }
        assert_eq!(format!("{:?}", PersonLine::parse("Ida")), "Ok(PersonLine(hidden))");
    }
}
