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
use sqlx::sqlite::SqliteExecutor;

use super::codes::{instant, ms, read_lane};
use super::error::Result;
use super::open::Store;
use super::{ChatId, MakerId, OutboxId};
use crate::chat::event::MessageId;

pub use queue::{Lane, Queued, QueuedPlace};
pub use settle::Settled;

/// How many times a message that is good for ever is sent again after nobody knows whether it
/// arrived. One more such time drops it: what is behind it waited minutes for it by then. One that
/// would be wrong some time (the question about a day) is sent again until then: to come twice does
/// no harm, not to come leaves the day unasked.
const RESENDS_MAX: i64 = 5;

/// A message that is being sent. Holds what only the maker may read, so it has no `Debug`.
pub struct Claimed {
    pub id: OutboxId,
    pub maker: MakerId,
    pub chat_id: ChatId,
    pub lane: Lane,
    pub action: Action,
    /// As it was queued.
    pub params: String,
    pub slot: Option<String>,
    /// It may have arrived before.
    pub resend: bool,
    /// From then on it is dropped, if it still waits.
    pub until: Option<DateTime<Utc>>,
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
        let now = ms(now);
        let mut after = (String::new(), 0);
        loop {
            let page = self.waiting(now, &after).await?;
            let Some(last) = page.last() else { return Ok(None) };
            if last.any_late {
                sqlx::query!("DELETE FROM outbox WHERE until <= ? AND state = 'queued'", now)
                    .execute(&self.writer)
                    .await?;
                continue;
            }
            after = (last.lane.clone(), last.id);
            for row in page {
                let (maker, chat) = (MakerId(row.maker), ChatId(row.chat_id));
                if must_wait(chat) {
                    continue;
                }
                if let Some(claimed) = self.first_of(maker, chat).await? {
                    return Ok(Some(claimed));
                }
            }
        }
    }

    /// Goes through the lanes from the oldest row of each, the one of replies first: its name sorts
    /// before the other's. A chat whose row is found here gives its first one, whatever the lane of
    /// that is: the answer to a tap does not wait behind everybody's questions because its maker's
    /// own question is before it.
    async fn waiting(&self, now: i64, (lane, id): &(String, i64)) -> Result<Vec<Waiting>> {
        let page = sqlx::query_as!(
            Waiting,
            r#"SELECT outbox.id, outbox.lane, outbox.maker, makers.chat_id,
                EXISTS (SELECT 1 FROM outbox WHERE until <= ? AND state = 'queued')
                    AS "any_late!: bool"
            FROM outbox JOIN makers ON makers.id = outbox.maker
            WHERE outbox.state = 'queued' AND (outbox.lane, outbox.id) > (?, ?)
            ORDER BY outbox.lane, outbox.id LIMIT 32"#,
            now,
            lane,
            id
        );
        Ok(page.fetch_all(&self.readers).await?)
    }

    /// Claims the first message to a maker, unless it is under way. One statement, which commits
    /// by itself.
    async fn first_of(&self, maker: MakerId, chat_id: ChatId) -> Result<Option<Claimed>> {
        loop {
            let first = sqlx::query!(
                r#"UPDATE outbox SET state = 'sending', kind = CASE
                    WHEN kind = 'edit' AND (tapped IS NOT NULL OR EXISTS (
                        SELECT 1 FROM slots
                        WHERE slots.maker = outbox.maker AND slots.slot = outbox.slot))
                    THEN 'edit' ELSE 'send' END
                WHERE id = (SELECT min(id) FROM outbox WHERE maker = ?) AND state = 'queued'
                RETURNING id, lane, kind, slot, tapped, changed AS "changed: bool", params, resends,
                    until, (SELECT message_id FROM slots
                    WHERE slots.maker = outbox.maker AND slots.slot = outbox.slot) AS record"#,
                maker.0
            );
            // To its end, or a commit that fails would go unnoticed.
            let Some(row) = first.fetch_all(&self.writer).await?.pop() else { return Ok(None) };
            let to_change = match row.kind.as_str() {
                "edit" => row.tapped.or(row.record),
                _ => None,
            };
            if to_change.is_none() && row.changed {
                // The slot was emptied after the tapped message was changed: all is said.
                delete(&self.writer, OutboxId(row.id)).await?;
                continue;
            }
            let action =
                to_change.map(MessageId).map_or(Action::Send, |message| Action::Edit { message });
            return Ok(Some(Claimed {
                id: OutboxId(row.id),
                maker,
                chat_id,
                lane: read_lane(&row.lane)?,
                action,
                params: row.params,
                slot: row.slot,
                resend: row.resends > 0,
                until: row.until.map(instant).transpose()?,
            }));
        }
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

/// A row that waits.
struct Waiting {
    id: i64,
    lane: String,
    maker: i64,
    chat_id: i64,
    /// Some row must not be sent any more.
    any_late: bool,
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

async fn delete(file: impl SqliteExecutor<'_>, id: OutboxId) -> Result<()> {
    sqlx::query!("DELETE FROM outbox WHERE id = ?", id.0).execute(file).await?;
    Ok(())
}
