//! One process a database: the lock held while the bot is served or a backup put back.
//!
//! The lock is the operating system's, on a file beside the database, so it ends with its holder
//! however that ends: a file left behind blocks nobody. The file says who holds it, and is never
//! removed, since that would let two in.

use std::fs::{File, OpenOptions, Permissions, TryLockError};
use std::io::{self, Read, Write};
use std::os::unix::fs::{OpenOptionsExt, PermissionsExt};
use std::path::Path;

use thiserror::Error;

use super::open::{beside, make_folder};

/// Held until dropped.
#[derive(Debug)]
pub struct Lock {
    _file: File,
}

#[derive(Debug, Error)]
pub enum LockError {
    #[error("{}", held_by(*.pid))]
    Held { pid: Option<u32> },
    #[error("the lock beside the database cannot be taken: {0}")]
    Io(#[from] io::Error),
}

impl Lock {
    /// Takes the lock of the database at `path`, or says at once who has it.
    ///
    /// # Errors
    /// [`LockError::Held`] with the id of the process that was first.
    pub fn take(path: &Path) -> Result<Lock, LockError> {
        if let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty()) {
            make_folder(folder)?;
        }
        let mut file = OpenOptions::new()
            .read(true)
            .write(true)
            .create(true)
            .truncate(false)
            .mode(0o600)
            .open(beside(path, ".lock"))?;
        match file.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => return Err(LockError::Held { pid: holder(&file) }),
            Err(TryLockError::Error(error)) => return Err(error.into()),
        }
        file.set_permissions(Permissions::from_mode(0o600))?;
        file.set_len(0)?;
        writeln!(file, "{}", std::process::id())?;
        Ok(Lock { _file: file })
    }
}

/// `None` in the moment between the lock and the name in it.
fn holder(mut file: &File) -> Option<u32> {
    let mut text = String::new();
    file.read_to_string(&mut text).ok()?;
    text.trim().parse().ok()
}

fn held_by(pid: Option<u32>) -> String {
    match pid {
        Some(pid) => format!("process {pid} holds the database"),
        None => "another process holds the database".to_owned(),
    }
}
