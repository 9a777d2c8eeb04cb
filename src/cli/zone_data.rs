//! Which zone data does this process use: the system's, or the copy that is built in?

use std::fs::File;
use std::io::{BufRead, BufReader};
use std::path::Path;

use crate::blanket::calendar::{self, ZoneData, ZoneSource};

/// The system's zone data in this folder, if it says that it is newer than the copy built in.
/// Called once, before anything asks for a time.
pub fn use_zone_data(folder: &Path) {
    let version = version(folder);
    let system = folder.to_str().zip(version.as_deref());
    let data = ZoneData::newer(system);
    let source = match data.source() {
        ZoneSource::System => "the system",
        ZoneSource::Bundled => "this program",
    };
    tracing::info!(version = data.version(), source, "zone data");
    // A second call finds data in use, which stays.
    let _ = calendar::use_zone_data(data);
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
