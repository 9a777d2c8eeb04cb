//! Several blankets of one maker in the file: loaded together, changed apart, erased as one.

use chrono::{DateTime, Utc};
use duskrow::blanket::stock::{Ball, Entry, EntryKind, Tenths};
use duskrow::blanket::{
    BlockNumber, Change, How, OwnQuestion, PersonId, PersonLine, TierId, TierLine, Yarn, YarnId,
    begin_next, next_plan,
};
use duskrow::cli::rehearse::demo;
use duskrow::store::MakerId;

use super::erasing::files_with;
use super::{Deed, Shelf, answered, day, label};

fn christmas() -> DateTime<Utc> {
    "2027-12-25T12:00:00Z".parse().unwrap()
}

/// Commits the changes, and holds what is loaded then to what the maker in memory became.
async fn does(shelf: &Shelf, maker: MakerId, changes: Vec<Change>) {
    let mut expected = shelf.stored(maker).await.maker;
    changes.iter().for_each(|change| expected.apply(change));
    shelf.does(maker, Deed { changes, ..Deed::default() }).await;
    assert_eq!(shelf.stored(maker).await.maker, expected);
}

async fn with_next(shelf: &Shelf) -> MakerId {
    let maker = shelf.maker_with_blanket(5).await;
    let book = shelf.stored(maker).await.maker.book.unwrap();
    let plan = next_plan(&book, &[], day("2028-01-01"), day("2027-12-25")).unwrap();
    does(shelf, maker, begin_next(&book, plan, christmas())).await;
    maker
}

#[tokio::test]
async fn each_blanket_keeps_its_own_days_and_rows() {
    let shelf = Shelf::new().await;
    let maker = with_next(&shelf).await;
    let (old, new) = (day("2027-01-01"), day("2028-01-01"));
    let at = christmas();
    let worked = |yarn| Change::Worked { block: BlockNumber(1), yarns: vec![YarnId(yarn)], at };
    does(&shelf, maker, vec![answered("2027-01-01", 2), worked(2)]).await;
    does(&shelf, maker, vec![Change::Logged { first_day: new }]).await;
    let how = How::Answered;
    let first = Change::Answered { day: new, tier: TierId(1), how, at };
    does(&shelf, maker, vec![first, worked(1), answered("2027-01-02", 1).of(old)]).await;
    does(&shelf, maker, vec![worked(1).of(old)]).await;
    let stored = shelf.stored(maker).await.maker;
    let (logged, older) = (stored.book.unwrap(), &stored.others[0]);
    assert_eq!((logged.plan().first_day(), older.plan().first_day()), (new, old));
    assert_eq!((logged.answers().len(), older.answers().len()), (1, 2));
    assert_eq!(older.worked(BlockNumber(1)).len(), 2);
    assert_eq!(logged.worked(BlockNumber(1)).len(), 1);
}

/// A book from a file takes the place of the one logged, and of no other.
#[tokio::test]
async fn a_book_that_is_replaced_goes_alone() {
    let shelf = Shelf::new().await;
    let maker = with_next(&shelf).await;
    let new = day("2028-01-01");
    does(&shelf, maker, vec![answered("2027-01-01", 2), Change::Logged { first_day: new }]).await;
    let how = How::Answered;
    let kept = Change::Answered { day: new, tier: TierId(1), how, at: christmas() };
    does(&shelf, maker, vec![kept]).await;
    let before = shelf.stored(maker).await.maker;
    let beginning = demo::beginning_on(day("2029-01-01"));
    does(&shelf, maker, vec![Change::Began(Box::new(beginning))]).await;
    let after = shelf.stored(maker).await.maker;
    assert_eq!(after.others, before.others);
    assert_eq!(after.book.unwrap().plan().first_day(), day("2029-01-01"));
    let pool = shelf.pool().await;
    let blankets = "SELECT count(*) FROM blankets";
    let count: i64 = sqlx::query_scalar(blankets).fetch_one(&pool).await.unwrap();
    assert_eq!(count, 2);
}

#[tokio::test]
async fn a_change_of_a_blanket_nobody_began_is_refused_whole() {
    let shelf = Shelf::new().await;
    let maker = with_next(&shelf).await;
    let before = shelf.stored(maker).await;
    let nowhere = day("2031-01-01");
    for change in [answered("2027-01-01", 2).of(nowhere), Change::Logged { first_day: nowhere }] {
        let changes = vec![answered("2027-01-03", 1), change];
        assert!(shelf.commit(maker, &Deed { changes, ..Deed::default() }).await.is_err());
        assert_eq!(shelf.stored(maker).await, before);
    }
}

