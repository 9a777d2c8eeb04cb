//! Makes the file a message brings, when it is sent: of the book as it is then. What a picture
//! shows is said beside it, of the same moment.

use std::sync::{Arc, MutexGuard, PoisonError};

use chrono::NaiveDate;
use serde_json::Value;
use sha2::{Digest, Sha256};

use super::App;
use super::drawn::Drawn;
use super::sending::unsendable;
use crate::blanket::{BlockNumber, Book};
use crate::chat::enclosed::{BlanketLook, Enclosed};
use crate::chat::event::MessageId;
use crate::export;
use crate::pictures::{
    DisplayList, DrawFault, FirstRow, Look, Paper, Picture, caption, draw, facts, limits, pdf, png,
    sheet, svg,
};
use crate::store::{Claimed, FileHash, MakerId};
use crate::telegram::error::{Class, WireError};
use crate::telegram::wire::{File, Reply};
use crate::wording::en;

/// Pixels a unit of a picture in the chat, and of a large one.
const PHOTO_SCALE: u32 = 1;
const BIG_SCALE: u32 = 2;

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
        let stored = self.store.load_by_id(maker).await.map_err(|error| {
            tracing::error!(%error, "a file waits: its book could not be read");
            WireError::NothingWritten { why: "the book could not be read".to_owned() }
        })?;
        let book = stored.and_then(|stored| stored.maker.book).ok_or_else(unsendable)?;
        let today = book.hours().day_at(self.now());
        if !enclosed.is_drawn() {
            return make(&book, enclosed, today).ok().flatten().ok_or_else(unsendable);
        }
        if let Some(made) = self.drawn().of(maker, enclosed, today, &book) {
            return Ok(made);
        }
        // Drawing takes its time: other tasks go on meanwhile.
        let draw = move || (make(&book, enclosed, today), book);
        let (made, book) = tokio::task::spawn_blocking(draw).await.map_err(|_| unsendable())?;
        let made = made.ok().flatten().ok_or_else(unsendable)?;
        self.drawn().keep(maker, enclosed, today, book, made.clone());
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

    pub(super) fn drawn(&self) -> MutexGuard<'_, Drawn> {
        self.drawn.lock().unwrap_or_else(PoisonError::into_inner)
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

/// `None` for a block that is not there any more.
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
        Enclosed::Blanket(look) => blanket(book, look, today).map(Some),
        Enclosed::BlockPicture(block) => block_picture(book, block, today),
        Enclosed::Sheet(block) => block_sheet(book, block, today),
    }
}

fn blanket(book: &Book, look: BlanketLook, today: NaiveDate) -> Result<Made, DrawFault> {
    let facts = facts::blanket(book, today);
    let drawn = match look {
        BlanketLook::Flat | BlanketLook::Lines => Look::Flat,
        BlanketLook::Cloth | BlanketLook::Big => Look::Cloth,
    };
    let picture = Picture::Blanket(&facts, drawn);
    let list = draw(&picture, &en::LABELS);
    let caption = Some(en::picture_caption(&caption(&picture)));
    let name = format!("blanket-{today}");
    let file = match look {
        BlanketLook::Flat | BlanketLook::Cloth => photo(&list, name)?,
        BlanketLook::Big => {
            File { part: "document", ..png_file(&list, BIG_SCALE, format!("{name}-big"))? }
        }
        BlanketLook::Lines => File {
            part: "document",
            name: format!("{name}.svg"),
            mime: "image/svg+xml",
            bytes: Arc::new(svg(&list).into_bytes()),
        },
    };
    Ok(Made { file, caption })
}

fn block_picture(
    book: &Book,
    number: BlockNumber,
    today: NaiveDate,
) -> Result<Option<Made>, DrawFault> {
    let Some(block) = book.plan().block(number) else { return Ok(None) };
    let facts = facts::block(book, &block, today);
    let picture = Picture::Block(&facts, Look::Flat);
    let file = photo(&draw(&picture, &en::LABELS), format!("block-{number}-{today}"))?;
    Ok(Some(Made { file, caption: Some(en::picture_caption(&caption(&picture))) }))
}

fn block_sheet(
    book: &Book,
    number: BlockNumber,
    today: NaiveDate,
) -> Result<Option<Made>, DrawFault> {
    let Some(block) = book.plan().block(number) else { return Ok(None) };
    let facts = facts::block(book, &block, today);
    let pages = sheet(&facts, Paper::A4, FirstRow::Bottom, &en::LABELS);
    let (name, mime) = (format!("block-{number}-{today}.pdf"), "application/pdf");
    let file = File { part: "document", name, mime, bytes: Arc::new(pdf(&pages)?) };
    Ok(Some(Made { file, caption: None }))
}

/// As a photo where the platform takes it as one, and else as a file.
fn photo(list: &DisplayList, name: String) -> Result<File, DrawFault> {
    let file = png_file(list, PHOTO_SCALE, name)?;
    let fits =
        limits::fits_photo(list.width, list.height) && file.bytes.len() <= limits::PHOTO_BYTES_MAX;
    Ok(File { part: if fits { "photo" } else { "document" }, ..file })
}

fn png_file(list: &DisplayList, scale_max: u32, name: String) -> Result<File, DrawFault> {
    let scale = limits::scale_for(list.width, list.height, scale_max);
    let bytes = Arc::new(png(list, scale)?);
    Ok(File { part: "photo", name: format!("{name}.png"), mime: "image/png", bytes })
}
