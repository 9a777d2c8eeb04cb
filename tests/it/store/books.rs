//! What is committed is what is loaded: for any changes, in any order, of two makers at once.

use std::collections::BTreeSet;

use chrono::NaiveDate;
use duskrow::blanket::{Book, Change, TierId, apply};
use duskrow::chat::talk::{Step, Talk};
use duskrow::export::{book_file, read_book};
use duskrow::store::{Commit, Committed, MakerId};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;

use super::wishes::{Wish, change, wishes};
use super::{Deed, Shelf, answered, beginning, day, new, noon, note, question};

fn talks() -> impl Strategy<Value = Talk> {
    let steps = select(vec![
        Step::Idle,
        Step::Place,
        Step::AskAt { zone: chrono_tz::Pacific::Apia },
        Step::Day { day: day("2027-01-14") },
        Step::Erase,
    ]);
    steps.prop_map(Talk::from)
}

/// A maker and what their book should be.
struct Model {
    maker: MakerId,
    book: Option<Book>,
    asked: BTreeSet<NaiveDate>,
}

impl Model {
    fn apply(&mut self, wish: &Wish) -> Option<Change> {
        let change = match (&self.book, wish) {
            (Some(book), wish) => change(wish, book, &mut self.asked)?,
            (None, Wish::Begin(beginning)) => Change::Began(beginning.clone()),
            (None, _) => Change::Began(Box::new(beginning())),
        };
        if let Change::Began(beginning) = &change {
            self.asked.clear();
            self.book = Some(Book::begin(beginning));
        } else if let Some(book) = &mut self.book {
            book.apply(&change);
        }
        Some(change)
    }
}

#[test]
fn what_two_makers_commit_is_what_each_of_them_loads() {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    let shelf = runtime.block_on(Shelf::new());
    let users = std::cell::Cell::new(1);
    let steps = vec((any::<bool>(), vec(wishes(), 0..16), talks(), 1_usize..3), 1..10);
    let config = ProptestConfig { cases: 48, failure_persistence: None, ..Default::default() };
    proptest!(config, |(steps in steps)| {
        runtime.block_on(async {
            let mut models = Vec::new();
            for _ in 0..2 {
                let maker = shelf.maker(users.replace(users.get() + 1)).await;
                models.push(Model { maker, book: None, asked: BTreeSet::new() });
            }
            for (which, wishes, talk, times) in &steps {
                let model = &mut models[usize::from(*which)];
                let changes = wishes.iter().filter_map(|wish| model.apply(wish)).collect();
                let update = Some(shelf.next_update());
                let deed = Deed { update, changes, talk: talk.clone(), ..Deed::default() };
                for time in 0..*times {
                    let expected = if time == 0 { Committed::Done } else { Committed::SeenBefore };
                    prop_assert_eq!(shelf.commit(model.maker, &deed).await.unwrap(), expected);
                }
                let stored = shelf.stored(model.maker).await;
                prop_assert_eq!(&stored.maker.talk, talk);
                for model in &models {
                    let stored = shelf.stored(model.maker).await;
                    prop_assert_eq!(&stored.maker.book, &model.book);
                }
            }
            Ok(())
        })?;
    });
}

#[tokio::test]
async fn a_repeated_update_changes_and_queues_nothing() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker_with_blanket(5).await;
    let deed = Deed {
        update: Some(shelf.next_update()),
        changes: vec![answered("2027-01-14", 2)],
        queue: vec![new(None, "Kept")],
        ..Deed::default()
    };
    shelf.commit(maker, &deed).await.map(|done| assert_eq!(done, Committed::Done)).unwrap();
    let before = shelf.stored(maker).await;
    let again = Deed { changes: vec![answered("2027-01-14", 1)], ..deed };
    assert_eq!(shelf.commit(maker, &again).await.unwrap(), Committed::SeenBefore);
    assert_eq!(shelf.stored(maker).await, before);
    assert_eq!(shelf.store.pending().await.unwrap(), 1);
}

#[tokio::test]
async fn a_commit_made_from_an_older_state_writes_nothing() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker_with_blanket(5).await;
    let before = shelf.stored(maker).await;
    let update = shelf.next_update();
    let stale = Commit {
        update: Some(update),
        maker,
        expected_revision: before.revision - 1,
        changes: &[answered("2027-01-14", 2)],
        talk: &Talk::default(),
        queue: &[new(None, "Kept")],
        reach: None,
        wakes_at: None,
        now: noon(),
    };
    assert_eq!(shelf.store.commit(stale).await.unwrap(), Committed::Overtaken);
    assert_eq!(shelf.stored(maker).await, before);
    assert_eq!(shelf.store.pending().await.unwrap(), 0);
    assert!(!shelf.store.seen(update).await.unwrap());
}

