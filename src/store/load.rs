//! One maker, whole: the book of the blanket that is logged now, and the talk.
//!
//! A year is at most 366 answers, so nothing is ever loaded in part. A book is built the way it
//! changes: begun, then every kept change applied.

use chrono::{NaiveDate, NaiveTime};
use sqlx::{Sqlite, SqliteConnection, Transaction};

use super::codes::{
    instant, read_entry_kind, read_finish, read_how, read_json, read_nudges, read_rgb, read_weekday,
};
use super::error::{Result, StoreError};
use super::open::Store;
use super::{ChatId, MakerId};
use crate::blanket::stock::{Entry, Tenths};
use crate::blanket::{Beginning, BlockNumber, Book, Change, Fabric, Hours, Label, Note, NoteId};
use crate::blanket::{
    NoteText, Pieces, Plan, Reminders, Scale, Tier, TierId, TierLine, Yarn, YarnId,
};
use crate::chat::Maker;
use crate::chat::event::UserId;

/// A maker as kept.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Stored {
    pub id: MakerId,
    pub user: UserId,
    pub chat_id: ChatId,
    /// Whether messages arrive: false from the first refusal until the maker returns.
    pub reachable: bool,
    /// Counts commits; a commit names the one it was made from.
    pub revision: i64,
    pub maker: Maker,
}

