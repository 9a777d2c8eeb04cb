//! Several blankets of one maker in the file: loaded together, changed apart, erased as one.

use chrono::{DateTime, Utc};
use duskrow::blanket::{BlockNumber, Change, How, TierId, YarnId, begin_next, next_plan};
use duskrow::cli::rehearse::demo;
use duskrow::store::MakerId;

use super::{Deed, Shelf, answered, day};

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
    shelf.store.erase(maker).await.unwrap();
    let count: i64 = sqlx::query_scalar(blankets).fetch_one(&pool).await.unwrap();
    assert_eq!(count, 0);
}
