//! Updates come until they are confirmed, and are confirmed only after the caller says so.

use proptest::prelude::*;

use super::*;
use crate::telegram::error::Class;
use crate::telegram::testing::{Act, Canned, TOKEN, ok, refusal};

fn updates(ids: &[i64]) -> Act {
    ok(&ids.iter().map(|id| json!({ "update_id": id })).collect())
}

#[tokio::test]
async fn a_batch_is_confirmed_by_the_fetch_after_it_and_only_once() {
    let server = Canned::new(vec![updates(&[7001, 7003, 7002]), updates(&[]), updates(&[3])]);
    let (wire, mut poller) = (server.wire(), Poller::new());

    let batch = poller.fetch(&wire).await.unwrap();
    let raw: Vec<_> = batch.updates.iter().map(|raw| raw.get()).collect();
    assert_eq!(raw, [r#"{"update_id":7001}"#, r#"{"update_id":7003}"#, r#"{"update_id":7002}"#]);
    assert_eq!(batch.date.unwrap().to_rfc3339(), "2027-01-14T21:00:03+00:00");
    poller.confirm(&batch);
    poller.confirm(&poller_of_nothing());
    poller.fetch(&wire).await.unwrap();
    poller.fetch(&wire).await.unwrap();

    let wanted = ["message", "edited_message", "callback_query", "my_chat_member"];
    let path = format!("/bot{TOKEN}/getUpdates");
    let first = json!({ "timeout": 50, "allowed_updates": wanted });
    assert_eq!(server.asked(), (path.clone(), first));
    assert_eq!(server.asked(), (path.clone(), json!({ "timeout": 50, "offset": 7004 })));
    assert_eq!(server.asked(), (path, json!({ "timeout": 50 })), "numbers may start anew, lower");
}

fn poller_of_nothing() -> Batch {
    Batch { updates: Vec::new(), date: None, last: None }
}

#[tokio::test]
async fn a_batch_that_was_not_committed_is_not_confirmed() {
    let server = Canned::new(vec![updates(&[7001]), updates(&[7001])]);
    let (wire, mut poller) = (server.wire(), Poller::new());
    poller.fetch(&wire).await.unwrap();
    poller.fetch(&wire).await.unwrap();
    server.asked();
    assert_eq!(server.asked().1, json!({ "timeout": 50 }));
}

#[tokio::test]
async fn a_fetch_that_failed_says_again_what_it_had_to_say() {
    let acts = vec![
        Act::Close,
        updates(&[7001]),
        refusal(502, "Bad Gateway"),
        ok(&json!("no list")),
        updates(&[]),
    ];
    let server = Canned::new(acts);
    let (wire, mut poller) = (server.wire(), Poller::new());
    poller.fetch(&wire).await.map(|_| ()).unwrap_err();
    let batch = poller.fetch(&wire).await.unwrap();
    poller.confirm(&batch);
    poller.fetch(&wire).await.map(|_| ()).unwrap_err();
    poller.fetch(&wire).await.map(|_| ()).unwrap_err();
    poller.fetch(&wire).await.unwrap();
    let asked: Vec<Value> = (0..5).map(|_| server.asked().1).collect();
    assert!(asked[0]["allowed_updates"].is_array() && asked[1]["allowed_updates"].is_array());
    for later in &asked[2..] {
        assert_eq!(*later, json!({ "timeout": 50, "offset": 7002 }));
    }
}

#[tokio::test]
async fn an_update_nobody_can_read_is_confirmed_by_its_number() {
    let body = r#"{"ok":true,"result":[{"update_id":7001,"message":{"text":"\ud800"}},{"n":1}]}"#;
    let server = Canned::new(vec![Act::Answer(200, body.to_owned()), updates(&[])]);
    let (wire, mut poller) = (server.wire(), Poller::new());
    let batch = poller.fetch(&wire).await.unwrap();
    assert_eq!(batch.updates.len(), 2);
    poller.confirm(&batch);
    poller.fetch(&wire).await.unwrap();
    server.asked();
    assert_eq!(server.asked().1["offset"], json!(7002));
}

#[tokio::test]
async fn updates_without_any_number_are_an_error_and_not_an_endless_loop() {
    let server = Canned::new(vec![ok(&json!([{ "n": 1 }]))]);
    let error = Poller::new().fetch(&server.wire()).await.map(|_| ()).unwrap_err();
    assert_eq!(error.class(), Class::Transient);
}

#[tokio::test]
async fn the_bot_knows_its_own_name_and_deletes_only_the_webhook() {
    let bot = json!({ "id": 8, "is_bot": true, "first_name": "D", "username": "duskrow_bot" });
    let server = Canned::new(vec![ok(&bot), ok(&json!(true)), refusal(401, "Unauthorized")]);
    let wire = server.wire();
    let expected = Me { id: UserId(8), username: "duskrow_bot".to_owned() };
    assert_eq!(me(&wire).await.unwrap().0, expected);
    delete_webhook(&wire).await.unwrap();
    assert_eq!(me(&wire).await.unwrap_err().class(), Class::Fatal);
    assert!(server.asked().0.ends_with("/getMe"));
    let deleted = (format!("/bot{TOKEN}/deleteWebhook"), json!({ "drop_pending_updates": false }));
    assert_eq!(server.asked(), deleted);
}

#[test]
fn waits_double_up_to_a_minute_and_start_anew_after_a_success() {
    let mut backoff = Backoff::new();
    let seconds: Vec<u64> = (0..8).map(|_| backoff.failed(0.0).as_secs()).collect();
    assert_eq!(seconds, [1, 2, 4, 8, 16, 32, 60, 60]);
    backoff.succeeded();
    assert_eq!(backoff.failed(0.0), Duration::from_secs(1));
}

#[test]
fn an_outage_of_three_hours_costs_at_most_190_polls() {
    let (mut backoff, mut waited, mut polls) = (Backoff::new(), Duration::ZERO, 0);
    while waited < Duration::from_secs(3 * 60 * 60) {
        polls += 1;
        waited += backoff.failed(0.0);
    }
    assert!((180..=190).contains(&polls), "{polls}");
}

proptest! {
    #[test]
    fn jitter_only_lengthens_and_by_a_quarter_at_most(jitter in any::<f64>(), failures in 0..80) {
        let (mut plain, mut jittered) = (Backoff::new(), Backoff::new());
        for _ in 0..failures {
            plain.failed(0.0);
            jittered.failed(jitter);
        }
        let (plain, jittered) = (plain.failed(0.0), jittered.failed(jitter));
        prop_assert!(plain <= jittered && jittered <= plain.mul_f64(1.25));
    }
}
