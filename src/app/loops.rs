//! `serve`: four loops that call the steps until they are told to stop. One polls, one wakes, one
//! sends, one looks daily whether the rules changed. Nothing is decided here but when to try again.

use std::time::Duration;

use chrono::TimeDelta;
use tokio::sync::watch;
use tokio::time::timeout;

use super::polling::Polling;
use super::pulse::Beat;
use super::{App, Claim};
use crate::store::Settled;
use crate::telegram::error::Class;
use crate::telegram::poll::Backoff;

/// The longest sleep between two looks at what is due: a clock that was set is noticed by then.
const TICK_MAX: Duration = Duration::from_secs(30);
/// What is under way at the end gets this long.
const FAREWELL: Duration = Duration::from_secs(10);
/// A disk that does not answer is not waited for any longer: what was committed is on it.
const CLOSE_MAX: Duration = Duration::from_secs(5);
const RULES_EVERY: Duration = Duration::from_hours(24);
const RULES_RETRY: Duration = Duration::from_mins(10);
const PRUNE_EVERY: TimeDelta = TimeDelta::hours(6);

impl App {
    /// Runs the bot until `stop` is ready. What is under way then is finished or is sent again at
    /// the next start.
    ///
    /// # Errors
    /// Where the platform does not know the token. Everything else is waited out.
    pub async fn serve(&self, stop: impl Future<Output = ()>) -> anyhow::Result<()> {
        let ended = self.run(stop).await;
        self.has_ended();
        if timeout(CLOSE_MAX, self.store.close()).await.is_err() {
            tracing::warn!("the database does not close; what was kept is on disk");
        }
        ended
    }

    /// Holds no connection of the database any more when it is over, however it ends.
    async fn run(&self, stop: impl Future<Output = ()>) -> anyhow::Result<()> {
        let (stopping, stopped) = watch::channel(false);
        let loops = async {
            tokio::try_join!(
                self.poll_loop(stopped.clone()),
                self.tick_loop(stopped.clone()),
                self.send_loop(stopped.clone()),
                self.rules_loop(stopped.clone()),
            )
        };
        tokio::pin!(loops);
        tokio::select! {
            ended = &mut loops => ended.map(|_| ()),
            () = stop => {
                let _ = stopping.send(true);
                let farewell = async {
                    let ended = (&mut loops).await;
                    self.settle_straight().await;
                    ended.map(|_| ())
                };
                timeout(FAREWELL, farewell).await.unwrap_or_else(|_| {
                    tracing::info!("what is under way is cut off, and goes on at the next start");
                    Ok(())
                })
            }
        }
    }

    async fn poll_loop(&self, mut stopped: watch::Receiver<bool>) -> anyhow::Result<()> {
        let mut polling = Polling::new();
        while !*stopped.borrow() {
            let came = tokio::select! {
                came = self.next_batch(&mut polling) => came,
                // A message did not go through: the poll that hangs is given up for a short
                // question, which opens the gate where the platform answers. Nothing is lost by
                // it, since what was not confirmed comes once more.
                () = self.doubted.notified() => {
                    polling.ask_anew();
                    continue;
                }
                _ = stopped.changed() => break,
            };
            // What came is taken whole, also where the bot is told to stop meanwhile.
            let taken = match came {
                Ok(batch) => self.take_batch(&mut polling.poller, &batch).await,
                Err(fault) => Err(fault),
            };
            let wait = match taken {
                Ok(()) => polling.went_well(),
                Err(fault) => self.note_poll_failure(&mut polling, &fault).await?,
            };
            self.pause(&mut stopped, wait).await;
        }
        self.leave(&mut polling.poller).await;
        Ok(())
    }

