//! WHAT IS HANDED OUT: the maker's own book as tables that any program reads, and whole, to be
//! brought back.
//!
//! Pure. Column names are part of the format, so they are not in the maker's language; what the
//! maker wrote stands as they wrote it.

mod bounds;
mod csv;
mod form;
mod read;
mod tables;
mod write;

pub use read::{BYTES_MAX, EARLIER_MAX, ImportFault, read_book};
pub use tables::{day_table, row_table};
pub use write::book_file;
