//! A file of the first schema, filled, and opened by this program: nothing of it is lost.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use duskrow::blanket::stock::{Ball, EntryKind, Tenths};
use duskrow::blanket::{
    BlockNumber, Book, Change, How, OnPaper, Reminders, TierId, YarnId, YarnSettings, apply,
};
use duskrow::chat::event::{MessageId, UserId};
use duskrow::chat::talk::Talk;
use duskrow::store::{Commit, Committed, Create, MakerId, Store};
use sqlx::migrate::Migrator;
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode};
use sqlx::{AssertSqlSafe, Row, SqlitePool};

use super::{answered, beginning, day, noon, note};

/// Two makers, one with two blankets; ids with gaps, as they are after years.
const FILLED: &str = r#"
BEGIN;
PRAGMA defer_foreign_keys = ON;
INSERT INTO makers (id, user_id, chat_id, owner, reachable, talk, revision, wakes_at, joined_at,
    blanket)
VALUES (4, 5, 55, 1, 1, '{"step":"Idle"}', 9, 1799960400000, 1798800000000, 12),
    (8, 6, 66, 0, 0, '{"step":"Idle"}', 1, NULL, 1798800000001, NULL);
INSERT INTO blankets (id, maker, first_day, last_day, rows_per_block, first_side, default_tier,
    joining_yarn, zone, ask_at, day_turns_at)
VALUES (3, 4, '2026-01-01', '2026-12-31', 31, 'wrong', 1, 1,
        'Pacific/Apia', '20:30:00', '03:00:00'),
    (12, 4, '2027-01-01', '2027-12-31', 33, 'right', 1, 9,
        'Europe/Lisbon', '21:00:00', '04:00:00');
INSERT INTO yarns (blanket, id, position, name, rgb)
VALUES (3, 1, 0, 'Shingle', '#D2CDA4'), (12, 1, 0, 'Kelp', '#AC944B'),
    (12, 2, 1, 'Brick', '#A05E41'), (12, 9, 2, 'Harbour Blue', '#4F7FB0');
INSERT INTO tiers (blanket, id, position, label, yarn)
VALUES (3, 1, 0, 'Ordinary', 1), (3, 2, 1, 'Smooth', 1), (12, 1, 0, 'Rough', 1),
    (12, 2, 1, 'Smooth', 2);
INSERT INTO days (blanket, day, tier, how, at)
VALUES (3, '2026-12-31', 1, 'assumed', 1798761600000),
    (12, '2027-01-01', 2, 'answered', 1799928000000),
    (12, '2027-01-02', 1, 'for now', 1799928000000),
    (12, '2027-01-03', 1, 'assumed', 1799928000000);
INSERT INTO history (id, blanket, day, tier, how, at)
VALUES (2, 3, '2026-12-31', 1, 'assumed', 1798761600000),
    (5, 12, '2027-01-01', 1, 'answered', 1799900000000),
    (6, 12, '2027-01-01', 2, 'answered', 1799928000000),
    (9, 12, '2027-01-02', 1, 'for now', 1799928000000),
    (10, 12, '2027-01-03', 1, 'assumed', 1799928000000);
INSERT INTO asked (blanket, day, number, at)
VALUES (12, '2027-01-01', 1, 1798837200000), (12, '2027-01-14', 2, 1799928000000);
INSERT INTO worked (blanket, block, row, yarn, at)
VALUES (12, 1, 1, 2, 1799928000000), (12, 1, 2, 1, 1799928000000);
INSERT INTO outbox (id, maker, lane, kind, slot, params, until, queued_at)
VALUES (77, 4, 'unasked', 'send', 'question 2027-01-14', '{"text":"?"}', 1799982000000,
    1799928000000);
