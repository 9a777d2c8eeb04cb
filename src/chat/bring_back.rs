//! A book brought back from a file the maker sends: shown first, put in its place by a tap.
//!
//! The file is read outside; here stand the changes it holds, or why it holds none. Each blanket
//! is known by its days: a file takes the place of the one blanket it shares days with, and stands
//! beside the others where it shares none.

use std::collections::BTreeSet;

use chrono::{DateTime, NaiveDate, Utc};

use super::Maker;
use super::blankets::{self, Years};
use super::button::{BringBackTap, Button};
use super::caption::Caption;
use super::event::{BookFile, FileFault, MessageId};
use super::outcome::{Outcome, Place, Reply};
use super::say::Say;
use super::talk::{OfferedFile, Step, Talk};
use crate::blanket::{Book, Change, apply};

#[derive(Clone, PartialEq, Eq, Debug)]
pub enum BringBackSaid {
    /// What the file holds, and what would go. Nothing is changed.
    Offer {
        file: BookSummary,
        replaces: Option<Replaced>,
    },
    /// The blanket of the file is here now.
    Done {
        file: BookSummary,
        replaced: bool,
        shown_by: ShownBy,
    },
    /// The maker leaves it.
    Left,
    Refused(BringBackRefusal),
}

/// Why a file is not put in any place. Nothing was changed.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum BringBackRefusal {
    File(FileFault),
    /// It shares days with more than one blanket.
    SharesDays,
}

/// A blanket, and how much is in its book.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct BookSummary {
    pub years: Years,
    pub days: usize,
    pub rows: usize,
}

/// A blanket whose place another takes.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Replaced {
    pub book: BookSummary,
    /// Days that have another tier in the file, or none in one of the two.
    pub differing: usize,
    /// Whether it is worked on, so that the files of /export are of it.
    pub in_hand: bool,
}

/// Which commands show a blanket.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum ShownBy {
    /// It is the one logged, and worked on.
    All,
    /// It is logged, and another is worked on.
    Days,
    /// It is worked on, and another is logged.
    Rows,
    /// Those of other blankets, until it is taken up.
    Nothing,
}

impl ShownBy {
    /// How the blanket with this first day is shown to a maker.
    pub fn of(maker: &Maker, first_day: NaiveDate) -> ShownBy {
        let is = |book: Option<&Book>| book.is_some_and(|it| it.plan().first_day() == first_day);
        match (is(maker.book.as_ref()), is(maker.in_hand())) {
            (true, true) => ShownBy::All,
            (true, false) => ShownBy::Days,
            (false, true) => ShownBy::Rows,
            (false, false) => ShownBy::Nothing,
        }
    }
}

impl BookSummary {
    fn of(book: &Book) -> BookSummary {
        let rows = book.all_worked().map(|(_, rows)| rows.len()).sum();
        BookSummary { years: Years::of(book), days: book.answers().len(), rows }
    }
}

/// Where the book of a file goes.
pub struct Placed {
    pub book: Book,
    /// The blanket whose place it takes.
    pub replaces: Option<Replaced>,
    pub changes: Vec<Change>,
}

/// Where a book made by `changes` goes among the blankets of a maker.
///
/// # Errors
/// Where its days are days of more than one blanket, or where it is no book.
pub fn place(maker: &Maker, changes: Vec<Change>) -> Result<Placed, BringBackRefusal> {
    let mut read = None;
    changes.iter().for_each(|change| apply(&mut read, change));
    let book = read.ok_or(BringBackRefusal::File(FileFault::Unreadable))?;
    let shares = |other: &&Book| other.plan().shares_days_with(book.plan());
    let Some(logged) = &maker.book else { return Ok(Placed { book, replaces: None, changes }) };
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
    let changes = match replaced {
        Some(replaced) if replaced == logged => {
            let asked = asked_since(logged, &book);
            changes.into_iter().chain(asked).collect()
        }
        // It stands beside the one that is logged.
        Some(_) | None => {
            let before = replaced.map(|before| before.plan().first_day());
            let goes = before.map(|first_day| Change::BlanketDeleted { first_day });
            let first_day = book.plan().first_day();
            goes.into_iter().chain(changes.into_iter().map(|it| it.of(first_day))).collect()
        }
    };
    Ok(Placed { book, replaces, changes })
}

fn differing(one: &Book, other: &Book) -> usize {
    let days: BTreeSet<_> = one.answers().keys().chain(other.answers().keys()).collect();
    let tier = |book: &Book, day| book.answer(day).map(|answer| answer.tier);
    days.into_iter().filter(|day| tier(one, **day) != tier(other, **day)).count()
}

