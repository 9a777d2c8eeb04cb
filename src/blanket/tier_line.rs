//! The maker's own line about days of a tier: what such a day is like, in their words.

use super::label::turns_direction;

/// The longest line, in characters.
pub const TIER_LINE_CHARS_MAX: usize = 100;

/// 1 to [`TIER_LINE_CHARS_MAX`] characters on one line, trimmed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct TierLine(String);

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum TierLineFault {
    Empty,
    TooLong,
}

impl TierLine {
    /// Reads a line. Characters that show nothing or turn the text around them are left out.
    ///
    /// # Errors
    /// A [`TierLineFault`] where nothing is left, or too much.
    pub fn parse(text: &str) -> Result<TierLine, TierLineFault> {
        let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let line: String =
            line.chars().filter(|c| !c.is_control() && !turns_direction(*c)).collect();
        match line.trim().chars().count() {
            0 => Err(TierLineFault::Empty),
            1..=TIER_LINE_CHARS_MAX => Ok(TierLine(line.trim().to_owned())),
            _ => Err(TierLineFault::TooLong),
        }
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
            ("\u{202E} \u{7}", Err(TierLineFault::Empty)),
            (&long, Ok(long.as_str())),
            (&format!("{long}y"), Err(TierLineFault::TooLong)),
        ];
        for (typed, expected) in cases {
            let got = TierLine::parse(typed);
            assert_eq!(got.as_ref().map(TierLine::as_str), expected.as_ref().copied(), "{typed:?}");
        }
    }
}