INSERT INTO slots (maker, slot, message_id) VALUES (4, 'question 2027-01-01', 41), (4, 'rows', 43);
INSERT INTO seen_updates (update_id, at) VALUES (7001, 1799928000000);
INSERT INTO failed_updates (update_id, maker, kind, raw, code, at)
VALUES (7000, 4, 'message', '{}', 'F1', 1799928000000);
INSERT INTO invitations (hash, owner, expires_at, used_at) VALUES (x'00ff', 0, 1799928000000, NULL);
INSERT INTO meta (key, value) VALUES ('bot_id', '100'), ('bot_name', 'dusk_bot');
COMMIT;
"#;

/// A file as the first version left it.
async fn first_schema(path: &Path) -> SqlitePool {
    let pool = schema(path, &["0001_house.sql"]).await;
    sqlx::raw_sql(FILLED).execute(&pool).await.unwrap();
    pool
}

/// A file as the version with these migrations made it.
async fn schema(path: &Path, names: &[&str]) -> SqlitePool {
    let migrations = tempfile::tempdir().unwrap();
    for name in names {
        fs::copy(Path::new("migrations").join(name), migrations.path().join(name)).unwrap();
    }
    let options = SqliteConnectOptions::new()
        .filename(path)
        .create_if_missing(true)
        .journal_mode(SqliteJournalMode::Wal);
    let pool = SqlitePool::connect_with(options).await.unwrap();
    Migrator::new(migrations.path()).await.unwrap().run(&pool).await.unwrap();
    pool
}

/// Every row of each table, in the columns named.
async fn rows(
    pool: &SqlitePool,
    columns: &BTreeMap<String, String>,
) -> BTreeMap<String, Vec<String>> {
    let mut all = BTreeMap::new();
    for (table, columns) in columns {
        let sql = format!("SELECT json_array({columns}) FROM {table} ORDER BY 1");
        let rows = sqlx::query_scalar(AssertSqlSafe(sql)).fetch_all(pool).await.unwrap();
        all.insert(table.clone(), rows);
    }
    all
}

/// Every table of ours with its columns, but for two whose values moved into others.
async fn columns(pool: &SqlitePool) -> BTreeMap<String, String> {
    // A blob is no JSON: its digits are.
    let sql = "SELECT tables.name, group_concat(CASE columns.type
            WHEN 'BLOB' THEN 'hex(' || columns.name || ')' ELSE columns.name END, ', ')
        FROM sqlite_schema AS tables JOIN pragma_table_info(tables.name) AS columns
        WHERE tables.type = 'table' AND tables.name NOT IN ('_sqlx_migrations', 'sqlite_sequence')
            AND columns.name NOT IN ('rows_per_block', 'first_side')
        GROUP BY tables.name";
    let found = sqlx::query(sql).fetch_all(pool).await.unwrap();
    found.into_iter().map(|row| (row.get(0), row.get(1))).collect()
}

/// The book that was filled in, made of changes.
fn book() -> Option<Book> {
    let kept =
        |date: &str, how| Change::Answered { day: day(date), tier: TierId(1), how, at: noon() };
    let asked = |date: &str| Change::Asked { day: day(date), at: noon() };
    let mut book = None;
    for change in [
        Change::Began(Box::new(beginning())),
        answered("2027-01-01", 2),
        kept("2027-01-02", How::ForNow),
        kept("2027-01-03", How::Assumed),
        asked("2027-01-14"),
        Change::Worked { block: BlockNumber(1), yarns: vec![YarnId(2), YarnId(1)], at: noon() },
    ] {
        apply(&mut book, &change);
    }
    book
}

