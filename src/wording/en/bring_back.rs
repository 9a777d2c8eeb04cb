//! A book brought back from a file, in English.

use super::blankets::name;
use super::{Words, plain};
use crate::chat::bring_back::{BringBackRefusal, BringBackSaid, Held};
use crate::chat::event::FileFault;

pub fn said(said: &BringBackSaid) -> Words {
    match said {
        BringBackSaid::Offer { file, replaces: None } => plain([
            format!("This file is {}.", held(file)),
            "Nothing was changed so far.".to_owned(),
        ]),
        BringBackSaid::Offer { file, replaces: Some(before) } => plain([
            format!("This file is {}.", held(file)),
            format!("It would take the place of {}.", held(before)),
            "Whatever is in that one alone would be deleted. /export gives you a copy of it."
                .to_owned(),
            "Nothing was changed so far.".to_owned(),
        ]),
        BringBackSaid::Done { file, replaced } => plain([
            match replaced {
                true => format!("{} is the one in the file now.", capital(&name(file.years))),
                false => format!("{} is here now.", capital(&name(file.years))),
            },
            "/today, /open and /rows show what is kept.".to_owned(),
        ]),
        BringBackSaid::Left => plain(["I left the file. Nothing was changed.".to_owned()]),
        BringBackSaid::Refused(refusal) => plain([refused(*refusal)]),
    }
}

fn refused(refusal: BringBackRefusal) -> String {
    let why = match refusal {
        BringBackRefusal::File(FileFault::TooLarge) => "This file is larger than any book.",
        BringBackRefusal::File(FileFault::Unreadable) => {
            "This file is no book from /export, or was changed since. I read no other files."
        }
        BringBackRefusal::File(FileFault::TooNew) => {
            "This file is from a newer version of this bot than the one here."
        }
        BringBackRefusal::File(FileFault::Impossible) => {
            "This file names something that cannot be in a book."
        }
        BringBackRefusal::File(FileFault::NotFetched) => {
            "I could not get this file. Send it once more in some minutes."
        }
        BringBackRefusal::File(FileFault::OfferedBefore) => {
            "That button is of an older file. Send the file once more."
        }
        BringBackRefusal::SharesDays => {
            "This file shares days with more than one of your blankets. /blankets lists them."
        }
    };
    format!("{why} Nothing was changed.")
}

/// "the blanket of 2027, with 12 days kept and 1 row worked"
fn held(held: &Held) -> String {
    let count = |count: usize, one: &str| match count {
        0 => format!("no {one}s"),
        1 => format!("1 {one}"),
        count => format!("{count} {one}s"),
    };
    let (days, rows) = (count(held.days, "day"), count(held.rows, "row"));
    format!("{}, with {days} kept and {rows} worked", name(held.years))
}

fn capital(name: &str) -> String {
    name.replacen('t', "T", 1)
}
