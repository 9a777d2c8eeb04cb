//! The maker's own people and numbers: added, removed and put back in the settings, shown in
//! `/help`.
//!
//! Never brought up by what a maker answers or writes.

use chrono::{DateTime, Utc};

use super::Maker;
use super::button::{Button, PeopleTap};
use super::caption::Caption;
use super::event::MessageId;
use super::outcome::{Key, Outcome, Place, Reply, Slot};
use super::say::{PeopleDone, Say};
use super::talk::{RemovedPerson, Step};
use crate::blanket::{Book, Change, LineFault, PEOPLE_MAX, PERSON_CHARS_MAX, PersonId, PersonLine};

type Tapped = Option<MessageId>;

/// The lines as the maker wrote them, in order.
pub fn lines(book: &Book) -> Vec<String> {
    book.people().values().map(|line| line.as_str().to_owned()).collect()
}

/// What gives other blankets of the maker the lines of this one: they are the maker's, whichever
/// blanket is logged.
pub(super) fn alike(book: &Book, others: &[Book]) -> Vec<Change> {
    let of = |other: &Book| {
        let (had, has) = (other.people(), book.people());
        let gone = had.keys().filter(|id| !has.contains_key(id));
        let gone = gone.map(|id| Change::PersonRemoved { id: *id });
        let come = has.iter().filter(|(id, line)| had.get(id) != Some(line));
        let come = come.map(|(id, line)| Change::PersonKept { id: *id, line: line.clone() });
        let first_day = other.plan().first_day();
        gone.chain(come).map(|change| change.of(first_day)).collect::<Vec<_>>()
    };
    others.iter().flat_map(of).collect()
}

pub fn tapped(maker: &Maker, book: &Book, tap: PeopleTap, tapped: MessageId) -> Outcome {
    let tapped = Some(tapped);
    match tap {
        PeopleTap::List => maker.at(Step::Idle).say(list(book, None).at(place(tapped))),
        PeopleTap::Add if book.people().len() >= PEOPLE_MAX => full(maker, book, tapped),
        PeopleTap::Add => {
            let ask = Reply::new(Say::AskPerson).keys([back_key()]);
            maker.at(Step::NewPerson).say(ask.at(place(tapped)))
        }
        PeopleTap::Remove { person } => remove(maker, book, person, tapped),
        PeopleTap::PutBack { person } => put_back(maker, book, person, tapped),
    }
}

/// Keeps a typed line after the others.
pub fn typed(maker: &Maker, book: &Book, text: &str, now: DateTime<Utc>) -> Outcome {
    if book.people().len() >= PEOPLE_MAX {
        return full(maker, book, None);
    }
    match PersonLine::parse(text) {
        Ok(line) => kept(maker, book, fresh_id(maker, book, now), &line, None),
        Err(fault) => {
            let say = match fault {
                LineFault::Empty => Say::EmptyTierLine,
                LineFault::TooLong => Say::LongTierLine { max: PERSON_CHARS_MAX },
            };
            maker.quiet().say(Reply::new(say).keys([back_key()]))
        }
    }
}

/// An id after all those in use, so that a button never names another line than it did.
fn fresh_id(maker: &Maker, book: &Book, now: DateTime<Utc>) -> PersonId {
    let removed = maker.talk.removed_person.as_ref().map(|removed| removed.id);
    let last = book.people().keys().map(|id| id.0).chain(removed).max().unwrap_or(0);
    PersonId(now.timestamp_millis().max(last + 1))
}

fn kept(maker: &Maker, book: &Book, id: PersonId, line: &PersonLine, tapped: Tapped) -> Outcome {
    let change = Change::PersonKept { id, line: line.clone() };
    let done = PeopleDone::Kept { line: line.as_str().to_owned() };
    let undo = Key { caption: Caption::Undo, button: PeopleTap::Remove { person: id }.into() };
    changed(maker, book, change, (done, undo), tapped)
}

fn remove(maker: &Maker, book: &Book, person: PersonId, tapped: Tapped) -> Outcome {
    let Some(line) = book.people().get(&person) else {
        // A second tap says what the first did.
        let last = maker.talk.removed_person.as_ref().filter(|last| last.id == person.0);
        let done = last.map(|last| removed(person, last.line.clone()));
        return maker.at(Step::Idle).say(list(book, done).at(place(tapped)));
    };
    let text = line.as_str().to_owned();
    let done = removed(person, text.clone());
    let mut outcome = changed(maker, book, Change::PersonRemoved { id: person }, done, tapped);
    outcome.talk.removed_person = Some(RemovedPerson { id: person.0, line: text });
    outcome
}

fn removed(person: PersonId, line: String) -> (PeopleDone, Key) {
    let undo = Key { caption: Caption::Undo, button: PeopleTap::PutBack { person }.into() };
    (PeopleDone::Removed { line }, undo)
}

/// The line that was removed last stands where it stood.
fn put_back(maker: &Maker, book: &Book, person: PersonId, tapped: Tapped) -> Outcome {
    let there = book.people().contains_key(&person);
    let last = maker.talk.removed_person.as_ref().filter(|last| last.id == person.0 && !there);
    match last.and_then(|last| PersonLine::parse(&last.line).ok()) {
        Some(_) if book.people().len() >= PEOPLE_MAX => full(maker, book, tapped),
        Some(line) => kept(maker, book, person, &line, tapped),
        None => maker.at(Step::Idle).say(list(book, None).at(place(tapped))),
    }
}

fn changed(
    maker: &Maker,
    book: &Book,
    change: Change,
    done: (PeopleDone, Key),
    tapped: Tapped,
) -> Outcome {
    let mut after = book.clone();
    after.apply(&change);
    maker.at(Step::Idle).change(change).say(list(&after, Some(done)).at(place(tapped)))
}

fn full(maker: &Maker, book: &Book, tapped: Tapped) -> Outcome {
    maker.at(Step::Idle).say(list(book, Some((PeopleDone::Full, back_key()))).at(place(tapped)))
}

/// The lines, a button to remove each, and what was done with its *Undo*.
fn list(book: &Book, done: Option<(PeopleDone, Key)>) -> Reply {
    let (done, first) = done.map_or((None, None), |(done, key)| (Some(done), Some(key)));
    let undo = first.filter(|key| key.caption == Caption::Undo);
    let remove = (1..).zip(book.people().keys()).map(|(number, &person)| Key {
        caption: Caption::RemoveNumber(number),
        button: PeopleTap::Remove { person }.into(),
    });
    let add = Key { caption: Caption::AddPerson, button: PeopleTap::Add.into() };
    let add = (book.people().len() < PEOPLE_MAX).then_some(add);
    Reply::new(Say::People { lines: lines(book), most: PEOPLE_MAX, done })
        .keys(undo)
        .keys(remove)
        .keys(add)
        .key(Caption::Back, Button::Settings)
}

/// The button under the settings.
pub fn key() -> Key {
    Key { caption: Caption::People, button: PeopleTap::List.into() }
}

fn back_key() -> Key {
    Key { caption: Caption::Back, button: PeopleTap::List.into() }
}

fn place(tapped: Tapped) -> Place {
    match tapped {
        Some(message) => Place::Change { slot: Some(Slot::Settings), tapped: Some(message) },
        None => Place::New(Some(Slot::Settings)),
    }
}
