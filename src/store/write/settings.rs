//! A blanket's shape, a maker's hours and reminders, and when a reminder was last queued.

use chrono::NaiveDate;
use sqlx::SqliteConnection;

use crate::blanket::{BlockNumber, Fabric, Finish, Hours, OnPaper, Pieces, Reminders, TierId};
use crate::store::codes::{finish as finish_code, json, nudges};
use crate::store::error::Result;

pub async fn hours(tx: &mut SqliteConnection, blanket: i64, hours: &Hours) -> Result<()> {
    let zone = hours.zone.name();
    sqlx::query!(
        "UPDATE blankets SET zone = ?, ask_at = ?, day_turns_at = ? WHERE id = ?",
        zone,
        hours.ask_at,
        hours.day_turns_at,
        blanket
    )
    .execute(tx)
    .await?;
    Ok(())
}

pub async fn reminders(
    tx: &mut SqliteConnection,
    blanket: i64,
    reminders: &Reminders,
) -> Result<()> {
    let nudges = nudges(reminders.nudges);
    let recap_on = reminders.recap_on.map(|day| day.to_string());
    sqlx::query!(
        "UPDATE blankets SET nudges = ?, nudge_at = ?, recap_on = ?, recap_at = ?,
            recap_whole = ?, paused = ?
        WHERE id = ?",
        nudges,
        reminders.nudge_at,
        recap_on,
        reminders.recap_at,
        reminders.recap_whole,
        reminders.paused,
        blanket
    )
    .execute(tx)
    .await?;
    Ok(())
}

pub async fn paper(tx: &mut SqliteConnection, blanket: i64, on_paper: &OnPaper) -> Result<()> {
    let paper = json(on_paper)?;
    sqlx::query!("UPDATE blankets SET paper = ? WHERE id = ?", paper, blanket).execute(tx).await?;
    Ok(())
}

pub async fn days(
    tx: &mut SqliteConnection,
    blanket: i64,
    first_day: NaiveDate,
    last_day: NaiveDate,
) -> Result<()> {
    sqlx::query!(
        "UPDATE blankets SET first_day = ?, last_day = ? WHERE id = ?",
        first_day,
        last_day,
        blanket
    )
    .execute(tx)
    .await?;
    Ok(())
}

pub async fn shape(
    tx: &mut SqliteConnection,
    blanket: i64,
    pieces: &Pieces,
    fabric: &Fabric,
) -> Result<()> {
    let (pieces, fabric) = (json(pieces)?, json(fabric)?);
    sqlx::query!(
        "UPDATE blankets SET pieces = ?, fabric = ? WHERE id = ?",
        pieces,
        fabric,
        blanket
    )
    .execute(tx)
    .await?;
    Ok(())
}

pub async fn finish(
    tx: &mut SqliteConnection,
    blanket: i64,
    (block, what): (BlockNumber, Finish),
    done: bool,
) -> Result<()> {
    let what = finish_code(what);
    let query = match done {
        true => sqlx::query!(
            "INSERT INTO finished (blanket, block, finish) VALUES (?, ?, ?) ON CONFLICT DO NOTHING",
            blanket,
            block.0,
            what
        ),
        false => sqlx::query!(
            "DELETE FROM finished WHERE blanket = ? AND block = ? AND finish = ?",
            blanket,
            block.0,
            what
        ),
    };
    query.execute(tx).await?;
    Ok(())
}

pub async fn nudged(tx: &mut SqliteConnection, blanket: i64, on: NaiveDate) -> Result<()> {
    sqlx::query!("UPDATE blankets SET nudged = ? WHERE id = ?", on, blanket).execute(tx).await?;
    Ok(())
}

pub async fn recapped(tx: &mut SqliteConnection, blanket: i64, on: NaiveDate) -> Result<()> {
    sqlx::query!("UPDATE blankets SET recapped = ? WHERE id = ?", on, blanket).execute(tx).await?;
    Ok(())
}

/// The maker's line about days of a tier from now on; empty for none. The lines before stay.
pub async fn describe(
    tx: &mut SqliteConnection,
    blanket: i64,
    tier: TierId,
    line: &str,
    at: i64,
) -> Result<()> {
    sqlx::query!(
        "INSERT INTO tier_lines (blanket, tier, line, at) VALUES (?, ?, ?, ?)",
        blanket,
        tier.0,
        line,
        at
    )
    .execute(tx)
    .await?;
    Ok(())
}
