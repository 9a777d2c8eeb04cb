//! The bot as a person meets it: one test binary, one file for each side it is met from.
#![allow(clippy::unwrap_used, reason = "in a test, a panic is the report")]

mod host;
mod standin;
