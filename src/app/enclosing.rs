//! Makes the file a message brings, when it is sent: of the book as it is then.

use std::sync::{Arc, MutexGuard, PoisonError};

use chrono::NaiveDate;
use serde_json::Value;
use sha2::{Digest, Sha256};

use super::apart::apart;
use super::recent::Recent;
use super::sending::unsendable;
use super::{App, drawing};
use crate::blanket::Book;
use crate::chat::enclosed::Enclosed;
use crate::chat::event::MessageId;
use crate::export;
use crate::pictures::DrawFault;
use crate::store::{Claimed, FileHash, MakerId, StoreError};
use crate::telegram::error::{Class, WireError};
use crate::telegram::wire::{File, Reply};

/// How the names of texts end, and their types.
const JSON: (&str, &str) = ("json", "application/json");
const CSV: (&str, &str) = ("csv", "text/csv");

/// A file, and what is said beside it where that depends on what the file shows.
#[derive(Clone)]
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
        let made = self.made(claimed.maker, enclosed).await?;
        if let Some(caption) = made.caption {
            params["caption"] = caption.into();
        }
        let reply = match enclosed.is_drawn() {
            true => self.send_drawn(claimed.maker, params, &made.file).await?,
            false => self.wire.call_with_file(method(&made.file), &params, &made.file).await?,
        };
        self.told_the_time(reply.date);
        Ok(reply.message())
    }

    /// The file, of the maker's book as it is now.
    async fn made(&self, maker: MakerId, enclosed: Enclosed) -> Result<Made, WireError> {
        let stored = self.store.load_by_id(maker).await.map_err(|error| unread(&error))?;
        let book = stored.and_then(|stored| match enclosed.is_of_a_recap() {
            true => stored.maker.book,
            false => stored.maker.in_hand().cloned(),
        });
        let book = book.ok_or_else(unsendable)?;
        let today = book.hours().day_at(self.now());
        if enclosed == Enclosed::Book {
            let history = self.store.history(maker, book.plan().first_day()).await;
            let history = history.map_err(|error| unread(&error))?;
            let write = move || text("book", today, JSON, export::book_file(&book, &history));
            let file = apart(write).await.ok_or_else(unsendable)?;
            return Ok(Made { file, caption: None });
        }
        if !enclosed.is_drawn() {
            let made = apart(move || make(&book, enclosed, today)).await;
            return made.and_then(|made| made.ok().flatten()).ok_or_else(unsendable);
        }
        if let Some(made) = self.recent().of(maker, enclosed, today, &book) {
            return Ok(made);
        }
        let draw = move || (make(&book, enclosed, today), book);
        let (made, book) = apart(draw).await.ok_or_else(unsendable)?;
        let made = made.ok().flatten().ok_or_else(unsendable)?;
        self.recent().keep(maker, enclosed, today, book, made.clone());
        Ok(made)
    }

    /// Sends a picture: without its bytes where the platform has it already.
    async fn send_drawn(
        &self,
        maker: MakerId,
        mut params: Value,
        file: &File,
    ) -> Result<Reply, WireError> {
        let hash = hash(file);
        let known = self.store.file_id(maker, &hash).await.unwrap_or_else(|error| {
            tracing::warn!(%error, "a picture goes in full: its id could not be read");
            None
        });
        if let Some(id) = known {
            params[file.part] = id.into();
            let sent = self.wire.call(method(file), &params).await;
            let refused = sent.as_ref().is_err_and(|error| error.class() == Class::Rejected);
            if !refused {
                return sent;
            }
            // The platform keeps files, but promises to keep none for ever.
            if let Err(error) = self.store.forget_file_id(maker, &hash).await {
                tracing::warn!(%error, "an id that is of no use any more could not be forgotten");
            }
            if let Some(params) = params.as_object_mut() {
                params.remove(file.part);
            }
        }
        let reply = self.wire.call_with_file(method(file), &params, file).await?;
        if let Some(id) = reply.file_id()
            && let Err(error) = self.store.keep_file_id(maker, &hash, &id, self.now()).await
        {
            tracing::warn!(%error, "a picture will go in full again: its id could not be kept");
        }
        Ok(reply)
    }

    pub(super) fn recent(&self) -> MutexGuard<'_, Recent> {
        self.recent.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

fn method(file: &File) -> &'static str {
    if file.part == "photo" { "sendPhoto" } else { "sendDocument" }
}

fn hash(file: &File) -> FileHash {
    let parts: [&[u8]; 4] = [file.part.as_bytes(), b"\0", file.name.as_bytes(), b"\0"];
    let head = parts.into_iter().fold(Sha256::new(), |hash, part| hash.chain_update(part));
    head.chain_update(file.bytes.as_slice()).finalize().into()
}

/// A book that can never be read costs its own files; one that cannot be read now, a wait.
fn unread(error: &StoreError) -> WireError {
    if !error.may_pass() {
        tracing::error!(%error, "a file is left out: its book cannot be read");
        return unsendable();
    }
    tracing::error!(%error, "a file waits: its book could not be read");
    WireError::Unmade { why: "the book could not be read".to_owned() }
}

fn text(name: &str, today: NaiveDate, (ending, mime): (&str, &'static str), text: String) -> File {
    let name = format!("{name}-{today}.{ending}");
    File { part: "document", name, mime, bytes: Arc::new(text.into_bytes()) }
}

/// `None` where there is nothing to show any more.
fn make(book: &Book, enclosed: Enclosed, today: NaiveDate) -> Result<Option<Made>, DrawFault> {
    let table = |name, table| Ok(Some(Made { file: text(name, today, CSV, table), caption: None }));
    match enclosed {
        // It has what its days had before, too.
        Enclosed::Book => Ok(None),
        Enclosed::DayTable => table("days", export::day_table(book, today)),
        Enclosed::RowTable => table("rows", export::row_table(book, today)),
        Enclosed::Blanket(look) => drawing::blanket(book, look, today).map(Some),
        Enclosed::BlockPicture(block) => drawing::block(book, block, today),
        Enclosed::Sheet(block) => drawing::block_sheet(book, block, today),
        Enclosed::Drawn(what) => drawing::drawn(book, what, today),
    }
}
