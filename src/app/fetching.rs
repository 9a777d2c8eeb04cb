//! Files that makers send: fetched from the platform, and read as a book. Of a file, the platform's
//! id alone is kept, until it is in its place.

use std::time::Duration;

use super::App;
use crate::blanket::Change;
use crate::chat::button::{BringBackTap, Button};
use crate::chat::event::{BookFile, Event, FileFault};
use crate::export::{self, ImportFault};
use crate::store::Stored;
use crate::telegram::wire::FetchError;

/// How long a file is waited for, in real time. Other updates wait meanwhile.
const FETCHING: Duration = Duration::from_secs(15);

impl App {
    /// The event with the file it is about; `None` where it is about none.
    pub(super) async fn fetched(&self, stored: &Stored, event: &Event) -> Option<Event> {
        let (file_id, bytes, tapped) = match event {
            Event::Document { file_id, bytes } => (file_id.clone(), *bytes, None),
            Event::Tapped { button: Ok(Button::BringBack(BringBackTap::Go { id })), message } => {
                let offered = stored.maker.talk.offered_file.as_ref();
                let offered = offered.filter(|offered| offered.id == *id)?;
                (offered.file_id.clone()?, None, Some(*message))
            }
            _ => return None,
        };
        let read = self.read_book(&file_id, bytes).await;
        Some(Event::BookRead { file: BookFile { file_id, read }, tapped })
    }

    async fn read_book(&self, file_id: &str, bytes: Option<u64>) -> Result<Vec<Change>, FileFault> {
        let most = export::BYTES_MAX;
        if bytes.is_some_and(|bytes| usize::try_from(bytes).map_or(true, |bytes| bytes > most)) {
            return Err(FileFault::TooLarge);
        }
        let fetched = tokio::time::timeout(FETCHING, self.wire.fetch(file_id, most)).await;
        match fetched {
            Ok(Ok(bytes)) => export::read_book(&bytes).map_err(fault),
            Ok(Err(FetchError::TooLarge)) => Err(FileFault::TooLarge),
            Ok(Err(FetchError::Wire(error))) => {
                tracing::warn!(%error, "a file that was sent could not be fetched");
                Err(FileFault::NotFetched)
            }
            Err(_) => {
                tracing::warn!("a file that was sent did not come in time");
                Err(FileFault::NotFetched)
            }
        }
    }

    /// Where a blanket went, because another took its place or it was deleted, its traces go at
    /// once.
    pub(super) async fn sweep(&self, stored: &Stored, changes: &[Change]) {
        let replaces = matches!(changes.first(), Some(Change::Began(_)));
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
