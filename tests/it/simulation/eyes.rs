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
