//! When did the running bot last hear from the platform, and when did it last look at what is
//! due? A small file beside the database, so that another process can tell whether the bot works.
//!
//! Holds two instants and nothing of any maker. Never says what to do about it.

use std::fs::{self, OpenOptions};
use std::io::{self, Write};
use std::os::unix::fs::OpenOptionsExt;
use std::path::{Path, PathBuf};

use chrono::{DateTime, TimeDelta, Utc};
use serde::{Deserialize, Serialize};

use super::open::{beside, remove};

/// A poll may wait 50 s, is given up after 60 s, and is written down up to 15 s late: three times
/// the wait is long enough for a healthy bot, and for one that has just mended itself.
const FRESH_FOR: TimeDelta = TimeDelta::seconds(150);

/// By the wall clock; `None` before the first of its kind.
#[derive(Clone, Copy, PartialEq, Eq, Default, Debug, Serialize, Deserialize)]
pub struct Freshness {
    /// The last poll that brought an answer of the platform.
    pub polled_at: Option<DateTime<Utc>>,
    /// The last look at what is due that succeeded.
    pub ticked_at: Option<DateTime<Utc>>,
}

/// What has not happened for too long, and when it last did.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Stale {
    Polling(Option<DateTime<Utc>>),
    Ticking(Option<DateTime<Utc>>),
}

impl Freshness {
    /// What is stale at `now`, polling first. An instant far ahead was written by a clock that has
    /// been set since, and says as little as one long ago.
    pub fn stale(&self, now: DateTime<Utc>) -> Option<Stale> {
        let fresh = |at: Option<DateTime<Utc>>| at.is_some_and(|at| (now - at).abs() <= FRESH_FOR);
        if !fresh(self.polled_at) {
            return Some(Stale::Polling(self.polled_at));
        }
        (!fresh(self.ticked_at)).then_some(Stale::Ticking(self.ticked_at))
    }

    /// Replaces the record beside `database`. A reader finds the old one or the new one, whole.
    ///
    /// # Errors
    /// Those of the file; the old record stays.
    pub fn write(&self, database: &Path) -> io::Result<()> {
        let (path, new) = (record(database), beside(database, ".fresh.new"));
        let mut options = OpenOptions::new();
        options.write(true).create(true).truncate(true).mode(0o600);
        let written = options
            .open(&new)
            .and_then(|mut file| file.write_all(&serde_json::to_vec(self)?))
            .and_then(|()| fs::rename(&new, &path));
        if written.is_err() {
            let _ = remove(&new);
        }
        written
    }

    /// The record beside `database`; `None` where no bot is running or none has begun to.
    ///
    /// # Errors
    /// Those of the file, and where it holds something else.
    pub fn read(database: &Path) -> io::Result<Option<Freshness>> {
        match fs::read(record(database)) {
            Ok(bytes) => Ok(Some(serde_json::from_slice(&bytes)?)),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
            Err(error) => Err(error),
        }
    }

    /// Takes the record away: the bot has ended.
    ///
    /// # Errors
    /// Those of the file.
    pub fn forget(database: &Path) -> io::Result<()> {
        remove(&record(database))
    }
}

fn record(database: &Path) -> PathBuf {
    beside(database, ".fresh")
}

#[cfg(test)]
mod tests {
    use std::os::unix::fs::PermissionsExt;

    use super::*;

    fn at(seconds: i64) -> DateTime<Utc> {
        DateTime::UNIX_EPOCH + TimeDelta::seconds(seconds)
    }

    #[test]
    fn fresh_is_what_happened_within_three_waits_of_a_poll() {
        let check = |polled: Option<i64>, ticked: Option<i64>, stale: Option<Stale>| {
            let freshness = Freshness { polled_at: polled.map(at), ticked_at: ticked.map(at) };
            assert_eq!(freshness.stale(at(1000)), stale, "{freshness:?}");
        };
        check(Some(1000), Some(1000), None);
        check(Some(850), Some(850), None);
        check(Some(849), Some(1000), Some(Stale::Polling(Some(at(849)))));
        check(Some(1000), Some(849), Some(Stale::Ticking(Some(at(849)))));
        check(Some(1151), Some(1000), Some(Stale::Polling(Some(at(1151)))));
        check(None, Some(1000), Some(Stale::Polling(None)));
        check(Some(1000), None, Some(Stale::Ticking(None)));
    }

    #[test]
    fn a_record_is_read_back_replaced_whole_and_taken_away() {
        let folder = tempfile::tempdir().unwrap();
        let database = folder.path().join("duskrow.db");
        assert_eq!(Freshness::read(&database).unwrap(), None);
        let first = Freshness { polled_at: None, ticked_at: Some(at(5)) };
        let second = Freshness { polled_at: Some(at(7)), ticked_at: Some(at(6)) };
        for freshness in [first, second] {
            freshness.write(&database).unwrap();
            assert_eq!(Freshness::read(&database).unwrap(), Some(freshness));
        }
        let files = fs::read_dir(folder.path()).unwrap().map(|entry| entry.unwrap().path());
        let files: Vec<PathBuf> = files.collect();
        assert_eq!(files, [record(&database)]);
        assert_eq!(fs::metadata(&files[0]).unwrap().permissions().mode() & 0o777, 0o600);
        fs::write(&files[0], "{").unwrap();
        assert!(Freshness::read(&database).is_err());
        Freshness::forget(&database).unwrap();
        Freshness::forget(&database).unwrap();
        assert_eq!(Freshness::read(&database).unwrap(), None);
    }
}
