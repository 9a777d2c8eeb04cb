//! What is said to a maker from whom more came at once than is handled?
//!
//! Who counts is not decided here. Nothing that is left out is left out without a word: the maker
//! hears from where on nothing was kept, and for how long.

use super::button::Button;
use super::event::Event;
use super::outcome::{Outcome, Reply};
use super::say::{LeftOut, Say};
use super::talk::Talk;

/// Messages and taps of one maker handled within [`SECONDS`].
pub const AT_ONCE: u32 = 20;
/// So long nothing is kept after more than that.
pub const SECONDS: u32 = 10;

/// What is said when `first` is the first thing left out; `None` where it cannot be read.
pub fn too_much(talk: &Talk, first: Option<&Event>) -> Outcome {
    let from = match first {
        Some(Event::Typed { text, .. } | Event::Edited { text, .. }) => {
            LeftOut::Text { typed: text.clone() }
        }
        Some(Event::Tapped { button: Ok(Button::Answer { day, .. }), .. }) => {
            LeftOut::Answer { day: *day }
        }
        Some(Event::Tapped { .. }) => LeftOut::Tap,
        Some(
            Event::NotText
            | Event::Document { .. }
            | Event::BookRead { .. }
            | Event::Blocked
            | Event::Unblocked
            | Event::Due(_),
        )
        | None => LeftOut::Message,
    };
    Outcome::quiet(talk).say(Reply::new(Say::TooMuch { from, max: AT_ONCE, seconds: SECONDS }))
}
