//! Things that go wrong: armed faults, a platform that is gone, and the same without a network.

use std::collections::BTreeMap;

use duskrow::clock::Clock;
use duskrow::rehearsal::{ANY, Call, Fault, Reply, Settings, StandIn, TOKEN};
use serde_json::{Value, json};

use super::{MAREN, World, start};

fn text() -> Value {
    json!({ "chat_id": MAREN, "text": "good evening" })
}

fn said(world: &World) -> usize {
    world.seen().iter().filter(|line| line.starts_with("Bot Message")).count()
}

#[tokio::test]
async fn a_refusal_is_given_as_often_as_armed_and_does_nothing() {
    let world = World::new().await;
    world.platform.fail_next("sendMessage", Fault::status(502, "Bad Gateway"), 2);
    world.platform.fail_next("sendMessage", Fault::too_many_requests(17), 1);
    for _ in 0..2 {
        let answer = world.call("sendMessage", text()).await;
        assert_eq!(answer["error_code"], json!(502));
    }
    world.ok("getMe", json!({})).await;
    let answer = world.call("sendMessage", text()).await;
    assert_eq!(answer["parameters"], json!({ "retry_after": 17 }));
    assert_eq!(said(&world), 0);
    world.ok("sendMessage", text()).await;
    let statuses: Vec<_> = world.platform.requests().iter().map(|r| r.status).collect();
    assert_eq!(statuses, [Some(502), Some(502), Some(200), Some(429), Some(200)]);
}

#[tokio::test]
async fn a_lost_reply_leaves_the_message_and_a_lost_request_does_not() {
    let world = World::new().await;
    world.platform.fail_next("sendMessage", Fault::DropReply, 1);
    let unheard = || world.http.post(world.url("sendMessage")).json(&text()).send();
    assert!(unheard().await.is_err());
    assert_eq!(said(&world), 1);
    world.platform.fail_next(ANY, Fault::DropRequest, 1);
    assert!(unheard().await.is_err());
    assert_eq!(said(&world), 1);
    world.platform.fail_next(ANY, Fault::BadJson, 1);
    assert!(world.try_call("sendMessage", text()).await.unwrap_err().is_decode());
    assert_eq!(said(&world), 1);
    world.ok("sendMessage", text()).await;
    assert_eq!(said(&world), 2);
}

#[tokio::test]
async fn a_stalled_request_waits_until_it_is_healed_and_was_never_done() {
    let world = World::new().await;
    world.platform.fail_next("getUpdates", Fault::Stall, 5);
    let heal = async {
        world.platform.until(|platform| !platform.requests().is_empty()).await;
        assert_eq!(world.platform.requests()[0].status, None);
        world.platform.heal();
    };
    let (stalled, ()) = tokio::join!(world.try_call("getUpdates", json!({})), heal);
    assert!(stalled.is_err());
    assert_eq!(world.updates(json!({})).await.len(), 1);
}

#[tokio::test]
async fn a_stopped_platform_refuses_connections_cuts_polls_and_comes_back_with_everything() {
    let world = World::new().await;
    world.take().await;
    let stop = async {
        world.platform.drained().await;
        world.platform.stop().await;
    };
    let (cut, ()) = tokio::join!(world.try_call("getUpdates", json!({ "timeout": 50 })), stop);
    assert!(cut.is_err());
    assert!(world.try_call("getMe", json!({})).await.unwrap_err().is_connect());
    world.platform.send_text(MAREN, "are you there?");
    world.platform.restart().await.unwrap();
    let updates = world.updates(json!({})).await;
    assert_eq!(updates[0]["message"]["text"], json!("are you there?"));
}

#[tokio::test]
async fn a_dropped_stand_in_listens_no_more() {
    let world = World::new().await;
    let url = world.url("getMe");
    drop(world.platform);
    // The listener is closed by its task, soon after the last handle is gone.
    loop {
        match reqwest::get(&url).await {
            Err(why) if why.is_connect() => break,
            Ok(_) | Err(_) => tokio::task::yield_now().await,
        }
    }
}

#[tokio::test]
async fn the_same_answers_come_without_a_network() {
    let platform = StandIn::without_network(Settings::new(Clock::turned(start()))).unwrap();
    platform.send_text(MAREN, "/start");
    let call = || {
        let params = text().as_object().unwrap().clone();
        Call::new(TOKEN, "sendMessage", params, BTreeMap::new())
    };
    let Reply::Answer { status, date, body, .. } = platform.call(call()).await else {
        panic!("hung up");
    };
    assert_eq!((status, date.as_str()), (200, "Thu, 14 Jan 2027 21:00:00 GMT"));
    assert!(body.contains("good evening"));
    platform.fail_next(ANY, Fault::DropReply, 1);
    assert_eq!(platform.call(call()).await, Reply::Hangup);
    platform.stop().await;
    assert_eq!(platform.call(call()).await, Reply::Hangup);
    platform.restart().await.unwrap();
    assert_eq!(platform.seen_by(MAREN).len(), 3);
    platform.call(call()).await;
    assert_eq!(platform.seen_by(MAREN).len(), 4);
}
