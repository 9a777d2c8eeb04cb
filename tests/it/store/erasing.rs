//! Erased is erased: no byte of it is left in any file of the folder.

use std::fs;
use std::path::Path;

use duskrow::blanket::{
    Beginning, BlockNumber, Change, Finish, PersonId, PersonLine, Scale, Tier, TierId, TierLine,
    YarnId,
};
use duskrow::chat::event::{MessageId, UserId};
use duskrow::store::{FailedUpdate, MakerId, Settled, StoreError};

use super::{Deed, Shelf, answered, ball, beginning, day, edit, label, new, noon, note};

/// As an integer its six bytes are written in the file as the text they spell.
const MARKED_USER: i64 = 0x5A45_5048_5952;
const MARK: &[u8] = b"ZEPHYR";

/// The names of the files in a folder that hold these bytes.
pub fn files_with(folder: &Path, bytes: &[u8]) -> Vec<String> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let content = fs::read(&path).unwrap();
        if content.windows(bytes.len()).any(|window| window == bytes) {
            found.push(path.file_name().unwrap().to_string_lossy().into_owned());
        }
    }
    found
}

fn marked() -> Beginning {
    let plain = beginning();
    let tiers: Vec<Tier> = plain.scale.tiers().to_vec();
    let tiers = tiers
        .into_iter()
        .map(|tier| Tier { label: label(&format!("ZEPHYR {}", tier.label)), ..tier })
        .collect();
    let mut yarns = plain.yarns.clone();
    yarns[0].name = label("ZEPHYR yarn");
    let scale = Scale::new(tiers, plain.scale.default_tier().id).unwrap();
    Beginning { scale, yarns, ..plain }
}

/// Numbers that look drawn and are the same every time (the generator of Knuth's MMIX).
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: u64) -> u64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % n
    }
}

/// A crowd whose rows come to lie among one another, are moved, and go; one of them is marked.
async fn crowd(shelf: &Shelf, dice: &mut Dice) -> (MakerId, MakerId) {
    let makers_count = 2 + dice.below(30);
    let marked_index = dice.below(makers_count);
    let mut makers = Vec::new();
    for index in 0..makers_count {
        let is_marked = index == marked_index;
        let user = if is_marked { MARKED_USER } else { 100_000_000_000 + index as i64 };
        let maker = shelf.maker(user).await;
        let book = if is_marked { marked() } else { beginning() };
        shelf.does(maker, Deed::change(Change::Began(Box::new(book)))).await;
        makers.push(maker);
    }
    for _ in 0..150 {
        let index = if dice.below(4) == 0 { marked_index } else { dice.below(makers_count) };
        let maker = makers[index as usize];
        let mark = if index == marked_index { "ZEPHYR" } else { "zephyr" };
        say_something(shelf, dice, maker, mark).await;
    }
    let other = makers[(marked_index as usize + 1) % makers.len()];
    (makers[marked_index as usize], other)
}

async fn say_something(shelf: &Shelf, dice: &mut Dice, maker: MakerId, mark: &str) {
    let length = 1 + [3, 60, 900][dice.below(3) as usize] * dice.below(3) as usize;
    let text = mark.repeat(length);
    let slot = format!("{mark} {}", dice.below(40));
    let date = format!("2027-{:02}-{:02}", 1 + dice.below(12), 1 + dice.below(28));
    let note = note(dice.below(60) as i64, &mark.repeat(1 + dice.below(80) as usize));
    let noted = Change::Noted { day: day(&date), note };
    let id = PersonId(dice.below(5) as i64);
    let line = PersonLine::parse(&mark.repeat(1 + dice.below(20) as usize)).unwrap();
    let person = Change::PersonKept { id, line };
    let changes = vec![answered(&date, 1 + dice.below(2) as u8), noted, person];
    let queue = vec![new(Some(&slot), &text), edit(Some(&slot), Some(1), &text)];
    shelf.does(maker, Deed { changes, queue, ..Deed::default() }).await;
    if dice.below(3) == 0 {
        let (update, raw) = (100_000 + dice.below(1_000_000) as i64, Some(text.as_str()));
        let failed = FailedUpdate { update, maker: Some(maker), kind: "message", raw, code: "F1" };
        shelf.store.fail_update(failed, noon()).await.unwrap();
    }
    for _ in 0..dice.below(4) {
        let Some(claimed) = shelf.store.claim(noon(), &|_| false).await.unwrap() else { break };
        let message = MessageId(dice.below(100) as i64);
        let settled = if dice.below(2) == 0 { Settled::Drop } else { Settled::Sent { message } };
        shelf.store.settle(claimed.id, settled).await.unwrap();
    }
}

/// Without rewriting the file, `secure_delete` alone leaves bytes behind for each of these seeds:
/// in the gaps of pages whose rows were moved.
const SEEDS: [u64; 3] = [1, 5, 7];

#[tokio::test]
async fn after_erasing_no_byte_of_the_maker_is_left_in_the_folder() {
    for seed in SEEDS {
        let shelf = Shelf::new().await;
        let (maker, other) = crowd(&shelf, &mut Dice(seed)).await;
        let before = shelf.stored(other).await;
        assert_ne!(files_with(shelf.folder.path(), MARK), Vec::<String>::new());
        shelf.erases(maker).await;
        assert_eq!(files_with(shelf.folder.path(), MARK), Vec::<String>::new(), "seed {seed}");
        assert_eq!(shelf.store.load(UserId(MARKED_USER)).await.unwrap(), None);
        assert_eq!(shelf.stored(other).await, before);
    }
}