impl Store {
    /// # Errors
    /// Those of the file.
    pub async fn load(&self, user: UserId) -> Result<Option<Stored>> {
        let mut tx = self.readers.begin().await?;
        let id = sqlx::query_scalar!(r#"SELECT id AS "id!" FROM makers WHERE user_id = ?"#, user.0)
            .fetch_optional(&mut *tx)
            .await?;
        match id {
            Some(id) => stored(tx, MakerId(id)).await,
            None => Ok(None),
        }
    }

    /// # Errors
    /// Those of the file.
    pub async fn load_by_id(&self, id: MakerId) -> Result<Option<Stored>> {
        stored(self.readers.begin().await?, id).await
    }
}

/// Read in one transaction, so that no commit falls between two of its parts.
async fn stored(mut tx: Transaction<'_, Sqlite>, id: MakerId) -> Result<Option<Stored>> {
    let row = sqlx::query!(
        r#"SELECT user_id, chat_id, owner AS "owner: bool", reachable AS "reachable: bool",
            talk, revision, blanket
        FROM makers WHERE id = ?"#,
        id.0
    )
    .fetch_optional(&mut *tx)
    .await?;
    let Some(row) = row else { return Ok(None) };
    let book = match row.blanket {
        Some(blanket) => Some(book(&mut tx, blanket).await?),
        None => None,
    };
    // A step another version wrote is forgotten; the maker only has to ask again.
    let talk = serde_json::from_str(&row.talk).unwrap_or_default();
    Ok(Some(Stored {
        id,
        user: UserId(row.user_id),
        chat_id: ChatId(row.chat_id),
        reachable: row.reachable,
        revision: row.revision,
        maker: Maker { owner: row.owner, book, talk },
    }))
}

async fn book(tx: &mut SqliteConnection, blanket: i64) -> Result<Book> {
    let mut book = Book::begin(&beginning(tx, blanket).await?);
    days(tx, blanket, &mut book).await?;
    notes(tx, blanket, &mut book).await?;
    rows(tx, blanket, &mut book).await?;
    finished(tx, blanket, &mut book).await?;
    stock(tx, blanket, &mut book).await?;
    tier_lines(tx, blanket, &mut book).await?;
    reminders(tx, blanket, &mut book).await?;
    Ok(book)
}

/// Answers before what is put off: an answer ends that.
async fn days(tx: &mut SqliteConnection, blanket: i64, book: &mut Book) -> Result<()> {
    let days = sqlx::query!(
        r#"SELECT day AS "day: NaiveDate", tier AS "tier: u8", how, at
        FROM days WHERE blanket = ?"#,
        blanket
    );
    for row in days.fetch_all(&mut *tx).await? {
        let (how, at) = (read_how(&row.how)?, instant(row.at)?);
        book.apply(&Change::Answered { day: row.day, tier: TierId(row.tier), how, at });
    }
    let put_off = sqlx::query!(
        r#"SELECT day AS "day: NaiveDate", until AS "until: NaiveDate"
        FROM put_off WHERE blanket = ?"#,
        blanket
    );
    for row in put_off.fetch_all(&mut *tx).await? {
        book.apply(&Change::PutOff { day: row.day, until: row.until });
    }
    let asked = sqlx::query!(
        r#"SELECT day AS "day: NaiveDate", at FROM asked
        WHERE blanket = ? ORDER BY number DESC LIMIT 1"#,
        blanket
    );
    if let Some(row) = asked.fetch_optional(tx).await? {
        book.apply(&Change::Asked { day: row.day, at: instant(row.at)? });
    }
    Ok(())
}

async fn notes(tx: &mut SqliteConnection, blanket: i64, book: &mut Book) -> Result<()> {
    let notes = sqlx::query!(
        r#"SELECT day AS "day: NaiveDate", note, text
        FROM notes WHERE blanket = ? ORDER BY day, position"#,
        blanket
    );
    for row in notes.fetch_all(tx).await? {
        let text =
            NoteText::parse(&row.text).map_err(|_| StoreError::impossible("the text of a note"))?;
        book.apply(&Change::Noted { day: row.day, note: Note { id: NoteId(row.note), text } });
    }
    Ok(())
}

async fn rows(tx: &mut SqliteConnection, blanket: i64, book: &mut Book) -> Result<()> {
    let worked = sqlx::query!(
        r#"SELECT block AS "block: u16", yarn AS "yarn: u8", at
        FROM worked WHERE blanket = ? ORDER BY block, row"#,
        blanket
    );
    for row in worked.fetch_all(tx).await? {
        let (block, yarns) = (BlockNumber(row.block), vec![YarnId(row.yarn)]);
        book.apply(&Change::Worked { block, yarns, at: instant(row.at)? });
    }
    Ok(())
}

async fn finished(tx: &mut SqliteConnection, blanket: i64, book: &mut Book) -> Result<()> {
    let finished = sqlx::query!(
        r#"SELECT block AS "block: u16", finish FROM finished WHERE blanket = ?"#,
        blanket
    );
    for row in finished.fetch_all(tx).await? {
        let (block, finish) = (BlockNumber(row.block), read_finish(&row.finish)?);
        book.apply(&Change::Finished { block, finish, done: true });
    }
    Ok(())
}

async fn stock(tx: &mut SqliteConnection, blanket: i64, book: &mut Book) -> Result<()> {
    let stock = sqlx::query!(
        r#"SELECT yarn AS "yarn: u8", kind, tenths AS "tenths: u32", rows AS "rows: u32", at
        FROM stock WHERE blanket = ? ORDER BY yarn, number"#,
        blanket
    );
    for row in stock.fetch_all(tx).await? {
        let kind = read_entry_kind(&row.kind, Tenths(row.tenths))?;
        let entry = Entry { kind, rows: row.rows, at: instant(row.at)? };
        book.apply(&Change::Stocked { yarn: YarnId(row.yarn), entry });
    }
    Ok(())
}

async fn tier_lines(tx: &mut SqliteConnection, blanket: i64, book: &mut Book) -> Result<()> {
    let lines = sqlx::query!(
        r#"SELECT tier AS "tier: u8", line, at FROM tier_lines WHERE blanket = ? ORDER BY tier, id"#,
        blanket
    );
    for row in lines.fetch_all(tx).await? {
        let (tier, at) = (TierId(row.tier), instant(row.at)?);
        book.apply(&Change::Described { tier, line: TierLine::parse(&row.line).ok(), at });
    }
    Ok(())
}

async fn reminders(tx: &mut SqliteConnection, blanket: i64, book: &mut Book) -> Result<()> {
    let row = sqlx::query!(
        r#"SELECT nudges, nudge_at AS "nudge_at: NaiveTime", recap_on,
            recap_at AS "recap_at: NaiveTime", recap_whole AS "recap_whole: bool",
            paused AS "paused: bool", nudged AS "nudged: NaiveDate",
            recapped AS "recapped: NaiveDate"
        FROM blankets WHERE id = ?"#,
        blanket
    )
    .fetch_one(tx)
    .await?;
    book.apply(&Change::RemindersSet(Reminders {
        nudges: read_nudges(&row.nudges)?,
        nudge_at: row.nudge_at,
        recap_on: row.recap_on.as_deref().map(read_weekday).transpose()?,
        recap_at: row.recap_at,
        recap_whole: row.recap_whole,
        paused: row.paused,
    }));
    if let Some(on) = row.nudged {
        book.apply(&Change::Nudged { on });
    }
    if let Some(on) = row.recapped {
        book.apply(&Change::Recapped { on });
    }
    Ok(())
}

async fn beginning(tx: &mut SqliteConnection, blanket: i64) -> Result<Beginning> {
    let row = sqlx::query!(
        r#"SELECT first_day AS "first_day: NaiveDate", last_day AS "last_day: NaiveDate",
            pieces, fabric,
            default_tier AS "default_tier: u8", joining_yarn AS "joining_yarn: u8",
            zone, ask_at AS "ask_at: NaiveTime", day_turns_at AS "day_turns_at: NaiveTime"
        FROM blankets WHERE id = ?"#,
        blanket
    )
    .fetch_one(&mut *tx)
    .await?;
    let pieces: Pieces = read_json(&row.pieces, "how a blanket is cut")?;
    let fabric: Fabric = read_json(&row.fabric, "what a blanket is worked in")?;
    let plan = Plan::new(row.first_day, row.last_day, pieces, fabric.faces())
        .map_err(|_| StoreError::impossible("the plan of a blanket"))?;
    let zone = row.zone.parse().map_err(|_| StoreError::impossible("the zone of a blanket"))?;
    let hours = Hours { zone, ask_at: row.ask_at, day_turns_at: row.day_turns_at };
    let scale = Scale::new(tiers(tx, blanket).await?, TierId(row.default_tier))
        .map_err(|_| StoreError::impossible("the scale of a blanket"))?;
    let yarns = yarns(tx, blanket).await?;
    Ok(Beginning { plan, fabric, scale, yarns, joining: YarnId(row.joining_yarn), hours })
}

async fn tiers(tx: &mut SqliteConnection, blanket: i64) -> Result<Vec<Tier>> {
    let rows = sqlx::query!(
        r#"SELECT id AS "id: u8", label, yarn AS "yarn: u8"
        FROM tiers WHERE blanket = ? ORDER BY position"#,
        blanket
    );
    let rows = rows.fetch_all(&mut *tx).await?;
    rows.into_iter()
        .map(|row| {
            let label = Label::parse(&row.label)
                .map_err(|_| StoreError::impossible("the label of a tier"))?;
            Ok(Tier { id: TierId(row.id), label, yarn: YarnId(row.yarn) })
        })
        .collect()
}

async fn yarns(tx: &mut SqliteConnection, blanket: i64) -> Result<Vec<Yarn>> {
    let rows = sqlx::query!(
        r#"SELECT id AS "id: u8", name, rgb FROM yarns WHERE blanket = ? ORDER BY position"#,
        blanket
    );
    let rows = rows.fetch_all(&mut *tx).await?;
    rows.into_iter()
        .map(|row| {
            let name = Label::parse(&row.name)
                .map_err(|_| StoreError::impossible("the name of a yarn"))?;
            Ok(Yarn { id: YarnId(row.id), name, rgb: read_rgb(&row.rgb)? })
        })
        .collect()
}
