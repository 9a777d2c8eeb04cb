//! What comes out of one request, whatever happens to it on the way.

use serde_json::json;

use super::*;
use crate::telegram::error::Class;
use crate::telegram::testing::{
    Act, Canned, TOKEN, hasty_wire, ok, refusal, serve_kept_alive, wire,
};

/// Everything an error can show about itself.
fn shown(error: &WireError) -> String {
    format!("{error} {error:?} {error:#?}")
}

fn says_nothing_secret(text: &str) {
    let key = TOKEN.split_once(':').unwrap().1;
    assert!(!text.contains(key), "{text}");
}

async fn failure(act: Act) -> WireError {
    let server = Canned::new(vec![act]);
    let error = server.wire().call("sendMessage", &json!({ "chat_id": 7 })).await.unwrap_err();
    says_nothing_secret(&shown(&error));
    error
}

#[tokio::test]
async fn a_call_is_a_json_post_and_its_answer_carries_the_platforms_clock() {
    let server = Canned::new(vec![ok(&json!({ "message_id": 42, "date": 1 }))]);
    let params = json!({ "chat_id": 7, "text": "Smooth" });
    let reply = server.wire().call("sendMessage", &params).await.unwrap();
    assert_eq!(reply.message(), Some(MessageId(42)));
    assert_eq!(reply.date.unwrap().to_rfc3339(), "2027-01-14T21:00:03+00:00");
    assert_eq!(server.asked(), (format!("/bot{TOKEN}/sendMessage"), params));
}

#[tokio::test]
async fn an_address_may_have_a_path_of_its_own() {
    let server = Canned::new(vec![ok(&json!(true)), ok(&json!(true))]);
    for end in ["/own", "/own/"] {
        wire(&format!("{}{end}", server.address)).call("getMe", &json!({})).await.unwrap();
        assert_eq!(server.asked().0, format!("/own/bot{TOKEN}/getMe"));
    }
}

#[tokio::test]
async fn a_refusal_keeps_its_code_its_words_and_its_pause() {
    let body = r#"{"ok":false,"error_code":429,"description":"Too Many Requests: retry after 17",
        "parameters":{"retry_after":17}}"#;
    let error = failure(Act::Answer(429, body.to_owned())).await;
    assert_eq!(error.class(), Class::RetryAfter(Duration::from_secs(17)));
    assert_eq!(error.to_string(), "the platform answered 429: Too Many Requests: retry after 17");
}

#[tokio::test]
async fn no_pause_is_longer_than_a_day() {
    let body = r#"{"ok":false,"error_code":429,"description":"Too Many",
        "parameters":{"retry_after":18446744073709551615}}"#;
    let error = failure(Act::Answer(429, body.to_owned())).await;
    assert_eq!(error.class(), Class::RetryAfter(Duration::from_secs(86_400)));
}

#[tokio::test]
async fn a_server_that_repeats_the_address_in_its_words_does_not_show_the_token() {
    let error = failure(refusal(404, &format!("Not Found: /bot{TOKEN}/\u{1b}[31mgetMe"))).await;
    let WireError::Api { description, .. } = &error else { panic!("{error:?}") };
    assert_eq!(description, "Not Found: /bot[token]/ [31mgetMe");

    let error = failure(refusal(400, &"long ".repeat(1000))).await;
    let WireError::Api { description, .. } = &error else { panic!("{error:?}") };
    assert_eq!(description.len(), DESCRIPTION_CHARS_MAX);
}

