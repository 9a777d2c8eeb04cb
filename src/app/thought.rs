//! What follows from an event, worked out whole before any of it is kept: the outcome, the
//! requests that will say it, and the next wake.
//!
//! The only place that meets a panic of the rooms that decide and word: it becomes a fault of one
//! event, and the bot goes on. The panic itself is in the log.

use std::panic::{self, AssertUnwindSafe};

use anyhow::{Context, anyhow, ensure};
use chrono::{DateTime, Utc};

use super::said;
use crate::chat::event::{Event, Wake};
use crate::chat::lexicon::Lexicon;
use crate::chat::offline::{self, Outage};
use crate::chat::outcome::Outcome;
use crate::chat::{Maker, agenda, respond};
use crate::store::Queued;

pub struct Thought {
    pub outcome: Outcome,
    pub queue: Vec<Queued>,
    pub wake: Option<Wake>,
}

impl Thought {
    /// What follows from something the maker did.
    ///
    /// # Errors
    /// Where the core panics: a bug of ours, which the same event meets again.
    pub fn of_event(
        maker: &Maker,
        now: DateTime<Utc>,
        event: &Event,
        lexicon: &Lexicon,
    ) -> anyhow::Result<Thought> {
        whole(|| Thought::after(maker, respond(maker, now, event, lexicon), now))
    }

    /// What follows where the maker's wake has come.
    ///
    /// # Errors
    /// Where the core panics, or would be woken for the same thing again and again.
    pub fn of_wake(
        maker: &Maker,
        now: DateTime<Utc>,
        outage: Option<Outage>,
        lexicon: &Lexicon,
    ) -> anyhow::Result<Thought> {
        whole(|| {
            let due = agenda(maker, now).filter(|(at, _)| *at <= now);
            let outcome = match due {
                Some((_, due)) => respond(maker, now, &Event::Due(due), lexicon),
                // Not due after all: only the instant of the next wake is written anew.
                None => Outcome::quiet(&maker.talk),
            };
            let outcome = match (&maker.book, outage) {
                (Some(book), Some(outage)) => offline::join(book, outage, outcome),
                (Some(_) | None, _) => outcome,
            };
            let thought = Thought::after(maker, outcome, now)?;
            ensure!(due.is_none() || thought.wake != due, "what was due is due still");
            Ok(thought)
        })
    }

    /// When a maker wakes next, by the rules of today.
    ///
    /// # Errors
    /// Where the core panics.
    pub fn next_wake(maker: &Maker, now: DateTime<Utc>) -> anyhow::Result<Option<Wake>> {
        whole(|| Ok(agenda(maker, now)))
    }

    /// What follows where the outcome is known already.
    ///
    /// # Errors
    /// Where the core panics.
    pub fn of_outcome(
        maker: &Maker,
        now: DateTime<Utc>,
        outcome: Outcome,
    ) -> anyhow::Result<Thought> {
        whole(|| Thought::after(maker, outcome, now))
    }

    fn after(maker: &Maker, outcome: Outcome, now: DateTime<Utc>) -> anyhow::Result<Thought> {
        let mut after = maker.clone();
        outcome.changes.iter().for_each(|change| after.apply(change));
        after.talk = outcome.talk.clone();
        let queue = said::queued(&outcome.replies).context("a reply cannot be written")?;
        Ok(Thought { wake: agenda(&after, now), queue, outcome })
    }
}

fn whole<T>(think: impl FnOnce() -> anyhow::Result<T>) -> anyhow::Result<T> {
    let thought = panic::catch_unwind(AssertUnwindSafe(think));
    thought.unwrap_or_else(|_| Err(anyhow!("the core panicked")))
}
