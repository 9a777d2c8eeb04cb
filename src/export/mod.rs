//! WHAT IS HANDED OUT: the maker's own book as tables that any program reads.
//!
//! Pure. Column names are part of the format, so they are not in the maker's language; what the
//! maker wrote stands as they wrote it.

mod csv;
mod tables;

pub use tables::{day_table, row_table};
