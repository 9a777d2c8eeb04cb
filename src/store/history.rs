//! What did the days of a blanket have, one answer after the other? Read only where a book is
//! handed out; everything else looks at what is kept now.

use chrono::NaiveDate;

use super::MakerId;
use super::codes::{REOPENED, instant, read_how};
use super::error::{Result, StoreError};
use super::open::Store;
use crate::blanket::{Earlier, TierId};

impl Store {
    /// All that the days of a maker's blanket ever had, oldest first for each day; `first_day` is
    /// the blanket's.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn history(&self, maker: MakerId, first_day: NaiveDate) -> Result<Vec<Earlier>> {
        let lines = sqlx::query!(
            r#"SELECT day AS "day: NaiveDate", tier AS "tier: u8", how, at FROM history
            WHERE blanket = (SELECT id FROM blankets WHERE maker = ? AND first_day = ?)
            ORDER BY day, id"#,
            maker.0,
            first_day
        );
        let lines = lines.fetch_all(&self.readers).await?;
        let read = lines.into_iter().map(|line| {
            let kept = match line.tier {
                Some(tier) => Some((TierId(tier), read_how(&line.how)?)),
                None if line.how == REOPENED => None,
                None => return Err(StoreError::impossible("a day's history")),
            };
            Ok(Earlier { day: line.day, kept, at: instant(line.at)? })
        });
        read.collect()
    }
}
