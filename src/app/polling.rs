//! Polling: greets the platform first, takes what comes, and says what keeps it from doing so.
//!
//! A batch is confirmed by the poll after it, once all of it is committed.

use std::time::Duration;

use anyhow::Context;
use tokio::time::timeout;

use super::App;
use super::loops::jitter;
use super::pulse::Beat;
use super::troubles::Troubles;
use crate::telegram::error::{Class, WireError};
use crate::telegram::poll::{self, Backoff, Batch, Poller};

/// Updates that wait are worth more than the menu of commands.
const MENU_WAIT: Duration = Duration::from_secs(5);
const MENU_RETRY: Duration = Duration::from_secs(10 * 60);
const LEAVE_WAIT: Duration = Duration::from_secs(2);

/// Where polling stands.
pub struct Polling {
    pub poller: Poller,
    backoff: Backoff,
    troubles: Troubles,
    greeted: bool,
    /// When the menu of commands is handed over, by the monotonic clock; `None` once it was.
    menu_at: Option<Duration>,
}

impl Polling {
    pub fn new() -> Polling {
        Polling {
            poller: Poller::new(),
            backoff: Backoff::new(),
            troubles: Troubles::default(),
            greeted: false,
            menu_at: Some(Duration::ZERO),
        }
    }

    /// The next poll is preceded by a short question, which is answered at once.
    pub fn ask_anew(&mut self) {
        self.greeted = false;
    }

    /// The wait until the next poll: none.
    pub fn went_well(&mut self) -> Duration {
        self.backoff.succeeded();
        if self.troubles.are_over() {
            tracing::info!("polling works again");
        }
        Duration::ZERO
    }
}

impl App {
    /// One poll, and everything in it taken, one after the other.
    ///
    /// # Errors
    /// A [`WireError`] or a fault of the database; then the batch comes once more.
    pub async fn poll_once(&self, poller: &mut Poller) -> anyhow::Result<()> {
        let batch = self.fetch(poller).await?;
        self.take_batch(poller, &batch).await
    }

    /// One poll, of which nothing is taken yet.
    ///
    /// # Errors
    /// A [`WireError`]; nothing is lost by it.
    pub async fn fetch(&self, poller: &mut Poller) -> Result<Batch, WireError> {
        let asked_at = self.clock.monotonic();
        let fetched = poller.fetch(&self.wire).await;
        if let Ok(batch) = &fetched {
            self.bursts().came(batch.updates.len(), asked_at, self.clock.monotonic());
        }
        self.note_answer(&fetched).await;
        fetched
    }

    /// Waits for updates. The first time, learns who the bot is.
    pub(super) async fn next_batch(&self, polling: &mut Polling) -> anyhow::Result<Batch> {
        if !polling.greeted {
            self.greet().await?;
            polling.greeted = true;
        }
        let now = self.clock.monotonic();
        if polling.menu_at.is_some_and(|at| at <= now) {
            let handed_over = timeout(MENU_WAIT, self.hand_over_menu()).await;
            polling.menu_at = match handed_over {
                Ok(Ok(())) => None,
                Ok(Err(_)) | Err(_) => {
                    if polling.troubles.are_news("menu", now) {
                        tracing::warn!("the platform does not take the list of commands yet");
                    }
                    let asked_for = handed_over.ok().and_then(Result::err);
                    let pause = asked_for.map_or(Duration::ZERO, |error| self.heed(&error));
                    Some(now + MENU_RETRY.max(pause))
                }
            };
        }
        let fetched = self.fetch_unless_it_hangs(polling).await;
        if fetched.is_ok() {
            self.beats(Beat::Polled).await;
        }
        // After an outage, a short question opens the gate: a poll may hang for a while.
        polling.greeted = self.gate_is_open();
        Ok(fetched?)
    }

    /// One poll. One that hangs, for whatever reason, is given up for one over a new connection:
    /// an old one can be dead without either end knowing.
    async fn fetch_unless_it_hangs(&self, polling: &mut Polling) -> Result<Batch, WireError> {
        loop {
            let now = self.clock.monotonic();
            let left = self.pulse.patience_left(now);
            if left.is_zero() {
                let seconds = self.pulse.start_anew(now).as_secs();
                if let Err(fault) = self.wire.renew_polling() {
                    tracing::error!(%fault, "polling goes on over the old connection");
                } else if polling.troubles.are_news("hung", now) {
                    tracing::warn!(seconds, "no poll ended in this time; it starts anew");
                }
            } else {
                tokio::select! {
                    fetched = self.fetch(&mut polling.poller) => return fetched,
                    () = self.clock.sleep(left) => {}
                }
            }
        }
    }

    /// Opens the gate for messages where the platform answered, and shuts it where it did not.
    async fn note_answer(&self, fetched: &Result<Batch, WireError>) {
        match fetched {
            Ok(batch) => {
                self.told_the_time(batch.date);
                self.heard().await;
            }
            Err(error) if error.class() == Class::Transient => self.unheard(),
            // Refused, but answered.
            Err(_) => {}
        }
    }

    pub(super) async fn take_batch(
        &self,
        poller: &mut Poller,
        batch: &Batch,
    ) -> anyhow::Result<()> {
        for raw in &batch.updates {
            self.take(raw).await?;
        }
        poller.confirm(batch);
        Ok(())
    }

    /// Logs why a poll failed, and says how long to wait; ends the bot where no poll will ever
    /// succeed.
    pub(super) async fn note_poll_failure(
        &self,
        polling: &mut Polling,
        fault: &anyhow::Error,
    ) -> anyhow::Result<Duration> {
        let wait = polling.backoff.failed(jitter());
        let now = self.clock.monotonic();
        let Some(wire) = fault.downcast_ref::<WireError>() else {
            if polling.troubles.are_news("kept", now) {
                tracing::error!(fault = format!("{fault:#}"), "an update could not be kept yet");
            }
            return Ok(wait);
        };
        tracing::debug!(error = %wire, seconds = wait.as_secs(), "polling failed");
        match wire.class() {
            Class::Fatal => return Err(wire.clone()).context("the platform refuses the token"),
            Class::Webhook => {
                tracing::warn!("a webhook keeps this bot from polling; it is taken away");
                if let Err(error) = poll::delete_webhook(&self.wire).await {
                    return Ok(wait.max(self.heed(&error)));
                }
            }
            Class::Conflict => {
                if polling.troubles.are_news("conflict", now) {
                    tracing::warn!("another program polls with the same token; this one goes on");
                }
            }
            Class::RetryAfter(_) => return Ok(wait.max(self.heed(wire))),
            Class::Unreachable
            | Class::NotModified
            | Class::Gone
            | Class::QueryTooOld
            | Class::Transient
            | Class::Rejected
            | Class::Unmade => {
                if polling.troubles.are_news("poll", now) {
                    tracing::warn!(error = %wire, "polling failed, and is tried again");
                }
            }
        }
        Ok(wait)
    }

    /// The platform learns that the last batch is done with, so that it is not sent once more.
    pub(super) async fn leave(&self, poller: &mut Poller) {
        if let Ok(Err(error)) = timeout(LEAVE_WAIT, poller.farewell(&self.wire)).await {
            tracing::debug!(%error, "the last updates come once more");
        }
    }
}
