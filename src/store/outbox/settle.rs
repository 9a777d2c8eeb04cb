//! What became of a message that was being sent.
//!
//! The message that now stands for a slot is recorded in the commit that removes the row. A row
//! that is gone by then (its maker erased, or found unreachable) settles as nothing.

use sqlx::SqliteConnection;

use super::queue::clear;
use super::{RESENDS_MAX, delete, on_record};
use crate::chat::event::MessageId;
use crate::store::error::Result;
use crate::store::{MakerId, OutboxId, Store};

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Settled {
    /// A new message arrived, and stands for its slot from now on.
    Sent { message: MessageId },
    /// The message was changed, or was so already.
    Done,
    /// It can never be sent.
    Drop,
    /// It certainly did not arrive, and waits again.
    Retry,
    /// Nobody knows whether it arrived. Sent again a few times, or as long as it would be right.
    Unclear,
    /// The message to change cannot be changed: the next one is tried, else a new one is sent.
    SendAnew,
    /// The maker blocked the bot: nothing more is sent until they return.
    Unreachable,
}

struct Row {
    id: OutboxId,
    maker: MakerId,
    kind: String,
    slot: Option<String>,
    tapped: Option<i64>,
    changed: bool,
    resends: i64,
    until: Option<i64>,
}

impl Row {
    /// Whether enough was done to have it arrive.
    fn is_given_up(&self) -> bool {
        self.until.is_none() && self.resends >= RESENDS_MAX
    }
}

impl Store {
    /// # Errors
    /// Those of the file.
    pub async fn settle(&self, id: OutboxId, settled: Settled) -> Result<()> {
        let mut tx = self.writer.begin_with("BEGIN IMMEDIATE").await?;
        let Some(row) = under_way(&mut tx, id).await? else { return Ok(()) };
        match settled {
            Settled::Sent { message } => {
                if let Some(slot) = &row.slot {
                    record(&mut tx, row.maker, slot, message).await?;
                }
                delete(&mut *tx, row.id).await?;
            }
            Settled::Done => changed(&mut tx, &row).await?,
            Settled::Drop => delete(&mut *tx, row.id).await?,
            Settled::Retry => wait_again(&mut tx, row.id, row.resends).await?,
            Settled::Unclear if row.is_given_up() => delete(&mut *tx, row.id).await?,
            Settled::Unclear => wait_again(&mut tx, row.id, row.resends + 1).await?,
            Settled::SendAnew => not_changed(&mut tx, &row).await?,
            Settled::Unreachable => {
                sqlx::query!("UPDATE makers SET reachable = 0 WHERE id = ?", row.maker.0)
                    .execute(&mut *tx)
                    .await?;
                clear(&mut tx, row.maker).await?;
            }
        }
        Ok(tx.commit().await?)
    }
}

async fn under_way(tx: &mut SqliteConnection, id: OutboxId) -> Result<Option<Row>> {
    let row = sqlx::query!(
        r#"SELECT maker, kind, slot, tapped, changed AS "changed: bool", resends, until
        FROM outbox WHERE id = ? AND state = 'sending'"#,
        id.0
    );
    Ok(row.fetch_optional(tx).await?.map(|row| Row {
        id,
        maker: MakerId(row.maker),
        kind: row.kind,
        slot: row.slot,
        tapped: row.tapped,
        changed: row.changed,
        resends: row.resends,
        until: row.until,
    }))
}

/// One message was changed; the one on record for the slot is next where it is another.
async fn changed(tx: &mut SqliteConnection, row: &Row) -> Result<()> {
    match other_on_record(tx, row).await? {
        true => go_on_with_record(tx, row.id, true).await,
        false => delete(tx, row.id).await,
    }
}

async fn not_changed(tx: &mut SqliteConnection, row: &Row) -> Result<()> {
    if row.kind == "send" || row.changed {
        return delete(tx, row.id).await;
    }
    if other_on_record(tx, row).await? {
        return go_on_with_record(tx, row.id, false).await;
    }
    sqlx::query!(
        "UPDATE outbox SET kind = 'send', tapped = NULL, state = 'queued', resends = 0
        WHERE id = ?",
        row.id.0
    )
    .execute(tx)
    .await?;
    Ok(())
}

/// Whether the row was at the tapped message, and another stands for the slot.
async fn other_on_record(tx: &mut SqliteConnection, row: &Row) -> Result<bool> {
    let (Some(tapped), Some(slot)) = (row.tapped, &row.slot) else { return Ok(false) };
    Ok(on_record(tx, row.maker, slot).await?.is_some_and(|message| message != tapped))
}

async fn go_on_with_record(tx: &mut SqliteConnection, id: OutboxId, changed: bool) -> Result<()> {
    sqlx::query!(
        "UPDATE outbox SET tapped = NULL, changed = ?, state = 'queued', resends = 0
        WHERE id = ?",
        changed,
        id.0
    )
    .execute(tx)
    .await?;
    Ok(())
}

async fn wait_again(tx: &mut SqliteConnection, id: OutboxId, resends: i64) -> Result<()> {
    sqlx::query!("UPDATE outbox SET state = 'queued', resends = ? WHERE id = ?", resends, id.0)
        .execute(tx)
        .await?;
    Ok(())
}

async fn record(
    tx: &mut SqliteConnection,
    maker: MakerId,
    slot: &str,
    message: MessageId,
) -> Result<()> {
    sqlx::query!(
        "INSERT INTO slots (maker, slot, message_id) VALUES (?, ?, ?)
        ON CONFLICT (maker, slot) DO UPDATE SET message_id = excluded.message_id",
        maker.0,
        slot,
        message.0
    )
    .execute(tx)
    .await?;
    Ok(())
}
