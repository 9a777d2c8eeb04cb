//! Makes the file a message brings, when it is sent: of the book as it is then.

use std::sync::Arc;

use chrono::NaiveDate;
use serde_json::Value;

use super::App;
use super::sending::unsendable;
use crate::blanket::Book;
use crate::chat::enclosed::Enclosed;
use crate::chat::event::MessageId;
use crate::export;
use crate::store::Claimed;
use crate::telegram::error::WireError;
use crate::telegram::wire::File;

impl App {
    /// Sends a claimed message with its file.
    ///
    /// # Errors
    /// A [`WireError`]: [`App::settle`] decides what it means.
    pub(super) async fn send_enclosed(
        &self,
        claimed: &Claimed,
        params: &Value,
        name: &str,
    ) -> Result<Option<MessageId>, WireError> {
        let enclosed = Enclosed::read(name).ok_or_else(unsendable)?;
        let stored = self.store.load_by_id(claimed.maker).await.map_err(|error| {
            tracing::error!(%error, "a file waits: its book could not be read");
            WireError::NothingWritten { why: "the book could not be read".to_owned() }
        })?;
        let book = stored.and_then(|stored| stored.maker.book).ok_or_else(unsendable)?;
        let today = book.hours().day_at(self.now());
        let file = file(&book, enclosed, today);
        let reply = self.wire.call_with_file("sendDocument", params, &file).await?;
        self.told_the_time(reply.date);
        Ok(reply.message())
    }
}

fn file(book: &Book, enclosed: Enclosed, today: NaiveDate) -> File {
    let (name, mime, bytes) = match enclosed {
        Enclosed::DayTable => {
            (format!("days-{today}.csv"), "text/csv", export::day_table(book, today).into_bytes())
        }
        Enclosed::RowTable => {
            (format!("rows-{today}.csv"), "text/csv", export::row_table(book, today).into_bytes())
        }
    };
    File { part: "document", name, mime, bytes: Arc::new(bytes) }
}
