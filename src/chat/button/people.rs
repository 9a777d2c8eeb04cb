//! What a maker taps about their own people and numbers, and how it travels in a token.

use super::Button;
use super::token::read_number;
use crate::blanket::PersonId;

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum PeopleTap {
    List,
    /// A line is typed next.
    Add,
    Remove {
        person: PersonId,
    },
    /// The line that was removed last stands where it stood.
    PutBack {
        person: PersonId,
    },
}

impl From<PeopleTap> for Button {
    fn from(tap: PeopleTap) -> Button {
        Button::People(tap)
    }
}

impl PeopleTap {
    /// The fields after the name of the button.
    pub fn fields(self) -> String {
        match self {
            PeopleTap::List => "list".to_owned(),
            PeopleTap::Add => "add".to_owned(),
            PeopleTap::Remove { person } => format!("drop|{}", person.0),
            PeopleTap::PutBack { person } => format!("back|{}", person.0),
        }
    }

    pub fn read(fields: &[&str]) -> Option<PeopleTap> {
        let person = |text: &str| read_number(text).map(PersonId);
        Some(match fields {
            ["list"] => PeopleTap::List,
            ["add"] => PeopleTap::Add,
            ["drop", id] => PeopleTap::Remove { person: person(id)? },
            ["back", id] => PeopleTap::PutBack { person: person(id)? },
            _ => return None,
        })
    }
}
