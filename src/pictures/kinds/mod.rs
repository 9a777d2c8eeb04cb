//! The pictures, one file each. They place facts and words on a page; none reads a book.

mod arrow;
mod bars;
mod blanket;
mod block;
mod key;
mod months;
mod palette;
mod sheet;
mod sheet_row;
mod week;

pub use self::bars::bars;
pub use self::blanket::{Look, blanket};
pub use self::block::block;
pub use self::months::months;
pub use self::palette::{See, palette};
pub use self::sheet::sheet;
pub use self::week::week;
