//! Which zone does a typed city, a country or a clock reading mean?
//!
//! Cities are the last part of a zone's name; countries and their zones come from `zone1970.tab`
//! and `iso3166.tab`, zones that agree from now on from `zonenow.tab` (IANA time zone database
//! 2026f, public domain).

use chrono::{DateTime, NaiveTime, TimeDelta, Utc};
use chrono_tz::{TZ_VARIANTS, Tz};
use icu_normalizer::DecomposingNormalizerBorrowed;

use super::calendar;

const ZONES_1970: &str = include_str!("data/zone1970.tab");
const ZONES_NOW: &str = include_str!("data/zonenow.tab");
const COUNTRIES: &str = include_str!("data/iso3166.tab");

/// The most places offered at once.
pub const PLACES_MAX: usize = 8;
/// The most places offered for one country: none has more clocks.
const CLOCKS_MAX: usize = 12;

/// A wrist watch may be a few minutes off.
const CLOCK_SLACK_MINUTES: i64 = 10;
const DAY_MINUTES: i64 = 24 * 60;

/// What a typed place was found to mean.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Found {
    Zone(Tz),
    /// A country with several zones, the most populous first, and its name.
    Country(String, Vec<Tz>),
    /// Nothing by that name, but one name is this close.
    Near(Tz),
    Nothing,
}

/// The zone of a typed city, else of a country, else a city spelt almost like that. Of "Lisbon,
/// Portugal" the city counts.
pub fn find(typed: &str) -> Found {
    let whole = find_name(typed);
    match (whole, typed.split_once(',')) {
        (Found::Nothing, Some((city, _))) => find_name(city),
        (whole, _) => whole,
    }
}

fn find_name(typed: &str) -> Found {
    let wanted = fold(typed);
    if wanted.is_empty() {
        return Found::Nothing;
    }
    if let Some(zone) =
        cities().find(|zone| fold(zone.name()) == wanted || city_key(*zone) == wanted)
    {
        return Found::Zone(zone);
    }
    if let Some((code, name)) = country(&wanted) {
        match zones_of(code).as_slice() {
            [] => {}
            [zone] => return Found::Zone(*zone),
            zones => return Found::Country(name.to_owned(), zones.to_vec()),
        }
    }
    near(&wanted).map_or(Found::Nothing, Found::Near)
}

/// One of those zones whose clocks agree in the year from `now` on, for each clock: the one that
/// stands for others, if any.
pub fn apart(zones: &[Tz], now: DateTime<Utc>) -> Vec<Tz> {
    let clocks = |zone: Tz| {
        let at = move |month: i64| calendar::local(zone, now + TimeDelta::days(30 * month));
        (0..=12).map(at).collect::<Vec<_>>()
    };
    let mut known = Vec::new();
    let standing: Vec<&str> = rows(ZONES_NOW).filter_map(|fields| fields.get(2).copied()).collect();
    let mut apart = zones.to_vec();
    apart.sort_by_key(|zone| !standing.contains(&zone.name()));
    apart.retain(|zone| {
        let clocks = clocks(*zone);
        let new = !known.contains(&clocks);
        known.extend(new.then_some(clocks));
        new
    });
    apart.truncate(CLOCKS_MAX);
    apart
}

/// Zones whose clocks read about `time` at `now`, one of each set that agrees from now on.
pub fn reading(time: NaiveTime, now: DateTime<Utc>) -> Vec<Tz> {
    let zones = rows(ZONES_NOW).filter_map(|fields| fields.get(2)?.parse::<Tz>().ok());
    let near = |zone: &Tz| {
        let there = calendar::local(*zone, now).time();
        let apart = (there - time).num_minutes().rem_euclid(DAY_MINUTES);
        apart.min(DAY_MINUTES - apart) <= CLOCK_SLACK_MINUTES
    };
    zones.filter(near).take(PLACES_MAX).collect()
}

/// The city a zone is named after, in plain letters.
pub fn city(zone: Tz) -> String {
    zone.name().rsplit('/').next().unwrap_or_default().replace('_', " ")
}

/// Zones named after places: those people live by today first, then the older names.
fn cities() -> impl Iterator<Item = Tz> {
    let living = rows(ZONES_1970).filter_map(|fields| fields.get(2)?.parse::<Tz>().ok());
    let all = TZ_VARIANTS.iter().copied().filter(|zone| is_place(zone.name()));
    living.chain(all)
}

fn is_place(name: &str) -> bool {
    name.contains('/') && !["Etc/", "US/", "SystemV/"].iter().any(|area| name.starts_with(area))
}

fn city_key(zone: Tz) -> String {
    fold(&city(zone))
}

/// Names people use for countries that `iso3166.tab` calls otherwise.
const USUAL_NAMES: [(&str, &str); 9] = [
    ("usa", "US"),
    ("united states of america", "US"),
    ("america", "US"),
    ("uk", "GB"),
    ("united kingdom", "GB"),
    ("great britain", "GB"),
    ("england", "GB"),
    ("scotland", "GB"),
    ("wales", "GB"),
];

