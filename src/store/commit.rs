//! Everything one event changed, in one transaction: the book, the talk, what is to be said, when
//! to wake next, and that the update was seen.
//!
//! Never half of it. What it finds changed by another writer it leaves alone.

use chrono::{DateTime, NaiveDate, Utc};
use sqlx::SqliteConnection;

use super::MakerId;
use super::codes::{how, ms, rgb, side};
use super::error::{Result, StoreError};
use super::open::Store;
use super::outbox::{Queued, queue};
use super::updates::mark_seen;
use crate::blanket::{Answer, Beginning, BlockNumber, Change, YarnId};
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
            blanket = Some(write(&mut tx, commit.maker, blanket, change).await?);
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

/// Writes one change, and says which blanket is logged after it.
async fn write(
    tx: &mut SqliteConnection,
    maker: MakerId,
    blanket: Option<i64>,
    change: &Change,
) -> Result<i64> {
    if let Change::Began(beginning) = change {
        return begin(tx, maker, beginning).await;
    }
    let Some(blanket) = blanket else {
        return Err(StoreError::Other(anyhow::anyhow!("a change of a blanket nobody began")));
    };
    match change {
        Change::Began(_) => {}
        Change::Asked { day, at } => {
            let at = ms(*at);
            sqlx::query!(
                "INSERT INTO asked (blanket, day, number, at) VALUES (?1, ?2,
                    (SELECT coalesce(max(number), 0) + 1 FROM asked WHERE blanket = ?1), ?3)",
                blanket,
                day,
                at
            )
            .execute(tx)
            .await?;
        }
        Change::Answered { day, tier, how, at } => {
            let answer = Answer { tier: *tier, how: *how, at: *at };
            keep(tx, blanket, *day, &answer).await?;
            queue::drop_question(tx, maker, *day).await?;
        }
        Change::Worked { block, yarns, at } => work(tx, blanket, *block, yarns, ms(*at)).await?,
        Change::Reopened { .. }
        | Change::PutOff { .. }
        | Change::Noted { .. }
        | Change::NoteDeleted { .. }
        | Change::Stocked { .. }
        | Change::HoursSet(_)
        | Change::RemindersSet(_)
        | Change::Nudged { .. }
        | Change::Recapped { .. } => {
            return Err(StoreError::Other(anyhow::anyhow!("this change has no table yet")));
        }
        Change::PulledBack { block, rows_left } => {
            sqlx::query!(
                "DELETE FROM worked WHERE blanket = ? AND block = ? AND row > ?",
                blanket,
                block.0,
                rows_left
            )
            .execute(tx)
            .await?;
        }
    }
    Ok(blanket)
}

async fn begin(tx: &mut SqliteConnection, maker: MakerId, beginning: &Beginning) -> Result<i64> {
    let Beginning { plan, scale, yarns, joining, hours } = beginning;
    let (first_day, last_day) = (plan.first_day(), plan.last_day());
    let (rows, first_side) = (plan.rows_per_block(), side(plan.first_side()));
    let (default_tier, zone) = (scale.default_tier().id.0, hours.zone.name());
    let blanket = sqlx::query!(
        "INSERT INTO blankets (maker, first_day, last_day, rows_per_block, first_side,
            default_tier, joining_yarn, zone, ask_at, day_turns_at)
        VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        maker.0,
        first_day,
        last_day,
        rows,
        first_side,
        default_tier,
        joining.0,
        zone,
        hours.ask_at,
        hours.day_turns_at
    )
    .execute(&mut *tx)
    .await?
    .last_insert_rowid();
    for (position, yarn) in (0_i64..).zip(yarns) {
        let (name, rgb) = (yarn.name.as_str(), rgb(yarn.rgb));
        sqlx::query!(
            "INSERT INTO yarns (blanket, id, position, name, rgb) VALUES (?, ?, ?, ?, ?)",
            blanket,
            yarn.id.0,
            position,
            name,
            rgb
        )
        .execute(&mut *tx)
        .await?;
    }
    for (position, tier) in (0_i64..).zip(scale.tiers()) {
        let label = tier.label.as_str();
        sqlx::query!(
            "INSERT INTO tiers (blanket, id, position, label, yarn) VALUES (?, ?, ?, ?, ?)",
            blanket,
            tier.id.0,
            position,
            label,
            tier.yarn.0
        )
        .execute(&mut *tx)
        .await?;
    }
    sqlx::query!("UPDATE makers SET blanket = ? WHERE id = ?", blanket, maker.0)
        .execute(tx)
        .await?;
    Ok(blanket)
}

/// The tier a day has now, and one more line of its history.
async fn keep(
    tx: &mut SqliteConnection,
    blanket: i64,
    day: NaiveDate,
    answer: &Answer,
) -> Result<()> {
    let (tier, how, at) = (answer.tier.0, how(answer.how), ms(answer.at));
    sqlx::query!(
        "INSERT INTO days (blanket, day, tier, how, at) VALUES (?, ?, ?, ?, ?)
        ON CONFLICT (blanket, day)
            DO UPDATE SET tier = excluded.tier, how = excluded.how, at = excluded.at",
        blanket,
        day,
        tier,
        how,
        at
    )
    .execute(&mut *tx)
    .await?;
    sqlx::query!(
        "INSERT INTO history (blanket, day, tier, how, at) VALUES (?, ?, ?, ?, ?)",
        blanket,
        day,
        tier,
        how,
        at
    )
    .execute(tx)
    .await?;
    Ok(())
}

/// Rows on top of the worked run of a block.
async fn work(
    tx: &mut SqliteConnection,
    blanket: i64,
    block: BlockNumber,
    yarns: &[YarnId],
    at: i64,
) -> Result<()> {
    for yarn in yarns {
        sqlx::query!(
            "INSERT INTO worked (blanket, block, row, yarn, at) VALUES (?1, ?2,
                (SELECT coalesce(max(row), 0) + 1 FROM worked WHERE blanket = ?1 AND block = ?2),
                ?3, ?4)",
            blanket,
            block.0,
            yarn.0,
            at
        )
        .execute(&mut *tx)
        .await?;
    }
    Ok(())
}
