//! A note of the maker's on a day: what may be in it.

use super::letters::{hides, shows};

/// The longest note, in characters.
pub const NOTE_CHARS_MAX: usize = 500;
/// The most notes of one day.
pub const NOTES_PER_DAY_MAX: usize = 20;

/// A note's name: the platform's number of the message it was typed in, so that an edit of the
/// message changes the note.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct NoteId(pub i64);

#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Note {
    pub id: NoteId,
    pub text: NoteText,
}

/// 1 to [`NOTE_CHARS_MAX`] characters, trimmed, lines kept.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NoteText(String);

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum NoteFault {
    Empty,
    TooLong,
}

impl NoteText {
    /// Reads a note. Characters that show nothing or turn the text around them are left out.
    ///
    /// # Errors
    /// A [`NoteFault`] where nothing is left, or too much.
    pub fn parse(text: &str) -> Result<NoteText, NoteFault> {
        let lines = text.replace("\r\n", "\n");
        let kept: String = lines.chars().map(apart).filter(|c| *c == '\n' || !hides(*c)).collect();
        let kept = kept.trim();
        match kept.chars().count() {
            _ if !shows(kept) => Err(NoteFault::Empty),
            ..=NOTE_CHARS_MAX => Ok(NoteText(kept.to_owned())),
            _ => Err(NoteFault::TooLong),
        }
    }

    /// As it was kept. What may be typed can have become less since; what is there stays.
    #[must_use]
    pub fn kept(text: String) -> NoteText {
        NoteText(text)
    }

    pub fn as_str(&self) -> &str {
        &self.0
    }
}

/// Tabs and the less usual ends of a line (Unicode UAX #14) keep words apart.
fn apart(c: char) -> char {
    match c {
        '\t' => ' ',
        '\r' | '\u{B}' | '\u{C}' | '\u{85}' | '\u{2028}' | '\u{2029}' => '\n',
        c => c,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_note_is_1_to_500_characters_that_show() {
        let long = "x".repeat(NOTE_CHARS_MAX);
        let cases = [
            ("  dentist\nand rain ", Ok("dentist\nand rain")),
            ("a\u{202E}b\u{7}c", Ok("abc")),
            ("\u{202E}\u{7} ", Err(NoteFault::Empty)),
            ("\u{200B}\u{FE0F}", Err(NoteFault::Empty)),
            ("rain\tsun\r\nfog\u{2028}ice\rsnow\u{200B}", Ok("rain sun\nfog\nice\nsnow")),
            ("🧑\u{200D}🌾", Ok("🧑\u{200D}🌾")),
            ("", Err(NoteFault::Empty)),
            (&long, Ok(long.as_str())),
            (&format!("{long}y"), Err(NoteFault::TooLong)),
        ];
        for (typed, expected) in cases {
            let got = NoteText::parse(typed);
            assert_eq!(got.as_ref().map(NoteText::as_str), expected.as_ref().copied());
        }
    }
}
