//! A book written to a file and read back is the same book, and a file that was changed is read
//! whole or not at all.

use std::cell::Cell;
use std::collections::BTreeSet;

use duskrow::blanket::stock::{Ball, Decimetres, Entry, EntryKind, Tenths};
use duskrow::blanket::{Book, Change, TierId, apply};
use duskrow::export::{BYTES_MAX, ImportFault, book_file, read_book};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::{Index, select};
use serde_json::{Value, json};

use super::wishes::{Wish, change, wishes};
use super::{Deed, Shelf, answered, beginning, day};

/// A book that anything has happened to that can happen in the chat.
fn books() -> impl Strategy<Value = Book> {
    vec(wishes().prop_filter("over the caps", within_caps), 0..40).prop_map(|wishes| {
        let mut book = Book::begin(&beginning());
        let mut asked = BTreeSet::new();
        for wish in &wishes {
            let Some(change) = change(wish, &book, &mut asked) else { continue };
            match &change {
                Change::YarnSet(settings) => {
                    let there = |tier: &TierId| book.scale().ever(*tier).is_some();
                    if !settings.guess.keys().all(there) {
                        continue;
                    }
                }
                Change::Began(_) => asked.clear(),
                // A blanket that anything is kept of stays where it is.
                Change::DaysMoved { .. } if book.keeps_of_days() => continue,
                _ => {}
            }
            let before = book.clone();
            book.apply(&change);
            let names: BTreeSet<_> = book.yarns().iter().map(|yarn| yarn.name.clone()).collect();
            // In the chat, a removed tier's days get another one first.
            let lost = book.answers().values().any(|it| book.scale().tier(it.tier).is_none());
            if names.len() < book.yarns().len() || names.len() > 24 || lost {
                book = before;
            }
        }
        book
    })
}

fn within_caps(wish: &Wish) -> bool {
    let small = |tenths: &Tenths| *tenths <= Tenths::MAX;
    match wish {
        Wish::Stock { entry: Entry { kind, .. }, .. } => match kind {
            EntryKind::Weighing(tenths) | EntryKind::Correction(tenths) => small(tenths),
            EntryKind::Tried { before, after, rows } => {
                small(before) && after <= before && *rows > 0
            }
            EntryKind::Ball(Ball { count, each, length_each, weighed, .. }) => {
                (1..=5).contains(count)
                    && (1..=Ball::EACH_MAX.0).contains(&each.0)
                    && length_each.is_none_or(|length| length <= Decimetres::MAX)
                    && weighed.as_ref().is_none_or(small)
            }
        },
        Wish::SetYarn(settings) => settings.ball.as_ref().is_none_or(|ball| {
            (1..=Ball::EACH_MAX.0).contains(&ball.each.0)
                && ball.length_each.is_none_or(|length| length <= Decimetres::MAX)
        }),
        _ => true,
    }
}

fn read(file: &str) -> Result<Book, ImportFault> {
    let mut book = None;
    for change in read_book(file.as_bytes())? {
        apply(&mut book, &change);
    }
    Ok(book.unwrap())
}

#[test]
fn a_book_that_is_written_and_read_back_is_the_same_book() {
    let config = ProptestConfig { cases: 200, failure_persistence: None, ..Default::default() };
    proptest!(config, |(book in books())| {
        let file = book_file(&book, &[]);
        let back = read(&file).unwrap();
        // The numbers of notes are the platform's, and stay out of the file.
        prop_assert_eq!(book_file(&back, &[]), file);
        for changed in [
            without_notes(&book) == without_notes(&back),
            words(&book) == words(&back),
        ] {
            prop_assert!(changed);
        }
    });
}

fn without_notes(book: &Book) -> Book {
    let mut bare = book.clone();
    let ids: Vec<_> = days(book).flat_map(|day| book.notes(day)).map(|note| note.id).collect();
    ids.into_iter().for_each(|note| bare.apply(&Change::NoteDeleted { note }));
    bare
}

fn words(book: &Book) -> Vec<(chrono::NaiveDate, String)> {
    let notes = days(book).flat_map(|day| book.notes(day).iter().map(move |note| (day, note)));
    notes.map(|(day, note)| (day, note.text.as_str().to_owned())).collect()
}

fn days(book: &Book) -> impl Iterator<Item = chrono::NaiveDate> + '_ {
    let last = book.plan().last_day();
    book.plan().first_day().iter_days().take_while(move |day| *day <= last)
}

/// Wherever a file is changed, it is refused, or it is a whole book that writes itself the same.
#[test]
fn a_changed_file_is_read_whole_or_not_at_all() {
    let config = ProptestConfig { cases: 300, failure_persistence: None, ..Default::default() };
    let values = select(vec![
        json!(null),
        json!(-1),
        json!(0),
        json!(7),
        json!(255),
        json!(70_000),
        json!(""),
        json!("\u{202e}"),
        json!("=1+1"),
        json!("9999-12-31"),
        json!([]),
        json!({}),
        json!(1e308),
    ]);
    let (refused, taken) = (Cell::new(0), Cell::new(0));
    proptest!(config, |(book in books(), at in any::<Index>(), value in values)| {
        let mut file: Value = serde_json::from_str(&book_file(&book, &[])).unwrap();
        let mut places = Vec::new();
        pointers(&file, String::new(), &mut places);
        let place = &places[at.index(places.len())];
        *file.pointer_mut(place).unwrap() = value;
        match read(&file.to_string()) {
            Err(_) => refused.set(refused.get() + 1),
            Ok(read_back) => {
                taken.set(taken.get() + 1);
                let again = read(&book_file(&read_back, &[])).unwrap();
                prop_assert_eq!(without_notes(&again), without_notes(&read_back));
            }
        }
    });
    let (refused, taken) = (refused.get(), taken.get());
    assert!(refused > 0 && taken > 0, "{refused} refused, {taken} taken");
}

