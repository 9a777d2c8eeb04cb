//! Taps that never arrived: said once, with the next question or nudge after an outage.
//!
//! The platform keeps a tap for 150 seconds; after a longer outage some may be lost, and nobody
//! knows which.

use chrono::{DateTime, TimeDelta, Utc};

use super::outcome::{Offline, Outcome};
use super::say::Say;
use crate::blanket::Book;

/// How long the platform keeps a tap.
pub const TAP_KEPT: TimeDelta = TimeDelta::seconds(150);

/// A time in which nothing from the platform arrived.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Outage {
    pub from: DateTime<Utc>,
    pub to: DateTime<Utc>,
}

/// Joins the notice to the first question or nudge of an outcome, if this maker was asked before
/// the outage was over and was not told of it.
pub fn join(book: &Book, outage: Outage, mut outcome: Outcome) -> Outcome {
    let asked_before = book.asked().is_some_and(|(_, at)| at < outage.to);
    let told = outcome.talk.told_offline.is_some_and(|told| told >= outage.to);
    let asks = |say: &Say| matches!(say, Say::Question { .. } | Say::Nudge { .. });
    let unasked = outcome.replies.iter_mut().find(|reply| reply.unasked && asks(&reply.say));
    if let Some(reply) = unasked
        && asked_before
        && !told
    {
        let hours = book.hours();
        reply.offline =
            Some(Offline { from: hours.local(outage.from), to: hours.local(outage.to) });
        outcome.talk.told_offline = Some(outage.to);
    }
    outcome
}
