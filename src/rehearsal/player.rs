//! How does a script become an evening? Line by line: act, let the bot settle, show what came.
//!
//! Knows neither the bot nor zones: a [`Stage`] settles the one and answers for the other.

use std::future::Future;

use anyhow::{Context, Result, bail};
use chrono::{DateTime, FixedOffset, NaiveDateTime, TimeDelta, Utc};

use super::script::{Act, Line, Turn};
use super::seen::Seen;
use super::stand_in::StandIn;
use super::transcript::shown;

/// The bot under rehearsal and its maker's calendar.
pub trait Stage {
    /// Runs until the bot has taken every update and sent all it has to say.
    fn settle(&mut self) -> impl Future<Output = Result<()>> + Send;
    /// Turns the clock forward to `at`, running all that falls due on the way.
    fn turn_to(&mut self, at: DateTime<Utc>) -> impl Future<Output = Result<()>> + Send;
    /// The maker's local time.
    fn local(&self, at: DateTime<Utc>) -> DateTime<FixedOffset>;
    /// The instant at which the maker's clock shows `local`.
    fn instant(&self, local: NaiveDateTime) -> DateTime<Utc>;
    /// The code of an invitation, where typing `text` stands for opening its link.
    fn invitation(&mut self, text: &str) -> impl Future<Output = Result<Option<String>>> + Send;
    /// The next time the maker is asked, later than now.
    fn next_evening(&self) -> DateTime<Utc>;
}

/// Plays `lines` as `user` and gives every new event of their chat to `sink`, in order.
///
/// Ends at the first line that cannot be played; the error names it. Events of before the first
/// line are not shown.
pub async fn play<S: Stage>(
    lines: &[Line],
    user: i64,
    stand_in: &StandIn,
    stage: &mut S,
    mut sink: impl FnMut(&S, &Seen) -> Result<()>,
) -> Result<()> {
    let mut last = stand_in.seen_by(user).last().map_or(0, |seen| seen.number);
    for line in lines {
        let played = play_one(&line.act, user, stand_in, stage).await;
        // What was seen before it went wrong helps to see why.
        for seen in stand_in.seen_since(user, last) {
            last = seen.number;
            sink(stage, &seen)?;
        }
        played.with_context(|| format!("line {}", line.number))?;
    }
    Ok(())
}

async fn play_one<S: Stage>(act: &Act, user: i64, stand_in: &StandIn, stage: &mut S) -> Result<()> {
    match act {
        Act::Type(text) => {
            match stage.invitation(text).await? {
                Some(code) => stand_in.open_link(user, &code),
                None => stand_in.send_text(user, text),
            };
        }
        Act::Tap(label) => {
            if let Err(why) = stand_in.tap(user, label) {
                bail!("{}", shown(&why.to_string()));
            }
        }
        Act::Turn(turn) => {
            let now = stand_in.now();
            let at = target(*turn, now, stage)?;
            if at <= now {
                let at = stage.local(now).format("%Y-%m-%d %H:%M");
                bail!("the clock only turns forward; it is {at} already");
            }
            stage.turn_to(at).await?;
        }
    }
    stage.settle().await
}

fn target<S: Stage>(turn: Turn, now: DateTime<Utc>, stage: &S) -> Result<DateTime<Utc>> {
    let at = match turn {
        Turn::Evening => Some(stage.next_evening()),
        Turn::By(span) => now.checked_add_signed(span),
        Turn::At(local) => Some(stage.instant(local)),
        Turn::Days(days) => i64::try_from(days)
            .ok()
            .and_then(TimeDelta::try_days)
            .and_then(|days| stage.local(now).naive_local().checked_add_signed(days))
            .map(|local| stage.instant(local)),
    };
    at.context("the clock cannot be turned that far")
}
