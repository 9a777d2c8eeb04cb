//! Files that makers send: fetched from the platform, and read as a book. Of a file, the platform's
//! id alone is kept, until it is in its place.

use std::sync::{MutexGuard, PoisonError};
use std::time::Duration;

use super::App;
use super::apart::apart;
use crate::blanket::Change;
use crate::chat::button::{BringBackTap, Button};
use crate::chat::event::{BookFile, Event, FileFault};
use crate::export::{self, ImportFault};
use crate::store::Stored;
use crate::telegram::error::Class;
use crate::telegram::incoming::UpdateId;
use crate::telegram::wire::FetchError;

/// How long a file is waited for, in real time. Other updates wait meanwhile.
const FETCHING: Duration = Duration::from_secs(15);
/// So long none is fetched after one did not come: files that stall hold up nobody else.
const PAUSE: Duration = Duration::from_secs(60);

impl App {
    /// The event with the file it is about; `None` where it is about none.
    ///
    /// # Errors
    /// A fault of the database.
    pub(super) async fn fetched(
        &self,
        stored: &Stored,
        update: UpdateId,
        event: &Event,
    ) -> anyhow::Result<Option<Event>> {
        let (file_id, bytes, tapped) = match event {
            Event::Document { file_id, bytes } => (file_id.clone(), *bytes, None),
            Event::Tapped { button: Ok(Button::BringBack(BringBackTap::Go { id })), message } => {
                let offered = stored.maker.talk.offered_file.as_ref();
                let offered = offered.filter(|offered| offered.id == *id);
                match offered.and_then(|offered| offered.file_id.clone()) {
                    Some(file_id) => (file_id, None, Some(*message)),
                    None => return Ok(None),
                }
            }
            Event::Tapped { .. }
            | Event::Typed { .. }
            | Event::Edited { .. }
            | Event::BookRead { .. }
            | Event::NotText
            | Event::Blocked
            | Event::Unblocked
            | Event::Due(_) => return Ok(None),
        };
        // Handled before: nothing comes of it, so nothing is fetched.
        if self.store.seen(update.0).await? {
            return Ok(None);
        }
        let read = self.read_book(&file_id, bytes).await;
        Ok(Some(Event::BookRead { file: BookFile { file_id, read }, tapped }))
    }

    async fn read_book(&self, file_id: &str, bytes: Option<u64>) -> Result<Vec<Change>, FileFault> {
        let most = export::BYTES_MAX;
        if bytes.is_some_and(|bytes| usize::try_from(bytes).map_or(true, |bytes| bytes > most)) {
            return Err(FileFault::TooLarge);
        }
        if self.fetching().is_some_and(|until| self.clock.monotonic() < until) {
            return Err(FileFault::NotFetched);
        }
        let fetched = tokio::time::timeout(FETCHING, self.wire.fetch(file_id, most)).await;
        match fetched {
            Ok(Ok(bytes)) => {
                let read = apart(move || export::read_book(&bytes)).await;
                read.unwrap_or(Err(ImportFault::Unreadable)).map_err(fault)
            }
            Ok(Err(FetchError::TooLarge)) => Err(FileFault::TooLarge),
            Ok(Err(FetchError::Wire(error))) => {
                tracing::warn!(%error, "a file that was sent could not be fetched");
                if let Class::RetryAfter(pause) = error.class() {
                    self.hold_sending(pause);
                }
                Err(FileFault::NotFetched)
            }
            Err(_) => {
                tracing::warn!("a file that was sent did not come in time");
                *self.fetching() = Some(self.clock.monotonic() + PAUSE);
                Err(FileFault::NotFetched)
            }
        }
    }

    /// Until when nothing is fetched.
    fn fetching(&self) -> MutexGuard<'_, Option<Duration>> {
        self.fetching.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Where a blanket went, because another took its place or it was deleted, its traces go at
    /// once.
    pub(super) async fn sweep(&self, stored: &Stored, changes: &[Change]) {
        let replaces = changes.iter().any(|it| matches!(it, Change::Began(_)));
        let deletes = changes.iter().any(|it| matches!(it, Change::BlanketDeleted { .. }));
        if !(stored.maker.book.is_some() && replaces || deletes) {
            return;
        }
        if let Err(error) = self.store.finish_erasing().await {
            // The blanket is gone; the start and each day make up for the rest.
            tracing::warn!(%error, "traces of a blanket that went go later");
        }
    }
}

fn fault(fault: ImportFault) -> FileFault {
    match fault {
        ImportFault::TooLarge => FileFault::TooLarge,
        ImportFault::Unreadable => FileFault::Unreadable,
        ImportFault::TooNew => FileFault::TooNew,
        ImportFault::Impossible => FileFault::Impossible,
    }
}
