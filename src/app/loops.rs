//! `serve`: three loops that call the steps until they are told to stop. One polls, one wakes, one
//! sends. Nothing is decided here but when to try again.

use std::time::Duration;

use anyhow::Context;
use chrono::TimeDelta;
use tokio::sync::watch;

use super::{App, Claim};
use crate::store::Settled;
use crate::telegram::error::{Class, WireError};
use crate::telegram::poll::{self, Backoff, Poller};

/// The longest sleep between two looks at what is due: a clock that was set is noticed by then.
const TICK_MAX: Duration = Duration::from_secs(30);
/// The pause after a fault of the database.
const FAULT_PAUSE: Duration = Duration::from_secs(5);
/// What is under way at the end gets this long.
const FAREWELL: Duration = Duration::from_secs(10);
const PRUNE_EVERY: TimeDelta = TimeDelta::hours(6);

impl App {
    /// Runs the bot until `stop` is ready. What is under way then is finished or is sent again at
    /// the next start.
    ///
    /// # Errors
    /// Where the platform does not know the token. Everything else is waited out.
    pub async fn serve(&self, stop: impl Future<Output = ()>) -> anyhow::Result<()> {
        let (stopping, stopped) = watch::channel(false);
        let loops = async {
            tokio::try_join!(
                self.poll_loop(stopped.clone()),
                self.tick_loop(stopped.clone()),
                self.send_loop(stopped.clone()),
            )
        };
        tokio::pin!(loops);
        let ended = tokio::select! {
            ended = &mut loops => ended,
            () = stop => {
                let _ = stopping.send(true);
                // Past the farewell, what hangs is cut off; it is kept, and goes on next time.
                tokio::time::timeout(FAREWELL, &mut loops).await.unwrap_or(Ok(((), (), ())))
            }
        };
        let _ = tokio::time::timeout(FAREWELL, self.settle_straight()).await;
        self.store.close().await;
        ended.map(|_| ())
    }

    async fn poll_loop(&self, mut stopped: watch::Receiver<bool>) -> anyhow::Result<()> {
        let mut poller = Poller::new();
        let mut backoff = Backoff::new();
        let mut greeted = false;
        while !*stopped.borrow() {
            let round = async {
                if !greeted {
                    self.greet().await?;
                    greeted = true;
                }
                self.poll_once(&mut poller).await
            };
            let round = tokio::select! {
                round = round => round,
                _ = stopped.changed() => break,
            };
            match round {
                Ok(()) => backoff.succeeded(),
                Err(error) => {
                    let wait = backoff.failed(jitter());
                    self.note_poll_failure(&error, wait).await?;
                    self.pause(&mut stopped, wait).await;
                }
            }
        }
        // The platform learns that the last batch is done with, so that it is not sent once more.
        if greeted {
            let _ = tokio::time::timeout(Duration::from_secs(2), poller.fetch(&self.wire)).await;
        }
        Ok(())
    }

    /// One poll, and everything in it taken, one after the other. The batch is confirmed by the
    /// next poll, after all of it is committed.
    ///
    /// # Errors
    /// A [`WireError`] or a fault of the database; then the batch comes once more.
    pub async fn poll_once(&self, poller: &mut Poller) -> anyhow::Result<()> {
        let batch = poller.fetch(&self.wire).await?;
        for raw in &batch.updates {
            self.take(raw).await?;
        }
        poller.confirm(&batch);
        Ok(())
    }

    /// Logs why a poll failed, or ends the bot where no poll will ever succeed.
    async fn note_poll_failure(&self, error: &anyhow::Error, wait: Duration) -> anyhow::Result<()> {
        let seconds = wait.as_secs();
        let Some(wire) = error.downcast_ref::<WireError>() else {
            tracing::error!(error = format!("{error:#}"), seconds, "an update could not be kept");
            return Ok(());
        };
        match wire.class() {
            Class::Fatal => return Err(wire.clone()).context("the platform refuses the token"),
            Class::Webhook => {
                tracing::warn!("a webhook keeps this bot from polling; it is taken away");
                let _ = poll::delete_webhook(&self.wire).await;
            }
            Class::Conflict => {
                tracing::warn!(seconds, "another program polls with the same token");
            }
            Class::RetryAfter(_)
            | Class::Unreachable
            | Class::NotModified
            | Class::Gone
            | Class::QueryTooOld
            | Class::Transient
            | Class::Rejected => tracing::warn!(%error, seconds, "polling failed"),
        }
        Ok(())
    }

