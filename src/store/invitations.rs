//! The way in: single-use codes that expire, and the maker one of them lets in or brings back.
//!
//! Keeps only the SHA-256 of a code, and finds it by that: a look-up takes as long for a code that
//! is nearly right as for any other. Nothing about a person is kept before [`Store::join`].

use std::fmt;

use chrono::{DateTime, TimeDelta, Utc};
use sha2::{Digest, Sha256};
use sqlx::SqliteConnection;

use super::codes::ms;
use super::error::Result;
use super::moves::move_in;
use super::open::Store;
use super::outbox::{Queued, queue};
use super::updates::mark_seen;
use super::{ChatId, MakerId};
use crate::chat::event::UserId;
use crate::chat::talk::Talk;

const CODE_BYTES: usize = 16;

/// 22 characters of `A-Z a-z 0-9 _ -`: 128 random bits. Shown once and never kept.
pub struct InvitationCode(String);

/// What a valid code gives.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Invited {
    pub owner: bool,
    /// The maker whose book moves to the account that uses it.
    pub moves: Option<MakerId>,
}

/// Somebody agreed, with a code in hand.
pub struct Join<'a> {
    pub update: i64,
    pub user: UserId,
    pub chat_id: ChatId,
    pub code: &'a str,
    pub talk: &'a Talk,
    pub queue: &'a [Queued],
    pub now: DateTime<Utc>,
}

#[must_use]
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Joined {
    /// The code is used up.
    Joined(MakerId),
    /// A maker's book is theirs now; the code is used up. `from` was its chat.
    Moved { maker: MakerId, from: ChatId },
    /// They were a maker: nothing was written, the code is still good.
    Already(MakerId),
    /// No such code, or used, or expired: only that the update was seen was written.
    Invalid,
    /// The update was handled before: nothing was written.
    SeenBefore,
}

impl Store {
    /// # Errors
    /// Those of the file, and no randomness to be had.
    pub async fn invite(
        &self,
        owner: bool,
        valid_for: TimeDelta,
        now: DateTime<Utc>,
    ) -> Result<InvitationCode> {
        self.invite_as(Invited { owner, moves: None }, valid_for, now).await
    }

    /// A code that moves the book of a maker who is there.
    ///
    /// # Errors
    /// Those of [`Store::invite`]; where there is no such maker.
    pub async fn invite_to_move(
        &self,
        maker: MakerId,
        valid_for: TimeDelta,
        now: DateTime<Utc>,
    ) -> Result<InvitationCode> {
        self.invite_as(Invited { owner: false, moves: Some(maker) }, valid_for, now).await
    }

    async fn invite_as(
        &self,
        invited: Invited,
        valid_for: TimeDelta,
        now: DateTime<Utc>,
    ) -> Result<InvitationCode> {
        let code = InvitationCode::random()?;
        let moves = invited.moves.map(|maker| maker.0);
        let (hash, expires_at) = (hash(code.as_str()), ms(now + valid_for));
        let mut tx = self.writer.begin_with("BEGIN IMMEDIATE").await?;
        sqlx::query!(
            "INSERT INTO invitations (hash, owner, expires_at, moves) VALUES (?, ?, ?, ?)",
            hash,
            invited.owner,
            expires_at,
            moves
        )
        .execute(&mut *tx)
        .await?;
        tx.commit().await?;
        Ok(code)
    }

