//! One display list, three files: PNG, SVG, tagged PDF. The same list makes the same bytes.

mod canvas;
mod glyphs;
mod pdf;
mod png;
mod raster;
mod stitches;
mod svg;

pub use self::pdf::pdf;
pub use self::png::png;
pub(super) use self::stitches::hashed;
pub use self::svg::svg;

/// A picture that cannot be written. Not the maker's fault: no book leads here.
#[derive(Debug, thiserror::Error)]
pub enum DrawFault {
    #[error("{width} x {height} pixels are none or more than a picture may have")]
    Size { width: u32, height: u32 },
    #[error("the picture could not be written as PNG: {0}")]
    Png(String),
    #[error("the sheet could not be written as PDF: {0}")]
    Pdf(String),
}
