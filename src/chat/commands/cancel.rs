//! `/cancel`: leaves the flow. Nothing that was kept changes.

use super::{Asked, erase};
use crate::chat::outcome::{Outcome, Reply};
use crate::chat::say::Say;
use crate::chat::talk::{Step, Talk};

pub fn run(asked: &Asked<'_>) -> Outcome {
    let maker = asked.maker;
    if maker.book.is_none() {
        return match maker.talk.step {
            Step::Erase => erase::kept(maker),
            _ => Outcome::quiet(&maker.talk).say(Reply::new(Say::SetUpWaits)),
        };
    }
    let say = match maker.talk.step {
        Step::Idle => Say::NothingToCancel,
        Step::Place
        | Step::ClockThere
        | Step::ZoneRight { .. }
        | Step::AskAt { .. }
        | Step::FirstDay { .. }
        | Step::Day { .. }
        | Step::Practice
        | Step::Erase => Say::Cancelled,
    };
    Outcome::quiet(&Talk::default()).say(Reply::new(say))
}
