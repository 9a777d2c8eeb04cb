//! The blanket after this one: when it may begin, and what it takes over.
//!
//! Blankets of a maker never share a day. Never decides whether a maker wants one.

use chrono::{DateTime, Days, NaiveDate, Utc};

use super::{Beginning, Book, Change, Plan, Scale, Yarn, YarnSettings};

/// A next blanket can be set up from so many days before the last day of the one before.
const BEFORE_LAST_DAYS: u64 = 60;
/// It begins at most so many days from today.
const REACH_DAYS: u64 = 366;

/// Why no next blanket begins on a day.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum NextFault {
    /// There is one that has not begun, or a later one than this.
    AlreadyThere { first_day: NaiveDate },
    /// The one before is worked on for long: from this day on one can be set up.
    TooEarly { from: NaiveDate },
    /// The day belongs to this blanket, or lies before it.
    Taken { last_day: NaiveDate },
    /// More than a year from today, or its own last day is over.
    OutOfReach,
}

/// Whether a blanket after `book` can be set up now; `others` are all other blankets.
///
/// # Errors
/// [`NextFault::AlreadyThere`] or [`NextFault::TooEarly`].
pub fn may_follow(book: &Book, others: &[Book], today: NaiveDate) -> Result<(), NextFault> {
    let (first, last) = (book.plan().first_day(), book.plan().last_day());
    let later = others.iter().map(|other| other.plan().first_day()).find(|day| *day > first);
    if let Some(first_day) = later {
        return Err(NextFault::AlreadyThere { first_day });
    }
    let from = last.checked_sub_days(Days::new(BEFORE_LAST_DAYS)).unwrap_or(last);
    if today < from { Err(NextFault::TooEarly { from }) } else { Ok(()) }
}

/// The plan of a blanket after `book` from `first_day`: a year, in the same pieces.
///
/// # Errors
/// A [`NextFault`] where it cannot begin on that day.
pub fn next_plan(
    book: &Book,
    others: &[Book],
    first_day: NaiveDate,
    today: NaiveDate,
) -> Result<Plan, NextFault> {
    may_follow(book, others, today)?;
    let plan = book.plan();
    if first_day <= plan.last_day() {
        return Err(NextFault::Taken { last_day: plan.last_day() });
    }
    let latest = today.checked_add_days(Days::new(REACH_DAYS)).unwrap_or(today);
    let year = Plan::year_from(first_day);
    if first_day > latest || year.last_day() < today {
        return Err(NextFault::OutOfReach);
    }
    Plan::new(first_day, year.last_day(), plan.pieces(), plan.faces())
        .map_err(|_| NextFault::OutOfReach)
}

/// Whether a blanket was set up and has not begun: its first day is to come, nothing is kept of its
/// days, and no row is worked.
pub fn is_to_come(book: &Book, today: NaiveDate) -> bool {
    let begun = book.plan().first_day() <= today || book.keeps_of_days();
    !begun && book.all_worked().next().is_none()
}

/// The plan of `next`, which has not begun, from another first day: a year after `book`, in the
/// pieces it has.
///
/// # Errors
/// A [`NextFault`] where it cannot begin on that day.
pub fn moved_plan(
    next: &Book,
    book: &Book,
    others: &[Book],
    first_day: NaiveDate,
    today: NaiveDate,
) -> Result<Plan, NextFault> {
    let is_other = |other: &&Book| other.plan().first_day() != next.plan().first_day();
    let others: Vec<Book> = others.iter().filter(is_other).cloned().collect();
    let days = next_plan(book, &others, first_day, today)?;
    let (pieces, faces) = (next.plan().pieces(), next.plan().faces());
    Plan::new(days.first_day(), days.last_day(), pieces, faces).map_err(|_| NextFault::OutOfReach)
}

/// What begins a blanket with this plan, and makes it like `book` in all but its days, rows and
/// yarn on hand. Removed tiers stay behind with all that was said of them, and yarns that others
/// came after.
pub fn begin_next(book: &Book, plan: Plan, at: DateTime<Utc>) -> Vec<Change> {
    let first_day = plan.first_day();
    let scale = Scale::kept(book.scale().tiers().to_vec(), book.scale().default_tier().id);
    let scale = scale.unwrap_or_else(|_| book.scale().clone());
    let mut settings: YarnSettings = book.yarn_settings().clone();
    settings.guess.retain(|tier, _| scale.tier(*tier).is_some());
    let is_last = |yarn: &&Yarn| {
        let named = |id| book.joining() == id || scale.tiers().iter().any(|tier| tier.yarn == id);
        named(yarn.id) || book.yarns().iter().all(|other| other.after != Some(yarn.id))
    };
    let yarns = book.yarns().iter().filter(is_last);
    let yarns = yarns.map(|yarn| Yarn { after: None, ..yarn.clone() }).collect();
    let beginning = Beginning {
        plan,
        fabric: *book.fabric(),
        scale,
        yarns,
        joining: book.joining(),
        hours: *book.hours(),
    };
    let mut changes = vec![
        Change::Began(Box::new(beginning)),
        Change::RemindersSet(*book.reminders()),
        Change::QuestionSet(book.question().cloned()),
        Change::YarnSet(Box::new(settings)),
        Change::PaperSet(*book.on_paper()),
    ];
    let lines = book.scale().tiers().iter().filter_map(|tier| {
        let line = book.tier_line(tier.id)?.clone();
        Some(Change::Described { tier: tier.id, line: Some(line), at })
    });
    changes.extend(lines);
    let people = book.people().iter();
    changes.extend(people.map(|(id, line)| Change::PersonKept { id: *id, line: line.clone() }));
    changes.into_iter().map(|change| change.of(first_day)).collect()
}
