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
use crate::telegram::incoming::UpdateId;
use crate::telegram::wire::FetchError;

/// How long a file is waited for. Other updates wait meanwhile.
const FETCHING: Duration = Duration::from_secs(15);
/// In the long run one part in so many of the time goes into fetching, whether files come, crawl or
/// stall: no heap of them holds up the taps of others until they are too old.
const SHARE: u32 = 4;
/// What may be spent ahead of that, so that quick files need not wait for one another.
const AHEAD: Duration = Duration::from_secs(20);

impl App {
    /// The event with the file it is about; `None` where it is about none. A file that is
    /// `fetched` already for this update is not fetched anew.
    ///
    /// # Errors
    /// A fault of the database.
    pub(super) async fn fetched(
        &self,
        stored: &Stored,
        update: UpdateId,
        event: &Event,
        fetched: &mut Option<BookFile>,
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
        let file = match fetched.take().filter(|file| file.file_id == file_id) {
            Some(file) => file,
            None => BookFile { read: self.read_book(&file_id, bytes).await, file_id },
        };
        *fetched = Some(file.clone());
        Ok(Some(Event::BookRead { file, tapped }))
    }

    async fn read_book(&self, file_id: &str, bytes: Option<u64>) -> Result<Vec<Change>, FileFault> {
        let most = export::BYTES_MAX;
        if bytes.is_some_and(|bytes| usize::try_from(bytes).map_or(true, |bytes| bytes > most)) {
            return Err(FileFault::TooLarge);
        }
        let begun = self.clock.monotonic();
        if *self.fetching() > begun + AHEAD {
            return Err(FileFault::NotFetched);
        }
        let fetched = tokio::select! {
            biased;
            fetched = self.wire.fetch(file_id, most) => Some(fetched),
            () = self.clock.sleep(FETCHING) => None,
        };
        self.has_fetched(begun);
        match fetched {
            Some(Ok(bytes)) => {
                let read = apart(move || export::read_book(&bytes)).await;
                read.unwrap_or(Err(ImportFault::Unreadable)).map_err(fault)
            }
            Some(Err(FetchError::TooLarge)) => Err(FileFault::TooLarge),
            Some(Err(FetchError::Wire(error))) => {
                tracing::warn!(%error, "a file that was sent could not be fetched");
                self.heed(&error);
                Err(FileFault::NotFetched)
            }
            None => {
                tracing::warn!("a file that was sent did not come in time");
                Err(FileFault::NotFetched)
            }
        }
    }

    /// However it ended, others waited.
    fn has_fetched(&self, begun: Duration) {
        let spent = self.clock.monotonic().saturating_sub(begun);
        let mut paid_until = self.fetching();
        *paid_until = begun.max(*paid_until).saturating_add(spent.saturating_mul(SHARE));
    }

    /// Up to where fetching has used its share of the time, by the monotonic clock.
    fn fetching(&self) -> MutexGuard<'_, Duration> {
        self.fetching.lock().unwrap_or_else(PoisonError::into_inner)
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
