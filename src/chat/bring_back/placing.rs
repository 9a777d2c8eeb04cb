//! Where a book from a file goes among a maker's blankets, and what of the maker's stays.
//!
//! Each blanket is known by its days: a file takes the place of the one blanket it shares days
//! with, and stands beside the others where it shares none.

use std::collections::BTreeSet;
use std::fmt::{self, Write};
use std::hash::{DefaultHasher, Hasher};

use chrono::{DateTime, Days, NaiveDate, TimeDelta, Utc};

use super::{BookSummary, BringBackRefusal, Replaced};
use crate::blanket::{Book, Change, Note, NoteId, Reminders, apply};
use crate::chat::Maker;
use crate::chat::event::FileFault;

/// Where the book of a file goes.
pub struct Placed {
    pub book: Book,
    /// The blanket whose place it takes.
    pub replaces: Option<Replaced>,
    /// A check sum of that blanket's book: another book has, almost always, another sum.
    pub before: String,
    pub changes: Vec<Change>,
}

/// Where a book made by `changes` goes among the blankets of a maker.
///
/// # Errors
/// Where its days are days of more than one blanket, or where it is no book.
pub fn place(
    maker: &Maker,
    changes: Vec<Change>,
    now: DateTime<Utc>,
) -> Result<Placed, BringBackRefusal> {
    let changes: Vec<Change> =
        changes.into_iter().filter_map(|change| begun(change, now)).collect();
    let mut read = None;
    changes.iter().for_each(|change| apply(&mut read, change));
    let book = read.ok_or(BringBackRefusal::File(FileFault::Unreadable))?;
    let Some(logged) = &maker.book else {
        return Ok(Placed { book, replaces: None, before: String::new(), changes });
    };
    let shares = |other: &&Book| other.plan().shares_days_with(book.plan());
    let mut clashing = maker.others.iter().chain([logged]).filter(shares);
    let (replaced, more) = (clashing.next(), clashing.next());
    if more.is_some() {
        return Err(BringBackRefusal::SharesDays);
    }
    let replaces = replaced.map(|before| Replaced {
        book: BookSummary::of(before),
        differing: differing(before, &book),
        in_hand: maker.in_hand() == Some(before),
    });
    let first_day = book.plan().first_day();
    let changes = match replaced {
        Some(before) => named(changes, before),
        None => changes,
    };
    let since = replaced.map(|before| asked_since(before, &book)).unwrap_or_default();
    let lines = people_of(logged, &book);
    let own = changes.into_iter().filter(|it| !matches!(it, Change::PersonKept { .. }));
    let own = own.chain(of_the_maker(logged, &book)).chain(lines.clone()).chain(since);
    let staying = maker.others.iter().filter(|other| replaced != Some(*other));
    let to_others = staying.filter(|_| logged.people().is_empty()).flat_map(|other| {
        let first_day = other.plan().first_day();
        lines.iter().map(move |line| line.clone().of(first_day))
    });
    let changes = match replaced {
        Some(replaced) if replaced == logged => own.chain(to_others).collect(),
        // It stands beside the one that is logged.
        Some(_) | None => {
            let goes = replaced
                .map(|before| Change::BlanketDeleted { first_day: before.plan().first_day() });
            let own = own.map(|change| change.of(first_day));
            let logs = turns_to(logged, &book, now).then_some(Change::Logged { first_day });
            let to_logged = lines.iter().filter(|_| logged.people().is_empty()).cloned();
            let others = to_logged.chain(to_others);
            goes.into_iter().chain(own).chain(others).chain(logs).collect()
        }
    };
    let before = replaced.map(sum).unwrap_or_default();
    Ok(Placed { book, replaces, before, changes })
}

/// No zone's clock is further ahead of UTC.
const AHEAD_HOURS: i64 = 14;
/// A day is put off for three days, and to the first after that which is free: that is found
/// within two years.
const PUT_OFF_DAYS: u64 = 3 + 2 * 366;

