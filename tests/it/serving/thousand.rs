//! A thousand makers are due in the same second, and the platform takes thirty messages a second.

use std::collections::BTreeSet;

use chrono::TimeDelta;
use duskrow::rehearsal::Fault;

use super::{Serving, hours};

const MAKERS: i64 = 1000;
const LAST_AFTER_MAX: TimeDelta = TimeDelta::seconds(37);

#[tokio::test]
async fn a_thousand_due_at_once_are_asked_within_37_seconds_and_a_429_stops_all_of_them() {
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
    let paused = refused[0].at..refused[0].at + TimeDelta::seconds(1);
    let sent = serving.answered("sendMessage", 200);
    let in_pause = sent.iter().filter(|sent| paused.contains(&sent.at)).count();
    assert_eq!(in_pause, 0, "sent although the platform asked for a pause");

    let chats: BTreeSet<i64> =
        sent.iter().map(|sent| sent.params["chat_id"].as_i64().unwrap()).collect();
    assert_eq!((sent.len(), chats.len()), (1000, 1000), "each maker once");
    let took = sent.last().unwrap().at - due_at;
    assert!(took <= LAST_AFTER_MAX, "the last came after {took}");
}
