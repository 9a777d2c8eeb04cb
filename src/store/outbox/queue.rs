//! What is to be said to a maker, put into the outbox in the transaction that made it true.
//!
//! Says nothing twice: a newer edit of the same message takes the place of a waiting one, and a
//! question nobody has seen yet goes once its day is answered. Never reads what it keeps.

use chrono::{DateTime, NaiveDate, Utc};
use sqlx::SqliteConnection;

use crate::chat::event::MessageId;
use crate::store::MakerId;
use crate::store::codes::{lane, ms};
use crate::store::error::Result;

/// One message, or one change of a message that is there, ready for the wire. Holds what only the
/// maker may read, so it has no `Debug`.
#[derive(Clone)]
pub struct Queued {
    pub lane: Lane,
    pub place: QueuedPlace,
    /// The request as JSON, without the chat and the message it goes to.
    pub params: String,
    /// Dropped if it still waits at this instant: a day has ended when the next one begins.
    pub until: Option<DateTime<Utc>>,
}

/// What goes first over all chats. In one chat the order is always first in, first out.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Lane {
    /// The answer to something a maker did.
    Reply,
    Unasked,
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub enum QueuedPlace {
    /// A new message, which then stands for the slot.
    New { slot: Option<String> },
    /// `message`, and the one that stands for the slot where that is another. A new message in
    /// the slot where neither is there to be changed. Which stands for the slot is looked up when
    /// it is sent: it may itself still wait.
    Change { slot: Option<String>, message: Option<MessageId> },
    /// The message that stands for the slot; nothing where none does.
    Update { slot: String },
}

pub async fn add(
    tx: &mut SqliteConnection,
    maker: MakerId,
    queue: &[Queued],
    now: DateTime<Utc>,
) -> Result<()> {
    for queued in queue {
        // An update goes on where a change is when its tapped message is done.
        let changed = matches!(queued.place, QueuedPlace::Update { .. });
        let (kind, slot, tapped) = match &queued.place {
            QueuedPlace::New { slot } => ("send", slot.as_deref(), None),
            QueuedPlace::Change { slot: None, message: None } => ("send", None, None),
            QueuedPlace::Update { slot } => {
                replace(tx, maker, Some(slot), None, &queued.params).await?;
                ("edit", Some(slot.as_str()), None)
            }
            QueuedPlace::Change { slot, message } => {
                let tapped = message.map(|message| message.0);
                replace(tx, maker, slot.as_deref(), tapped, &queued.params).await?;
                ("edit", slot.as_deref(), tapped)
            }
        };
        let (lane, until, now) = (lane(queued.lane), queued.until.map(ms), ms(now));
        sqlx::query!(
            "INSERT INTO outbox (maker, lane, kind, slot, tapped, changed, params, until, queued_at)
            VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
            maker.0,
            lane,
            kind,
            slot,
            tapped,
            changed,
            queued.params,
            until,
            now
        )
        .execute(&mut *tx)
        .await?;
    }
    Ok(())
}

/// A waiting edit that changes no other message than the new one goes; one of another tapped
/// message of the slot stays, and says what the slot says now.
async fn replace(
    tx: &mut SqliteConnection,
    maker: MakerId,
    slot: Option<&str>,
    tapped: Option<i64>,
    params: &str,
) -> Result<()> {
    sqlx::query!(
        "DELETE FROM outbox
        WHERE maker = ? AND state = 'queued' AND kind = 'edit' AND slot IS ?
            AND (tapped IS ? OR (tapped IS NULL AND slot IS NOT NULL))",
        maker.0,
        slot,
        tapped
    )
    .execute(&mut *tx)
    .await?;
    sqlx::query!(
        "UPDATE outbox SET params = ?
        WHERE maker = ? AND state = 'queued' AND kind = 'edit' AND slot = ?",
        params,
        maker.0,
        slot
    )
    .execute(tx)
    .await?;
    Ok(())
}

/// Drops the question about a day that is answered before it was sent.
pub async fn drop_question(
    tx: &mut SqliteConnection,
    maker: MakerId,
    day: NaiveDate,
) -> Result<()> {
    let slot = format!("question {day}");
    sqlx::query!(
        "DELETE FROM outbox
        WHERE maker = ? AND state = 'queued' AND kind = 'send' AND slot = ?",
        maker.0,
        slot
    )
    .execute(tx)
    .await?;
    Ok(())
}

/// Drops everything that waits for a maker.
pub async fn clear(tx: &mut SqliteConnection, maker: MakerId) -> Result<()> {
    sqlx::query!("DELETE FROM outbox WHERE maker = ?", maker.0).execute(tx).await?;
    Ok(())
}
