//! Which pictures does the platform have already, and under which of its ids? By what is in them,
//! for each maker alone: they go with the maker who is erased, and all go where the bot is another.

use chrono::{DateTime, TimeDelta, Utc};

use super::MakerId;
use super::codes::ms;
use super::error::Result;
use super::open::Store;

/// A picture that was not sent for so long has changed since.
const KEPT_FOR: TimeDelta = TimeDelta::days(60);

/// SHA-256 of how a file goes and of its bytes.
pub type FileHash = [u8; 32];

impl Store {
    /// The platform's id of a file, where it has that file.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn file_id(&self, maker: MakerId, hash: &FileHash) -> Result<Option<String>> {
        let hash = hash.as_slice();
        let id = sqlx::query_scalar!(
            "SELECT file_id FROM sent_files WHERE maker = ? AND hash = ?",
            maker.0,
            hash
        );
        Ok(id.fetch_optional(&self.readers).await?)
    }

    /// Keeps under which id the platform has a file, and forgets this maker's old ones. Of a maker
    /// who was erased meanwhile, nothing is kept.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn keep_file_id(
        &self,
        maker: MakerId,
        hash: &FileHash,
        file_id: &str,
        now: DateTime<Utc>,
    ) -> Result<()> {
        let (hash, at, before) = (hash.as_slice(), ms(now), ms(now - KEPT_FOR));
        let mut tx = self.writer.begin_with("BEGIN IMMEDIATE").await?;
        sqlx::query!("DELETE FROM sent_files WHERE maker = ? AND at < ?", maker.0, before)
            .execute(&mut *tx)
            .await?;
        sqlx::query!(
            "INSERT INTO sent_files (maker, hash, file_id, at)
            SELECT id, ?, ?, ? FROM makers WHERE id = ?
            ON CONFLICT (maker, hash) DO UPDATE SET file_id = excluded.file_id, at = excluded.at",
            hash,
            file_id,
            at,
            maker.0
        )
        .execute(&mut *tx)
        .await?;
        Ok(tx.commit().await?)
    }

    /// The platform does not know this id any more.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn forget_file_id(&self, maker: MakerId, hash: &FileHash) -> Result<()> {
        let hash = hash.as_slice();
        sqlx::query!("DELETE FROM sent_files WHERE maker = ? AND hash = ?", maker.0, hash)
            .execute(&self.writer)
            .await?;
        Ok(())
    }
}
