//! What is said and kept about one day: asked, answered, open again, put off.
//!
//! An answer that is taken back stays in the history, which says so.

use chrono::{DateTime, NaiveDate, Utc};
use sqlx::SqliteConnection;

use crate::blanket::{Answer, Earlier};
use crate::store::codes::{REOPENED, how, ms};
use crate::store::error::Result;

/// The question about a day. A second one for the same day is an error.
pub async fn ask(tx: &mut SqliteConnection, blanket: i64, day: NaiveDate, at: i64) -> Result<()> {
    sqlx::query!(
        "INSERT INTO asked (blanket, day, number, at) VALUES (?1, ?2,
            (SELECT coalesce(max(number), 0) + 1 FROM asked WHERE blanket = ?1), ?3)",
        blanket,
        day,
        at
    )
    .execute(tx)
    .await?;
    Ok(())
}

/// The tier a day has now, and one more line of its history. A kept day is put off no longer.
pub async fn keep(
    tx: &mut SqliteConnection,
    blanket: i64,
    day: NaiveDate,
    answer: &Answer,
) -> Result<()> {
    let (tier, how, at) = (answer.tier.0, how(answer.how), ms(answer.at));
    sqlx::query!(
        "INSERT INTO days (blanket, day, tier, how, at) VALUES (?, ?, ?, ?, ?)
        ON CONFLICT (blanket, day)
            DO UPDATE SET tier = excluded.tier, how = excluded.how, at = excluded.at",
        blanket,
        day,
        tier,
        how,
        at
    )
    .execute(&mut *tx)
    .await?;
    let kept = Some((answer.tier, answer.how));
    remember(&mut *tx, blanket, &Earlier { day, kept, at: answer.at }).await?;
    sqlx::query!("DELETE FROM put_off WHERE blanket = ? AND day = ?", blanket, day)
        .execute(tx)
        .await?;
    Ok(())
}

/// One line of the history of a day, older than those that come after it.
pub async fn remember(tx: &mut SqliteConnection, blanket: i64, earlier: &Earlier) -> Result<()> {
    let (tier, how) = match earlier.kept {
        Some((tier, kept)) => (Some(tier.0), how(kept)),
        None => (None, REOPENED),
    };
    let (day, at) = (earlier.day, ms(earlier.at));
    sqlx::query!(
        "INSERT INTO history (blanket, day, tier, how, at) VALUES (?, ?, ?, ?, ?)",
        blanket,
        day,
        tier,
        how,
        at
    )
    .execute(tx)
    .await?;
    Ok(())
}

/// The day has no tier; its history says since when. Nothing where it had none.
pub async fn reopen(
    tx: &mut SqliteConnection,
    blanket: i64,
    day: NaiveDate,
    at: DateTime<Utc>,
) -> Result<()> {
    let taken_back = sqlx::query!("DELETE FROM days WHERE blanket = ? AND day = ?", blanket, day)
        .execute(&mut *tx)
        .await?;
    if taken_back.rows_affected() == 0 {
        return Ok(());
    }
    remember(tx, blanket, &Earlier { day, kept: None, at }).await
}

pub async fn put_off(
    tx: &mut SqliteConnection,
    blanket: i64,
    day: NaiveDate,
    until: Option<NaiveDate>,
) -> Result<()> {
    sqlx::query!(
        "INSERT INTO put_off (blanket, day, until) VALUES (?, ?, ?)
        ON CONFLICT (blanket, day) DO UPDATE SET until = excluded.until",
        blanket,
        day,
        until
    )
    .execute(tx)
    .await?;
    Ok(())
}
