//! A maker's book goes to another account: the person lost the one they had.
//!
//! The maker stays the same one, with everything that names them; only who writes to us, and where,
//! is another. What belonged to the old chat goes: what waited for it, which messages stood in it,
//! what was set aside from it.

use sqlx::SqliteConnection;

use super::codes::ms;
use super::error::Result;
use super::invitations::Join;
use super::outbox::queue;
use super::{ChatId, MakerId};

/// Gives a maker the account that joins, and says which chat was theirs. The talk begins anew, and
/// they wake at once, so that what is due next is derived again.
pub async fn move_in(tx: &mut SqliteConnection, maker: MakerId, join: &Join<'_>) -> Result<ChatId> {
    let old = sqlx::query_scalar!("SELECT chat_id FROM makers WHERE id = ?", maker.0);
    let old = old.fetch_one(&mut *tx).await?;
    let talk = serde_json::to_string(join.talk).map_err(anyhow::Error::from)?;
    let wakes_at = ms(join.now);
    sqlx::query!(
        "UPDATE makers SET user_id = ?, chat_id = ?, talk = ?, wakes_at = ?, reachable = 1,
            revision = revision + 1
        WHERE id = ?",
        join.user.0,
        join.chat_id.0,
        talk,
        wakes_at,
        maker.0
    )
    .execute(&mut *tx)
    .await?;
    queue::clear(tx, maker).await?;
    sqlx::query!("DELETE FROM slots WHERE maker = ?", maker.0).execute(&mut *tx).await?;
    sqlx::query!("DELETE FROM failed_updates WHERE maker = ?", maker.0).execute(&mut *tx).await?;
    // Another link for the same book would take it away from here.
    sqlx::query!("DELETE FROM invitations WHERE moves = ? AND used_at IS NULL", maker.0)
        .execute(&mut *tx)
        .await?;
    Ok(ChatId(old))
}
