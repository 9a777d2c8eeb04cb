//! A book brought back from a file, in English.

use super::blankets::{caption, name};
use super::dates::capital;
use super::{Words, plain};
use crate::chat::blankets::{BlanketCaption, Years};
use crate::chat::bring_back::{BookSummary, BringBackRefusal, BringBackSaid, Replaced, ShownBy};
use crate::chat::event::FileFault;

pub fn said(said: &BringBackSaid) -> Words {
    match said {
        BringBackSaid::Offer { file, replaces: None } => plain([
            format!("In the file: {}.", summary(file)),
            "Nothing that is here would be deleted. Nothing is changed yet.".to_owned(),
        ]),
        BringBackSaid::Offer { file, replaces: Some(before) } => plain([
            format!("In the file: {}.", summary(file)),
            format!("Here now: {}.", summary(&before.book)),
            match before.differing {
                0 => "The tier differs on no day.".to_owned(),
                1 => "The tier differs on 1 day.".to_owned(),
                days => format!("The tier differs on {days} days."),
            },
            "What is here and not in the file would be deleted. Hours, reminders, people and \
             numbers stay."
                .to_owned(),
            copy(before),
            "Nothing is changed yet.".to_owned(),
        ]),
        BringBackSaid::Done { file, replaced, shown_by, paused } => plain(
            [
                match replaced {
                    true => format!("{} is now as in the file.", capital(&name(file.years))),
                    false => format!("{} is here now.", capital(&name(file.years))),
                },
                shown(file.years, *shown_by),
            ]
            .into_iter()
            .chain(paused.then(|| "I am not asking now. /resume goes on with it.".to_owned())),
        ),
        BringBackSaid::Left => plain(["The file was not used. Nothing was changed.".to_owned()]),
        BringBackSaid::Refused(refusal) => refused(*refusal),
    }
}

/// How to keep what would be deleted.
fn copy(before: &Replaced) -> String {
    match before.in_hand {
        true => "/export gives you a copy of it first.".to_owned(),
        false => format!(
            "For a copy of it first: /blankets, {}, /export. Then send this file once more.",
            take_up(before.book.years)
        ),
    }
}

fn take_up(years: Years) -> String {
    caption(BlanketCaption::TakeUp(years))
}

/// Where the blanket is seen.
pub fn shown(years: Years, shown_by: ShownBy) -> String {
    match shown_by {
        ShownBy::All => "/today, /open and /rows show what is kept.".to_owned(),
        ShownBy::Days => "/today and /open show what is kept.".to_owned(),
        ShownBy::Rows => "/rows and /block show its rows.".to_owned(),
        ShownBy::Nothing => format!("To see it: /blankets, then {}.", take_up(years)),
    }
}

fn refused(refusal: BringBackRefusal) -> Words {
    let (why, then) = match refusal {
        BringBackRefusal::File(FileFault::TooLarge) => ("This file is larger than any book.", ""),
        BringBackRefusal::File(FileFault::Unreadable) => (
            "I cannot read this file as a book.",
            "The book is the first file of /export, like book-2027-01-02.json.",
        ),
        BringBackRefusal::File(FileFault::TooNew) => (
            "This file is from a newer version of this bot.",
            "The person who runs this bot can update it.",
        ),
        BringBackRefusal::File(FileFault::Impossible) => (
            "Something in this file cannot be in a book.",
            "Send it as /export made it, with nothing changed.",
        ),
        BringBackRefusal::File(FileFault::NotFetched) => {
            ("I could not get this file.", "Send it once more in some minutes.")
        }
        BringBackRefusal::File(FileFault::OfferedBefore) => {
            ("That button is of an older file.", "Send the file once more.")
        }
        BringBackRefusal::SharesDays => {
            ("This file shares days with more than one of your blankets.", "/blankets lists them.")
        }
    };
    let then = (!then.is_empty()).then(|| then.to_owned());
    plain([format!("{why} Nothing was changed.")].into_iter().chain(then))
}

/// "the blanket of 2027, 12 days kept, 1 row worked"
fn summary(book: &BookSummary) -> String {
    let count = |count: usize, one: &str| match count {
        0 => format!("no {one}"),
        1 => format!("1 {one}"),
        count => format!("{count} {one}s"),
    };
    let (days, rows) = (count(book.days, "day"), count(book.rows, "row"));
    format!("{}, {days} kept, {rows} worked", name(book.years))
}
