//! Erased is erased: no byte of it is left in any file of the folder.

use std::fs;
use std::path::Path;

use duskrow::blanket::{Beginning, Change, Scale, Tier};
use duskrow::chat::event::UserId;
use duskrow::store::FailedUpdate;

use super::{Deed, Shelf, answered, beginning, edit, label, new, noon};

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

#[tokio::test]
async fn after_erasing_no_byte_of_the_maker_is_left_in_the_folder() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker(MARKED_USER).await;
    shelf.does(maker, Deed::change(Change::Began(Box::new(marked())))).await;
    let mut others = Vec::new();
    for user in 1..40 {
        others.push(shelf.maker_with_blanket(user).await);
    }
    // A month in which everybody's rows come to lie among everybody else's, and are moved.
    for round in 1..=28 {
        let date = format!("2027-01-{round:02}");
        for (index, &one) in others.iter().chain([&maker]).enumerate() {
            let text = format!("{{\"text\":\"ZEPHYR {}\"}}", "x".repeat(40 * (round % 7)));
            let text = if one == maker { text } else { text.replace("ZEPHYR", "zephyr") };
            let changes = vec![answered(&date, if (round + index) % 3 == 0 { 1 } else { 2 })];
            let slot = if one == maker { "ZEPHYR slot" } else { "slot" };
            let queue = vec![new(Some(slot), &text), edit(Some(slot), Some(1), &text)];
            shelf.does(one, Deed { changes, queue, ..Deed::default() }).await;
        }
        if round % 2 == 0 {
            shelf.send_all(100).await;
        }
        let raw = Some("ZEPHYR wrote this");
        let update = shelf.next_update();
        let failed = FailedUpdate { update, maker: Some(maker), kind: "message", raw, code: "F1" };
        shelf.store.fail_update(failed, noon()).await.unwrap();
    }
    let before = shelf.stored(others[0]).await;
    assert_ne!(files_with(shelf.folder.path(), MARK), Vec::<String>::new());

    shelf.store.erase(maker).await.unwrap();
    assert_eq!(files_with(shelf.folder.path(), MARK), Vec::<String>::new());
    assert_eq!(shelf.store.load(UserId(MARKED_USER)).await.unwrap(), None);
    assert_eq!(shelf.stored(others[0]).await, before);
}

#[tokio::test]
async fn no_table_keeps_a_row_of_an_erased_maker() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker_with_blanket(MARKED_USER).await;
    let changes = vec![
        answered("2027-01-14", 2),
        Change::Asked { day: super::day("2027-01-14"), at: noon() },
        Change::Worked {
            block: duskrow::blanket::BlockNumber(1),
            yarns: vec![duskrow::blanket::YarnId(1)],
            at: noon(),
        },
    ];
    let queue = vec![new(Some("rows"), "Rows"), new(None, "waits")];
    shelf.does(maker, Deed { changes, queue, ..Deed::default() }).await;
    let claimed = shelf.store.claim(noon(), &|_| false).await.unwrap().unwrap();
    let message = duskrow::chat::event::MessageId(7);
    shelf.store.settle(claimed.id, duskrow::store::Settled::Sent { message }).await.unwrap();
    let failed =
        FailedUpdate { update: 1, maker: Some(maker), kind: "message", raw: None, code: "F1" };
    shelf.store.fail_update(failed, noon()).await.unwrap();

    let address = format!("sqlite://{}", shelf.path().display());
    let pool = sqlx::SqlitePool::connect(&address).await.unwrap();
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
    assert_eq!(tables.len(), 11);
    for table in &tables {
        assert_ne!(count(table).await, 0, "{table} is not tried");
    }
    shelf.store.erase(maker).await.unwrap();
    for table in &tables {
        assert_eq!(count(table).await, 0, "{table}");
    }
}
