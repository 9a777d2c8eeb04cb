//! What stands beside a file, in English.

use chrono::NaiveDate;

use super::blankets::name;
use super::{Words, bring_back, dates, plain};
use crate::chat::blankets::Years;
use crate::chat::bring_back::ShownBy;
use crate::chat::enclosed::{Drawn, Enclosed};

pub fn beside(enclosed: Enclosed) -> Words {
    match enclosed {
        Enclosed::Book => lines![
            "The whole book of this blanket. Send me this file to bring it back, here or where else this bot runs.",
            "It has every answer, also those you changed later. Whoever has this file can read it.",
        ],
        Enclosed::DayTable => lines![
            "Your days as a table: every day so far, its tier and its notes.",
            "Whoever has this file can read it.",
        ],
        // Drawn when it is sent: the whole caption is of that moment.
        Enclosed::Blanket(_) => lines!["The blanket so far."],
        Enclosed::BlockPicture(_) => lines!["The block, row by row."],
        Enclosed::Sheet(_) => lines!["The block on paper."],
        Enclosed::Drawn(drawn) => match drawn {
            Drawn::Yarn => lines!["Rows of each colour: worked, waiting and on hand."],
            Drawn::Week { .. } => lines!["The seven days, side by side."],
            Drawn::Year => lines!["The days of each month by tier."],
            Drawn::Card => lines!["Your colours, each with its tier."],
            Drawn::Imagined => lines!["An imagined year: its days are invented."],
        },
        Enclosed::RowTable => {
            lines!["Your rows as a table: every row, its side and its yarn, worked or not."]
        }
    }
}

pub fn handed_out(on: NaiveDate, years: Years) -> Words {
    lines![format!(
        "The person who runs this bot made a copy of the whole book of {} on {}.",
        name(years),
        dates::long(on)
    )]
}

pub fn brought_back(on: NaiveDate, years: Years, shown_by: ShownBy) -> Words {
    lines![
        format!(
            "The person who runs this bot brought {} back from a file on {}.",
            name(years),
            dates::long(on)
        ),
        bring_back::shown(years, shown_by),
    ]
}

pub fn unknown_look(typed: &str) -> Words {
    lines![
        format!("I do not know the picture {}.", dates::quoted(typed)),
        "Type /blanket, /blanket cloth or /blanket big.",
    ]
}