fn country(wanted: &str) -> Option<(&'static str, &'static str)> {
    let usual = USUAL_NAMES.iter().find(|(name, _)| *name == wanted);
    let wanted = usual.map_or(wanted, |(_, code)| code);
    let named = |fields: &Vec<&'static str>| {
        let [code, name, ..] = fields.as_slice() else { return None };
        let short = name.split(" (").next().unwrap_or(name);
        let is_code = code.len() == wanted.len() && code.eq_ignore_ascii_case(wanted);
        (is_code || fold(name) == wanted || fold(short) == wanted).then_some((*code, short))
    };
    rows(COUNTRIES).find_map(|fields| named(&fields))
}

/// The zones of a country: those where it is named first, then those it shares.
fn zones_of(code: &str) -> Vec<Tz> {
    let (mut own, mut shared) = (Vec::new(), Vec::new());
    for fields in rows(ZONES_1970) {
        let [codes, _, name, ..] = fields.as_slice() else { continue };
        let Ok(zone) = name.parse::<Tz>() else { continue };
        match codes.split(',').position(|each| each == code) {
            Some(0) => own.push(zone),
            Some(_) => shared.push(zone),
            None => {}
        }
    }
    own.append(&mut shared);
    own
}

fn near(wanted: &str) -> Option<Tz> {
    let letters = wanted.chars().count();
    let slips_max = match letters {
        ..4 => return None,
        4..7 => 1,
        7.. => 2,
    };
    // There are as many slips, at least, as one word is longer than the other.
    let as_long = |key: &str| key.chars().count().abs_diff(letters) <= slips_max;
    cities()
        .map(|zone| (city_key(zone), zone))
        .filter(|(key, _)| as_long(key))
        .map(|(key, zone)| (slips(wanted, &key), zone))
        .filter(|(slips, _)| *slips <= slips_max)
        .min_by_key(|(slips, _)| *slips)
        .map(|(_, zone)| zone)
}

/// Letters added, left out, changed or swapped with a neighbour between two words (optimal string
/// alignment distance).
pub(super) fn slips(a: &str, b: &str) -> usize {
    let (a, b): (Vec<char>, Vec<char>) = (a.chars().collect(), b.chars().collect());
    let mut table = vec![vec![0; b.len() + 1]; a.len() + 1];
    for i in 0..=a.len() {
        for j in 0..=b.len() {
            table[i][j] = if i == 0 || j == 0 {
                i + j
            } else {
                let changed = table[i - 1][j - 1] + usize::from(a[i - 1] != b[j - 1]);
                let swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
                let best = changed.min(table[i - 1][j] + 1).min(table[i][j - 1] + 1);
                if swapped { best.min(table[i - 2][j - 2] + 1) } else { best }
            };
        }
    }
    table[a.len()][b.len()]
}

/// Small letters without accents, words apart by one space.
fn fold(text: &str) -> String {
    let plain = DecomposingNormalizerBorrowed::new_nfd().normalize(text);
    let kept = |c: char| (!matches!(c, '\u{300}'..='\u{36F}')).then_some(c);
    let spaced: String =
        plain.chars().filter_map(kept).flat_map(char::to_lowercase).map(word_char).collect();
    spaced.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn word_char(c: char) -> char {
    if c.is_alphanumeric() { c } else { ' ' }
}

fn rows(table: &'static str) -> impl Iterator<Item = Vec<&'static str>> {
    table
        .lines()
        .filter(|line| !line.starts_with('#') && !line.is_empty())
        .map(|line| line.split('\t').collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_typed_place_is_a_city_else_a_country_else_a_near_miss() {
        let zone = |name: &str| name.parse::<Tz>().unwrap();
        let cases = [
            ("Lisbon", Found::Zone(zone("Europe/Lisbon"))),
            (" são  paulo ", Found::Zone(zone("America/Sao_Paulo"))),
            ("europe/lisbon", Found::Zone(zone("Europe/Lisbon"))),
            ("Oslo", Found::Zone(zone("Europe/Oslo"))),
            ("Lisbon, Portugal", Found::Zone(zone("Europe/Lisbon"))),
            ("Japan", Found::Zone(zone("Asia/Tokyo"))),
            ("England", Found::Zone(zone("Europe/London"))),
            ("FR", Found::Zone(zone("Europe/Paris"))),
            ("Lisbn", Found::Near(zone("Europe/Lisbon"))),
            ("Porto Velho", Found::Zone(zone("America/Porto_Velho"))),
            ("Zzyzx Springs", Found::Nothing),
            ("GMT", Found::Nothing),
            ("🧶🧶", Found::Nothing),
            ("", Found::Nothing),
        ];
        for (typed, expected) in cases {
            assert_eq!(find(typed), expected, "{typed:?}");
        }
        let Found::Country(name, zones) = find("portugal") else { panic!("not a country") };
        assert_eq!(name, "Portugal");
        assert_eq!(zones.len(), 3);
        assert_eq!(zones[0], zone("Europe/Lisbon"));
    }

    #[test]
    fn a_clock_reading_offers_the_zones_that_show_it() {
        // Sydney is at UTC+11 in January (IANA: AEDT until the first Sunday of April).
        let now = DateTime::from_timestamp(1_800_000_000, 0).unwrap();
        let sydney: Tz = "Australia/Sydney".parse().unwrap();
        let there = calendar::local(sydney, now).time();
        let zones = reading(there, now);
        assert!(zones.contains(&sydney), "{zones:?}");
        for zone in zones {
            let apart = (calendar::local(zone, now).time() - there).num_minutes();
            assert!(apart.abs() <= CLOCK_SLACK_MINUTES, "{zone}");
        }
    }
}
