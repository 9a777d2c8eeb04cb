//! A book written to a file and read back is the same book, and a file that was changed is read
//! whole or not at all.

use std::cell::Cell;
use std::collections::BTreeSet;

use chrono::{Datelike, TimeDelta};
use duskrow::blanket::stock::{Ball, Decimetres, Entry, EntryKind, Tenths};
use duskrow::blanket::{Book, Change, Nudges, Reminders, apply};
use duskrow::chat::bring_back::place;
use duskrow::chat::event::Due;
use duskrow::chat::talk::Talk;
use duskrow::chat::{Maker, agenda};
use duskrow::export::{BYTES_MAX, ImportFault, book_file, read_book};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::{Index, select};
use serde_json::{Value, json};

use super::bounds::{file, full};
use super::wishes::{Wish, change, wishes};
use super::{Deed, Shelf, answered, beginning, day, noon};

/// A book that anything has happened to that can happen in the chat.
fn books() -> impl Strategy<Value = Book> {
    vec(wishes().prop_filter("over the caps", within_caps), 0..40).prop_map(|wishes| {
        let mut book = Book::begin(&beginning());
        let mut asked = BTreeSet::new();
        for wish in &wishes {
            let Some(change) = change(wish, &book, &mut asked) else { continue };
            match &change {
                Change::Began(_) => asked.clear(),
                // A blanket that anything is kept of stays where it is.
                Change::DaysMoved { .. } if book.keeps_of_days() => continue,
                Change::DaysMoved { first_day, .. }
                    if !(1970..2190).contains(&first_day.year()) =>
                {
                    continue;
                }
                _ => {}
            }
            let before = book.clone();
            book.apply(&change);
            // In the chat, a removed tier's days get another one first, and no more rows are worked
            // than there are.
            let lost = book.answers().values().any(|it| book.scale().tier(it.tier).is_none());
            if book.yarns().len() > 24 || lost || !has_place_for_its_rows(&book) {
                book = before;
            }
        }
        book
    })
}