#[tokio::test]
async fn an_answer_that_is_not_the_platforms_says_nothing_about_the_request() {
    let page = format!("<html>no such page: /bot{TOKEN}/getMe</html>");
    let acts = [
        Act::Answer(404, page.clone()),
        Act::Answer(401, page.clone()),
        Act::Answer(302, String::new()),
        Act::Answer(502, page.clone()),
        Act::Answer(200, page),
        Act::Answer(200, r#"{"ok":true}"#.to_owned()),
        Act::Raw(b"HTTP/1.1 200 OK\r\nContent-Length: 900\r\n\r\n{\"ok\":true,".to_vec()),
        Act::Raw(b"SSH-2.0-elsewhere\r\n".to_vec()),
        Act::Close,
    ];
    for act in acts {
        let error = failure(act).await;
        assert!(matches!(error, WireError::Ambiguous { .. }), "{error:?}");
        assert_eq!(error.class(), Class::Transient);
        assert!(error.may_have_arrived());
    }
}

#[tokio::test]
async fn a_request_that_was_written_and_never_answered_may_have_arrived() {
    let server = Canned::new(vec![Act::Stall]);
    let error = hasty_wire(&server.address).call("sendMessage", &json!({})).await.unwrap_err();
    assert_eq!(error, WireError::Ambiguous { why: "it took too long".to_owned() });
    assert!(server.asked().0.ends_with("/sendMessage"));
    says_nothing_secret(&shown(&error));
}

#[tokio::test]
async fn where_nobody_listens_nothing_was_written() {
    let listener = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
    let address = format!("http://{}", listener.local_addr().unwrap());
    drop(listener);
    let error = wire(&address).call("sendMessage", &json!({})).await.unwrap_err();
    let WireError::NothingWritten { why } = &error else { panic!("{error:?}") };
    assert!(why.contains("refused"), "{why}");
    assert!(!error.may_have_arrived());
    says_nothing_secret(&shown(&error));
}

#[tokio::test]
async fn where_the_name_is_not_known_nothing_was_written() {
    // Without a proxy, which would be asked for the name in our place.
    let direct = Client::builder().no_proxy().build().unwrap();
    let wire = Wire { sending: direct, ..wire("http://nowhere.invalid") };
    let error = wire.call("sendMessage", &json!({})).await.unwrap_err();
    assert!(matches!(error, WireError::NothingWritten { .. }), "{error:?}");
    says_nothing_secret(&shown(&error));
}

#[tokio::test]
async fn the_librarys_own_error_would_have_shown_the_token() {
    let server = Canned::new(vec![Act::Close]);
    let address = format!("{}/bot{TOKEN}/getMe", server.address);
    let error = Client::new().post(address).json(&json!({})).send().await.unwrap_err();
    assert!(format!("{error:?}").contains(TOKEN), "the searches above can find it");
}

#[tokio::test]
async fn an_answer_without_end_is_given_up() {
    let mut endless = b"HTTP/1.1 200 OK\r\nConnection: close\r\n\r\n".to_vec();
    endless.resize(ANSWER_BYTES_MAX + 4096, b' ');
    let server = Canned::new(vec![Act::Raw(endless)]);
    let error = server.wire().call("getUpdates", &json!({})).await.unwrap_err();
    assert_eq!(error, WireError::Ambiguous { why: "the answer is too long".to_owned() });
}

#[tokio::test]
async fn polling_that_is_renewed_leaves_its_old_connection_alone() {
    let listener = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
    let wire = wire(&format!("http://{}", listener.local_addr().unwrap()));
    let (note, connections) = std::sync::mpsc::channel();
    // Connections stay open for as many requests as like to come.
    std::thread::spawn(move || {
        for (number, stream) in listener.incoming().enumerate() {
            let note = note.clone();
            std::thread::spawn(move || serve_kept_alive(stream.unwrap(), number, &note));
        }
    });
    let poll = async || wire.poll("getUpdates", &json!({})).await.unwrap();
    poll().await;
    poll().await;
    wire.clone().renew_polling().unwrap();
    poll().await;
    let used: Vec<usize> = connections.try_iter().collect();
    assert_eq!(used, [0, 0, 1]);
}

#[test]
fn a_wire_is_made_only_of_what_the_platform_hands_out() {
    let good = "https://api.telegram.org";
    let long = Timeouts { poll_wait: Duration::from_secs(51), ..Timeouts::default() };
    let cases = [
        (good, TOKEN, Timeouts::default(), None),
        ("ftp://host", TOKEN, Timeouts::default(), Some(WireFault::Address)),
        ("host", TOKEN, Timeouts::default(), Some(WireFault::Address)),
        (good, "", Timeouts::default(), Some(WireFault::Token)),
        (good, "123", Timeouts::default(), Some(WireFault::Token)),
        (good, "123:", Timeouts::default(), Some(WireFault::Token)),
        (good, ":abc", Timeouts::default(), Some(WireFault::Token)),
        (good, "123:ab/../c", Timeouts::default(), Some(WireFault::Token)),
        (good, "123:abc\n", Timeouts::default(), Some(WireFault::Token)),
        (good, TOKEN, long, Some(WireFault::PollWait)),
    ];
    for (address, token, timeouts, expected) in cases {
        let made = Wire::new(address, Secret::new(token), timeouts);
        assert_eq!(made.err(), expected, "{address} {token}");
    }
}

#[test]
fn neither_the_wire_nor_the_secret_shows_the_token() {
    says_nothing_secret(&format!("{:?} {:?}", wire("http://127.0.0.1:1"), Secret::new(TOKEN)));
}

fn found(path: &str) -> Act {
    ok(&json!({ "file_id": "A1", "file_unique_id": "B", "file_path": path }))
}

fn bytes(text: &str) -> Act {
    Act::Answer(200, text.to_owned())
}

#[tokio::test]
async fn a_file_is_asked_for_by_its_id_and_fetched_by_its_path() {
    let server = Canned::new(vec![found("documents/file 7.json"), bytes("a book")]);
    assert_eq!(server.wire().fetch("A1", 6).await.unwrap(), b"a book");
    assert_eq!(server.asked(), (format!("/bot{TOKEN}/getFile"), json!({ "file_id": "A1" })));
    assert_eq!(server.asked().0, format!("/file/bot{TOKEN}/documents/file%207.json"));
}

#[tokio::test]
async fn a_file_that_does_not_come_says_why_and_nothing_secret() {
    let check = async |acts: Vec<Act>, expected: &str| {
        let server = Canned::new(acts);
        let error = server.wire().fetch("A1", 6).await.unwrap_err();
        let shown = format!("{error} {error:?}");
        says_nothing_secret(&shown);
        assert!(shown.contains(expected), "{shown}");
    };
    check(vec![found("a.json"), bytes("too long")], "too large").await;
    check(vec![found("a.json"), Act::Answer(404, String::new())], "status 404").await;
    check(vec![found("a.json"), Act::Close], "Ambiguous").await;
    check(vec![refusal(400, "Bad Request: wrong file_id")], "wrong file_id").await;
    check(vec![ok(&json!({ "file_id": "A1" }))], "no path").await;
    for path in ["../secret", "documents/../../secret", "/etc/hosts", "a//b", "", ".hidden"] {
        check(vec![found(path)], "the path of the file is none").await;
    }
}
