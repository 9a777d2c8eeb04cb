//! Which zone data does this process use: the system's, or the copy that is built in? And whose
//! wakes were derived from other data, and have to be derived anew?

use std::fs::File;
use std::io::{BufRead, BufReader};
use std::path::Path;

use super::App;
use super::thought::Thought;
use crate::blanket::calendar::{self, ZoneData, ZoneSource};
use crate::chat::event::UserId;

/// Makers looked at in one go, so that whoever is due goes between.
const AT_ONCE: u32 = 64;

/// The system's zone data in this folder, if it says that it is newer than the copy built in.
/// Says in the log which one it is, where that is new.
pub(super) fn use_newer(folder: &Path) {
    let version = version(folder);
    let system = folder.to_str().zip(version.as_deref());
    let data = ZoneData::newer(system);
    if calendar::zone_data().version() == data.version() {
        return;
    }
    let source = match data.source() {
        ZoneSource::System => "the system",
        ZoneSource::Bundled => "this program",
    };
    tracing::info!(version = data.version(), source, "zone data");
    calendar::use_zone_data(data);
}

/// What wakes were derived from: the program and the zone data. Of another stamp, they have to be
/// derived anew.
pub(super) fn stamp() -> String {
    format!("{} {}", env!("CARGO_PKG_VERSION"), calendar::zone_data().version())
}

impl App {
    /// Looks whether the system has newer zone data by now, and whether wakes were derived from
    /// other rules than today's.
    ///
    /// # Errors
    /// A fault of the database.
    pub async fn wakes_are_stale(&self) -> anyhow::Result<bool> {
        if let Some(folder) = &self.zoneinfo {
            use_newer(folder);
        }
        Ok(self.store.wakes_stamp().await?.is_none_or(|kept| kept != stamp()))
    }

    /// Derives anew when each maker wakes, a few at a time, the soonest first.
    ///
    /// # Errors
    /// A fault of the database; the next start or the next day begins again.
    pub async fn derive_wakes(&self) -> anyhow::Result<()> {
        let stamp = stamp();
        let mut after = None;
        loop {
            let some = self.store.sleepers(after, AT_ONCE).await?;
            let Some(last) = some.last().copied() else { break };
            for sleeper in some {
                self.derive_wake(sleeper.user()).await?;
            }
            after = Some(last);
            self.woken.notify_one();
            tokio::task::yield_now().await;
        }
        self.store.set_wakes_stamp(&stamp).await?;
        tracing::info!(stamp, "wakes were derived anew");
        Ok(())
    }

    async fn derive_wake(&self, user: UserId) -> anyhow::Result<()> {
        let stored = match self.store.load(user).await {
            Ok(Some(stored)) => stored,
            Ok(None) => return Ok(()),
            Err(error) if error.may_pass() => return Err(error.into()),
            Err(error) => {
                tracing::error!(%error, "a book could not be read");
                return Ok(());
            }
        };
        let Ok(wake) = Thought::next_wake(&stored.maker, self.now()) else { return Ok(()) };
        // One that was changed meanwhile was derived from the rules of today.
        self.store.set_wake(stored.id, stored.revision, wake.map(|(at, _)| at)).await?;
        Ok(())
    }
}

/// The release a zone folder says it is, from the first line of `tzdata.zi`.
fn version(folder: &Path) -> Option<String> {
    let file = File::open(folder.join("tzdata.zi")).ok()?;
    let mut line = String::new();
    BufReader::new(file).read_line(&mut line).ok()?;
    Some(line.strip_prefix("# version ")?.trim().to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_release_is_read_from_the_first_line_of_the_folder() {
        let folder = tempfile::tempdir().unwrap();
        assert_eq!(version(folder.path()), None);
        let file = folder.path().join("tzdata.zi");
        std::fs::write(&file, "# version 2026f\n# redo posix_only\n").unwrap();
        assert_eq!(version(folder.path()).as_deref(), Some("2026f"));
        std::fs::write(&file, "R A 1 o - Ja 1 0 0 -\n").unwrap();
        assert_eq!(version(folder.path()), None);
    }
}
