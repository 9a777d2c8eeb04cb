//! What a host sees beside the running bot: who there is.
//!
//! Never says more of a maker than numbers and dates.

use chrono::{DateTime, NaiveDate, Utc};

use super::MakerId;
use super::codes::instant;
use super::error::Result;
use super::open::Store;

/// A maker as a host may see them.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Listed {
    pub id: MakerId,
    pub owner: bool,
    /// Whether messages arrive.
    pub reachable: bool,
    pub joined_at: DateTime<Utc>,
    /// The first and the last day of the blanket that is logged.
    pub blanket: Option<(NaiveDate, NaiveDate)>,
}

impl Store {
    /// Every maker, the one who joined first first.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn listed(&self) -> Result<Vec<Listed>> {
        let mut all: Vec<Listed> = Vec::new();
        loop {
            let page = self.listed_after(all.last().map_or(MakerId(0), |last| last.id)).await?;
            if page.is_empty() {
                return Ok(all);
            }
            all.extend(page);
        }
    }

    async fn listed_after(&self, after: MakerId) -> Result<Vec<Listed>> {
        let rows = sqlx::query!(
            r#"SELECT makers.id, owner AS "owner: bool", reachable AS "reachable: bool", joined_at,
                blankets.first_day AS "first_day?: NaiveDate",
                blankets.last_day AS "last_day?: NaiveDate"
            FROM makers LEFT JOIN blankets ON blankets.id = makers.blanket
            WHERE makers.id > ? ORDER BY makers.id LIMIT 500"#,
            after.0
        )
        .fetch_all(&self.readers)
        .await?;
        let listed = rows.into_iter().map(|row| {
            Ok(Listed {
                id: MakerId(row.id),
                owner: row.owner,
                reachable: row.reachable,
                joined_at: instant(row.joined_at)?,
                blanket: row.first_day.zip(row.last_day),
            })
        });
        listed.collect()
    }
}
