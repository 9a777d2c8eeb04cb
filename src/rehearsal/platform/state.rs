//! What outlives the process when a rehearsal is kept: people, chats, the queue, the instant.
//!
//! Written whole to a new file that then takes the old one's place, readable by its owner only.

use std::collections::BTreeMap;
use std::fs::{self, OpenOptions};
use std::io::{ErrorKind, Write};
use std::os::unix::fs::OpenOptionsExt;
use std::path::Path;

use anyhow::{Context, Result};
use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::chats::{Chat, Person};
use super::dice::Dice;
use super::files::Files;
use super::queue::Queue;

#[derive(Serialize, Deserialize)]
pub struct State {
    pub instant: DateTime<Utc>,
    pub people: BTreeMap<i64, Person>,
    pub chats: BTreeMap<i64, Chat>,
    pub queue: Queue,
    /// Taps that can still be answered, by query id.
    pub queries: BTreeMap<String, Query>,
    /// Command lists by scope and language.
    pub commands: BTreeMap<String, Value>,
    pub files: Files,
    pub dice: Dice,
}

/// A tap that waits for its answer.
#[derive(Serialize, Deserialize)]
pub struct Query {
    pub at: DateTime<Utc>,
    pub chat: i64,
    pub message: i64,
}

/// A kept rehearsal, read back: give it to the stand-in that goes on from there.
pub struct Kept(pub(super) State);

impl Kept {
    /// None when nothing was kept there yet.
    pub fn read(path: &Path) -> Result<Option<Kept>> {
        let text = match fs::read(path) {
            Err(missing) if missing.kind() == ErrorKind::NotFound => return Ok(None),
            read => read.with_context(|| format!("cannot read {}", path.display()))?,
        };
        let state = serde_json::from_slice(&text)
            .with_context(|| format!("{} is no kept rehearsal", path.display()))?;
        Ok(Some(Kept(state)))
    }

    /// Where the clock stood when it was kept.
    pub fn instant(&self) -> DateTime<Utc> {
        self.0.instant
    }
}

impl State {
    pub fn new(seed: u64, instant: DateTime<Utc>) -> State {
        let mut dice = Dice::new(seed);
        State {
            instant,
            people: BTreeMap::new(),
            chats: BTreeMap::new(),
            queue: Queue::new(&mut dice),
            queries: BTreeMap::new(),
            commands: BTreeMap::new(),
            files: Files::default(),
            dice,
        }
    }

    pub fn save(&self, path: &Path) -> Result<()> {
        let text = serde_json::to_vec(self)?;
        replace(path, &text).with_context(|| format!("cannot write {}", path.display()))
    }
}

fn replace(path: &Path, content: &[u8]) -> std::io::Result<()> {
    let mut name = path.file_name().unwrap_or_default().to_owned();
    name.push(".part");
    let part = path.with_file_name(name);
    // A part left by a crash may have other permissions: never write into it.
    match fs::remove_file(&part) {
        Err(why) if why.kind() != ErrorKind::NotFound => return Err(why),
        Ok(()) | Err(_) => {}
    }
    let mut file = OpenOptions::new().write(true).create_new(true).mode(0o600).open(&part)?;
    file.write_all(content)?;
    file.sync_all()?;
    fs::rename(&part, path)
}

#[cfg(test)]
mod tests {
    use std::os::unix::fs::PermissionsExt;

    use super::*;

    #[test]
    fn a_kept_state_is_replaced_whole_and_only_its_owner_reads_it() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("kept.json");
        assert!(Kept::read(&path).unwrap().is_none());
        fs::write(folder.path().join("kept.json.part"), "left by a crash").unwrap();
        for seconds in [5, 6] {
            let at = DateTime::from_timestamp(seconds, 0).unwrap();
            State::new(1, at).save(&path).unwrap();
            assert_eq!(Kept::read(&path).unwrap().unwrap().instant(), at);
        }
        assert_eq!(fs::metadata(&path).unwrap().permissions().mode() & 0o777, 0o600);
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_file_that_is_something_else_is_refused_and_named() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("notes.json");
        fs::write(&path, "{}").unwrap();
        let Err(why) = Kept::read(&path) else { panic!("read as a rehearsal") };
        assert!(why.to_string().ends_with("notes.json is no kept rehearsal"));
    }
}
