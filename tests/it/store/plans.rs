//! How SQLite goes about every statement of the program: by an index, never over a whole table
//! that grows with makers or days.

use std::fs;

use sqlx::{AssertSqlSafe, Row, SqlitePool};

use super::Shelf;

/// Emptied when the bot is another.
const MAY_BE_SCANNED: [&str; 3] = ["seen_updates", "slots", "sent_files"];

/// Of every maker, once, when the bot is another.
const OF_ANOTHER_BOT: &str = "UPDATE makers SET talk = json_remove(talk, '$.in_hand_since')";

async fn steps(pool: &SqlitePool, statement: &str) -> Vec<String> {
    let explain = AssertSqlSafe(format!("EXPLAIN QUERY PLAN {statement}"));
    let rows = sqlx::query(explain).fetch_all(pool).await.unwrap();
    rows.iter().map(|row| row.get("detail")).collect()
}

/// The tables a statement goes over from end to end.
async fn scanned(pool: &SqlitePool, statement: &str) -> Vec<String> {
    let steps = steps(pool, statement).await;
    steps
        .iter()
        .filter(|step| !step.ends_with("VALUES CLAUSE"))
        .filter_map(|step| step.strip_prefix("SCAN ")?.split(' ').next().map(str::to_owned))
        .filter(|table| !MAY_BE_SCANNED.contains(&table.as_str()))
        .collect()
}

#[tokio::test]
async fn no_statement_goes_over_a_whole_table() {
    let shelf = Shelf::new().await;
    let pool = shelf.pool().await;
    assert_eq!(scanned(&pool, "SELECT * FROM days WHERE at > 5").await, ["days"]);

    let mut tried = 0;
    for entry in fs::read_dir(".sqlx").unwrap() {
        let text = fs::read_to_string(entry.unwrap().path()).unwrap();
        let query: serde_json::Value = serde_json::from_str(&text).unwrap();
        let statement = query["query"].as_str().unwrap();
        if statement != OF_ANOTHER_BOT {
            assert_eq!(scanned(&pool, statement).await, Vec::<String>::new(), "{statement}");
        }
        tried += 1;
    }
    assert!(tried > 70, "only {tried} statements were found");
}

#[tokio::test]
async fn every_file_of_migrations_is_built_in() {
    let shelf = Shelf::new().await;
    let pool = shelf.pool().await;
    let built_in: Vec<i64> = sqlx::query_scalar("SELECT version FROM _sqlx_migrations ORDER BY 1")
        .fetch_all(&pool)
        .await
        .unwrap();
    let mut there: Vec<i64> = fs::read_dir("migrations")
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .map(|name| name.split('_').next().unwrap().parse().unwrap())
        .collect();
    there.sort_unstable();
    assert_eq!(built_in, there);
}
