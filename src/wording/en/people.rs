//! The maker's own people and numbers, in English.

use super::dates::{isolated, quoted};
use super::{Words, plain};
use crate::chat::say::PeopleDone;

pub fn list(lines: &[String], most: usize, done: Option<&PeopleDone>) -> Words {
    let done = plain(done.map(|done| match done {
        PeopleDone::Kept { line } => format!("Kept: {}.", quoted(line)),
        PeopleDone::Removed { line } => format!("Removed: {}.", quoted(line)),
        PeopleDone::Full => format!("There are {most} lines, which is all I keep."),
    }));
    let words = match lines {
        [] => lines!["No people and numbers of yours are kept yet."],
        lines => lines!["Your people and numbers:"].and(numbered(lines)),
    };
    done.and(words).and(lines![format!("/help shows them. I keep at most {most} lines.")])
}

pub fn ask() -> Words {
    lines![
        "Type one line, like a name and a number.",
        "Whoever runs this server can read it. I never call anybody.",
    ]
}

/// Below the caution in help.
pub fn in_help(lines: &[String]) -> Words {
    match lines {
        [] => lines!["To keep people and numbers of your own here: /settings"],
        lines => lines!["Your people and numbers:"].and(numbered(lines)),
    }
}

fn numbered(lines: &[String]) -> Words {
    plain((1..).zip(lines).map(|(number, line)| format!("{number}. {}", isolated(line))))
}