#[tokio::test]
async fn a_filled_file_of_the_first_schema_is_upgraded_with_nothing_lost() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("dusk.db");
    let pool = first_schema(&path).await;
    let columns = columns(&pool).await;
    let before = rows(&pool, &columns).await;
    pool.close().await;
    assert_eq!(before.len(), 14);
    for (table, rows) in &before {
        assert!(!rows.is_empty(), "{table} is not tried");
    }

    let store = Store::open(&path, Create::Never).await.unwrap();
    let pool = super::pool(&path).await;
    assert_eq!(rows(&pool, &columns).await, before);
    let moved = "SELECT id || ' ' || (pieces ->> 'rows') || ' ' || (fabric ->> 'first_side')
        FROM blankets ORDER BY id";
    let moved: Vec<String> = sqlx::query_scalar(moved).fetch_all(&pool).await.unwrap();
    assert_eq!(moved, ["3 31 wrong", "12 33 right"]);
    let faults = sqlx::query("PRAGMA foreign_key_check").fetch_all(&pool).await.unwrap();
    assert_eq!(faults.len(), 0);

    let stored = store.load(UserId(5)).await.unwrap().unwrap();
    assert_eq!(stored.maker.book, book());
    assert_eq!(stored.maker.book.unwrap().reminders(), &Reminders::default());
    assert_eq!(store.load(UserId(6)).await.unwrap().unwrap().maker.book, None);
    assert_eq!(store.pending().await.unwrap(), 1);
    assert_eq!(store.slot_of(MakerId(4), MessageId(43)).await.unwrap().as_deref(), Some("rows"));
    store.close().await;
}

#[tokio::test]
async fn an_upgraded_book_takes_what_the_first_schema_had_no_place_for() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("dusk.db");
    first_schema(&path).await.close().await;
    let store = Store::open(&path, Create::Never).await.unwrap();
    let changes = [
        Change::Reopened { day: day("2027-01-03") },
        Change::PutOff { day: day("2027-01-03"), until: None },
        Change::Noted { day: day("2027-01-01"), note: note(40, "dentist") },
        Change::RemindersSet(Reminders { recap_on: None, ..Reminders::default() }),
    ];
    let commit = Commit {
        update: Some(7002),
        maker: MakerId(4),
        expected_revision: 9,
        changes: &changes,
        talk: &Talk::default(),
        queue: &[],
        reach: None,
        wakes_at: None,
        now: noon(),
    };
    assert_eq!(store.commit(commit).await.unwrap(), Committed::Done);
    let mut expected = book();
    for change in &changes {
        apply(&mut expected, change);
    }
    assert_eq!(store.load(UserId(5)).await.unwrap().unwrap().maker.book, expected);
    let newest = "SELECT id FROM history WHERE day = '2027-01-03' AND tier IS NULL";
    let newest: i64 =
        sqlx::query_scalar(newest).fetch_one(&super::pool(&path).await).await.unwrap();
    assert_eq!(newest, 11);
    store.close().await;
}

#[tokio::test]
async fn balls_and_weighings_of_the_fourth_schema_are_kept_in_their_order() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("dusk.db");
    let before = ["0001_house.sql"];
    let pool = schema(&path, &before).await;
    sqlx::raw_sql(FILLED).execute(&pool).await.unwrap();
    let later = ["0001_house.sql", "0002_evenings.sql", "0003_lines.sql", "0004_shape.sql"];
    pool.close().await;
    let pool = schema(&path, &later).await;
    let entries = "INSERT INTO stock (blanket, yarn, number, kind, tenths, rows, at)
        VALUES (12, 1, 1, 'ball', 500, 0, 1799928000000),
            (12, 1, 2, 'weighing', 483, 2, 1799928000001)";
    sqlx::raw_sql(entries).execute(&pool).await.unwrap();
    pool.close().await;

    let store = Store::open(&path, Create::Never).await.unwrap();
    let book = store.load(UserId(5)).await.unwrap().unwrap().maker.book.unwrap();
    let kinds: Vec<&EntryKind> =
        book.ledger(YarnId(1)).entries().iter().map(|entry| &entry.kind).collect();
    let ball = EntryKind::Ball(Ball::of(Tenths(500)));
    assert_eq!(kinds, [&ball, &EntryKind::Weighing(Tenths(483))]);
    assert_eq!(book.yarn_settings(), &YarnSettings::default());
    assert_eq!(book.on_paper(), &OnPaper::default());
    store.close().await;
}
