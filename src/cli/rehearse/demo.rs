//! The blanket a rehearsal opens on: invented, half done, the same every time.
//!
//! Maren lives in a harbour town and works a blanket through 2027, 32 rows a block, fillers after
//! the last day. It is the afternoon of 15 July; two days of the week before are open, and the
//! work stands in June.

use chrono::{DateTime, Days, NaiveDate, NaiveTime, TimeDelta, Utc};
use chrono_tz::Tz;

use crate::blanket::stock::{Entry, EntryKind, Tenths};
use crate::blanket::{Beginning, BlockNumber, Book, Change, Hours, How, Pieces, Plan, RowNumber};
use crate::blanket::{Note, NoteId, NoteText, Nudges, Reminders, TierId, YarnId, workable};
use crate::chat::{beginning, day_turns_at_default};
use crate::wording::en::LEXICON;

/// Each day's tier from 1 January 2027, 1 the lowest; a dot is an open day.
const DAYS: [&str; 7] = [
    "5343234333334234535434234444435",
    "4324566554434233645443454444",
    "5234444334544665442124444455454",
    "345423443254455577542557544544",
    "4434445445677565443456344576654",
    "453444444344344766545532346434",
    "34545333..5666",
];

/// Whole blocks worked, and rows worked of the next.
const BLOCKS_WORKED: u16 = 5;
const ROWS_WORKED: u16 = 14;

pub const ZONE: Tz = Tz::Europe__Lisbon;

/// The first day of the blanket.
pub fn first_day() -> NaiveDate {
    day(2027, 1, 1)
}

/// The day the rehearsal begins on.
pub fn today() -> NaiveDate {
    day(2027, 7, 15)
}

/// Everything that happened to the demo blanket, in order.
pub fn changes() -> Vec<Change> {
    let mut changes = vec![Change::Began(Box::new(begin()))];
    let mut book = Book::begin(&begin());
    for (date, tier) in answers() {
        let at = at(date, 21, 5);
        changes.push(Change::Asked { day: date, at: at - TimeDelta::minutes(5) });
        if let Some(tier) = tier {
            changes.push(Change::Answered { day: date, tier, how: How::Answered, at });
        }
    }
    for change in &changes {
        book.apply(change);
    }
    for number in 1..=BLOCKS_WORKED + 1 {
        let block = BlockNumber(number);
        let rows = if number <= BLOCKS_WORKED { book.plan().rows_max() } else { ROWS_WORKED };
        let Some(yarns) = workable(&book, block, RowNumber(rows)) else { break };
        let worked_on = book.plan().block(block).map_or(today(), |block| block.last_day);
        let change = Change::Worked { block, yarns, at: at(worked_on, 15, 0) };
        book.apply(&change);
        changes.push(change);
        for (yarn, kind) in weighed_after(number) {
            let entry = Entry { kind, rows: book.rows_in(yarn), at: at(worked_on, 15, 30) };
            changes.push(Change::Stocked { yarn, entry });
        }
    }
    let text = NoteText::parse("Ferry to the island, back at dusk.");
    if let Ok(text) = text {
        let note = Note { id: NoteId(1), text };
        changes.push(Change::Noted { day: day(2027, 7, 9), note });
    }
    let asked = Reminders { nudges: Nudges::On, ..Reminders::default() };
    changes.push(Change::RemindersSet(asked));
    changes.push(Change::Nudged { on: today() });
    changes
}

/// What was weighed when a block was done, in grams: the commonest colours and the joining colour.
fn weighed_after(block: u16) -> Vec<(YarnId, EntryKind)> {
    let grams = |tenths| EntryKind::Weighing(Tenths(tenths));
    let (kelp, shingle, net_float) = (YarnId(3), YarnId(4), YarnId(5));
    let (brick, harbour_blue) = (YarnId(6), YarnId(8));
    match block {
        1 => vec![(shingle, grams(1482)), (kelp, grams(951)), (harbour_blue, grams(497))],
        3 => vec![(shingle, grams(1147)), (kelp, grams(863)), (net_float, grams(460))],
        5 => vec![(shingle, grams(873)), (kelp, grams(797)), (harbour_blue, grams(413))],
        6 => vec![(net_float, grams(258)), (brick, grams(41))],
        _ => Vec::new(),
    }
}

/// The hours a set-up ends with when nothing else is chosen.
pub fn hours(zone: Tz) -> Hours {
    let ask_at = NaiveTime::MIN + TimeDelta::hours(21);
    Hours { zone, ask_at, day_turns_at: day_turns_at_default() }
}

fn begin() -> Beginning {
    beginning_on(first_day())
}

/// A year of 32-row blocks in the demo's scale and zone.
pub fn beginning_on(first_day: NaiveDate) -> Beginning {
    let year = Plan::year_from(first_day);
    let plan = year.in_pieces(Pieces { rows: 32, ..Pieces::DEFAULT });
    let begun = plan.ok().and_then(|plan| beginning(plan, hours(ZONE), &LEXICON));
    begun.unwrap_or_else(|| unreachable!("the demo is a blanket"))
}

fn answers() -> impl Iterator<Item = (NaiveDate, Option<TierId>)> {
    let tiers = DAYS.iter().flat_map(|month| month.bytes());
    tiers.zip(0..).map(|(tier, days)| {
        let date = first_day() + Days::new(days);
        (date, tier.checked_sub(b'0').filter(|tier| (1..=7).contains(tier)).map(TierId))
    })
}

pub fn at(date: NaiveDate, hour: u32, minute: u32) -> DateTime<Utc> {
    let time = NaiveTime::from_hms_opt(hour, minute, 0).unwrap_or(NaiveTime::MIN);
    crate::blanket::calendar::instant(ZONE, date.and_time(time))
}

fn day(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).unwrap_or(NaiveDate::MIN)
}