fn pointers(value: &Value, here: String, found: &mut Vec<String>) {
    match value {
        Value::Object(all) => {
            all.iter().for_each(|(key, value)| pointers(value, format!("{here}/{key}"), found));
        }
        Value::Array(all) => {
            let all = all.iter().enumerate();
            all.for_each(|(at, value)| pointers(value, format!("{here}/{at}"), found));
        }
        _ => {}
    }
    found.push(here);
}

#[test]
fn what_is_no_book_is_told_apart() {
    let file = book_file(&Book::begin(&beginning()), &[]);
    let check = |file: &str, expected| assert_eq!(read(file).unwrap_err(), expected, "{file:.80}");
    check("", ImportFault::Unreadable);
    check("[]", ImportFault::Unreadable);
    check("{\"format\": \"another\", \"version\": 1}", ImportFault::Unreadable);
    check(&file[..file.len() / 2], ImportFault::Unreadable);
    check(&file.replacen("\"version\": 2", "\"version\": 3", 1), ImportFault::TooNew);
    check(&file.replacen("\"zone\"", "\"zones\"", 1), ImportFault::Unreadable);
    check(&file.replacen("Europe/Lisbon", "Europe/Lisbn", 1), ImportFault::Impossible);
    check(&format!("{file}{}", " ".repeat(BYTES_MAX)), ImportFault::TooLarge);
    let mut beyond = Book::begin(&beginning());
    let outside = beyond.plan().last_day() + chrono::Days::new(1);
    let tier = beyond.scale().default_tier().id;
    let how = duskrow::blanket::How::Answered;
    let at = super::noon();
    beyond.apply(&Change::Answered { day: outside, tier, how, at });
    check(&book_file(&beyond, &[]), ImportFault::Impossible);
    assert!(outside > day("2027-01-01"));
}

/// As a house of before wrote it, when a file had only what days have now.
#[test]
fn a_file_of_the_first_version_is_still_read() {
    let book = Book::begin(&beginning());
    let mut file: Value = serde_json::from_str(&book_file(&book, &[])).unwrap();
    file["version"] = json!(1);
    assert!(file.as_object_mut().unwrap().remove("earlier").is_some());
    assert_eq!(read(&file.to_string()).unwrap(), book);
}

#[tokio::test]
async fn what_days_had_before_goes_with_the_book() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker_with_blanket(5).await;
    let changes = [
        answered("2027-01-14", 1),
        answered("2027-01-03", 2),
        answered("2027-01-14", 2),
        Change::Reopened { day: day("2027-01-14") },
        answered("2027-01-14", 1),
        Change::Reopened { day: day("2027-01-03") },
    ];
    for change in changes {
        shelf.does(maker, Deed::change(change)).await;
    }
    let first_day = day("2027-01-01");
    let stored = shelf.stored(maker).await;
    let history = shelf.store.history(stored.id, first_day).await.unwrap();
    let file = book_file(&stored.maker.book.unwrap(), &history);

    let other = shelf.maker_with_blanket(6).await;
    let changes = read_book(file.as_bytes()).unwrap();
    shelf.does(other, Deed { changes, ..Deed::default() }).await;
    let back = shelf.stored(other).await;
    let again = shelf.store.history(back.id, first_day).await.unwrap();
    let tiers = |day_of: &str| -> Vec<Option<u8>> {
        let of_day = again.iter().filter(|line| line.day == day(day_of));
        of_day.map(|line| line.kept.map(|(tier, _)| tier.0)).collect()
    };
    assert_eq!(tiers("2027-01-14"), [Some(1), Some(2), None, Some(1)]);
    assert_eq!(tiers("2027-01-03"), [Some(2), None]);
    assert_eq!((&again, book_file(&back.maker.book.unwrap(), &again)), (&history, file.clone()));

    for (was, is) in
        [("\"tier\": 2", "\"tier\": 99"), ("\"date\": \"2027-01-14\"", "\"date\": \"2029-01-14\"")]
    {
        let (days, earlier) = file.split_once("\"earlier\"").unwrap();
        let changed = format!("{days}\"earlier\"{}", earlier.replacen(was, is, 1));
        assert_ne!(changed, file);
        assert_eq!(read(&changed).unwrap_err(), ImportFault::Impossible, "{is}");
    }
}

/// The largest book there can be is well under what is read.
#[test]
fn the_longest_notes_of_a_year_fit_into_a_file() {
    let mut book = Book::begin(&beginning());
    let first = book.plan().first_day();
    for (id, day) in (1..).zip(first.iter_days().take(365)) {
        let text = duskrow::blanket::NoteText::parse(&"n".repeat(500)).unwrap();
        let note = duskrow::blanket::Note { id: duskrow::blanket::NoteId(id), text };
        book.apply(&Change::Noted { day, note });
    }
    let file = book_file(&book, &[]);
    assert!(file.len() < BYTES_MAX, "{} bytes", file.len());
    assert_eq!(words(&read(&file).unwrap()).len(), 365);
}
