//! The maker's own people and numbers.

use sqlx::SqliteConnection;

use crate::blanket::{PersonId, PersonLine};
use crate::store::error::Result;

pub async fn keep(
    tx: &mut SqliteConnection,
    blanket: i64,
    PersonId(id): PersonId,
    line: &PersonLine,
) -> Result<()> {
    let line = line.as_str();
    sqlx::query!(
        "INSERT INTO people (blanket, id, line) VALUES (?, ?, ?)
        ON CONFLICT (blanket, id) DO UPDATE SET line = excluded.line",
        blanket,
        id,
        line
    )
    .execute(tx)
    .await?;
    Ok(())
}

pub async fn remove(tx: &mut SqliteConnection, blanket: i64, PersonId(id): PersonId) -> Result<()> {
    sqlx::query!("DELETE FROM people WHERE blanket = ? AND id = ?", blanket, id)
        .execute(tx)
        .await?;
    Ok(())
}
