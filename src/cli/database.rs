//! What does a host read when the database or the platform stops the bot?

use super::{Exit, Stop};
use crate::store::{LockError, StoreError};
use crate::telegram::error::WireError;

/// The database in the data folder.
pub const DATABASE: &str = "duskrow.db";

/// Gives the faults a host can mend their own exit code and a hint.
pub fn stopped_by(fault: anyhow::Error) -> anyhow::Error {
    let fault = of_the_lock(fault);
    let (exit, hint) = if let Some(error) = fault.downcast_ref::<StoreError>() {
        match error {
            StoreError::Missing => (Exit::Configuration, "name the data folder with --data"),
            StoreError::Corrupt(_) => {
                (Exit::Configuration, "keep the file, and put a backup in its place")
            }
            StoreError::NewerSchema { .. } => {
                (Exit::Configuration, "run the newer version of duskrow again")
            }
            StoreError::Full => (Exit::TryAgain, "make room on the disk"),
            StoreError::Busy => (Exit::TryAgain, "another program uses the database; try again"),
            StoreError::Unwritable(_) => {
                (Exit::Configuration, "let the user of the bot write to the data folder")
            }
            StoreError::Other(_) => return fault,
        }
    } else if let Some(LockError::Held { .. }) = fault.downcast_ref::<LockError>() {
        (Exit::TryAgain, "stop the other one first, or give this one its own --data")
    } else if let Some(WireError::Api { code: 401 | 404, .. }) = fault.downcast_ref::<WireError>() {
        (Exit::Configuration, "put the token the platform gave you into the token file")
    } else {
        return fault;
    };
    Stop { exit, message: format!("{fault:#}"), hints: vec![hint.to_owned()] }.into()
}

/// Where no lock can be made, nothing can be kept either: a host mends both in the same way.
fn of_the_lock(fault: anyhow::Error) -> anyhow::Error {
    match fault.downcast::<LockError>() {
        Ok(LockError::Io(error)) => match StoreError::from(error) {
            StoreError::Other(error) => error.context("the lock beside the database"),
            known @ (StoreError::Missing
            | StoreError::Corrupt(_)
            | StoreError::NewerSchema { .. }
            | StoreError::Full
            | StoreError::Busy
            | StoreError::Unwritable(_)) => known.into(),
        },
        Ok(held @ LockError::Held { .. }) => held.into(),
        Err(fault) => fault,
    }
}