#[tokio::test]
async fn an_update_that_was_seen_before_erases_nothing() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker_with_blanket(MARKED_USER).await;
    shelf.does(maker, Deed { update: Some(900), ..Deed::default() }).await;
    let before = shelf.stored(maker).await;
    assert!(!shelf.store.erase(maker, 900, noon()).await.unwrap());
    assert_eq!(shelf.stored(maker).await, before);
    assert!(shelf.store.erase(maker, 901, noon()).await.unwrap());
    assert!(shelf.store.seen(901).await.unwrap());
    assert_eq!(shelf.store.load_by_id(maker).await.unwrap(), None);
}

#[tokio::test]
async fn an_erasing_held_up_by_another_reader_is_finished_later() {
    let shelf = Shelf::new().await;
    let (maker, _) = crowd(&shelf, &mut Dice(SEEDS[0])).await;
    let pool = shelf.pool().await;
    let mut reader = pool.begin().await.unwrap();
    sqlx::query("SELECT count(*) FROM makers").fetch_one(&mut *reader).await.unwrap();
    let held_up = shelf.store.erase(maker, shelf.next_update(), noon()).await;
    assert!(matches!(held_up, Err(StoreError::Busy)), "{held_up:?}");
    assert_eq!(shelf.store.load_by_id(maker).await.unwrap(), None);
    assert_ne!(files_with(shelf.folder.path(), MARK), Vec::<String>::new());
    drop(reader);
    pool.close().await;
    shelf.store.prune(noon()).await.unwrap();
    assert_eq!(files_with(shelf.folder.path(), MARK), Vec::<String>::new());
}

/// While one sweeps, another can delete: what a sweep began with is all that it ends.
#[tokio::test]
async fn each_blanket_that_goes_leaves_a_mark_of_its_own() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker_with_blanket(1).await;
    let pool = shelf.pool().await;
    let replaced = async || -> Vec<String> {
        shelf.does(maker, Deed::change(Change::Began(Box::new(beginning())))).await;
        let marks = "SELECT value FROM meta WHERE key = 'erasing'";
        sqlx::query_scalar(marks).fetch_all(&pool).await.unwrap()
    };
    assert!(!shelf.store.finish_erasing().await.unwrap(), "nothing went yet");
    let (first, second) = (replaced().await, replaced().await);
    assert_eq!((first.len(), second.len()), (1, 1));
    assert_ne!(first, second);
    pool.close().await;
    assert!(shelf.store.finish_erasing().await.unwrap());
    assert!(!shelf.store.finish_erasing().await.unwrap(), "nothing is left to do");
}

#[tokio::test]
async fn no_table_keeps_a_row_of_an_erased_maker() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker_with_blanket(MARKED_USER).await;
    let changes = vec![
        answered("2027-01-14", 2),
        Change::Asked { day: day("2027-01-14"), at: noon() },
        Change::PutOff { day: day("2027-01-13"), until: None },
        Change::Noted { day: day("2027-01-14"), note: note(1, "dentist") },
        Change::PersonKept { id: PersonId(1), line: PersonLine::parse("Ida").unwrap() },
        Change::Worked { block: BlockNumber(1), yarns: vec![YarnId(1)], at: noon() },
        Change::Stocked { yarn: YarnId(1), entry: ball(1000) },
        Change::Described { tier: TierId(1), line: TierLine::parse("work").ok(), at: noon() },
        Change::Finished { block: BlockNumber(1), finish: Finish::Woven, done: true },
    ];
    let queue = vec![new(Some("rows"), "Rows"), new(None, "waits")];
    shelf.does(maker, Deed { changes, queue, ..Deed::default() }).await;
    let claimed = shelf.store.claim(noon(), &|_| false).await.unwrap().unwrap();
    let message = MessageId(7);
    shelf.store.settle(claimed.id, Settled::Sent { message }).await.unwrap();
    let failed =
        FailedUpdate { update: 1, maker: Some(maker), kind: "message", raw: None, code: "F1" };
    shelf.store.fail_update(failed, noon()).await.unwrap();
    shelf.store.keep_file_id(maker, &[7; 32], "ZEPHYR", noon()).await.unwrap();

    let pool = shelf.pool().await;
    let count = async |table: &str| -> i64 {
        let sql = sqlx::AssertSqlSafe(format!("SELECT count(*) FROM {table}"));
        sqlx::query_scalar(sql).fetch_one(&pool).await.unwrap()
    };
    let tables: Vec<String> = sqlx::query_scalar(
        "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite%'
            AND name NOT IN ('_sqlx_migrations', 'meta', 'seen_updates', 'invitations')",
    )
    .fetch_all(&pool)
    .await
    .unwrap();
    assert_eq!(tables.len(), 18);
    for table in &tables {
        assert_ne!(count(table).await, 0, "{table} is not tried");
    }
    shelf.erases(maker).await;
    for table in &tables {
        assert_eq!(count(table).await, 0, "{table}");
    }
}
