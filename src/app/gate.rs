//! One gate through outages: while the platform does not answer, only the poller knocks. And how
//! long nothing arrived, across restarts, so that makers can be told.

use std::sync::PoisonError;

use chrono::{DateTime, TimeDelta, Utc};

use super::App;
use crate::chat::offline::{Outage, TAP_KEPT};

/// How often the instant is written down at which the platform was heard last.
const WRITTEN_EVERY: TimeDelta = TimeDelta::minutes(1);

#[derive(Default)]
pub struct Gate {
    open: bool,
    heard_at: Option<DateTime<Utc>>,
    written_at: Option<DateTime<Utc>>,
    outage: Option<Outage>,
}

/// What is to be written down after the platform was heard.
#[derive(Clone, Copy, PartialEq, Eq, Default, Debug)]
struct News {
    opened: bool,
    heard_at: Option<DateTime<Utc>>,
    outage: Option<Outage>,
}

impl Gate {
    /// Shut until the platform is heard; what was known when the last process ended.
    pub fn new(heard_at: Option<DateTime<Utc>>, outage: Option<Outage>) -> Gate {
        Gate { open: false, heard_at, written_at: heard_at, outage }
    }

    /// The platform handed over what it had, at `now`.
    fn heard(&mut self, now: DateTime<Utc>) -> News {
        let mut news = News { opened: !self.open, ..News::default() };
        let from = self.heard_at.unwrap_or(now);
        if now - from > TAP_KEPT {
            let outage = Outage { from, to: now };
            (self.outage, news.outage) = (Some(outage), Some(outage));
        }
        let due = self.written_at.is_none_or(|at| now - at >= WRITTEN_EVERY || now < at);
        if due || news.outage.is_some() {
            (self.written_at, news.heard_at) = (Some(now), Some(now));
        }
        self.open = true;
        self.heard_at = Some(now);
        news
    }
}

impl App {
    pub(super) fn gate_is_open(&self) -> bool {
        self.gate.lock().unwrap_or_else(PoisonError::into_inner).open
    }

    /// Whether the platform answered when it was asked last.
    pub fn hears(&self) -> bool {
        self.gate_is_open()
    }

    /// The last time in which nothing arrived for longer than the platform keeps a tap.
    pub(super) fn last_outage(&self) -> Option<Outage> {
        self.gate.lock().unwrap_or_else(PoisonError::into_inner).outage
    }

    /// The platform answered a poll: messages may go. A fault of the database here costs a notice
    /// at most, and is left to the next poll.
    pub(super) async fn heard(&self) {
        let now = self.now();
        let news = self.gate.lock().unwrap_or_else(PoisonError::into_inner).heard(now);
        if news.opened {
            self.stirred.notify_one();
        }
        if let Some(Outage { from, to }) = news.outage {
            tracing::warn!(%from, %to, "nothing arrived in this time");
        }
        if let Some(at) = news.heard_at
            && let Err(error) = self.store.note_heard(at, news.outage).await
        {
            tracing::debug!(%error, "when the platform was heard could not be kept");
        }
    }

    /// The platform answered, but not a poll: what waits for the bot has not arrived yet.
    pub(super) fn open_gate(&self) {
        self.gate.lock().unwrap_or_else(PoisonError::into_inner).open = true;
        self.stirred.notify_one();
    }

    /// The platform did not answer a poll: messages wait.
    pub(super) fn unheard(&self) {
        self.gate.lock().unwrap_or_else(PoisonError::into_inner).open = false;
    }

    /// For a clock that is turned by hand: a poll hung open all the while, and nothing came.
    pub fn line_was_open(&self) {
        let now = self.now();
        self.gate.lock().unwrap_or_else(PoisonError::into_inner).heard_at = Some(now);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_silence_longer_than_a_tap_is_kept_is_an_outage() {
        let at = |seconds| DateTime::UNIX_EPOCH + TimeDelta::seconds(seconds);
        let mut gate = Gate::new(None, None);
        assert!(gate.heard(at(0)).opened);
        assert_eq!(gate.heard(at(50)), News::default());
        assert_eq!(gate.heard(at(200)).outage, None, "150 seconds after the last");
        let outage = Outage { from: at(200), to: at(351) };
        assert_eq!(gate.heard(at(351)).outage, Some(outage));
        assert_eq!(gate.heard(at(360)).outage, None);
        assert_eq!(gate.outage, Some(outage));
    }

    #[test]
    fn the_time_a_process_was_down_counts() {
        let at = |seconds| DateTime::UNIX_EPOCH + TimeDelta::seconds(seconds);
        let mut gate = Gate::new(Some(at(0)), None);
        assert!(!gate.open);
        let outage = Outage { from: at(0), to: at(9000) };
        assert_eq!(gate.heard(at(9000)).outage, Some(outage));
    }
}
