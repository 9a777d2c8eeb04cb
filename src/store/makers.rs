//! All makers together: who is due, whether anybody owns the bot, and forgetting one of them.
//!
//! Never says more of a maker than an id.

use chrono::{DateTime, Utc};
use sqlx::SqliteConnection;
use sqlx::sqlite::SqliteExecutor;

use super::MakerId;
use super::codes::{instant, ms};
use super::error::{Result, StoreError};
use super::open::Store;
use super::updates::mark_seen;
use crate::chat::event::UserId;
use crate::chat::offline::Outage;

/// A maker, and when they wake.
#[derive(Clone, Copy, Debug)]
pub struct Sleeper {
    id: i64,
    user_id: i64,
    wakes_at: Option<i64>,
}

impl Sleeper {
    pub fn user(self) -> UserId {
        UserId(self.user_id)
    }
}

impl Store {
    /// Makers whose wake has come, the longest overdue first. Nobody who cannot be reached.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn due(&self, now: DateTime<Utc>, limit: u32) -> Result<Vec<UserId>> {
        let now = ms(now);
        // SQLite prepares a statement anew for every value of a bare `LIMIT ?`, not of `+?`.
        let users = sqlx::query_scalar!(
            "SELECT user_id FROM makers
            WHERE reachable = 1 AND wakes_at <= ? ORDER BY wakes_at LIMIT +?",
            now,
            limit
        );
        Ok(users.fetch_all(&self.readers).await?.into_iter().map(UserId).collect())
    }

    /// Lets a maker sleep until `until`, whose wake at `now` could not be handled.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn put_off(
        &self,
        user: UserId,
        now: DateTime<Utc>,
        until: DateTime<Utc>,
    ) -> Result<()> {
        let (now, until) = (ms(now), ms(until));
        let mut tx = self.writer.begin_with("BEGIN IMMEDIATE").await?;
        sqlx::query!(
            "UPDATE makers SET wakes_at = ? WHERE user_id = ? AND wakes_at <= ?",
            until,
            user.0,
            now
        )
        .execute(&mut *tx)
        .await?;
        Ok(tx.commit().await?)
    }

    /// The earliest wake of anybody who can be reached.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn next_wake(&self) -> Result<Option<DateTime<Utc>>> {
        let earliest = sqlx::query_scalar!(
            r#"SELECT wakes_at AS "wakes_at!" FROM makers
            WHERE reachable = 1 AND wakes_at IS NOT NULL ORDER BY wakes_at LIMIT 1"#
        );
        earliest.fetch_optional(&self.readers).await?.map(instant).transpose()
    }

    /// Makers in the order in which they wake, those who sleep for ever last, from after one of
    /// them on. Nobody who cannot be reached: their wake is derived when they return.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn sleepers(&self, after: Option<Sleeper>, limit: u32) -> Result<Vec<Sleeper>> {
        let (wakes_at, id) = match after {
            None => (Some(i64::MIN), 0),
            Some(sleeper) => (sleeper.wakes_at, sleeper.id),
        };
        if let Some(wakes_at) = wakes_at {
            let some = sqlx::query_as!(
                Sleeper,
                "SELECT id, user_id, wakes_at FROM makers
                WHERE reachable = 1 AND (wakes_at, id) > (?, ?) ORDER BY wakes_at, id LIMIT ?",
                wakes_at,
                id,
                limit
            );
            let some = some.fetch_all(&self.readers).await?;
            if !some.is_empty() {
                return Ok(some);
            }
        }
        let id = if wakes_at.is_some() { 0 } else { id };
        let rest = sqlx::query_as!(
            Sleeper,
            "SELECT id, user_id, wakes_at FROM makers
            WHERE reachable = 1 AND wakes_at IS NULL AND id > ? ORDER BY id LIMIT ?",
            id,
            limit
        );
        Ok(rest.fetch_all(&self.readers).await?)
    }

    /// Writes down when a maker wakes, unless they have changed since `revision`.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn set_wake(
        &self,
        maker: MakerId,
        revision: i64,
        wakes_at: Option<DateTime<Utc>>,
    ) -> Result<()> {
        let wakes_at = wakes_at.map(ms);
        sqlx::query!(
            "UPDATE makers SET wakes_at = ? WHERE id = ? AND revision = ? AND wakes_at IS NOT ?",
            wakes_at,
            maker.0,
            revision,
            wakes_at
        )
        .execute(&self.writer)
        .await?;
        Ok(())
    }

    /// The rules from which wakes were derived last, whatever they are.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn wakes_stamp(&self) -> Result<Option<String>> {
        let stamp = sqlx::query_scalar!("SELECT value FROM meta WHERE key = 'wakes_stamp'");
        Ok(stamp.fetch_optional(&self.readers).await?)
    }

    /// # Errors
    /// Those of the file.
    pub async fn set_wakes_stamp(&self, stamp: &str) -> Result<()> {
        sqlx::query!(
            "INSERT INTO meta (key, value) VALUES ('wakes_stamp', ?)
            ON CONFLICT (key) DO UPDATE SET value = excluded.value",
            stamp
        )
        .execute(&self.writer)
        .await?;
        Ok(())
    }

    /// # Errors
    /// Those of the file.
    pub async fn has_owner(&self) -> Result<bool> {
        let owner = sqlx::query_scalar!("SELECT id FROM makers WHERE owner = 1 LIMIT 1");
        Ok(owner.fetch_optional(&self.readers).await?.is_some())
    }

    /// Deletes everything kept about a maker, in one transaction with the note that `update`, which
    /// asked for it, was seen; and then every trace of it in the file. False where it was seen
    /// before: then nothing is deleted, whatever the update would mean now.
    ///
    /// # Errors
    /// Those of the file. Once the maker is deleted, [`Store::prune`] makes up for a part that
    /// failed after it.
    pub async fn erase(&self, maker: MakerId, update: i64, now: DateTime<Utc>) -> Result<bool> {
        let mut tx = self.writer.begin_with("BEGIN IMMEDIATE").await?;
        if !mark_seen(&mut tx, update, now).await? {
            return Ok(false);
        }
        // Every table about a maker names them, at one remove or two, and is deleted with them.
        sqlx::query!("DELETE FROM makers WHERE id = ?", maker.0).execute(&mut *tx).await?;
        mark_erasing(&mut tx).await?;
        tx.commit().await?;
        self.finish_erasing().await?;
        Ok(true)
    }

    /// `secure_delete` overwrites what is deleted, but not the copies that rows leave behind when
    /// a full page is split and they move; so the file is written anew, in memory first. False
    /// where nothing was erased or replaced since the last time, so that nothing was to do.
    ///
    /// # Errors
    /// Those of the file, such as another process that reads; [`Store::prune`] makes up for it.
    pub async fn finish_erasing(&self) -> Result<bool> {
        let mark = sqlx::query_scalar!("SELECT value FROM meta WHERE key = 'erasing'");
        let Some(mark) = mark.fetch_optional(&self.writer).await? else { return Ok(false) };
        sqlx::query("VACUUM").execute(&self.writer).await?;
        self.empty_log().await?;
        // What was deleted meanwhile made a mark of its own.
        sqlx::query!("DELETE FROM meta WHERE key = 'erasing' AND value = ?", mark)
            .execute(&self.writer)
            .await?;
        Ok(true)
    }

    /// Moves every commit into the main file and cuts the write-ahead log to nothing.
    ///
    /// # Errors
    /// [`StoreError::Busy`] where another program reads or writes for longer than we wait.
    pub async fn empty_log(&self) -> Result<()> {
        let (busy, _, _): (i64, i64, i64) =
            sqlx::query_as("PRAGMA wal_checkpoint(TRUNCATE)").fetch_one(&self.writer).await?;
        if busy == 0 { Ok(()) } else { Err(StoreError::Busy) }
    }

    /// When the platform was heard last, and the last outage, if it is news.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn note_heard(&self, at: DateTime<Utc>, outage: Option<Outage>) -> Result<()> {
        let Some(Outage { from, to }) = outage else {
            return note(&self.writer, "heard_at", at).await;
        };
        let mut tx = self.writer.begin_with("BEGIN IMMEDIATE").await?;
        for (key, at) in [("heard_at", at), ("offline_from", from), ("offline_to", to)] {
            note(&mut *tx, key, at).await?;
        }
        Ok(tx.commit().await?)
    }

    /// When the platform was heard last, and the last outage.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn heard(&self) -> Result<(Option<DateTime<Utc>>, Option<Outage>)> {
        let at = async |key: &str| {
            let value = sqlx::query_scalar!("SELECT value FROM meta WHERE key = ?", key);
            let value = value.fetch_optional(&self.readers).await?;
            value.and_then(|value| value.parse().ok()).map(instant).transpose()
        };
        let outage = match (at("offline_from").await?, at("offline_to").await?) {
            (Some(from), Some(to)) => Some(Outage { from, to }),
            (Some(_) | None, _) => None,
        };
        Ok((at("heard_at").await?, outage))
    }

    /// Which bot this is. Ids of updates, messages and files of another bot mean nothing to it,
    /// so they go where the id has changed. Says whether it has.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn set_bot(&self, bot_id: i64, name: &str) -> Result<bool> {
        let mut tx = self.writer.begin_with("BEGIN IMMEDIATE").await?;
        let id = bot_id.to_string();
        let before = sqlx::query_scalar!("SELECT value FROM meta WHERE key = 'bot_id'")
            .fetch_optional(&mut *tx)
            .await?;
        let changed = before.is_some_and(|before| before != id);
        if changed {
            sqlx::query!("DELETE FROM seen_updates").execute(&mut *tx).await?;
            sqlx::query!("DELETE FROM slots").execute(&mut *tx).await?;
            sqlx::query!("DELETE FROM sent_files").execute(&mut *tx).await?;
            // A message of another bot that is named in a talk.
            sqlx::query!("UPDATE makers SET talk = json_remove(talk, '$.in_hand_since')")
                .execute(&mut *tx)
                .await?;
        }
        sqlx::query!(
            "INSERT INTO meta (key, value) VALUES ('bot_id', ?), ('bot_name', ?)
            ON CONFLICT (key) DO UPDATE SET value = excluded.value",
            id,
            name
        )
        .execute(&mut *tx)
        .await?;
        tx.commit().await?;
        Ok(changed)
    }

    /// The name of the bot, where it has ever said it.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn bot_name(&self) -> Result<Option<String>> {
        let name = sqlx::query_scalar!("SELECT value FROM meta WHERE key = 'bot_name'");
        Ok(name.fetch_optional(&self.readers).await?)
    }
}

/// Something was deleted whose traces in the file are to go. No two marks are the same.
pub(super) async fn mark_erasing(tx: &mut SqliteConnection) -> Result<()> {
    sqlx::query!(
        "INSERT INTO meta (key, value) VALUES ('erasing', hex(randomblob(16)))
        ON CONFLICT (key) DO UPDATE SET value = excluded.value"
    )
    .execute(tx)
    .await?;
    Ok(())
}

/// Keeps an instant that is about nobody.
async fn note(file: impl SqliteExecutor<'_>, key: &str, at: DateTime<Utc>) -> Result<()> {
    let value = ms(at).to_string();
    sqlx::query!(
        "INSERT INTO meta (key, value) VALUES (?, ?)
        ON CONFLICT (key) DO UPDATE SET value = excluded.value",
        key,
        value
    )
    .execute(file)
    .await?;
    Ok(())
}
