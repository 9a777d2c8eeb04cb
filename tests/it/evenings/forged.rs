//! Ten thousand taps nobody was offered: not one touches anything of another maker, and none
//! brings the bot down. Without a network, straight into the step that takes updates.

use std::collections::BTreeMap;
use std::fs;
use std::pin::Pin;
use std::sync::Arc;

use chrono::{DateTime, TimeDelta, Utc};
use duskrow::app::{App, Start};
use duskrow::blanket::Change;
use duskrow::chat::event::UserId;
use duskrow::chat::{Maker, respond};
use duskrow::cli::rehearse::demo;
use duskrow::cli::rehearse::theatre::MAREN;
use duskrow::rehearsal::TOKEN;
use duskrow::store::Create;
use duskrow::telegram::incoming::{self, Kind};
use duskrow::telegram::pacing::Rates;
use duskrow::telegram::poll::Me;
use duskrow::telegram::wire::{Carried, Carry, File, Secret, Timeouts, Wire};
use duskrow::wording::en;
use proptest::strategy::{Strategy as _, ValueTree as _};
use proptest::test_runner::TestRunner;
use serde_json::value::{RawValue, to_raw_value};
use serde_json::{Value, json};
use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{AssertSqlSafe, ConnectOptions as _, SqliteConnection};
use tempfile::TempDir;

use crate::talks::tokens::any_token;
use crate::world::{World, rows_where};

const OTHER: i64 = 1002;
/// Forged taps of each of the two.
const FORGED: i64 = 5000;
/// One in so many goes through the whole bot and its database; the others through what reads an
/// update and decides, which is all that looks at a token.
const KEPT_EVERY: i64 = 5;

#[tokio::test]
async fn ten_thousand_forged_taps_write_nothing_of_another_maker_and_none_panics() {
    let mut world = World::new("2027-01-14 12:00").await;
    let beginning = demo::beginning_on("2027-01-01".parse().unwrap());
    for user in [MAREN, OTHER] {
        let began = Change::Began(Box::new(beginning.clone()));
        world.theatre.settle_in(user, &[began]).await.unwrap();
    }
    let World { theatre, stand_in: _platform, folder, .. } = world;
    let clock = theatre.clock.clone();
    drop(theatre);
    let folder = in_memory(&folder);
    let wire = Wire::new("http://127.0.0.1:1", Secret::new(TOKEN), Timeouts::default()).unwrap();
    let start = Start {
        database: folder.path().join("duskrow.db"),
        create: Create::Never,
        api_url: "http://127.0.0.1:1".to_owned(),
        secret: Secret::new(TOKEN),
        timeouts: Timeouts::default(),
        rates: Rates::default(),
        clock: clock.clone(),
        zoneinfo: None,
        local_line: None,
    };
    let path = start.database.clone();
    let app = App::open_over(wire.carried_by(Arc::new(NoNetwork)), start).await.unwrap();
    let eyes = SqliteConnectOptions::new().filename(path).read_only(true);
    let mut eyes = eyes.connect().await.unwrap();

    let (tokens, mut runner) = (any_token(), TestRunner::deterministic());
    for (first, forger, victim) in [(1, MAREN, OTHER), (FORGED + 1, OTHER, MAREN)] {
        let before = all_of(&mut eyes, victim).await;
        let own = all_of(&mut eyes, forger).await;
        let mut copy = app.store().load(UserId(forger)).await.unwrap().unwrap().maker;
        for number in first..first + FORGED {
            let token = tokens.new_tree(&mut runner).unwrap().current();
            let raw = tap(number, forger, victim, &token);
            match number % KEPT_EVERY {
                0 => app.take(&raw).await.unwrap(),
                _ => think(&mut copy, &raw, UserId(forger), clock.now()),
            }
            clock.turn_to(clock.now() + TimeDelta::seconds(1));
        }
        assert_eq!(all_of(&mut eyes, victim).await, before);
        // Else the taps would not have reached anything at all.
        let after = all_of(&mut eyes, forger).await;
        for table in ["days", "history", "outbox", "makers"] {
            assert_ne!(after[table], own[table], "{table}");
        }
    }
    // An update whose handling panicked would have been set aside.
    let failed = sqlx::query_scalar("SELECT count(*) FROM failed_updates");
    let failed: i64 = failed.fetch_one(&mut eyes).await.unwrap();
    assert_eq!(failed, 0);
    // Two in three were in the forger's own chat, and each of those was handled.
    let taken = sqlx::query_scalar("SELECT count(*) FROM seen_updates WHERE update_id > 0");
    let taken: i64 = taken.fetch_one(&mut eyes).await.unwrap();
    assert!(taken >= 2 * FORGED / KEPT_EVERY * 6 / 10, "{taken}");
}

