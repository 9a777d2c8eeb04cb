//! What can go wrong with the file, told apart only where a caller does something else about it.
//!
//! Never carries what a maker wrote: SQLite's own messages name tables and columns, not values.

use std::io;

use thiserror::Error;

pub type Result<T> = std::result::Result<T, StoreError>;

#[derive(Debug, Error)]
pub enum StoreError {
    #[error("there is no database yet")]
    Missing,
    /// Nothing was written to the file, and no other was made in its place.
    #[error("the database is damaged: {0}")]
    Corrupt(String),
    #[error("the database was written by a newer version: its schema is {found}, known is {known}")]
    NewerSchema { found: i64, known: i64 },
    /// Nothing of the transaction was kept; the same call may succeed once there is space.
    #[error("there is no space left for the database")]
    Full,
    #[error("the database is in use by another program")]
    Busy,
    #[error("the database or its folder cannot be written: {0}")]
    Unwritable(String),
    #[error(transparent)]
    Other(#[from] anyhow::Error),
}

impl StoreError {
    /// Whether the same call may succeed later: the disk is full or out of reach, or somebody else
    /// writes. What a row or our own request makes impossible stays so.
    pub fn may_pass(&self) -> bool {
        match self {
            StoreError::Full | StoreError::Busy | StoreError::Unwritable(_) => true,
            StoreError::Missing | StoreError::Corrupt(_) | StoreError::NewerSchema { .. } => false,
            StoreError::Other(error) => match error.downcast_ref::<sqlx::Error>() {
                Some(sqlx::Error::Database(error)) => {
                    let code = error.code().and_then(|code| code.parse::<u32>().ok());
                    code.map(|code| code & 0xff) == Some(sqlite::IOERR)
                }
                Some(sqlx::Error::Io(_) | sqlx::Error::WorkerCrashed) => true,
                Some(_) | None => error.downcast_ref::<io::Error>().is_some(),
            },
        }
    }

    /// A row says what no row of ours can say. `what` names the column, never its value.
    pub(super) fn impossible(what: &'static str) -> StoreError {
        StoreError::Corrupt(format!("{what} cannot be read"))
    }
}

impl From<sqlx::Error> for StoreError {
    fn from(error: sqlx::Error) -> StoreError {
        if matches!(error, sqlx::Error::PoolTimedOut) {
            return StoreError::Busy;
        }
        let database = error.as_database_error();
        let code = database.and_then(|error| error.code()?.parse::<u32>().ok());
        let message = || database.map_or_else(String::new, |error| error.message().to_owned());
        match code.map(|code| (code, code & 0xff)) {
            // A shared-memory file that cannot grow is a full disk as well.
            Some((_, sqlite::FULL) | (sqlite::IOERR_SHMSIZE, _)) => StoreError::Full,
            Some((_, sqlite::BUSY | sqlite::LOCKED)) => StoreError::Busy,
            Some((_, sqlite::CORRUPT | sqlite::NOTADB)) => StoreError::Corrupt(message()),
            Some((_, sqlite::PERM | sqlite::READONLY | sqlite::CANTOPEN)) => {
                StoreError::Unwritable(message())
            }
            Some(_) | None => StoreError::Other(error.into()),
        }
    }
}

impl From<sqlx::migrate::MigrateError> for StoreError {
    fn from(error: sqlx::migrate::MigrateError) -> StoreError {
        use sqlx::migrate::MigrateError;
        match error {
            MigrateError::Execute(error) | MigrateError::ExecuteMigration(error, _) => error.into(),
            other => StoreError::Other(other.into()),
        }
    }
}

impl From<io::Error> for StoreError {
    fn from(error: io::Error) -> StoreError {
        match error.kind() {
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => StoreError::Full,
            io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => {
                StoreError::Unwritable(error.to_string())
            }
            _ => StoreError::Other(error.into()),
        }
    }
}

/// Result codes of SQLite (<https://www.sqlite.org/rescode.html>).
mod sqlite {
    pub const PERM: u32 = 3;
    pub const BUSY: u32 = 5;
    pub const LOCKED: u32 = 6;
    pub const READONLY: u32 = 8;
    pub const CORRUPT: u32 = 11;
    pub const FULL: u32 = 13;
    pub const CANTOPEN: u32 = 14;
    pub const NOTADB: u32 = 26;
    pub const IOERR: u32 = 10;
    pub const IOERR_SHMSIZE: u32 = IOERR | (19 << 8);
}
