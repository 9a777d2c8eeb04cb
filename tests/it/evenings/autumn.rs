//! The yarn of a year, from the first purchase through three weighings to a colour that runs short
//! in autumn. `duskrow rehearse --empty --start 2026-12-20 --script` plays the same lines; what
//! they come to is worked out a second time by `tests/outside/autumn`.

use duskrow::blanket::YarnId;
use duskrow::blanket::stock::EntryKind;

use crate::world::World;

const AUTUMN: &str = include_str!("autumn.txt");

#[tokio::test]
async fn the_yarn_of_a_year_goes_from_the_first_purchase_to_a_shortage_in_autumn() {
    let mut world = World::new("2026-12-20 20:14").await;
    let played = world.play(AUTUMN).await;
    insta::assert_snapshot!(played);
    let book = world.book().await;
    let shingle = book.ledger(YarnId(4));
    let weighings =
        shingle.entries().iter().filter(|entry| matches!(entry.kind, EntryKind::Weighing(_)));
    assert_eq!(weighings.count(), 3);
    // What was refused is not kept: the ball of 10 kg, the colour spelt wrong, the weight that grew.
    let lots: Vec<(&str, u32)> =
        shingle.lots().into_iter().map(|(lot, balls)| (lot.as_str(), balls)).collect();
    assert_eq!(lots, [("9002", 1), ("4471", 3)]);
}
