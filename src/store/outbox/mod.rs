//! Which message goes out next?
//!
//! In one chat strictly first in, first out: nothing is claimed while the message before it is
//! under way. Over chats, those that wait for the answer to something the maker did go first, then
//! the oldest. A claimed row is marked in a commit of its own, before the request. Never sends,
//! and knows no limits of the platform: which chats must wait, the caller says.

pub(super) mod queue;
mod settle;

use chrono::{DateTime, Utc};
use sqlx::SqliteConnection;

use super::codes::{lane, ms};
use super::error::Result;
use super::open::Store;
use super::{ChatId, MakerId, OutboxId};
use crate::chat::event::MessageId;

pub use queue::{Lane, Queued, QueuedPlace};
pub use settle::Settled;

/// How many times a message is sent again after nobody knows whether it arrived. One more such
/// time drops it.
const RESENDS_MAX: i64 = 1;

/// Rows looked at in one go.
const PAGE: i64 = 32;

/// A message that is being sent. Holds what only the maker may read, so it has no `Debug`.
pub struct Claimed {
    pub id: OutboxId,
    pub maker: MakerId,
    pub chat_id: ChatId,
    pub action: Action,
    /// As it was queued.
    pub params: String,
    pub slot: Option<String>,
    /// It may have arrived before.
    pub resend: bool,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Action {
    Send,
    Edit { message: MessageId },
}

impl Store {
    /// Marks the next message as being sent. `None` where nothing waits, or only in chats that
    /// `must_wait` or have a message under way; [`Store::pending`] tells which. Drops what would
    /// be wrong by now.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn claim(
        &self,
        now: DateTime<Utc>,
        must_wait: &(dyn Fn(ChatId) -> bool + Sync),
    ) -> Result<Option<Claimed>> {
        // Mostly nothing waits, and nobody who writes needs to be kept waiting to find that out.
        let waiting = sqlx::query_scalar!("SELECT id FROM outbox WHERE state = 'queued' LIMIT 1");
        if waiting.fetch_optional(&self.readers).await?.is_none() {
            return Ok(None);
        }
        let mut tx = self.writer.begin_with("BEGIN IMMEDIATE").await?;
        let now = ms(now);
        sqlx::query!("DELETE FROM outbox WHERE until < ? AND state = 'queued'", now)
            .execute(&mut *tx)
            .await?;
        let mut claimed = None;
        for lane in [Lane::Reply, Lane::Unasked] {
            claimed = next(&mut tx, lane, must_wait).await?;
            if claimed.is_some() {
                break;
            }
        }
        tx.commit().await?;
        Ok(claimed)
    }

    /// Messages waiting or under way.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn pending(&self) -> Result<u64> {
        let count = sqlx::query_scalar!(
            r#"SELECT count(*) AS "count!: u64" FROM outbox WHERE state IN ('queued', 'sending')"#
        );
        Ok(count.fetch_one(&self.readers).await?)
    }

    /// Which slot a message of the maker's chat stands for: the newest message of a slot does.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn slot_of(&self, maker: MakerId, message: MessageId) -> Result<Option<String>> {
        let slot = sqlx::query_scalar!(
            "SELECT slot FROM slots WHERE maker = ? AND message_id = ? LIMIT 1",
            maker.0,
            message.0
        );
        Ok(slot.fetch_optional(&self.readers).await?)
    }

    /// At the start: what was under way when the last process ended may have arrived or not, and
    /// is sent once more. Each crash can repeat what was under way then, and loses nothing.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn requeue_sending(&self) -> Result<()> {
        let mut tx = self.writer.begin_with("BEGIN IMMEDIATE").await?;
        sqlx::query!("UPDATE outbox SET state = 'queued' WHERE state = 'sending'")
            .execute(&mut *tx)
            .await?;
        Ok(tx.commit().await?)
    }
}

/// Goes through a lane from its oldest row. A chat whose row is found here gives its first one,
/// whatever the lane of that is: the answer to a tap does not wait behind everybody's questions
/// because its maker's own question is before it.
async fn next(
    tx: &mut SqliteConnection,
    of: Lane,
    must_wait: &(dyn Fn(ChatId) -> bool + Sync),
) -> Result<Option<Claimed>> {
    let lane = lane(of);
    let mut after = 0;
    loop {
        let page = sqlx::query!(
            "SELECT outbox.id, outbox.maker, makers.chat_id
            FROM outbox JOIN makers ON makers.id = outbox.maker
            WHERE outbox.state = 'queued' AND outbox.lane = ? AND outbox.id > ?
            ORDER BY outbox.id LIMIT ?",
            lane,
            after,
            PAGE
        );
        let page = page.fetch_all(&mut *tx).await?;
        let Some(last) = page.last() else { return Ok(None) };
        after = last.id;
        for row in page {
            let (maker, chat) = (MakerId(row.maker), ChatId(row.chat_id));
            if must_wait(chat) {
                continue;
            }
            if let Some(claimed) = first_of(tx, maker, chat).await? {
                return Ok(Some(claimed));
            }
        }
    }
}

/// Claims the first message to a maker, unless it is under way.
async fn first_of(
    tx: &mut SqliteConnection,
    maker: MakerId,
    chat_id: ChatId,
) -> Result<Option<Claimed>> {
    loop {
        let first = sqlx::query!(
            r#"SELECT id, state, kind, slot, tapped, changed AS "changed: bool", params, resends
            FROM outbox WHERE maker = ? ORDER BY id LIMIT 1"#,
            maker.0
        );
        let Some(row) = first.fetch_optional(&mut *tx).await? else { return Ok(None) };
        if row.state == "sending" {
            return Ok(None);
        }
        let to_change = match (row.kind.as_str(), row.tapped, &row.slot) {
            ("edit", Some(tapped), _) => Some(tapped),
            ("edit", None, Some(slot)) => on_record(tx, maker, slot).await?,
            _ => None,
        };
        if to_change.is_none() && row.changed {
            // The slot was emptied after the tapped message was changed: all is said.
            delete(tx, OutboxId(row.id)).await?;
            continue;
        }
        let kind = if to_change.is_some() { "edit" } else { "send" };
        sqlx::query!("UPDATE outbox SET state = 'sending', kind = ? WHERE id = ?", kind, row.id)
            .execute(&mut *tx)
            .await?;
        let action =
            to_change.map(MessageId).map_or(Action::Send, |message| Action::Edit { message });
        return Ok(Some(Claimed {
            id: OutboxId(row.id),
            maker,
            chat_id,
            action,
            params: row.params,
            slot: row.slot,
            resend: row.resends > 0,
        }));
    }
}

/// The message that stands for a slot.
async fn on_record(tx: &mut SqliteConnection, maker: MakerId, slot: &str) -> Result<Option<i64>> {
    let record = sqlx::query_scalar!(
        "SELECT message_id FROM slots WHERE maker = ? AND slot = ?",
        maker.0,
        slot
    );
    Ok(record.fetch_optional(tx).await?)
}

async fn delete(tx: &mut SqliteConnection, id: OutboxId) -> Result<()> {
    sqlx::query!("DELETE FROM outbox WHERE id = ?", id.0).execute(tx).await?;
    Ok(())
}
