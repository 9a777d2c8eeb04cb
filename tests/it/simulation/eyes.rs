//! What the tables hold of a maker, read beside the bot after every update. Most updates change
//! nothing of it, which is seen without loading a book.

use chrono::{NaiveDate, NaiveTime};
use duskrow::blanket::{Hours, TierId};
use sqlx::SqliteConnection;

use super::model::Model;

/// All that a [`Model`] holds, as text that is the same as long as all of it is the same.
#[derive(Clone, PartialEq, Eq, Default)]
pub struct Looked {
    answers: String,
    worked: String,
    notes: String,
}

/// One look.
pub struct Tables {
    pub looked: Looked,
    pub hours: Hours,
    pub paused: bool,
}

type Row = (String, String, String, String, NaiveTime, NaiveTime, bool);

const SQL: &str = "SELECT
        (SELECT json_group_array(json_array(day, tier)) FROM days WHERE blanket = blankets.id),
        (SELECT json_group_array(json_array(block, rows)) FROM
            (SELECT block, count(*) AS rows FROM worked WHERE blanket = blankets.id
            GROUP BY block)),
        (SELECT json_group_array(json_array(day, position, text))
        FROM notes WHERE blanket = blankets.id),
        zone, ask_at, day_turns_at, paused
    FROM makers JOIN blankets ON blankets.id = makers.blanket WHERE user_id = ?";

/// `None` where there is no maker with a blanket.
pub async fn look(eyes: &mut SqliteConnection, user: i64) -> Option<Tables> {
    let row = sqlx::query_as(SQL).bind(user).fetch_optional(eyes).await.unwrap();
    let (answers, worked, notes, zone, ask_at, day_turns_at, paused): Row = row?;
    let hours = Hours { zone: zone.parse().unwrap(), ask_at, day_turns_at };
    Some(Tables { looked: Looked { answers, worked, notes }, hours, paused })
}

/// Whether a message waits or is under way.
pub async fn waits(eyes: &mut SqliteConnection, message: i64) -> bool {
    let sql = "SELECT count(*) FROM outbox WHERE id = ?";
    let count: i64 = sqlx::query_scalar(sql).bind(message).fetch_one(eyes).await.unwrap();
    count > 0
}

/// The first message that waits for a maker, where the one in this slot is among them.
pub async fn first_before(eyes: &mut SqliteConnection, user: i64, slot: &str) -> Option<i64> {
    let sql = "SELECT min(outbox.id), max(slot IS ?) FROM outbox
        JOIN makers ON makers.id = outbox.maker WHERE user_id = ?";
    let row = sqlx::query_as(sql).bind(slot).bind(user).fetch_one(eyes).await.unwrap();
    let (first, is_among_them): (Option<i64>, Option<bool>) = row;
    first.filter(|_| is_among_them == Some(true))
}

impl Looked {
    /// The same as of a loaded book; of what was before, nothing is known.
    pub fn model(&self) -> Model {
        let answers: Vec<(NaiveDate, u8)> = serde_json::from_str(&self.answers).unwrap();
        let worked: Vec<(u16, usize)> = serde_json::from_str(&self.worked).unwrap();
        let mut notes: Vec<(NaiveDate, i64, String)> = serde_json::from_str(&self.notes).unwrap();
        notes.sort();
        let notes = notes.into_iter().map(|(day, _, text)| (day, text));
        let answers = answers.into_iter().map(|(day, tier)| (day, TierId(tier)));
        Model::new(answers, worked, notes)
    }
}
