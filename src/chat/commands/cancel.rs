//! `/cancel`: leaves the flow. Nothing that was kept changes.

use super::{Asked, erase};
use crate::chat::outcome::{Outcome, Reply};
use crate::chat::say::Say;
use crate::chat::talk::{Step, Talk};

pub fn run(asked: &Asked<'_>) -> Outcome {
    let maker = asked.maker;
    if maker.book.is_none() {
        return match maker.talk.step {
            Step::Erase => erase::kept(maker, true),
            _ => Outcome::quiet(&maker.talk).say(Reply::new(Say::SetUpWaits)),
        };
    }
    let drafted = maker.talk.draft.is_some() || maker.talk.new_tier.is_some();
    let busy = maker.talk.step != Step::Idle || drafted;
    let say = if busy { Say::Cancelled } else { Say::NothingToCancel };
    // What was set before can still be taken back.
    let talk = Talk { step: Step::Idle, draft: None, new_tier: None, ..maker.talk.clone() };
    Outcome::quiet(&talk).say(Reply::new(say))
}
