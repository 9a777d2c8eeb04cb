//! Pictures of what a message says in words: each is sent by a button below that message.
//!
//! A picture comes only where somebody tapped for it, never of itself.

use chrono::{DateTime, Utc};

use super::button::Button;
use super::caption::Caption;
use super::enclosed::{Drawn, Enclosed};
use super::outcome::{Key, Outcome, Reply};
use super::say::Say;
use super::{Maker, recap};
use crate::blanket::{Book, week};

pub fn key(caption: Caption, drawn: Drawn) -> Key {
    Key { caption, button: Button::Draw(drawn) }
}

pub fn tapped(maker: &Maker, book: &Book, drawn: Drawn, now: DateTime<Utc>) -> Outcome {
    let drawn = match drawn {
        Drawn::Week { on } => {
            let on = on.min(book.hours().day_at(now));
            if week(book, on).days.is_empty() {
                // There is nothing to draw: the words say so.
                return maker.quiet().say(recap::whole(book, on));
            }
            Drawn::Week { on }
        }
        Drawn::Yarn | Drawn::Year | Drawn::Card | Drawn::Imagined => drawn,
    };
    let enclosed = Enclosed::Drawn(drawn);
    maker.quiet().say(Reply::new(Say::File(enclosed)).with(enclosed))
}
