//! Yarn that lasts, or not: a first purchase by a guess before the first day, three weighings, and
//! in autumn a colour that is short and comes in another lot. `duskrow rehearse --empty --start
//! 2026-12-28 --script` plays the same lines. `tests/outside/autumn` works out every number the bot
//! says here by itself, from what the maker did.

use duskrow::blanket::YarnId;

use crate::world::World;

const AUTUMN: &str = include_str!("autumn.txt");

#[tokio::test]
async fn yarn_is_bought_by_a_guess_weighed_three_times_and_short_in_autumn() {
    let mut world = World::new("2026-12-28 21:14").await;
    let played = world.play(AUTUMN).await;
    insta::assert_snapshot!(played);
    let book = world.book().await;
    let shingle = book.ledger(YarnId(4));
    // Balls, what they weigh, three weighings after rows, and balls of another lot.
    assert_eq!(shingle.entries().len(), 1 + 4 + 1);
    let [pair] = shingle.pairs()[..] else { panic!("{:?}", shingle.pairs()) };
    // By hand, the days of tier 4 from January to June.
    assert_eq!((pair.rows, pair.grams), (25 + 17 + 18 + 16 + 20 + 19, 151.0 - 68.0));
    let lots: Vec<(String, u32)> =
        shingle.lots().into_iter().map(|(lot, balls)| (lot.to_string(), balls)).collect();
    assert_eq!(lots, [("5120".to_owned(), 2), ("4471".to_owned(), 3)]);
}
