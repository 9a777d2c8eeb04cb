//! What is kept: one SQLite file with every maker's books, what is still to be said to them, and
//! which updates were seen.
//!
//! Loads a maker whole and commits what one event changed in one transaction. Never decides what
//! a book means, never words or sends anything, never reads the clock.

mod codes;
mod commit;
mod entries;
mod error;
mod freshness;
mod history;
mod hosting;
mod invitations;
mod load;
mod lock;
mod makers;
mod moves;
mod open;
mod outbox;
mod sent_files;
mod updates;
mod write;

pub use commit::{Commit, Committed, Reach};
pub use error::{Result, StoreError};
pub use freshness::{Freshness, Stale};
pub use hosting::Listed;
pub use invitations::{InvitationCode, Invited, Join, Joined};
pub use load::Stored;
pub use lock::{Lock, LockError};
pub use makers::Sleeper;
pub use open::{Connection, Create, Store};
pub use outbox::{Action, Claimed, Lane, Queued, QueuedPlace, Settled};
pub use sent_files::FileHash;
pub use updates::FailedUpdate;

/// A maker's name for life: never reused, even after they are erased.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct MakerId(pub i64);

/// A maker's private chat with the bot.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct ChatId(pub i64);

/// A message waiting to be sent: never reused.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct OutboxId(pub i64);