/// What the bot makes of an update, without keeping it: it must be the forger's own.
fn think(maker: &mut Maker, raw: &RawValue, forger: UserId, now: DateTime<Utc>) {
    let me = Me { id: UserId(8), username: "duskrow_bot".to_owned() };
    let incoming = incoming::read(raw, &me);
    assert_eq!(incoming.from, Some(forger), "{}", raw.get());
    let Kind::Private(event) = incoming.kind else { return };
    assert!(raw.get().contains(&format!("\"chat\":{{\"id\":{}", forger.0)), "{}", raw.get());
    let outcome = respond(maker, now, &event, &en::LEXICON);
    for change in &outcome.changes {
        duskrow::blanket::apply(&mut maker.book, change);
    }
    maker.talk = outcome.talk;
}

/// The same database where a commit need not wait for a disk, if there is such a place.
fn in_memory(folder: &TempDir) -> TempDir {
    let copy = tempfile::tempdir_in("/dev/shm").or_else(|_| tempfile::tempdir()).unwrap();
    for name in ["duskrow.db", "duskrow.db-wal"] {
        fs::copy(folder.path().join(name), copy.path().join(name)).unwrap();
    }
    copy
}

/// A tap of `forger`. Every third says it is under a message in the chat of `victim`, which no
/// platform would hand over.
fn tap(number: i64, forger: i64, victim: i64, token: &str) -> Box<RawValue> {
    let chat = if number % 3 == 0 { victim } else { forger };
    to_raw_value(&json!({ "update_id": number, "callback_query": {
        "id": number.to_string(),
        "from": { "id": forger, "is_bot": false, "first_name": "Forger" },
        "message": { "message_id": number % 40, "date": 0, "chat": { "id": chat, "type": "private" }},
        "data": token,
    }}))
    .unwrap()
}

/// Every row of the database that is about one maker, by table.
async fn all_of(eyes: &mut SqliteConnection, user: i64) -> BTreeMap<String, Vec<String>> {
    let maker = sqlx::query_as("SELECT id, blanket FROM makers WHERE user_id = ?").bind(user);
    let (maker, blanket): (i64, i64) = maker.fetch_one(&mut *eyes).await.unwrap();
    let tables = "SELECT name FROM sqlite_schema WHERE type = 'table'";
    let tables: Vec<String> = sqlx::query_scalar(tables).fetch_all(&mut *eyes).await.unwrap();
    let mut all = BTreeMap::new();
    for table in tables {
        let columns = AssertSqlSafe(format!("SELECT name FROM pragma_table_info('{table}')"));
        let columns: Vec<String> = sqlx::query_scalar(columns).fetch_all(&mut *eyes).await.unwrap();
        let has = |name: &str| columns.iter().any(|column| column == name);
        let about = match table.as_str() {
            "makers" => format!("id = {maker}"),
            _ if has("maker") => format!("maker = {maker}"),
            _ if has("blanket") => format!("blanket = {blanket}"),
            _ => continue,
        };
        all.insert(table.clone(), rows_where(eyes, &table, &about).await);
    }
    assert!(all.len() > 10, "{:?}", all.keys());
    all
}

struct NoNetwork;

impl Carry for NoNetwork {
    fn carry<'a>(
        &'a self,
        _: &'a str,
        _: &'a Value,
        _: Option<&'a File>,
    ) -> Pin<Box<dyn Future<Output = Carried> + Send + 'a>> {
        Box::pin(async { Carried::NotSent })
    }

    fn fetch<'a>(
        &'a self,
        _: &'a str,
    ) -> Pin<Box<dyn Future<Output = Option<Vec<u8>>> + Send + 'a>> {
        Box::pin(async { None })
    }
}
