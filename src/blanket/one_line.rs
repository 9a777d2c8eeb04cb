//! A line in the maker's own words: what may be in it, however it was typed.

use super::letters::{shown, shows};

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum LineFault {
    Empty,
    TooLong,
}

/// 1 to `chars_max` characters on one line, trimmed. What nobody sees, and what turns the text
/// around it, is left out.
///
/// # Errors
/// A [`LineFault`] where nothing is left, or too much.
pub(super) fn one_line(text: &str, chars_max: usize) -> Result<String, LineFault> {
    let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let line = shown(&line);
    let line = line.trim();
    match line.chars().count() {
        _ if !shows(line) => Err(LineFault::Empty),
        count if count <= chars_max => Ok(line.to_owned()),
        _ => Err(LineFault::TooLong),
    }
}
