//! `kill -9`, again and again, in the middle of everything: no answer is lost, none doubled.

use std::collections::{BTreeMap, BTreeSet};

use duskrow::rehearsal::{SeenKind, Speaker};
use rustix::process::Signal;
use tokio::task::JoinSet;

use super::house::{House, beginning};
use super::stream::{Act, Answer, Dice, Stream};
use super::within;

const KILLS: usize = 30;
/// Of all makers together, at least.
const UPDATES: usize = 2000;
const MAKERS: i64 = 64;

/// `SEED=n` in the environment kills at other moments, `KILLS=n` so many times.
#[tokio::test]
async fn killed_thirty_times_over_two_thousand_updates_the_bot_loses_none_and_doubles_none() {
    let set = |name, usual| std::env::var(name).map_or(usual, |set| set.parse().unwrap());
    let (seed, kills) = (set("SEED", 20_270_114), set("KILLS", KILLS as u64) as usize);
    let updates = UPDATES.max(3 * kills);
    let mut dice = Dice(seed);
    let house = House::new().await;
    for user in 1..=MAKERS {
        house.settle_in(user, beginning()).await;
    }
    let stream = Stream::new(house.stand_in.clone());
    let mut makers = JoinSet::new();
    for user in 1..=MAKERS {
        makers.spawn(stream.clone().answer_days(user, dice.below(u64::MAX) | 1));
    }
    let mut bot = house.start();
    for kill in 0..kills {
        within("more updates", stream.has_acted(updates * kill / kills)).await;
        something_happens(&house, 1 + dice.below(80)).await;
        bot.kill().await.tells_nothing();
        nothing_is_lost(&house, &stream, &format!("kill {kill}, seed {seed}")).await;
        bot = house.start();
    }
    within("the last updates", stream.has_acted(updates)).await;
    stream.end();
    let ends = async {
        while let Some(ended) = makers.join_next().await {
            ended.unwrap()
        }
    };
    within("the last answers", ends).await;
    within("the last poll", house.stand_in.drained()).await;
    let ended = bot.stop(Signal::TERM).await;
    ended.cleanly();
    assert!(!ended.log.contains("ERROR"), "{}", ended.log);

    nothing_is_lost(&house, &stream, "the end").await;
    nothing_is_doubled(&house, &stream, kills).await;
    house.keeps_to_itself();
    assert_eq!(house.stand_in.violations(), Vec::<String>::new());
}

/// Waits for so many requests, answers and acts of makers, and so kills at any of them.
async fn something_happens(house: &House, times: u64) {
    let mut left = times + 1;
    let happened = house.stand_in.until(|_| {
        left -= 1;
        left == 0
    });
    within("anything to happen", happened).await;
}

/// Every answer the bot acknowledged, and every one it will not be given again, is on disk.
async fn nothing_is_lost(house: &House, stream: &Stream, when: &str) {
    let acts = stream.acts();
    // The platform forgets updates in the order in which they came.
    let confirmed = acts.len() - house.stand_in.unconfirmed_updates();
    let asked = house.stand_in.requests().into_iter();
    let acknowledged: BTreeSet<String> = asked
        .filter(|request| request.method == "answerCallbackQuery")
        .map(|request| request.params["callback_query_id"].as_str().unwrap().to_owned())
        .collect();
    let kept = house.answers().await;
    for (number, act) in acts.iter().enumerate() {
        let Act::Answered(Answer { user, day, tier, query }) = act else { continue };
        let told = query.as_ref().is_some_and(|query| acknowledged.contains(query));
        if told || number < confirmed {
            assert!(kept.contains(&(*user, *day, *tier)), "{when}: lost {day} of {user}");
        }
    }
}

/// Every answer is in the history once, and a kill repeated one message at most.
async fn nothing_is_doubled(house: &House, stream: &Stream, kills: usize) {
    let acts = stream.acts();
    let days: BTreeMap<_, _> = acts
        .iter()
        .filter_map(|act| match act {
            Act::Asked => None,
            Act::Answered(answer) => Some(((answer.user, answer.day), answer.tier)),
        })
        .collect();
    let books = house.books(1..=MAKERS).await;
    let kept: usize = books.iter().map(|book| book.answers().len()).sum();
    // Each maker's first day was answered before.
    let before = usize::try_from(MAKERS).unwrap();
    assert_eq!(kept, before + days.len(), "answers nobody gave");
    assert_eq!(house.history().await, i64::try_from(kept).unwrap(), "an answer counted twice");
    // Fewer would mean that the bot was killed while it slept.
    assert!(days.len() > kills, "{} answers", days.len());

    let mut repeated = 0;
    for user in 1..=MAKERS {
        let mut said = BTreeSet::new();
        for seen in house.stand_in.seen_by(user) {
            let new = seen.from == Speaker::Bot && seen.kind == SeenKind::Message;
            if new && !said.insert(seen.text) {
                repeated += 1;
            }
        }
        assert!(!said.is_empty());
    }
    assert!(repeated <= kills, "{repeated} messages came twice");
}
