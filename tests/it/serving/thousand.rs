//! A thousand makers are due in the same second, and the platform takes thirty messages a second.

use std::collections::BTreeSet;

use chrono::TimeDelta;
use duskrow::rehearsal::Fault;

use super::{Serving, hours};

const MAKERS: i64 = 1000;
const LAST_AFTER_MAX: TimeDelta = TimeDelta::seconds(37);

#[tokio::test]
async fn a_thousand_due_at_once_are_asked_within_37_seconds_although_the_platform_pauses_once() {
    let makers = (1..=MAKERS).map(|user| (user, hours("21:00", "04:00")));
    let serving = Serving::new("2027-01-14 20:59", makers).await;
    let evening = async {
        serving.turn_to("2027-01-14 21:00:15").await;
        let due_at = serving.clock.now() - TimeDelta::seconds(15);
        serving.stand_in.fail_next("sendMessage", Fault::too_many_requests(1), 1);
        serving.turn_to("2027-01-14 21:02:00").await;
        due_at
    };
    let due_at = serving.during(evening).await;

    // The one that was armed, and none of the platform's own.
    let refused = serving.answered("sendMessage", 429);
    assert_eq!(refused.len(), 1, "{refused:?}");
    let sent = serving.answered("sendMessage", 200);
    let chats: BTreeSet<i64> =
        sent.iter().map(|sent| sent.params["chat_id"].as_i64().unwrap()).collect();
    assert_eq!((sent.len(), chats.len()), (1000, 1000), "each maker once");
    let took = sent.last().unwrap().at - due_at;
    assert!(took <= LAST_AFTER_MAX, "the last came after {took}");
}

#[tokio::test]
async fn a_pause_the_platform_asks_for_in_one_chat_is_kept_in_all() {
    let makers = (1..=30).map(|user| (user, hours("21:00", "04:00")));
    let serving = Serving::new("2027-01-14 20:59", makers).await;
    serving.stand_in.fail_next("sendMessage", Fault::too_many_requests(20), 1);
    serving.during(serving.turn_to("2027-01-14 21:01:00")).await;
    let refused = serving.answered("sendMessage", 429);
    let sent = serving.answered("sendMessage", 200);
    assert_eq!((refused.len(), sent.len()), (1, 30));
    let pause = sent[0].at - refused[0].at;
    assert!(pause >= TimeDelta::seconds(20), "sent again after {pause}");
}

#[tokio::test]
async fn a_pause_asked_for_at_an_acknowledgement_is_kept_by_the_sender() {
    let makers =
        (1..=5).map(|user| (user, hours(if user == 1 { "21:00" } else { "21:01" }, "04:00")));
    let serving = Serving::new("2027-01-14 20:59", makers).await;
    let evening = async {
        serving.turn_to("2027-01-14 21:00:30").await;
        serving.stand_in.fail_next("answerCallbackQuery", Fault::too_many_requests(120), 1);
        serving.stand_in.tap(1, "Smooth").unwrap();
        serving.stand_in.drained().await;
        serving.rests().await;
        serving.app.settle_straight().await;
        serving.turn_to("2027-01-14 21:04:00").await;
    };
    serving.during(evening).await;
    let refused = serving.answered("answerCallbackQuery", 429);
    assert_eq!(refused.len(), 1);
    let mut sent = serving.answered("sendMessage", 200);
    sent.retain(|sent| sent.params["chat_id"] != 1);
    assert_eq!(sent.len(), 4);
    let pause = sent[0].at - refused[0].at;
    assert!(pause >= TimeDelta::seconds(120), "sent after {pause}");
}

#[tokio::test]
async fn a_pause_asked_for_when_the_menu_is_handed_over_is_kept_by_the_sender() {
    let makers = [(1, hours("21:00", "04:00"))];
    let serving = Serving::new("2027-01-14 20:59", makers.into_iter()).await;
    serving.stand_in.fail_next("setMyCommands", Fault::too_many_requests(180), 1);
    serving.during(serving.turn_to("2027-01-14 21:10:00")).await;
    let (refused, sent) =
        (serving.answered("setMyCommands", 429), serving.answered("sendMessage", 200));
    assert_eq!((refused.len(), sent.len()), (1, 1));
    let pause = sent[0].at - refused[0].at;
    assert!(pause >= TimeDelta::seconds(180), "sent after {pause}");
}
