//! Buttons that send a picture of what the message says in words; the fields of their tokens.

use super::token::{date, read_date};
use crate::chat::enclosed::Drawn;

pub(super) fn fields(drawn: Drawn) -> String {
    match drawn {
        Drawn::Yarn => "yarn".to_owned(),
        Drawn::Week { on } => format!("week|{}", date(on)),
        Drawn::Year => "year".to_owned(),
        Drawn::Card => "card".to_owned(),
        Drawn::Imagined => "imagined".to_owned(),
    }
}

pub(super) fn read(fields: &[&str]) -> Option<Drawn> {
    Some(match fields {
        ["yarn"] => Drawn::Yarn,
        ["week", on] => Drawn::Week { on: read_date(on)? },
        ["year"] => Drawn::Year,
        ["card"] => Drawn::Card,
        ["imagined"] => Drawn::Imagined,
        _ => return None,
    })
}
