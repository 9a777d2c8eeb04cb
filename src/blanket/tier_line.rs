//! The maker's own line about days of a tier: what such a day is like, in their words.

use super::one_line::{LineFault, one_line};

/// The longest line, in characters.
pub const TIER_LINE_CHARS_MAX: usize = 100;

/// 1 to [`TIER_LINE_CHARS_MAX`] characters on one line, trimmed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct TierLine(String);

impl TierLine {
    /// Reads a line.
    ///
    /// # Errors
    /// A [`LineFault`] where nothing is left, or too much.
    pub fn parse(text: &str) -> Result<TierLine, LineFault> {
        one_line(text, TIER_LINE_CHARS_MAX).map(TierLine)
    }

    /// As it was kept. What may be typed can have become less since; what is there stays.
    #[must_use]
    pub fn kept(text: String) -> TierLine {
        TierLine(text)
    }

    pub fn as_str(&self) -> &str {
        &self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_one_line_of_1_to_100_characters_that_show() {
        let long = "x".repeat(TIER_LINE_CHARS_MAX);
        let cases = [
            (" slept well,\n walked ", Ok("slept well, walked")),
            ("a\u{202E}b\u{7}c", Ok("abc")),
            ("\u{202E} \u{7}", Err(LineFault::Empty)),
            (&long, Ok(long.as_str())),
            (&format!("{long}y"), Err(LineFault::TooLong)),
        ];
        for (typed, expected) in cases {
            let got = TierLine::parse(typed);
            assert_eq!(got.as_ref().map(TierLine::as_str), expected.as_ref().copied(), "{typed:?}");
        }
    }
}
