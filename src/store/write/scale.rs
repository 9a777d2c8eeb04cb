//! The tiers of a blanket, those that were removed among them; a yarn more or less; the question.

use sqlx::SqliteConnection;

use crate::blanket::{OwnQuestion, Scale, Yarn, YarnId};
use crate::store::codes::rgb;
use crate::store::error::Result;

/// All tiers as they are now. No row goes: past answers name it.
pub async fn put(tx: &mut SqliteConnection, blanket: i64, scale: &Scale) -> Result<()> {
    let tiers = scale.tiers().iter().map(|tier| (tier, false));
    let all = tiers.chain(scale.retired().map(|tier| (tier, true)));
    for (position, (tier, removed)) in (0_i64..).zip(all) {
        let label = tier.label.as_str();
        sqlx::query!(
            "INSERT INTO tiers (blanket, id, position, label, yarn, removed)
            VALUES (?, ?, ?, ?, ?, ?)
            ON CONFLICT (blanket, id) DO UPDATE SET position = excluded.position,
                label = excluded.label, yarn = excluded.yarn, removed = excluded.removed",
            blanket,
            tier.id.0,
            position,
            label,
            tier.yarn.0,
            removed
        )
        .execute(&mut *tx)
        .await?;
    }
    Ok(())
}

pub async fn scale(tx: &mut SqliteConnection, blanket: i64, scale: &Scale) -> Result<()> {
    put(tx, blanket, scale).await?;
    let default = scale.default_tier().id.0;
    sqlx::query!("UPDATE blankets SET default_tier = ? WHERE id = ?", default, blanket)
        .execute(tx)
        .await?;
    Ok(())
}

/// A yarn after the others.
pub async fn yarn(tx: &mut SqliteConnection, blanket: i64, yarn: &Yarn) -> Result<()> {
    let (name, rgb) = (yarn.name.as_str(), rgb(yarn.rgb));
    let after = yarn.after.map(|before| before.0);
    sqlx::query!(
        "INSERT INTO yarns (blanket, id, position, name, rgb, comes_after) VALUES (?1, ?2,
            (SELECT coalesce(max(position), -1) + 1 FROM yarns WHERE blanket = ?1), ?3, ?4, ?5)",
        blanket,
        yarn.id.0,
        name,
        rgb,
        after
    )
    .execute(tx)
    .await?;
    Ok(())
}

/// Of a yarn that is gone, its id stays.
pub async fn remove_yarn(tx: &mut SqliteConnection, blanket: i64, yarn: YarnId) -> Result<()> {
    sqlx::query!(
        "UPDATE yarns SET comes_after =
            (SELECT comes_after FROM yarns WHERE blanket = ?1 AND id = ?2)
        WHERE blanket = ?1 AND comes_after = ?2",
        blanket,
        yarn.0
    )
    .execute(&mut *tx)
    .await?;
    sqlx::query!(
        "INSERT INTO yarns (blanket, id, position, name, rgb, removed)
        VALUES (?, ?, 0, '', '#000000', 1)
        ON CONFLICT (blanket, id) DO UPDATE SET name = excluded.name, rgb = excluded.rgb,
            comes_after = NULL, removed = 1",
        blanket,
        yarn.0
    )
    .execute(tx)
    .await?;
    Ok(())
}

pub async fn joining(tx: &mut SqliteConnection, blanket: i64, yarn: YarnId) -> Result<()> {
    sqlx::query!("UPDATE blankets SET joining_yarn = ? WHERE id = ?", yarn.0, blanket)
        .execute(tx)
        .await?;
    Ok(())
}

pub async fn question(
    tx: &mut SqliteConnection,
    blanket: i64,
    question: Option<&OwnQuestion>,
) -> Result<()> {
    let question = question.map(OwnQuestion::as_str);
    sqlx::query!("UPDATE blankets SET question = ? WHERE id = ?", question, blanket)
        .execute(tx)
        .await?;
    Ok(())
}
