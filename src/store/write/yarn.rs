//! Rows stitched and pulled back, the yarn that came and was weighed, and what it is called.

use sqlx::SqliteConnection;

use crate::blanket::stock::Entry;
use crate::blanket::{BlockNumber, TierId, Yarn, YarnId, YarnSettings};
use crate::store::codes::{json, ms, rgb};
use crate::store::entries;
use crate::store::error::Result;

/// Rows on top of the worked run of a block.
pub async fn work(
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

pub async fn pull_back(
    tx: &mut SqliteConnection,
    blanket: i64,
    block: BlockNumber,
    rows_left: u16,
) -> Result<()> {
    sqlx::query!(
        "DELETE FROM worked WHERE blanket = ? AND block = ? AND row > ?",
        blanket,
        block.0,
        rows_left
    )
    .execute(tx)
    .await?;
    Ok(())
}

/// One more entry of a colour, after all it has.
pub async fn stock(
    tx: &mut SqliteConnection,
    blanket: i64,
    yarn: YarnId,
    entry: &Entry,
) -> Result<()> {
    let (kind, tenths, detail) = entries::columns(&entry.kind);
    let (detail, at) = (detail.as_ref().map(json).transpose()?, ms(entry.at));
    sqlx::query!(
        "INSERT INTO stock (blanket, yarn, number, kind, tenths, rows, at, detail) VALUES (?1, ?2,
            (SELECT coalesce(max(number), 0) + 1 FROM stock WHERE blanket = ?1 AND yarn = ?2),
            ?3, ?4, ?5, ?6, ?7)",
        blanket,
        yarn.0,
        kind,
        tenths,
        entry.rows,
        at,
        detail
    )
    .execute(tx)
    .await?;
    Ok(())
}

/// The newest entry of a colour is taken back.
pub async fn unstock(tx: &mut SqliteConnection, blanket: i64, yarn: YarnId) -> Result<()> {
    sqlx::query!(
        "DELETE FROM stock WHERE blanket = ?1 AND yarn = ?2 AND number =
            (SELECT max(number) FROM stock WHERE blanket = ?1 AND yarn = ?2)",
        blanket,
        yarn.0
    )
    .execute(tx)
    .await?;
    Ok(())
}

/// Units, the scale, joins, the ball and the guess, as they are from now on.
pub async fn settings(
    tx: &mut SqliteConnection,
    blanket: i64,
    settings: &YarnSettings,
) -> Result<()> {
    let settings = json(settings)?;
    sqlx::query!("UPDATE blankets SET yarn_settings = ? WHERE id = ?", settings, blanket)
        .execute(tx)
        .await?;
    Ok(())
}

pub async fn name(tx: &mut SqliteConnection, blanket: i64, yarn: &Yarn) -> Result<()> {
    let (name, rgb) = (yarn.name.as_str(), rgb(yarn.rgb));
    sqlx::query!(
        "UPDATE yarns SET name = ?, rgb = ? WHERE blanket = ? AND id = ?",
        name,
        rgb,
        blanket,
        yarn.id.0
    )
    .execute(tx)
    .await?;
    Ok(())
}

/// These tiers are worked in these yarns from now on.
pub async fn move_tiers(
    tx: &mut SqliteConnection,
    blanket: i64,
    yarns: &[(TierId, YarnId)],
) -> Result<()> {
    for (tier, yarn) in yarns {
        sqlx::query!(
            "UPDATE tiers SET yarn = ? WHERE blanket = ? AND id = ?",
            yarn.0,
            blanket,
            tier.0
        )
        .execute(&mut *tx)
        .await?;
    }
    Ok(())
}