    async fn tick_loop(&self, mut stopped: watch::Receiver<bool>) -> anyhow::Result<()> {
        let mut backoff = Backoff::new();
        let mut pruned_at = None;
        while !*stopped.borrow() {
            let now = self.now();
            if !self.time_is_in_doubt() && pruned_at.is_none_or(|at| now - at >= PRUNE_EVERY) {
                pruned_at = Some(now);
                if let Err(error) = self.store.prune(now).await {
                    tracing::warn!(%error, "old updates could not be forgotten");
                }
            }
            let ticked = self.tick().await;
            if ticked.is_ok() {
                self.beats(Beat::Ticked).await;
            }
            let wait = match ticked {
                Ok(0) => {
                    backoff.succeeded();
                    self.until_next_wake().await
                }
                Ok(_) => continue,
                Err(fault) => {
                    tracing::error!(fault = format!("{fault:#}"), "a wake could not be handled");
                    self.pause(&mut stopped, backoff.failed(jitter())).await;
                    continue;
                }
            };
            tokio::select! {
                () = self.clock.sleep(wait) => {}
                () = self.woken.notified() => {}
                _ = stopped.changed() => {}
            }
        }
        Ok(())
    }

    /// Once a day, and at the start: are the rules still those from which the wakes were derived?
    async fn rules_loop(&self, mut stopped: watch::Receiver<bool>) -> anyhow::Result<()> {
        while !*stopped.borrow() {
            let derived = async {
                if self.wakes_are_stale().await? {
                    self.derive_wakes().await?;
                }
                anyhow::Ok(())
            };
            let wait = match derived.await {
                Ok(()) => RULES_EVERY,
                Err(fault) => {
                    let fault = format!("{fault:#}");
                    tracing::error!(fault, "wakes could not be derived anew yet");
                    RULES_RETRY
                }
            };
            self.pause(&mut stopped, wait).await;
        }
        Ok(())
    }

    async fn until_next_wake(&self) -> Duration {
        // Nobody is woken before the platform says what time it is, which wakes the loop.
        if self.time_is_in_doubt() {
            return TICK_MAX;
        }
        let next = self.store.next_wake().await.ok().flatten();
        let wait = next.map(|at| (at - self.now()).to_std().unwrap_or(Duration::ZERO));
        // A wake a moment ahead must not become a loop without any sleep.
        wait.unwrap_or(TICK_MAX).clamp(Duration::from_millis(20), TICK_MAX)
    }

    async fn send_loop(&self, mut stopped: watch::Receiver<bool>) -> anyhow::Result<()> {
        let mut backoff = Backoff::new();
        while !*stopped.borrow() {
            let wait = match self.send_once().await {
                // What did not go is claimed once it may be tried again.
                Ok(Sent::Settled(_)) => {
                    backoff.succeeded();
                    continue;
                }
                // The chat waits, and no other.
                Ok(Sent::PutOff) => continue,
                Ok(Sent::Wait(wait)) => wait,
                Ok(Sent::Nothing) => TICK_MAX,
                Err(fault) => {
                    let fault = format!("{fault:#}");
                    tracing::error!(fault, "the outbox could not be used");
                    self.pause(&mut stopped, backoff.failed(jitter())).await;
                    continue;
                }
            };
            // A message to another chat need not wait for this one's turn.
            tokio::select! {
                () = self.clock.sleep(wait) => {}
                () = self.stirred.notified() => {}
                _ = stopped.changed() => {}
            }
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
                let unmade = result.as_ref().is_err_and(|error| error.class() == Class::Unmade);
                let settled = self.settle(&claimed, result).await?;
                Ok(if unmade { Sent::PutOff } else { Sent::Settled(settled) })
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
    /// A message waits for a file that could not be made; others may go.
    PutOff,
    /// The next message may go after this long.
    Wait(Duration),
    Nothing,
}

/// A number from 0 to 1, so that bots that failed together do not come back together.
pub(super) fn jitter() -> f64 {
    let mut bytes = [0_u8; 2];
    match getrandom::fill(&mut bytes) {
        Ok(()) => f64::from(u16::from_le_bytes(bytes)) / f64::from(u16::MAX),
        Err(_) => 0.5,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Does not compile where a step holds something that must stay on one thread.
    #[test]
    fn a_bot_can_be_served_by_any_thread() {
        fn any_thread<T: Send>(_: T) {}
        let _ = |app: &'static App| any_thread(app.serve(std::future::pending()));
    }
}
