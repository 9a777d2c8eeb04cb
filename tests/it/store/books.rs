//! What is committed is what is loaded: for any changes, in any order, of two makers at once.

use std::collections::BTreeSet;

use chrono::{DateTime, Days, NaiveDate, NaiveTime, TimeDelta, Utc};
use duskrow::blanket::{
    Beginning, BlockNumber, Book, Change, Hours, How, Label, Plan, Scale, Side,
};
use duskrow::blanket::{Tier, TierId, Yarn, YarnId};
use duskrow::chat::talk::{Step, Talk};
use duskrow::store::{Commit, Committed, MakerId};
use proptest::collection::{btree_set, vec};
use proptest::prelude::*;
use proptest::sample::{Index, select};

use super::{Deed, Shelf, answered, beginning, day, new, noon, question};

/// A change as numbers, to be fitted to the book it meets.
#[derive(Clone, Debug)]
enum Wish {
    Begin(Box<Beginning>),
    Ask { day: Index, at: i64 },
    Answer { day: Index, tier: Index, how: How, at: i64 },
    Work { block: Index, yarns: Vec<Index>, at: i64 },
    PullBack { block: Index, rows_left: u16 },
}

fn beginnings() -> impl Strategy<Value = Beginning> {
    let zones = select(vec![
        chrono_tz::Europe::Lisbon,
        chrono_tz::America::Nuuk,
        chrono_tz::Pacific::Apia,
        chrono_tz::America::Argentina::Buenos_Aires,
    ]);
    let times =
        || (0_u32..24, 0_u32..60).prop_map(|(h, m)| NaiveTime::from_hms_opt(h, m, 0).unwrap());
    let plans = (0_u64..4000, 0_u64..732, 31_u16..=120, any::<bool>()).prop_map(
        |(start, days, rows, right)| {
            let first = day("2020-01-01") + Days::new(start);
            let side = if right { Side::Right } else { Side::Wrong };
            Plan::new(first, first + Days::new(days), rows, side).unwrap()
        },
    );
    let yarns = (btree_set(any::<u8>(), 1..=24), any::<[u8; 3]>());
    let tiers = (btree_set(any::<u8>(), 2..=12), any::<Index>(), any::<Index>());
    (plans, zones, times(), times(), yarns, tiers).prop_map(
        |(plan, zone, ask_at, day_turns_at, (yarn_ids, rgb), (tier_ids, default, yarn))| {
            let name = |what: &str, id: u8| Label::parse(&format!("{what} {id} ñ'\"")).unwrap();
            let yarns: Vec<Yarn> = yarn_ids
                .iter()
                .rev()
                .map(|&id| Yarn { id: YarnId(id), name: name("Yarn", id), rgb })
                .collect();
            let yarn = yarns[yarn.index(yarns.len())].id;
            let tiers: Vec<Tier> = tier_ids
                .iter()
                .rev()
                .map(|&id| Tier { id: TierId(id), label: name("Tier", id), yarn })
                .collect();
            let default = tiers[default.index(tiers.len())].id;
            let hours = Hours { zone, ask_at, day_turns_at };
            let scale = Scale::new(tiers, default).unwrap();
            Beginning { plan, scale, yarns, joining: yarn, hours }
        },
    )
}

fn wishes() -> impl Strategy<Value = Wish> {
    let hows = select(vec![How::Answered, How::ForNow, How::Assumed]);
    let at = -1_000_000_000_000_i64..4_000_000_000_000;
    prop_oneof![
        1 => beginnings().prop_map(|beginning| Wish::Begin(Box::new(beginning))),
        4 => (any::<Index>(), at.clone()).prop_map(|(day, at)| Wish::Ask { day, at }),
        8 => (any::<Index>(), any::<Index>(), hows, at.clone())
            .prop_map(|(day, tier, how, at)| Wish::Answer { day, tier, how, at }),
        4 => (any::<Index>(), vec(any::<Index>(), 0..6), at)
            .prop_map(|(block, yarns, at)| Wish::Work { block, yarns, at }),
        3 => (any::<Index>(), 0_u16..8)
            .prop_map(|(block, rows_left)| Wish::PullBack { block, rows_left }),
    ]
}

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

/// The wish as a change that this book can meet; `None` for a day asked about already.
fn change(wish: &Wish, book: &Book, asked: &mut BTreeSet<NaiveDate>) -> Option<Change> {
    let instant = |ms: i64| DateTime::<Utc>::from_timestamp_millis(ms).unwrap();
    let plan = book.plan();
    let days = usize::try_from((plan.last_day() - plan.first_day()).num_days()).unwrap() + 1;
    let date = |day: &Index| plan.first_day() + TimeDelta::days(day.index(days) as i64);
    let block = |block: &Index| {
        let blocks: Vec<BlockNumber> = plan.blocks().map(|block| block.number).collect();
        blocks[block.index(blocks.len())]
    };
    Some(match wish {
        Wish::Begin(beginning) => Change::Began(beginning.clone()),
        Wish::Ask { day, at } if asked.insert(date(day)) => {
            Change::Asked { day: date(day), at: instant(*at) }
        }
        Wish::Ask { .. } => return None,
        Wish::Answer { day, tier, how, at } => {
            let tiers = book.scale().tiers();
            let tier = tiers[tier.index(tiers.len())].id;
            Change::Answered { day: date(day), tier, how: *how, at: instant(*at) }
        }
        Wish::Work { block: index, yarns, at } => {
            let known = book.yarns();
            let yarns = yarns.iter().map(|yarn| known[yarn.index(known.len())].id).collect();
            Change::Worked { block: block(index), yarns, at: instant(*at) }
        }
        Wish::PullBack { block: index, rows_left } => {
            Change::PulledBack { block: block(index), rows_left: *rows_left }
        }
    })
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
    let steps = vec((any::<bool>(), vec(wishes(), 0..6), talks(), 1_usize..3), 1..10);
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
    let pool =
        sqlx::SqlitePool::connect(&format!("sqlite://{}", shelf.path().display())).await.unwrap();
    let tiers: Vec<i64> =
        sqlx::query_scalar("SELECT tier FROM history WHERE day = '2027-01-14' ORDER BY id")
            .fetch_all(&pool)
            .await
            .unwrap();
    assert_eq!(tiers, [1, 2, 1]);
}