/// What a file says was asked, sent or put off, if it is of a day that has begun, somewhere: else
/// it would keep the maker from being asked.
fn begun(change: Change, now: DateTime<Utc>) -> Option<Change> {
    let newest = (now + TimeDelta::hours(AHEAD_HOURS)).date_naive();
    let furthest = newest.checked_add_days(Days::new(PUT_OFF_DAYS));
    match change {
        Change::Asked { day, at } if day <= newest => Some(Change::Asked { day, at: at.min(now) }),
        Change::PutOff { day, until } if day <= newest && until <= furthest => Some(change),
        Change::Nudged { on } | Change::Recapped { on } if on <= newest => Some(change),
        Change::Asked { .. }
        | Change::PutOff { .. }
        | Change::Nudged { .. }
        | Change::Recapped { .. } => None,
        change => Some(change),
    }
}

fn differing(one: &Book, other: &Book) -> usize {
    let days: BTreeSet<_> = one.answers().keys().chain(other.answers().keys()).collect();
    let tier = |book: &Book, day| book.answer(day).map(|answer| answer.tier);
    days.into_iter().filter(|day| tier(one, **day) != tier(other, **day)).count()
}

fn sum(book: &Book) -> String {
    let mut sum = Sum(DefaultHasher::new());
    // Nothing can go wrong there: it takes whatever comes.
    let _ = write!(sum, "{book:?}");
    format!("{:016x}", sum.0.finish())
}

/// Takes a text without keeping it: a book can be long.
struct Sum(DefaultHasher);

impl Write for Sum {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        self.0.write(text.as_bytes());
        Ok(())
    }
}

/// A note that is in both books keeps the number of the message it was typed in, so that editing
/// and deleting it go on; of two with the same words, each keeps its own. Notes of the file alone
/// have numbers below zero, and get those below all that are taken.
fn named(changes: Vec<Change>, before: &Book) -> Vec<Change> {
    let first = before.plan().first_day();
    let days = first.iter_days().take_while(|day| before.plan().has(*day));
    let lowest = days.flat_map(|day| before.notes(day)).map(|note| note.id.0).min();
    let below = lowest.unwrap_or_default().min(0);
    let mut taken = BTreeSet::new();
    let mut name = |change| {
        let Change::Noted { day, note } = change else { return change };
        let mut notes = before.notes(day).iter();
        let known = notes.find(|known| known.text == note.text && !taken.contains(&known.id));
        let id = known.map_or(NoteId(below + note.id.0), |known| known.id);
        taken.insert(id);
        Change::Noted { day, note: Note { id, text: note.text } }
    };
    changes.into_iter().map(&mut name).collect()
}

/// Hours are the maker's, whichever blanket they were set for, and so are reminders; those of a
/// set-up in which nothing was kept yet are the file's. Asking stays paused or not, as it is.
fn of_the_maker(logged: &Book, book: &Book) -> [Change; 2] {
    let lived = !logged.answers().is_empty() || logged.all_worked().next().is_some();
    let paused = logged.reminders().paused;
    let reminders = if lived { *logged.reminders() } else { *book.reminders() };
    [Change::HoursSet(*logged.hours()), Change::RemindersSet(Reminders { paused, ..reminders })]
}

/// People and numbers are the maker's too, whichever blanket is logged. Who has none gets those of
/// the file.
fn people_of(logged: &Book, book: &Book) -> Vec<Change> {
    let people = if logged.people().is_empty() { book.people() } else { logged.people() };
    people.iter().map(|(id, line)| Change::PersonKept { id: *id, line: line.clone() }).collect()
}

/// The blanket of today is logged, where the one that was logged has not begun.
fn turns_to(logged: &Book, book: &Book, now: DateTime<Utc>) -> bool {
    let today = logged.hours().day_at(now);
    book.plan().has(today) && today < logged.plan().first_day()
}

/// What was asked and sent since the file was made, so that it is not asked and sent again.
fn asked_since(before: &Book, after: &Book) -> Vec<Change> {
    let newer = |day: &NaiveDate, than: Option<NaiveDate>| than < Some(*day);
    let asked = before
        .asked()
        .filter(|(day, _)| after.plan().has(*day) && newer(day, after.asked().map(|(day, _)| day)));
    let nudged = before.nudged().filter(|day| newer(day, after.nudged()));
    let recapped = before.recapped().filter(|day| newer(day, after.recapped()));
    let asked = asked.map(|(day, at)| Change::Asked { day, at });
    let nudged = nudged.map(|on| Change::Nudged { on });
    asked.into_iter().chain(nudged).chain(recapped.map(|on| Change::Recapped { on })).collect()
}
