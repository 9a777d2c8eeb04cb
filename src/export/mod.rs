//! WHAT IS HANDED OUT: the maker's own book as tables that any program reads, and whole, to be
//! brought back.
//!
//! Pure. Column names are part of the format, so they are not in the maker's language; what the
//! maker wrote stands as they wrote it.

mod csv;
mod form;
mod read;
mod tables;
mod write;

pub use read::{BYTES_MAX, ImportFault, read_book};
pub use tables::{day_table, row_table};
pub use write::book_file;

/// A colour as in CSS.
fn hex([red, green, blue]: [u8; 3]) -> String {
    format!("#{red:02X}{green:02X}{blue:02X}")
}

/// `#D2CDA4`, and nothing else.
fn read_hex(text: &str) -> Option<[u8; 3]> {
    let digits = text.strip_prefix('#').filter(|digits| digits.len() == 6)?;
    let plain = digits.bytes().all(|byte| byte.is_ascii_hexdigit());
    let part = |at: usize| u8::from_str_radix(digits.get(at..at + 2)?, 16).ok();
    plain.then_some(())?;
    Some([part(0)?, part(2)?, part(4)?])
}
