//! What is drawn: the blanket, a block, the printed sheet, the palette, the yarn, a week, a year.
//!
//! A picture is facts of a book and words of a language. `draw` makes a display list of it, and
//! `png`, `svg` and `pdf` write that list. Pure: the same picture gives the same bytes. Everything
//! it shows is also said, by its `Caption`.

mod caption;
pub mod facts;
pub mod kinds;
mod labels;
pub mod limits;
pub mod list;
mod out;
mod pen;
mod text;

use chrono::NaiveDate;

pub use crate::blanket::{FirstRow, Paper};

pub use self::caption::{Caption, caption};
pub use self::facts::{Bar, Blanket, BlockRows, Imagined, Inks, MonthCounts};
pub use self::kinds::{Look, See, sheet};
pub use self::labels::{DayLabels, Labels, SheetLabels, StateLabels};
pub use self::list::DisplayList;
pub use self::out::{DrawFault, pdf, png, svg};
pub use self::text::width as text_width;

/// What can be drawn on one page. A printed sheet may have several: see [`sheet`].
pub enum Picture<'a> {
    Blanket(&'a Blanket, Look),
    Block(&'a BlockRows, Look),
    /// The colours, and how they look in grey and to four kinds of eyes.
    Palette(&'a Inks, See),
    /// Yarn used and on hand.
    Yarn(&'a [Bar]),
    Week(&'a Inks, &'a [(NaiveDate, facts::State)]),
    Months(&'a Inks, &'a [MonthCounts]),
    /// A year that nobody lived, to see a new scale as a blanket. The same every time.
    Imagined(&'a Imagined, Look),
}

pub fn draw(picture: &Picture<'_>, labels: &Labels) -> DisplayList {
    match *picture {
        Picture::Blanket(facts, look) => {
            let note = (labels.tally)(facts.tally);
            kinds::blanket(facts, look, labels.blanket_title, &note, labels)
        }
        Picture::Block(facts, look) => kinds::block(facts, look, labels),
        Picture::Palette(inks, see) => kinds::palette(inks, see, labels),
        Picture::Yarn(bars) => kinds::bars(bars, labels),
        Picture::Week(inks, days) => kinds::week(inks, days, labels),
        Picture::Months(inks, months) => kinds::months(inks, months, labels),
        Picture::Imagined(facts, look) => {
            kinds::blanket(&facts.year, look, labels.imagined_title, labels.imagined_note, labels)
        }
    }
}
