//! Duskrow: a chat bot that asks each evening how the day was and turns the answers into the rows
//! of a year-long blanket.
//!
//! The rooms, from the inside out. An arrow means "may name":
//! `cli -> app -> { telegram -> wording -> { chat, pictures } -> blanket ; store -> chat, blanket ;
//! export -> blanket }`.
//! `rehearsal` stands beside `telegram` and knows only the wire.

pub mod app;
pub mod blanket;
pub mod chat;
pub mod cli;
pub mod clock;
pub mod config;
pub mod export;
pub mod logging;
pub mod pictures;
pub mod rehearsal;
pub mod store;
pub mod telegram;
pub mod wording;
