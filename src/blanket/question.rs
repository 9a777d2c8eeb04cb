//! The maker's own question, asked below the date instead of the usual one.

use super::letters::{hides, shows};

/// The longest question, in characters.
pub const QUESTION_CHARS_MAX: usize = 60;

/// 1 to [`QUESTION_CHARS_MAX`] characters on one line, trimmed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct OwnQuestion(String);

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum QuestionFault {
    Empty,
    TooLong,
    /// A control character, one that changes the direction of the text around it, or one that shows
    /// nothing.
    Unprintable,
}

impl OwnQuestion {
    /// Reads a question; lines and runs of white space are joined by one space.
    ///
    /// # Errors
    /// A [`QuestionFault`] where nothing of it shows, or too much, or it would turn its line.
    pub fn parse(text: &str) -> Result<OwnQuestion, QuestionFault> {
        let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let visible = shows(&line);
        if visible && line.chars().any(hides) {
            return Err(QuestionFault::Unprintable);
        }
        match line.chars().count() {
            _ if !visible => Err(QuestionFault::Empty),
            ..=QUESTION_CHARS_MAX => Ok(OwnQuestion(line)),
            _ => Err(QuestionFault::TooLong),
        }
    }

    /// As it was kept. What may be typed can have become less since; what is there stays.
    #[must_use]
    pub fn kept(text: String) -> OwnQuestion {
        OwnQuestion(text)
    }

    pub fn as_str(&self) -> &str {
        &self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_question_is_one_line_of_1_to_60_characters_that_show() {
        let long = "ñ".repeat(QUESTION_CHARS_MAX);
        let cases = [
            (" How did the\nday  go? ", Ok("How did the day go?")),
            ("<b>Which?</b> 🧶", Ok("<b>Which?</b> 🧶")),
            ("a\u{202E}b", Err(QuestionFault::Unprintable)),
            ("a\u{7}b", Err(QuestionFault::Unprintable)),
            (" \n", Err(QuestionFault::Empty)),
            ("\u{200B}", Err(QuestionFault::Empty)),
            ("How was\u{200B} it?", Err(QuestionFault::Unprintable)),
            (&long, Ok(long.as_str())),
            (&format!("{long}?"), Err(QuestionFault::TooLong)),
        ];
        for (typed, expected) in cases {
            let got = OwnQuestion::parse(typed);
            let got = got.as_ref().map(OwnQuestion::as_str);
            assert_eq!(got, expected.as_ref().copied(), "{typed:?}");
        }
    }
}