#[tokio::test]
async fn erasing_a_maker_removes_every_blanket() {
    let shelf = Shelf::new().await;
    let maker = with_next(&shelf).await;
    let blankets = "SELECT count(*) FROM blankets";
    let pool = shelf.pool().await;
    let count: i64 = sqlx::query_scalar(blankets).fetch_one(&pool).await.unwrap();
    assert_eq!(count, 2);
    shelf.erases(maker).await;
    let count: i64 = sqlx::query_scalar(blankets).fetch_one(&pool).await.unwrap();
    assert_eq!(count, 0);
}

/// Another first day moves its days and nothing else, wherever the blanket stands.
#[tokio::test]
async fn a_blanket_that_is_moved_keeps_all_but_its_days() {
    let shelf = Shelf::new().await;
    let maker = with_next(&shelf).await;
    let (old, new) = (day("2028-01-01"), day("2028-02-29"));
    let moved = Change::DaysMoved { first_day: new, last_day: day("2029-02-28") };
    let before = shelf.stored(maker).await.maker;
    does(&shelf, maker, vec![moved.of(old)]).await;
    let after = shelf.stored(maker).await.maker;
    assert_eq!(after.book, before.book);
    assert_eq!(after.others[0].plan().first_day(), new);
    assert_eq!(after.others[0].scale(), before.others[0].scale());
    does(&shelf, maker, vec![Change::Logged { first_day: new }]).await;
}

/// Tables about a blanket, and how many rows of each the file has.
async fn rows_of_blankets(shelf: &Shelf) -> Vec<(String, i64)> {
    let pool = shelf.pool().await;
    let tables = "SELECT m.name FROM sqlite_schema AS m, pragma_table_info(m.name) AS c
        WHERE m.type = 'table' AND c.name = 'blanket' AND m.name <> 'makers' ORDER BY m.name";
    let tables: Vec<String> = sqlx::query_scalar(tables).fetch_all(&pool).await.unwrap();
    let mut counted = Vec::new();
    for table in tables.into_iter().chain(["blankets".to_owned()]) {
        let count = format!("SELECT count(*) FROM {table}");
        let count = sqlx::query_scalar(sqlx::AssertSqlSafe(count)).fetch_one(&pool).await.unwrap();
        counted.push((table, count));
    }
    pool.close().await;
    counted
}

/// Something of every kind that can be kept of a blanket before it begins, each with a word that
/// is nowhere else.
fn marked(first_day: chrono::NaiveDate) -> Vec<Change> {
    let yarn = Yarn { id: YarnId(1), name: label("Zebrasea"), rgb: [1, 2, 3], after: None };
    let ball = EntryKind::Ball(Ball { lot: Some(label("zebralot")), ..Ball::of(Tenths(500)) });
    let changes = vec![
        Change::YarnNamed(yarn),
        Change::Stocked { yarn: YarnId(1), entry: Entry { kind: ball, rows: 0, at: christmas() } },
        Change::QuestionSet(OwnQuestion::parse("How zebraish was it?").ok()),
        Change::Described {
            tier: TierId(1),
            line: TierLine::parse("zebra weather").ok(),
            at: christmas(),
        },
        Change::PersonKept {
            id: PersonId(1),
            line: PersonLine::parse("Zebra Ida, 555 0134").unwrap(),
        },
    ];
    changes.into_iter().map(|change| change.of(first_day)).collect()
}

#[tokio::test]
async fn a_blanket_that_is_taken_back_leaves_no_row_and_no_byte() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker_with_blanket(5).await;
    let before = rows_of_blankets(&shelf).await;
    let book = shelf.stored(maker).await.maker.book.unwrap();
    let first_day = day("2028-01-01");
    let plan = next_plan(&book, &[], first_day, day("2027-12-25")).unwrap();
    does(&shelf, maker, begin_next(&book, plan, christmas())).await;
    does(&shelf, maker, marked(first_day)).await;
    assert!(!files_with(shelf.folder.path(), b"ebra").is_empty());
    assert_ne!(rows_of_blankets(&shelf).await, before);
    does(&shelf, maker, vec![Change::BlanketDeleted { first_day }]).await;
    assert_eq!(rows_of_blankets(&shelf).await, before);
    let stored = shelf.stored(maker).await.maker;
    assert_eq!((stored.book, stored.others.len()), (Some(book), 0));
    // The next sweep of the file takes what is left of it on the disk.
    shelf.store.finish_erasing().await.unwrap();
    assert_eq!(files_with(shelf.folder.path(), b"ebra"), Vec::<String>::new());
}

#[tokio::test]
async fn the_blanket_that_is_logged_is_never_taken_back() {
    let shelf = Shelf::new().await;
    let maker = with_next(&shelf).await;
    let before = shelf.stored(maker).await;
    for first_day in ["2027-01-01", "2031-01-01"] {
        let change = Change::BlanketDeleted { first_day: day(first_day) };
        let deed = Deed { changes: vec![change], ..Deed::default() };
        assert!(shelf.commit(maker, &deed).await.is_err(), "{first_day}");
        assert_eq!(shelf.stored(maker).await, before);
    }
}
