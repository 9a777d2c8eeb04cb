//! Everything one event changed, in one transaction: the book, the talk, what is to be said, when
//! to wake next, and that the update was seen.
//!
//! Never half of it. What it finds changed by another writer it leaves alone.

use chrono::{DateTime, Utc};
use sqlx::SqliteConnection;

use super::MakerId;
use super::codes::ms;
use super::error::Result;
use super::open::Store;
use super::outbox::{Queued, queue};
use super::updates::mark_seen;
use super::write::write;
use crate::blanket::Change;
use crate::chat::talk::Talk;

/// What follows from one event, for one maker.
pub struct Commit<'a> {
    /// The update that was the event; `None` for a wake.
    pub update: Option<i64>,
    pub maker: MakerId,
    /// The revision of the maker the outcome was made from.
    pub expected_revision: i64,
    pub changes: &'a [Change],
    pub talk: &'a Talk,
    /// In this order. Left out for a maker who cannot be reached.
    pub queue: &'a [Queued],
    pub reach: Option<Reach>,
    pub wakes_at: Option<DateTime<Utc>>,
    pub now: DateTime<Utc>,
}

/// What an event says about whether messages to the maker arrive.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Reach {
    /// They wrote, tapped or came back.
    Reachable,
    /// They blocked the bot: all that waits for them is dropped.
    Unreachable,
}

#[must_use]
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Committed {
    Done,
    /// The update was handled before: nothing was written.
    SeenBefore,
    /// The maker was changed or erased since they were loaded: nothing was written. Load again,
    /// respond again.
    Overtaken,
}

impl Store {
    /// # Errors
    /// Those of the file; a day asked about twice; a change without a blanket. Then nothing was
    /// written.
    pub async fn commit(&self, commit: Commit<'_>) -> Result<Committed> {
        let mut tx = self.writer.begin_with("BEGIN IMMEDIATE").await?;
        if let Some(update) = commit.update
            && !mark_seen(&mut tx, update, commit.now).await?
        {
            return Ok(Committed::SeenBefore);
        }
        let Some(kept) = update_maker(&mut tx, &commit).await? else {
            return Ok(Committed::Overtaken);
        };
        let mut blanket = kept.blanket;
        for change in commit.changes {
            blanket = Some(write(&mut tx, commit.maker, blanket, change, commit.now).await?);
        }
        if kept.reachable {
            queue::add(&mut tx, commit.maker, commit.queue, commit.now).await?;
        } else {
            queue::clear(&mut tx, commit.maker).await?;
        }
        tx.commit().await?;
        Ok(Committed::Done)
    }
}

struct Kept {
    blanket: Option<i64>,
    reachable: bool,
}

/// `None` where the maker is not, or no longer, the one the outcome was made from.
async fn update_maker(tx: &mut SqliteConnection, commit: &Commit<'_>) -> Result<Option<Kept>> {
    let talk = serde_json::to_string(commit.talk).map_err(anyhow::Error::from)?;
    let wakes_at = commit.wakes_at.map(ms);
    let reachable = commit.reach.map(|reach| match reach {
        Reach::Reachable => true,
        Reach::Unreachable => false,
    });
    let row = sqlx::query!(
        r#"UPDATE makers SET talk = ?, wakes_at = ?, reachable = coalesce(?, reachable),
            revision = revision + 1
        WHERE id = ? AND revision = ?
        RETURNING blanket, reachable AS "reachable: bool""#,
        talk,
        wakes_at,
        reachable,
        commit.maker.0,
        commit.expected_revision
    )
    .fetch_optional(tx)
    .await?;
    Ok(row.map(|row| Kept { blanket: row.blanket, reachable: row.reachable }))
}
