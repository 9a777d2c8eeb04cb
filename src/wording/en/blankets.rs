//! The blankets over the years in English.

use chrono::Datelike;

use super::dates::{capital, full, short};
use super::{Words, plain};
use crate::blanket::NextFault;
use crate::chat::blankets::{BlanketCaption, BlanketSaid, BlanketsSaid, Years};

const TAP_OR_TYPE: &str = "Tap one, or type a day, like 14 Jan.";

pub fn said(said: &BlanketsSaid) -> Words {
    match said {
        BlanketsSaid::List { blankets, next_from } => {
            let next = next_from
                .map(|from| format!("The next blanket can be set up from {} on.", full(from)));
            plain(blankets.iter().map(line).chain(next))
        }
        BlanketsSaid::InHand(years) => plain([format!("This is about {}.", name(*years))]),
        BlanketsSaid::TakenUp { years, logged } => plain([
            format!("You work on {} now.", name(*years)),
            "/rows, /block, /blanket, /yarn, /stitch, /settings and /export are about it."
                .to_owned(),
            match logged {
                true => "My questions are about its days too.".to_owned(),
                false => "My questions are about each new day, as before.".to_owned(),
            },
        ]),
        BlanketsSaid::AskNext => plain(
            ["Which day is the first row of the next blanket?", TAP_OR_TYPE].map(str::to_owned),
        ),
        BlanketsSaid::Offer { first_day, last_day } => plain([
            format!("The next blanket would go from {} to {}.", full(*first_day), full(*last_day)),
            "Nothing is changed yet.".to_owned(),
        ]),
        BlanketsSaid::Begun { first_day, last_day } => plain([
            format!("The next blanket goes from {} to {}.", full(*first_day), full(*last_day)),
            "It has the scale, colours, question, hours, stitch and blocks of this one.".to_owned(),
            format!(
                "To change them: /blankets, {}, then /settings.",
                caption(BlanketCaption::TakeUp(Years {
                    first_day: *first_day,
                    last_day: *last_day
                }))
            ),
        ]),
        BlanketsSaid::Refused { day, fault } => refused(day.map(full).as_deref(), *fault),
        BlanketsSaid::Gone => {
            plain(["I do not have that blanket. Nothing was changed.".to_owned()])
        }
        BlanketsSaid::AskMove { first_day } => plain([
            "Which day is the first row of the next blanket?".to_owned(),
            format!("Now: {}. {TAP_OR_TYPE}", full(*first_day)),
        ]),
        BlanketsSaid::Moved { first_day, last_day } => plain([
            format!("The next blanket goes from {} to {}.", full(*first_day), full(*last_day)),
            "All else of it is as it was.".to_owned(),
        ]),
        BlanketsSaid::AskDelete(Years { first_day, last_day }) => plain([
            format!(
                "This deletes the next blanket, from {} to {}, and all that was set in it.",
                full(*first_day),
                full(*last_day)
            ),
            "It has no answer and no worked row. Your other blankets stay as they are.".to_owned(),
            "It cannot be undone. A next blanket can be set up anew.".to_owned(),
        ]),
        BlanketsSaid::Deleted { first_day, now } => plain(
            [
                format!("Deleted. No blanket begins on {} now.", full(*first_day)),
                "Nothing that was set in it is kept here.".to_owned(),
            ]
            .into_iter()
            .chain(now.map(|years| format!("You work on {} now.", name(years)))),
        ),
        BlanketsSaid::HasBegun(years) => plain([
            format!("{} cannot be moved or deleted now. Nothing was changed.", titled(*years)),
            "It has begun, or it has answers, notes or worked rows.".to_owned(),
        ]),
    }
}

fn refused(day: Option<&str>, fault: NextFault) -> Words {
    let head = match day {
        Some(day) => format!("The next blanket cannot begin on {day}. Nothing was changed."),
        None => "The next blanket cannot be set up now. Nothing was changed.".to_owned(),
    };
    let why = match fault {
        NextFault::AlreadyThere { first_day } => {
            format!("There is one that begins on {}.", full(first_day))
        }
        NextFault::TooEarly { from } => format!("It can be set up from {} on.", full(from)),
        NextFault::Taken { last_day } => {
            format!("This blanket goes to {}. Choose a day after it.", full(last_day))
        }
        NextFault::OutOfReach => {
            "Choose a day less than a year ago, or at most a year from today.".to_owned()
        }
    };
    plain([head, why])
}

fn line(said: &BlanketSaid) -> String {
    let BlanketSaid { years, logged, in_hand } = said;
    let (first, last) = (full(years.first_day), full(years.last_day));
    let does = match (logged, in_hand) {
        (true, true) => " I ask about its days, and you work on it.",
        (true, false) => " I ask about its days.",
        (false, true) => " You work on it.",
        (false, false) => "",
    };
    format!("{}: {first} to {last}.{does}", titled(*years))
}

/// "the blanket of 2027", "the blanket of 2027 to 2028"
pub(super) fn name(years: Years) -> String {
    let (first, last) = (years.first_day.year(), years.last_day.year());
    match first == last {
        true => format!("the blanket of {first}"),
        false => format!("the blanket of {first} to {last}"),
    }
}

/// "The blanket of 2027"
fn titled(years: Years) -> String {
    capital(&name(years))
}

pub fn caption(caption: BlanketCaption) -> String {
    match caption {
        BlanketCaption::List => "Blankets".to_owned(),
        BlanketCaption::TakeUp(years) => {
            let (first, last) = (years.first_day.year(), years.last_day.year());
            // A phone shows about 30 characters.
            match first == last {
                true => format!("Work on {}", name(years)),
                false => format!("Work on blanket {first} to {last}"),
            }
        }
        BlanketCaption::Next => "Next blanket".to_owned(),
        BlanketCaption::Begin(day) => format!("Begin on {} {}", short(day), day.year()),
        BlanketCaption::AskMove => "Move next blanket".to_owned(),
        BlanketCaption::AskDelete => "Delete next blanket".to_owned(),
        BlanketCaption::Delete(years) => {
            let (first, last) = (years.first_day.year(), years.last_day.year());
            match first == last {
                true => format!("Delete {}", name(years)),
                false => format!("Delete blanket {first} to {last}"),
            }
        }
    }
}
