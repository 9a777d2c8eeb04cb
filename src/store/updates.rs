//! Which updates were handled, and which were set aside because they could not be.
//!
//! By exact id, never by "greater than": ids start anywhere after a quiet week. Of people who are
//! not makers, nothing they wrote is kept.

use chrono::{DateTime, TimeDelta, Utc};
use sqlx::SqliteConnection;

use super::MakerId;
use super::codes::ms;
use super::error::Result;
use super::open::Store;

const SEEN_DAYS: i64 = 3;
const FAILED_DAYS: i64 = 7;
const INVITATION_DAYS: i64 = 7;
/// A larger update is set aside without what it said.
const RAW_BYTES_MAX: usize = 64 * 1024;

/// An update that panicked or could not be read. May hold what a maker wrote, so it has no
/// `Debug`.
pub struct FailedUpdate<'a> {
    pub update: i64,
    pub maker: Option<MakerId>,
    /// The kind of update, such as "message".
    pub kind: &'a str,
    /// As it came; kept for makers only.
    pub raw: Option<&'a str>,
    /// What the maker was told to name to the host.
    pub code: &'a str,
}

impl Store {
    /// # Errors
    /// Those of the file.
    pub async fn seen(&self, update: i64) -> Result<bool> {
        let seen =
            sqlx::query_scalar!("SELECT update_id FROM seen_updates WHERE update_id = ?", update);
        Ok(seen.fetch_optional(&self.readers).await?.is_some())
    }

    /// Sets an update aside, and marks it seen.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn fail_update(&self, failed: FailedUpdate<'_>, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writer.begin_with("BEGIN IMMEDIATE").await?;
        mark_seen(&mut tx, failed.update, now).await?;
        let wanted = failed.maker.map(|maker| maker.0);
        let maker = sqlx::query_scalar!("SELECT id FROM makers WHERE id = ?", wanted)
            .fetch_optional(&mut *tx)
            .await?;
        let raw = failed.raw.filter(|raw| maker.is_some() && raw.len() <= RAW_BYTES_MAX);
        let at = ms(now);
        sqlx::query!(
            "INSERT INTO failed_updates (update_id, maker, kind, raw, code, at)
            VALUES (?, ?, ?, ?, ?, ?) ON CONFLICT (update_id) DO NOTHING",
            failed.update,
            maker,
            failed.kind,
            raw,
            failed.code,
            at
        )
        .execute(&mut *tx)
        .await?;
        Ok(tx.commit().await?)
    }

    /// Forgets what the platform no longer repeats and nobody looks into any more, and finishes an
    /// erasing that was cut short. At every start, and daily.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn prune(&self, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writer.begin_with("BEGIN IMMEDIATE").await?;
        let before = |days: i64| ms(now - TimeDelta::days(days));
        let (seen, failed, invited) =
            (before(SEEN_DAYS), before(FAILED_DAYS), before(INVITATION_DAYS));
        sqlx::query!("DELETE FROM seen_updates WHERE at < ?", seen).execute(&mut *tx).await?;
        sqlx::query!("DELETE FROM failed_updates WHERE at < ?", failed).execute(&mut *tx).await?;
        sqlx::query!("DELETE FROM invitations WHERE expires_at < ?", invited)
            .execute(&mut *tx)
            .await?;
        tx.commit().await?;
        self.finish_erasing().await?;
        Ok(())
    }
}

/// False where it was seen before.
pub(super) async fn mark_seen(
    tx: &mut SqliteConnection,
    update: i64,
    now: DateTime<Utc>,
) -> Result<bool> {
    let at = ms(now);
    let marked = sqlx::query!(
        "INSERT INTO seen_updates (update_id, at) VALUES (?, ?) ON CONFLICT DO NOTHING",
        update,
        at
    );
    Ok(marked.execute(tx).await?.rows_affected() == 1)
}