#[tokio::test]
async fn a_day_is_asked_about_once_and_the_second_asking_writes_nothing() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker_with_blanket(5).await;
    let asking = || Deed {
        changes: vec![Change::Asked { day: day("2027-01-14"), at: noon() }],
        queue: vec![question("2027-01-14")],
        ..Deed::default()
    };
    shelf.does(maker, asking()).await;
    let before = shelf.stored(maker).await;
    let again = Deed { update: Some(shelf.next_update()), ..asking() };
    assert!(shelf.commit(maker, &again).await.is_err());
    assert_eq!(shelf.stored(maker).await, before);
    assert_eq!(shelf.store.pending().await.unwrap(), 1);
    assert!(!shelf.store.seen(again.update.unwrap()).await.unwrap());
}

#[tokio::test]
async fn the_newest_answer_counts_and_every_answer_is_history() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker_with_blanket(5).await;
    for tier in [1, 2, 1] {
        shelf.does(maker, Deed::change(answered("2027-01-14", tier))).await;
    }
    let book = shelf.stored(maker).await.maker.book.unwrap();
    assert_eq!(book.answer(day("2027-01-14")).unwrap().tier, TierId(1));
    let expected = [1, 2, 1].map(|tier| (Some(tier), "answered".to_owned(), noon_ms()));
    assert_eq!(shelf.history("2027-01-14").await, expected);
}

#[tokio::test]
async fn an_answer_taken_back_stays_in_the_history_with_the_taking_back() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker_with_blanket(5).await;
    let date = "2027-01-14";
    let reopened = || Deed::change(Change::Reopened { day: day(date) });
    shelf.does(maker, reopened()).await;
    assert_eq!(shelf.history(date).await, [], "an open day has nothing to take back");
    shelf.does(maker, Deed::change(answered(date, 2))).await;
    shelf.does(maker, reopened()).await;
    shelf.does(maker, reopened()).await;
    let book = shelf.stored(maker).await.maker.book.unwrap();
    assert_eq!(book.answer(day(date)), None);
    let answer = (Some(2), "answered".to_owned(), noon_ms());
    let taken_back = (None, "reopened".to_owned(), noon_ms());
    assert_eq!(shelf.history(date).await, [answer, taken_back]);
}

impl Shelf {
    /// Tier, how and when, the oldest first.
    async fn history(&self, date: &str) -> Vec<(Option<i64>, String, i64)> {
        let history = "SELECT tier, how, at FROM history WHERE day = ? ORDER BY id";
        sqlx::query_as(history).bind(date).fetch_all(&self.pool().await).await.unwrap()
    }
}

fn noon_ms() -> i64 {
    noon().timestamp_millis()
}

/// The rules of what may be typed changed once, and can change again: what is there stays.
#[tokio::test]
async fn words_kept_by_older_rules_are_loaded_as_they_are() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker_with_blanket(5).await;
    shelf
        .does(maker, Deed::change(Change::Noted { day: day("2027-01-14"), note: note(41, "rain") }))
        .await;
    let older = [
        "UPDATE notes SET text = char(8203)",
        "UPDATE tiers SET label = 'a' || char(8303) WHERE id = 1",
        "UPDATE tiers SET label = 'a' WHERE id = 2",
        "UPDATE yarns SET name = 'Kelp' || char(8203) WHERE id = 2",
    ];
    for statement in older {
        sqlx::query(statement).execute(&shelf.pool().await).await.unwrap();
    }
    let book = shelf.stored(maker).await.maker.book.unwrap();
    assert_eq!(book.notes(day("2027-01-14"))[0].text.as_str(), "\u{200B}");
    assert_eq!(book.scale().tiers()[0].label.as_str(), "a\u{206F}");
    // They go out, and what shows of them comes back.
    let mut back = None;
    let changes = read_book(book_file(&book, &[]).as_bytes()).unwrap();
    changes.iter().for_each(|change| apply(&mut back, change));
    let back = back.unwrap();
    assert!(back.notes(day("2027-01-14")).is_empty());
    // What looks the same was two, and stays two, as often as it goes out.
    let labels: Vec<&str> = back.scale().tiers().iter().map(|tier| tier.label.as_str()).collect();
    assert_eq!(labels, ["a", "a"]);
    let names: Vec<&str> = back.yarns().iter().map(|yarn| yarn.name.as_str()).collect();
    assert_eq!(names, ["Kelp", "Kelp", "Harbour Blue"]);
    let other = shelf.maker(6).await;
    shelf.does(other, Deed { changes, ..Deed::default() }).await;
    let kept = shelf.stored(other).await.maker.book.unwrap();
    assert_eq!(kept, back);
    assert!(read_book(book_file(&kept, &[]).as_bytes()).is_ok());
}
