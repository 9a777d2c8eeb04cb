//! How can the whole bot be met without an account? A strict stand-in for the platform, a
//! person's side to write and tap with, and a player for scripted evenings.
//!
//! Knows only the wire and the clock; names no other room of the house, so that nothing the bot
//! believes about the platform can leak into what it is tested against.
//!
//! - [`StandIn`]: the server, its faults, its request log; `person` adds what a person can do
//! - [`Seen`]: what a person saw, in order
//! - [`script`], [`player`], [`transcript`]: lines in, an evening played, a transcript out

mod http;
mod person;
mod platform;
pub mod player;
pub mod script;
mod seen;
mod stand_in;
pub mod transcript;

pub use http::{ANY, Call, DOWNLOAD, Fault, Logged, Reply};
pub use platform::{Kept, Limits, Other, Person, TapError, Upload};
pub use seen::{Seen, SeenFile, SeenKind, Span, Speaker};
pub use stand_in::{Settings, StandIn, TOKEN};
