//! The bot as a person meets it, and the file it keeps.

mod store;
