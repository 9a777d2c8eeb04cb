//! No space left: nothing is half written, and the same call succeeds once there is space.

use duskrow::store::{Committed, StoreError};

use super::{Deed, Shelf, answered, new};

#[tokio::test]
async fn on_a_full_disk_nothing_is_half_written_and_the_same_commit_succeeds_later() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker_with_blanket(1).await;
    let before = shelf.stored(maker).await;
    shelf.store.limit_pages(1).await.unwrap();
    let update = shelf.next_update();
    let deed = Deed {
        update: Some(update),
        changes: vec![answered("2027-01-14", 2)],
        queue: vec![new(None, &"x".repeat(100_000))],
        ..Deed::default()
    };
    for _ in 0..3 {
        let error = shelf.commit(maker, &deed).await.unwrap_err();
        assert!(matches!(error, StoreError::Full), "{error:?}");
        assert_eq!(shelf.stored(maker).await, before);
        assert_eq!(shelf.store.pending().await.unwrap(), 0);
        assert!(!shelf.store.seen(update).await.unwrap());
    }
    shelf.store.limit_pages(u32::MAX - 1).await.unwrap();
    assert_eq!(shelf.commit(maker, &deed).await.unwrap(), Committed::Done);
    assert_eq!(shelf.store.pending().await.unwrap(), 1);
}