/// What was asked and sent since the file was made, so that it is not asked and sent again.
fn asked_since(before: &Book, after: &Book) -> Vec<Change> {
    let here = |day: &NaiveDate| after.plan().has(*day);
    let newer = |day: &NaiveDate, than: Option<NaiveDate>| here(day) && than < Some(*day);
    let asked = before.asked().filter(|(day, _)| newer(day, after.asked().map(|(day, _)| day)));
    let nudged = before.nudged().filter(|day| newer(day, after.nudged()));
    let recapped = before.recapped().filter(|day| newer(day, after.recapped()));
    let asked = asked.map(|(day, at)| Change::Asked { day, at });
    let nudged = nudged.map(|on| Change::Nudged { on });
    asked.into_iter().chain(nudged).chain(recapped.map(|on| Change::Recapped { on })).collect()
}

/// A file was sent, and read.
pub fn offered(maker: &Maker, file: &BookFile, now: DateTime<Utc>) -> Outcome {
    let placed = match placed(maker, file) {
        Ok(placed) => placed,
        Err(refusal) => return refused(maker, refusal),
    };
    let id = maker.talk.fresh_id(now);
    let replaces = placed.replaces;
    let said = BringBackSaid::Offer { file: BookSummary::of(&placed.book), replaces };
    let go = if replaces.is_some() { Caption::ReplaceWithFile } else { Caption::BringBack };
    let reply = Reply::new(Say::BringBack(said))
        .key(go, Button::BringBack(BringBackTap::Go { id }))
        .key(Caption::LeaveAsItIs, Button::BringBack(BringBackTap::Leave { id }));
    let file = Some(OfferedFile { id, file_id: Some(file.file_id.clone()) });
    Outcome::quiet(&Talk { offered_file: file, ..maker.talk.clone() }).say(reply)
}

/// The maker wants the file that was offered, which was read once more.
pub fn confirmed(maker: &Maker, file: &BookFile, tapped: MessageId) -> Outcome {
    let placed = match placed(maker, file) {
        Ok(placed) => placed,
        Err(refusal) => return refused(maker, refusal),
    };
    // What stood open or could be undone was of the book before. What is worked on stays.
    let first_day = placed.book.plan().first_day();
    let in_hand = match placed.replaces {
        Some(before) if Some(before.book.years.first_day) == maker.talk.in_hand => Some(first_day),
        Some(_) | None => maker.talk.in_hand,
    };
    let offered = maker.talk.offered_file.clone();
    let talk = Talk {
        told_offline: maker.talk.told_offline,
        offered_file: offered.map(|offered| OfferedFile { file_id: None, ..offered }),
        in_hand,
        ..Talk::from(Step::Idle)
    };
    let mut after = Maker { talk: talk.clone(), ..maker.clone() };
    placed.changes.iter().for_each(|change| after.apply(change));
    let said = BringBackSaid::Done {
        file: BookSummary::of(&placed.book),
        replaced: placed.replaces.is_some(),
        shown_by: ShownBy::of(&after, first_day),
    };
    let reply = Reply::new(Say::BringBack(said)).at(in_place(tapped));
    let several = (!after.others.is_empty()).then(blankets::key);
    let outcome = placed.changes.into_iter().fold(Outcome::quiet(&talk), Outcome::change);
    outcome.say(match several {
        Some(key) => reply.keys([key]),
        None => reply,
    })
}

/// A button of a file that is in its place already, that the maker leaves, or that is not the one
/// offered last.
pub fn tapped(maker: &Maker, tap: BringBackTap, tapped: MessageId) -> Outcome {
    let known = |id| maker.talk.offered_file.as_ref().filter(|offered| offered.id == id);
    let is_in_place = |id| known(id).is_some_and(|offered| offered.file_id.is_none());
    match tap {
        BringBackTap::Go { id } | BringBackTap::Leave { id } if is_in_place(id) => maker.quiet(),
        BringBackTap::Go { .. } => refused(maker, BringBackRefusal::File(FileFault::OfferedBefore)),
        BringBackTap::Leave { id } => {
            let mut talk = maker.talk.clone();
            talk.offered_file = talk.offered_file.filter(|offered| offered.id != id);
            let left = Reply::new(Say::BringBack(BringBackSaid::Left)).at(in_place(tapped));
            Outcome::quiet(&talk).say(left)
        }
    }
}

fn placed(maker: &Maker, file: &BookFile) -> Result<Placed, BringBackRefusal> {
    match &file.read {
        Ok(changes) => place(maker, changes.clone()),
        Err(fault) => Err(BringBackRefusal::File(*fault)),
    }
}

/// The buttons of the offer stay: what was refused may go another time.
fn refused(maker: &Maker, refusal: BringBackRefusal) -> Outcome {
    maker.quiet().say(Reply::new(Say::BringBack(BringBackSaid::Refused(refusal))))
}

fn in_place(tapped: MessageId) -> Place {
    Place::Change { slot: None, tapped: Some(tapped) }
}