    /// What a code gives; `None` for one that is unknown, used or expired.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn invitation(&self, code: &str, now: DateTime<Utc>) -> Result<Option<Invited>> {
        let (hash, now) = (hash(code), ms(now));
        let row = sqlx::query!(
            r#"SELECT owner AS "owner: bool", moves FROM invitations
            WHERE hash = ? AND used_at IS NULL AND expires_at > ?"#,
            hash,
            now
        );
        let row = row.fetch_optional(&self.readers).await?;
        Ok(row.map(|row| Invited { owner: row.owner, moves: row.moves.map(MakerId) }))
    }

    /// Uses the code up and makes the maker, in one transaction.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn join(&self, join: Join<'_>) -> Result<Joined> {
        let mut tx = self.writer.begin_with("BEGIN IMMEDIATE").await?;
        let known =
            sqlx::query_scalar!(r#"SELECT id AS "id!" FROM makers WHERE user_id = ?"#, join.user.0);
        let known = known.fetch_optional(&mut *tx).await?;
        if !mark_seen(&mut tx, join.update, join.now).await? {
            return Ok(Joined::SeenBefore);
        }
        if let Some(id) = known {
            return Ok(Joined::Already(MakerId(id)));
        }
        let Some(invited) = use_up(&mut tx, join.code, join.now).await? else {
            tx.commit().await?;
            return Ok(Joined::Invalid);
        };
        if let Some(maker) = invited.moves {
            let from = move_in(&mut tx, maker, &join).await?;
            queue::add(&mut tx, maker, join.queue, join.now).await?;
            tx.commit().await?;
            return Ok(Joined::Moved { maker, from });
        }
        let talk = serde_json::to_string(join.talk).map_err(anyhow::Error::from)?;
        let joined_at = ms(join.now);
        let id = sqlx::query!(
            "INSERT INTO makers (user_id, chat_id, owner, talk, joined_at) VALUES (?, ?, ?, ?, ?)",
            join.user.0,
            join.chat_id.0,
            invited.owner,
            talk,
            joined_at
        )
        .execute(&mut *tx)
        .await?
        .last_insert_rowid();
        queue::add(&mut tx, MakerId(id), join.queue, join.now).await?;
        tx.commit().await?;
        Ok(Joined::Joined(MakerId(id)))
    }
}

async fn use_up(
    tx: &mut SqliteConnection,
    code: &str,
    now: DateTime<Utc>,
) -> Result<Option<Invited>> {
    let (hash, now) = (hash(code), ms(now));
    let row = sqlx::query!(
        r#"UPDATE invitations SET used_at = ?1
        WHERE hash = ?2 AND used_at IS NULL AND expires_at > ?1
        RETURNING owner AS "owner: bool", moves"#,
        now,
        hash
    );
    let row = row.fetch_optional(tx).await?;
    Ok(row.map(|row| Invited { owner: row.owner, moves: row.moves.map(MakerId) }))
}

fn hash(code: &str) -> Vec<u8> {
    Sha256::digest(code.as_bytes()).to_vec()
}

impl InvitationCode {
    fn random() -> Result<InvitationCode> {
        let mut bytes = [0; CODE_BYTES];
        getrandom::fill(&mut bytes).map_err(anyhow::Error::from)?;
        Ok(InvitationCode(base64url(&bytes)))
    }

    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Debug for InvitationCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("InvitationCode(hidden)")
    }
}

/// RFC 4648 section 5, without padding.
fn base64url(bytes: &[u8]) -> String {
    const ALPHABET: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
    let mut text = String::new();
    for chunk in bytes.chunks(3) {
        let byte = |index: usize| u32::from(chunk.get(index).copied().unwrap_or(0));
        let bits = byte(0) << 16 | byte(1) << 8 | byte(2);
        for sextet in 0..=chunk.len() {
            let index = bits >> (18 - 6 * sextet) & 63;
            text.push(char::from(ALPHABET[index as usize]));
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn base64url_as_in_the_test_vectors_of_rfc_4648_without_padding() {
        let vectors = [
            ("", ""),
            ("f", "Zg"),
            ("fo", "Zm8"),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg"),
            ("fooba", "Zm9vYmE"),
            ("foobar", "Zm9vYmFy"),
        ];
        for (bytes, text) in vectors {
            assert_eq!(base64url(bytes.as_bytes()), text);
        }
        assert_eq!(base64url(&[0xfb, 0xff]), "-_8");
    }
}
