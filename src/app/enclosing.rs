//! Makes the file a message brings, when it is sent: of the book as it is then.

use std::sync::Arc;

use chrono::NaiveDate;
use serde_json::Value;

use super::sending::unsendable;
use super::{App, drawing};
use crate::blanket::Book;
use crate::chat::enclosed::Enclosed;
use crate::chat::event::MessageId;
use crate::export;
use crate::pictures::DrawFault;
use crate::store::Claimed;
use crate::telegram::error::WireError;
use crate::telegram::wire::File;

/// How the names of texts end, and their types.
const JSON: (&str, &str) = ("json", "application/json");
const CSV: (&str, &str) = ("csv", "text/csv");

/// A file, and what is said beside it where that depends on what the file shows.
pub(super) struct Made {
    pub file: File,
    pub caption: Option<String>,
}

impl App {
    /// Sends a claimed message with its file.
    ///
    /// # Errors
    /// A [`WireError`]: [`App::settle`] decides what it means.
    pub(super) async fn send_enclosed(
        &self,
        claimed: &Claimed,
        mut params: Value,
        name: &str,
    ) -> Result<Option<MessageId>, WireError> {
        let enclosed = Enclosed::read(name).ok_or_else(unsendable)?;
        let stored = self.store.load_by_id(claimed.maker).await.map_err(|error| {
            tracing::error!(%error, "a file waits: its book could not be read");
            WireError::NothingWritten { why: "the book could not be read".to_owned() }
        })?;
        let book = stored.and_then(|stored| stored.maker.book).ok_or_else(unsendable)?;
        let today = book.hours().day_at(self.now());
        // Drawing takes its time: other tasks go on meanwhile.
        let drawn = tokio::task::spawn_blocking(move || make(&book, enclosed, today)).await;
        let made = drawn.ok().and_then(Result::ok).flatten().ok_or_else(unsendable)?;
        if let Some(caption) = made.caption {
            params["caption"] = caption.into();
        }
        let method = if made.file.part == "photo" { "sendPhoto" } else { "sendDocument" };
        let reply = self.wire.call_with_file(method, &params, &made.file).await?;
        self.told_the_time(reply.date);
        Ok(reply.message())
    }
}

/// `None` where there is nothing to show any more.
fn make(book: &Book, enclosed: Enclosed, today: NaiveDate) -> Result<Option<Made>, DrawFault> {
    let text = |name: &str, (ending, mime): (&str, &'static str), text: String| {
        let (part, name) = ("document", format!("{name}-{today}.{ending}"));
        let file = File { part, name, mime, bytes: Arc::new(text.into_bytes()) };
        Ok(Some(Made { file, caption: None }))
    };
    match enclosed {
        Enclosed::Book => text("book", JSON, export::book_file(book)),
        Enclosed::DayTable => text("days", CSV, export::day_table(book, today)),
        Enclosed::RowTable => text("rows", CSV, export::row_table(book, today)),
        Enclosed::Blanket(look) => drawing::blanket(book, look, today).map(Some),
        Enclosed::BlockPicture(block) => drawing::block(book, block, today),
        Enclosed::Sheet(block) => drawing::block_sheet(book, block, today),
        Enclosed::Drawn(what) => drawing::drawn(book, what, today),
    }
}
