//! How do requests reach the platform, and what can go wrong on the way?
//!
//! One function answers every request, whether it came over a socket or from the same process.

mod answer;
mod body;
mod faults;
mod listen;
mod log;

pub use answer::{Call, DOWNLOAD, Desk, Reply, Shared};
pub use faults::{ANY, Fault};
pub use listen::Listening;
pub use log::{Log, Logged};
