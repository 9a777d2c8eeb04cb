//! The notes of a day.

use chrono::NaiveDate;
use sqlx::SqliteConnection;

use crate::blanket::{Note, NoteId};
use crate::store::error::Result;

/// A new note comes after the others of its day; one that is there has other words now.
pub async fn note(
    tx: &mut SqliteConnection,
    blanket: i64,
    day: NaiveDate,
    note: &Note,
) -> Result<()> {
    let text = note.text.as_str();
    sqlx::query!(
        "INSERT INTO notes (blanket, day, position, note, text) VALUES (?1, ?2,
            (SELECT coalesce(max(position), 0) + 1 FROM notes WHERE blanket = ?1 AND day = ?2),
            ?3, ?4)
        ON CONFLICT (blanket, note, day) DO UPDATE SET text = excluded.text",
        blanket,
        day,
        note.id.0,
        text
    )
    .execute(tx)
    .await?;
    Ok(())
}

pub async fn delete(tx: &mut SqliteConnection, blanket: i64, note: NoteId) -> Result<()> {
    sqlx::query!("DELETE FROM notes WHERE blanket = ? AND note = ?", blanket, note.0)
        .execute(tx)
        .await?;
    Ok(())
}