fn has_place_for_its_rows(book: &Book) -> bool {
    book.all_worked().all(|(block, rows)| {
        book.plan().block(block).is_some_and(|block| rows.len() <= usize::from(block.rows))
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

pub fn read(file: &str) -> Result<Book, ImportFault> {
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
        let back = read(&book_file(&book, &[])).unwrap();
        // The numbers of notes are the platform's, and stay out of the file; so do guesses about
        // tiers of the blanket before, which no command shows.
        let book = of_its_tiers(&book);
        prop_assert_eq!(book_file(&back, &[]), book_file(&book, &[]));
        prop_assert!(without_notes(&book) == without_notes(&back));
        prop_assert!(words(&book) == words(&back));
    });
}

fn of_its_tiers(book: &Book) -> Book {
    let (mut book, mut settings) = (book.clone(), book.yarn_settings().clone());
    settings.guess.retain(|tier, _| book.scale().ever(*tier).is_some());
    book.apply(&Change::YarnSet(Box::new(settings)));
    book
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

/// What may stand anywhere in a file that somebody changed.
fn values() -> impl Strategy<Value = Value> {
    select(vec![
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
        json!("+262142-12-31"),
        json!("-0001-01-01"),
        json!("2199-12-31T23:59:59.999999999Z"),
        json!("23:59:59.999"),
        json!(i64::MAX),
        json!([]),
        json!({}),
        json!(1e308),
    ])
}

/// Wherever a file is changed, it is refused, or it is a whole book that writes itself the same.
#[test]
fn a_changed_file_is_read_whole_or_not_at_all() {
    let config = ProptestConfig { cases: 300, failure_persistence: None, ..Default::default() };
    let (refused, taken) = (Cell::new(0), Cell::new(0));
    proptest!(config, |(book in books(), at in any::<Index>(), value in values())| {
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

/// Whatever is taken from a file, the bot finds its way through it, keeps it, and has it back.
#[test]
fn whatever_file_is_taken_is_loaded_again_from_the_store() {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    let shelf = runtime.block_on(Shelf::new());
    let (users, taken) = (Cell::new(1), Cell::new(0));
    let config = ProptestConfig { cases: 150, failure_persistence: None, ..Default::default() };
    let years = prop::option::weighted(0.3, years());
    proptest!(config, |(book in books(), at in any::<Index>(), value in values(), years in years)| {
        let mut file: Value = serde_json::from_str(&book_file(&book, &[])).unwrap();
        match years {
            Some(years) => file = in_years(file, years),
            None => {
                let mut places = Vec::new();
                pointers(&file, String::new(), &mut places);
                *file.pointer_mut(&places[at.index(places.len())]).unwrap() = value;
            }
        }
        let Ok(changes) = read_book(file.to_string().as_bytes()) else { return Ok(()) };
        taken.set(taken.get() + 1);
        let stored = runtime.block_on(async {
            let maker = shelf.maker(users.replace(users.get() + 1)).await;
            let before = shelf.stored(maker).await.maker;
            let placed = place(&before, changes, noon()).unwrap();
            let mut after = before;
            placed.changes.iter().for_each(|change| after.apply(change));
            agenda(&after, noon());
            shelf.does(maker, Deed { changes: placed.changes, ..Deed::default() }).await;
            (after, shelf.stored(maker).await.maker)
        });
        prop_assert_eq!(stored.0, stored.1);
    });
    assert!(taken.get() > 0);
}

/// The first and the last day of a blanket.
fn years() -> impl Strategy<Value = (&'static str, &'static str)> {
    select(vec![
        ("-0001-01-01", "-0001-12-31"),
        ("0000-01-01", "0000-12-31"),
        ("1970-01-01", "1970-12-31"),
        ("2199-01-01", "2199-12-31"),
        ("9999-01-01", "9999-12-31"),
        ("+262142-12-30", "+262142-12-31"),
    ])
}

/// The blanket of a file in other years; of its days, something is kept of the last one alone.
fn in_years(mut file: Value, (first, last): (&str, &str)) -> Value {
    for of_days in ["put_off", "notes", "worked"] {
        file[of_days] = json!([]);
    }
    let (tier, at) = (file["default_tier"].clone(), "2027-01-01T21:00:00Z");
    file["days"] = json!([{ "date": last, "tier": tier, "kept": "answered", "at": at }]);
    for of_a_day in ["asked", "nudged", "recapped"] {
        file[of_a_day] = json!(null);
    }
    (file["first_day"], file["last_day"]) = (json!(first), json!(last));
    file
}

/// Whatever a file says of what was asked, sent and put off.
#[test]
fn no_file_keeps_a_maker_from_being_asked() {
    let year = || day("2027-01-01").iter_days().take(365);
    let put_off = |until: Value| -> Value {
        year().skip(2).map(|day| json!({ "date": day, "until": until.clone() })).collect()
    };
    let asked = |date: &str, at: &str| json!({ "date": date, "at": at });
    for (place_of, value) in [
        ("/asked", asked("2027-12-31", "2027-01-13T21:00:00Z")),
        ("/asked", asked("2027-01-13", "2199-12-31T00:00:00Z")),
        ("/asked", asked("2027-12-31", "2199-12-31T00:00:00Z")),
        ("/nudged", json!("2199-12-31")),
        ("/recapped", json!("2199-12-31")),
        ("/put_off", put_off(json!(null))),
        ("/put_off", put_off(json!("2027-12-31"))),
        ("/put_off", put_off(json!("2199-12-31"))),
    ] {
        let mut file = file();
        *file.pointer_mut(place_of).unwrap() = value;
        let changes = read_book(file.to_string().as_bytes()).unwrap();
        for book in [None, Some(full())] {
            let maker = Maker { owner: false, book, others: Vec::new(), talk: Talk::default() };
            let placed = place(&maker, changes.clone(), noon()).unwrap();
            let mut after = maker;
            placed.changes.iter().for_each(|change| after.apply(change));
            let book = after.book.as_mut().unwrap();
            let said = [book.nudged(), book.recapped()];
            assert!(said.iter().flatten().all(|on| *on < day("2027-01-15")), "{said:?}");
            let reach = noon() + TimeDelta::days(3);
            book.apply(&Change::RemindersSet(without(book.reminders())));
            let next = agenda(&after, noon());
            let asks = |(at, due): &(_, Due)| *at < reach && matches!(due, Due::Question(_));
            assert!(next.as_ref().is_some_and(asks), "{place_of}: {next:?}");
        }
    }
}

/// No nudge and no recap comes before the question.
fn without(reminders: &Reminders) -> Reminders {
    Reminders { nudges: Nudges::Off, recap_on: None, ..*reminders }
}

pub fn pointers(value: &Value, here: String, found: &mut Vec<String>) {
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
