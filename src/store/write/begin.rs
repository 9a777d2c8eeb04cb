//! A blanket that begins: its plan, scale, yarns and hours.
//!
//! Reminders are as the columns' defaults say, which are those of `Reminders::default`.

use chrono::NaiveDate;
use sqlx::SqliteConnection;

use crate::blanket::Beginning;
use crate::store::MakerId;
use crate::store::codes::{json, rgb};
use crate::store::error::Result;
use crate::store::makers::mark_erasing;

pub async fn begin(
    tx: &mut SqliteConnection,
    maker: MakerId,
    beginning: &Beginning,
) -> Result<i64> {
    let Beginning { plan, fabric, scale, yarns, joining, hours } = beginning;
    let (first_day, last_day) = (plan.first_day(), plan.last_day());
    let (pieces, fabric) = (json(&plan.pieces())?, json(fabric)?);
    let (default_tier, zone) = (scale.default_tier().id.0, hours.zone.name());
    let blanket = sqlx::query!(
        "INSERT INTO blankets (maker, first_day, last_day, pieces, fabric,
            default_tier, joining_yarn, zone, ask_at, day_turns_at)
        VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        maker.0,
        first_day,
        last_day,
        pieces,
        fabric,
        default_tier,
        joining.0,
        zone,
        hours.ask_at,
        hours.day_turns_at
    )
    .execute(&mut *tx)
    .await?
    .last_insert_rowid();
    for (position, yarn) in (0_i64..).zip(yarns) {
        let (name, rgb) = (yarn.name.as_str(), rgb(yarn.rgb));
        let after = yarn.after.map(|before| before.0);
        sqlx::query!(
            "INSERT INTO yarns (blanket, id, position, name, rgb, comes_after)
            VALUES (?, ?, ?, ?, ?, ?)",
            blanket,
            yarn.id.0,
            position,
            name,
            rgb,
            after
        )
        .execute(&mut *tx)
        .await?;
    }
    super::scale::put(tx, blanket, scale).await?;
    Ok(blanket)
}

/// The blanket of a maker with this first day.
pub async fn find(
    tx: &mut SqliteConnection,
    maker: MakerId,
    first_day: NaiveDate,
) -> Result<Option<i64>> {
    let query = sqlx::query_scalar!(
        "SELECT id FROM blankets WHERE maker = ? AND first_day = ?",
        maker.0,
        first_day
    );
    Ok(query.fetch_optional(tx).await?)
}

/// This blanket is the one logged from now on.
pub async fn log(tx: &mut SqliteConnection, maker: MakerId, blanket: i64) -> Result<()> {
    sqlx::query!("UPDATE makers SET blanket = ? WHERE id = ?", blanket, maker.0)
        .execute(tx)
        .await?;
    Ok(())
}

/// Deletes a blanket that another took the place of, or that was deleted before it began. Its
/// traces in the file go with the next sweep.
pub async fn delete(tx: &mut SqliteConnection, blanket: i64) -> Result<()> {
    sqlx::query!("DELETE FROM blankets WHERE id = ?", blanket).execute(&mut *tx).await?;
    mark_erasing(tx).await
}