    async fn tick_loop(&self, mut stopped: watch::Receiver<bool>) -> anyhow::Result<()> {
        let mut pruned_at = None;
        while !*stopped.borrow() {
            let now = self.clock.now();
            if pruned_at.is_none_or(|at| now - at >= PRUNE_EVERY) {
                pruned_at = Some(now);
                if let Err(error) = self.store.prune(now).await {
                    tracing::warn!(%error, "old updates could not be forgotten");
                }
            }
            let wait = match self.tick().await {
                Ok(0) => self.until_next_wake().await,
                Ok(_) => Duration::ZERO,
                Err(error) => {
                    tracing::error!(error = format!("{error:#}"), "a wake could not be handled");
                    FAULT_PAUSE
                }
            };
            self.pause(&mut stopped, wait).await;
        }
        Ok(())
    }

    async fn until_next_wake(&self) -> Duration {
        let next = self.store.next_wake().await.ok().flatten();
        let wait = next.map(|at| (at - self.clock.now()).to_std().unwrap_or(Duration::ZERO));
        // A wake a moment ahead must not become a loop without any sleep.
        wait.unwrap_or(TICK_MAX).clamp(Duration::from_millis(20), TICK_MAX)
    }

    async fn send_loop(&self, mut stopped: watch::Receiver<bool>) -> anyhow::Result<()> {
        let mut backoff = Backoff::new();
        while !*stopped.borrow() {
            let wait = match self.send_once().await {
                Ok(Sent::Settled(Settled::Retry | Settled::Unclear)) => backoff.failed(jitter()),
                Ok(Sent::Settled(_)) => {
                    backoff.succeeded();
                    Duration::ZERO
                }
                Ok(Sent::Wait(wait)) => wait,
                Ok(Sent::Nothing) => {
                    tokio::select! {
                        () = self.stirred.notified() => {}
                        () = self.clock.sleep(TICK_MAX) => {}
                        _ = stopped.changed() => {}
                    }
                    Duration::ZERO
                }
                Err(error) => {
                    tracing::error!(error = format!("{error:#}"), "the outbox could not be used");
                    FAULT_PAUSE
                }
            };
            self.pause(&mut stopped, wait).await;
        }
        Ok(())
    }

    /// Claims, sends and settles one message, if one may go.
    ///
    /// # Errors
    /// A fault of the database.
    pub async fn send_once(&self) -> anyhow::Result<Sent> {
        match self.claim().await? {
            Claim::Nothing => Ok(Sent::Nothing),
            Claim::Wait(at) => Ok(Sent::Wait(at.saturating_sub(self.clock.monotonic()))),
            Claim::Message(claimed) => {
                let result = self.request(&claimed).await;
                if let Err(error) = &result {
                    tracing::debug!(%error, "a message was not sent");
                }
                Ok(Sent::Settled(self.settle(&claimed, result).await?))
            }
        }
    }

    async fn pause(&self, stopped: &mut watch::Receiver<bool>, wait: Duration) {
        if wait.is_zero() {
            return;
        }
        tokio::select! {
            () = self.clock.sleep(wait) => {}
            _ = stopped.changed() => {}
        }
    }
}

/// What one turn of the sender did.
pub enum Sent {
    Settled(Settled),
    /// The next message may go after this long.
    Wait(Duration),
    Nothing,
}

/// A number from 0 to 1, so that bots that failed together do not come back together.
fn jitter() -> f64 {
    let mut bytes = [0_u8; 2];
    match getrandom::fill(&mut bytes) {
        Ok(()) => f64::from(u16::from_le_bytes(bytes)) / f64::from(u16::MAX),
        Err(_) => 0.5,
    }
}
