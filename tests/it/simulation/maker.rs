//! A maker: what they are like, what they have seen, and what the bot owes them.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike, NaiveDate, NaiveTime};
use chrono_tz::Tz;
use duskrow::blanket::{Hours, Plan, TierId};

use super::dice::Dice;
use super::eyes::Looked;
use super::model::Model;

/// Zones with half hours, midnight changes, the date line and none of these.
const ZONES: [Tz; 16] = [
    Tz::Europe__Lisbon,
    Tz::America__New_York,
    Tz::Asia__Kolkata,
    Tz::Asia__Kathmandu,
    Tz::Australia__Lord_Howe,
    Tz::Pacific__Chatham,
    Tz::Pacific__Kiritimati,
    Tz::Pacific__Pago_Pago,
    Tz::Africa__Cairo,
    Tz::America__Havana,
    Tz::America__Nuuk,
    Tz::Africa__Casablanca,
    Tz::Europe__Athens,
    Tz::America__St_Johns,
    Tz::Antarctica__Troll,
    Tz::UTC,
];

/// Messages of which a maker knows what they are about.
const DAYS_KEPT: usize = 100;

pub struct Maker {
    pub user: i64,
    pub hours: Hours,
    pub plan: Plan,
    pub model: Model,
    /// What was in the tables when the model was last held against them.
    pub looked: Looked,
    pub habits: Habits,
    /// The newest thing seen.
    pub seen: u64,
    /// The newest messages of the bot.
    pub messages: Vec<i64>,
    /// Which day a message is about now: one about a day becomes one about another.
    days: BTreeMap<i64, Option<NaiveDate>>,
    /// The messages that were typed as notes, and how many notes there were.
    pub notes: Vec<i64>,
    pub notes_written: u32,
    pub blocked: bool,
    /// Refusals since the bot was blocked.
    pub refusals: usize,
    /// Evening questions seen, by day.
    pub questions: BTreeMap<NaiveDate, usize>,
    /// Messages nobody asked for, by the day that was on.
    pub unasked: BTreeMap<NaiveDate, Vec<String>>,
    /// Texts that may come once more, since nobody knew whether they had arrived.
    pub repeats: BTreeMap<String, usize>,
    /// Days whose beginning or end was moved by newer zone data: what was queued for the day before
    /// may come on them too.
    pub moved: BTreeSet<NaiveDate>,
    /// Days whose question may be missing, for a reason that is not the bot's.
    pub excused: BTreeSet<NaiveDate>,
    /// The number of the last message claimed.
    pub claimed: i64,
}

/// So many times in a thousand.
pub struct Habits {
    pub answers: u64,
    pub taps: u64,
    pub at_once: u64,
    pub changes: u64,
    pub later: u64,
    pub writes: u64,
    pub works: u64,
    pub fiddles: u64,
    pub blocks: u64,
}

impl Maker {
    pub fn new(user: i64, hours: Hours, plan: Plan, model: Model, dice: &mut Dice) -> Maker {
        let mut up_to = |most: u64| dice.below(most);
        let habits = Habits {
            answers: 500 + up_to(500),
            taps: 300 + up_to(700),
            at_once: up_to(1000),
            changes: up_to(150),
            later: up_to(150),
            writes: up_to(300),
            works: up_to(300),
            fiddles: up_to(60),
            blocks: up_to(8),
        };
        Maker {
            user,
            hours,
            plan,
            model,
            looked: Looked::default(),
            habits,
            seen: 0,
            messages: Vec::new(),
            days: BTreeMap::new(),
            notes: Vec::new(),
            notes_written: 0,
            blocked: false,
            refusals: 0,
            questions: BTreeMap::new(),
            unasked: BTreeMap::new(),
            repeats: BTreeMap::new(),
            moved: BTreeSet::new(),
            excused: BTreeSet::new(),
            claimed: 0,
        }
    }

    pub fn shows(&mut self, message: i64, day: Option<NaiveDate>) {
        self.days.insert(message, day);
        if self.days.len() > DAYS_KEPT {
            self.days.pop_first();
        }
    }

    /// `Some(None)` where it is about something else by now.
    pub fn shown(&self, message: i64) -> Option<Option<NaiveDate>> {
        self.days.get(&message).copied()
    }

    /// Words nobody else uses.
    pub fn note(&mut self) -> String {
        self.notes_written += 1;
        format!("zebra {} number {}", self.user, self.notes_written)
    }
}

pub fn zone(dice: &mut Dice) -> Tz {
    match dice.permille(700) {
        true => dice.one_of(&ZONES),
        false => dice.one_of(&chrono_tz::TZ_VARIANTS),
    }
}

pub fn time(dice: &mut Dice) -> NaiveTime {
    let minute = u32::try_from(dice.below(24 * 12)).unwrap() * 5;
    NaiveTime::from_hms_opt(minute / 60, minute % 60, 0).unwrap()
}

pub fn label(tier: TierId) -> &'static str {
    let tiers = duskrow::wording::en::LEXICON.first_scale.tiers;
    tiers[usize::from(tier.0) - 1].0
}

pub fn tier(dice: &mut Dice) -> TierId {
    TierId(u8::try_from(1 + dice.below(7)).unwrap())
}

/// "Thursday 14 January" in a text, as the day nearest to `near`.
pub fn day_in(text: &str, near: NaiveDate) -> Option<NaiveDate> {
    let words: Vec<&str> = text.split(|c: char| !c.is_alphanumeric()).collect();
    let spoken = words.windows(3).find_map(|three| {
        let number: u32 = three[1].parse().ok()?;
        let month = chrono::Month::try_from(1).ok()?;
        let months = std::iter::successors(Some(month), |month| Some(month.succ())).take(12);
        let month = months.into_iter().find(|month| month.name() == three[2])?;
        Some((three[0].to_owned(), number, month.number_from_month()))
    });
    let (weekday, number, month) = spoken?;
    let years = [near.year() - 1, near.year(), near.year() + 1];
    let days = years.iter().filter_map(|year| NaiveDate::from_ymd_opt(*year, month, number));
    days.filter(|day| day.format("%A").to_string() == weekday)
        .min_by_key(|day| (*day - near).num_days().abs())
}

pub fn spoken(day: NaiveDate) -> String {
    day.format("%A %-d %B").to_string()
}
