//! Files that makers send stall or crawl on their way: nobody else waits for them for long.

use chrono::TimeDelta;
use duskrow::chat::event::UserId;
use duskrow::rehearsal::{Fault, StandIn};

use super::{LOOPS, Serving, hours};

/// Whoever sends files, and whoever taps meanwhile.
const SENDS: i64 = 1;
const TAPS: i64 = 2;

async fn at(local: &str) -> Serving {
    let makers = [SENDS, TAPS].map(|user| (user, hours("21:00", "04:00")));
    Serving::new(local, makers.into_iter()).await
}

/// Once so many files were asked for, all loops wait for the clock, and it is turned.
async fn with_files_asked_for(serving: &Serving, count: usize, seconds: i64) {
    serving.stand_in.until(|it| asked_for(it) == count).await;
    serving.clock.asleep(LOOPS).await;
    serving.clock.turn_to(serving.clock.now() + TimeDelta::seconds(seconds));
}

fn asked_for(stand_in: &StandIn) -> usize {
    stand_in.requests().iter().filter(|asked| asked.method == "getFile").count()
}

fn sorry(serving: &Serving) -> usize {
    let said = serving.said_to(SENDS);
    said.iter().filter(|(_, line)| line.starts_with("I could not get this file.")).count()
}

#[tokio::test]
async fn files_that_stall_or_crawl_cost_nobody_elses_tap() {
    // The first is given up, or ends badly just before that.
    for (seconds, ends) in [(15, false), (14, true)] {
        let serving = at("2027-01-14 20:59").await;
        let evening = async {
            serving.turn_to("2027-01-14 21:00:10").await;
            serving.stand_in.fail_next("getFile", Fault::Stall, 9);
            for _ in 0..5 {
                serving.stand_in.send_file(SENDS, "book.json", b"{}".to_vec());
            }
            serving.stand_in.tap(TAPS, "Smooth").unwrap();
            with_files_asked_for(&serving, 1, seconds).await;
            if ends {
                serving.stand_in.heal();
            }
            serving.turn_to("2027-01-14 21:00:40").await;
            serving.stand_in.heal();
            assert_eq!(asked_for(&serving.stand_in), 1, "after {seconds} seconds");
            assert_eq!(sorry(&serving), 5);
            let kept = serving.app.store().load(UserId(TAPS)).await.unwrap().unwrap();
            assert_eq!(kept.maker.book.unwrap().answers().len(), 1);
            // After a while the next file is fetched.
            serving.turn_to("2027-01-14 21:01:20").await;
            serving.stand_in.send_file(SENDS, "book.json", b"{}".to_vec());
            serving.turn_to("2027-01-14 21:01:30").await;
            assert_eq!((asked_for(&serving.stand_in), sorry(&serving)), (2, 5));
        };
        serving.during(evening).await;
    }
}

/// The question is asked while the file is on its way.
#[tokio::test]
async fn an_update_that_was_overtaken_fetches_its_file_once() {
    let serving = at("2027-01-14 20:59").await;
    let evening = async {
        serving.turn_to("2027-01-14 20:59:58").await;
        serving.stand_in.fail_next("getFile", Fault::Stall, 1);
        serving.stand_in.send_file(SENDS, "book.json", b"{}".to_vec());
        with_files_asked_for(&serving, 1, 3).await;
        let asked = |it: &StandIn| {
            let sent = it.requests().into_iter().filter(|asked| asked.method == "sendMessage");
            sent.filter(|sent| sent.params["chat_id"] == SENDS).count() == 1
        };
        serving.stand_in.until(asked).await;
        serving.stand_in.heal();
        serving.turn_to("2027-01-14 21:00:10").await;
        assert_eq!((asked_for(&serving.stand_in), sorry(&serving)), (1, 1));
    };
    serving.during(evening).await;
}
