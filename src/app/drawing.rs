//! Makes the pictures that messages bring, each with what it shows said beside it, of the same
//! moment. What is drawn, and where, is for `pictures`.

use std::sync::Arc;

use chrono::NaiveDate;

use super::enclosing::Made;
use crate::blanket::{BlockNumber, Book, OnPaper, colours};
use crate::chat::enclosed::{BlanketLook, Drawn};
use crate::pictures::{
    DisplayList, DrawFault, Inks, Look, Picture, caption, draw, facts, limits, pdf, png, sheet, svg,
};
use crate::telegram::wire::File;
use crate::wording::en;

/// Pixels a unit of a picture in the chat, and of a large one.
const PHOTO_SCALE: u32 = 1;
const BIG_SCALE: u32 = 2;

pub fn blanket(book: &Book, look: BlanketLook, today: NaiveDate) -> Result<Made, DrawFault> {
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

pub fn block(
    book: &Book,
    number: BlockNumber,
    today: NaiveDate,
) -> Result<Option<Made>, DrawFault> {
    let Some(block) = book.plan().block(number) else { return Ok(None) };
    let facts = facts::block(book, &block, today);
    picture_file(&Picture::Block(&facts, Look::Flat), format!("block-{number}-{today}")).map(Some)
}

pub fn block_sheet(
    book: &Book,
    number: BlockNumber,
    today: NaiveDate,
) -> Result<Option<Made>, DrawFault> {
    let Some(block) = book.plan().block(number) else { return Ok(None) };
    let facts = facts::block(book, &block, today);
    let OnPaper { paper, first_row } = *book.on_paper();
    let pages = sheet(&facts, paper, first_row, &en::LABELS);
    let (name, mime) = (format!("block-{number}-{today}.pdf"), "application/pdf");
    let file = File { part: "document", name, mime, bytes: Arc::new(pdf(&pages)?) };
    Ok(Some(Made { file, caption: Some(en::sheet_caption(paper)) }))
}

/// A picture of what a message says in words.
pub fn drawn(book: &Book, what: Drawn, today: NaiveDate) -> Result<Option<Made>, DrawFault> {
    let inks = Inks::of(book);
    let made = |picture: Picture<'_>, name: String| picture_file(&picture, name).map(Some);
    match what {
        Drawn::Yarn => made(Picture::Yarn(&facts::bars(book)), format!("yarn-{today}")),
        Drawn::Week { on } => {
            let last = on.pred_opt().unwrap_or(on);
            let days = facts::week(book, last, today);
            if days.is_empty() {
                return Ok(None);
            }
            made(Picture::Week(&inks, &days), format!("week-{last}"))
        }
        Drawn::Year => {
            made(Picture::Months(&inks, &facts::months(book, today)), format!("months-{today}"))
        }
        Drawn::Card => made(Picture::Palette(&inks, colours::seen), format!("colours-{today}")),
        Drawn::Imagined => {
            let imagined = facts::imagined(book, today);
            made(Picture::Imagined(&imagined, Look::Cloth), "imagined-year".to_owned())
        }
    }
}

/// As a photo, with what it shows said beside it.
fn picture_file(picture: &Picture<'_>, name: String) -> Result<Made, DrawFault> {
    let file = photo(&draw(picture, &en::LABELS), name)?;
    Ok(Made { file, caption: Some(en::picture_caption(&caption(picture))) })
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
