//! One update of each kind, as the platform sends it, and what can be wrong with it.

use proptest::prelude::*;
use serde_json::json;
use teloxide_core::types as library;

use super::*;
use crate::blanket::TierId;

fn me() -> Me {
    Me { id: UserId(8), username: "Duskrow_bot".to_owned() }
}

fn read_text(text: &str) -> Incoming {
    read(&RawValue::from_string(text.to_owned()).unwrap(), &me())
}

fn read_json(update: &Value) -> Incoming {
    read_text(&update.to_string())
}

fn maren() -> Value {
    json!({ "id": 7, "is_bot": false, "first_name": "Maren", "language_code": "en" })
}

fn private() -> Value {
    json!({ "id": 7, "type": "private", "first_name": "Maren" })
}

fn group() -> Value {
    json!({ "id": -100_200, "type": "supergroup", "title": "Harbour" })
}

/// A message in `chat`, with more fields.
fn message(chat: &Value, more: &Value) -> Value {
    let mut message =
        json!({ "message_id": 5, "date": 1_799_960_280, "from": maren(), "chat": chat });
    for (key, value) in more.as_object().unwrap() {
        message[key] = value.clone();
    }
    message
}

fn update(kind: &str, part: &Value) -> Value {
    json!({ "update_id": 7001, kind: part })
}

fn said(more: &Value) -> Kind {
    let incoming = read_json(&update("message", &message(&private(), more)));
    assert_eq!(incoming.update, Some(UpdateId(7001)));
    assert_eq!(incoming.from, Some(UserId(7)));
    assert_eq!(incoming.query, None);
    incoming.kind
}

fn typed_text(text: &str) -> Kind {
    Kind::Private(Event::Typed { text: text.to_owned(), message: MessageId(5), reply_to: None })
}

#[test]
fn a_typed_text_comes_as_it_was_typed() {
    for text in ["Smooth", "/start CODE-1_x", " two\nlines ", "<b>&amp;\u{202E}", "🧶"] {
        assert_eq!(said(&json!({ "text": text })), typed_text(text));
    }
}

#[test]
fn a_reply_names_the_message_it_answers() {
    let reply = message(&private(), &json!({ "message_id": 4, "text": "Which fits the day?" }));
    let expected = Event::Typed {
        text: "3".to_owned(),
        message: MessageId(5),
        reply_to: Some(RepliedTo::Message(MessageId(4))),
    };
    let kind = said(&json!({ "text": "3", "reply_to_message": reply }));
    assert_eq!(kind, Kind::Private(expected));
}

#[test]
fn a_text_survives_fields_newer_than_the_library() {
    let newer = [
        json!({ "text": "Smooth", "entities": [{ "type": "date_time", "offset": 0, "length": 2 }]}),
        json!({ "text": "Smooth", "forward_origin": { "type": "of_a_new_kind" } }),
        json!({ "text": "Smooth", "quote": "of a new shape" }),
    ];
    for more in &newer {
        assert_eq!(said(more), typed_text("Smooth"));
        // Why this file reads for itself: the day the library keeps these texts, it need not.
        let whole = update("message", &message(&private(), more)).to_string();
        let library: library::Update = serde_json::from_str(&whole).unwrap();
        let library::UpdateKind::Message(seen) = library.kind else { panic!("{more}") };
        assert_eq!(seen.text(), None, "{more}");
    }
}

#[test]
fn what_is_not_text_is_said_to_be_so_and_what_nobody_wrote_is_not_answered() {
    let photo = json!([{ "file_id": "a", "file_unique_id": "b", "width": 1, "height": 1 }]);
    let not_text = [
        json!({ "photo": photo, "caption": "Smooth" }),
        json!({ "sticker": { "file_id": "a" } }),
        json!({ "voice": {} }),
        json!({ "location": { "latitude": 38.7, "longitude": -9.1 } }),
        json!({ "something_of_next_year": {} }),
    ];
    for more in &not_text {
        assert_eq!(said(more), Kind::Private(Event::NotText), "{more}");
    }
    for service in SERVICE {
        assert_eq!(said(&json!({ service: {} })), Kind::Ignored, "{service}");
        assert_eq!(said(&json!({ service: null, "text": "x" })), typed_text("x"), "{service}");
    }
}

#[test]
fn a_text_longer_than_the_platform_lets_through_is_cut_between_characters() {
    let Kind::Private(Event::Typed { text, .. }) = said(&json!({ "text": "🧶".repeat(5000) }))
    else {
        panic!("not typed")
    };
    assert_eq!(text, "🧶".repeat(2048));
    let odd = format!("a{}", "🧶".repeat(5000));
    assert_eq!(said(&json!({ "text": odd })), typed_text(&format!("a{}", "🧶".repeat(2047))));
    let exact = "x".repeat(4096);
    assert_eq!(said(&json!({ "text": exact })), typed_text(&exact));
}

#[test]
fn a_changed_text_names_its_message_and_a_changed_picture_is_nothing() {
    let read = |more: &Value| read_json(&update("edited_message", &message(&private(), more))).kind;
    let expected = Event::Edited { message: MessageId(5), text: "Rough".to_owned() };
    let edit = json!({ "text": "Rough", "edit_date": 1_799_960_290 });
    assert_eq!(read(&edit), Kind::Private(expected));
    assert_eq!(read(&json!({ "caption": "Rough", "photo": [] })), Kind::Ignored);
}

fn tap(message: &Value, data: &Value) -> Value {
    let tap = json!({
        "id": "99887766", "from": maren(), "chat_instance": "1", "message": message, "data": data,
    });
    update("callback_query", &tap)
}

fn asked_message() -> Value {
    let bot = json!({ "id": 8, "is_bot": true, "first_name": "D" });
    message(&private(), &json!({ "from": bot, "text": "Which fits the day?" }))
}

#[test]
fn a_tap_is_its_button_its_message_and_a_query_that_waits() {
    let day = chrono::NaiveDate::from_ymd_opt(2027, 1, 14).unwrap();
    let button = Button::Answer { day, tier: TierId(5) };
    let incoming = read_json(&tap(&asked_message(), &json!(button.token())));
    let event = Event::Tapped { button: Ok(button), message: MessageId(5) };
    assert_eq!(incoming.kind, Kind::Private(event));
    assert_eq!(incoming.from, Some(UserId(7)));
    assert_eq!(incoming.query, Some(QueryId("99887766".to_owned())));
}

#[test]
fn a_tap_under_a_message_too_old_to_show_still_counts() {
    let gone = json!({ "message_id": 3, "date": 0, "chat": private() });
    let expected = Event::Tapped { button: Ok(Button::Rows), message: MessageId(3) };
    let incoming = read_json(&tap(&gone, &json!(Button::Rows.token())));
    assert_eq!(incoming.kind, Kind::Private(expected));
}

#[test]
fn a_token_nobody_wrote_or_none_is_unreadable_and_no_fault() {
    for data in [json!("0|tier|20270114|5"), json!(""), json!("🧶"), Value::Null, json!(5)] {
        let unreadable = Event::Tapped { button: Err(UnreadableToken), message: MessageId(5) };
        assert_eq!(read_json(&tap(&asked_message(), &data)).kind, Kind::Private(unreadable));
    }
}

#[test]
fn a_tap_that_leads_nowhere_is_still_acknowledged() {
    let elsewhere = message(&group(), &json!({ "text": "x" }));
    let odd = message(&json!({ "id": 9, "type": "private" }), &json!({}));
    let group = Kind::Group { chat: ChatId(-100_200), addressed: false };
    for (message, kind) in [(elsewhere, group), (odd, Kind::Ignored), (Value::Null, Kind::Ignored)]
    {
        let incoming = read_json(&tap(&message, &json!("x")));
        assert_eq!(incoming.kind, kind);
        assert_eq!(incoming.query, Some(QueryId("99887766".to_owned())));
    }
}

fn member(chat: &Value, status: &str) -> Kind {
    let bot = json!({ "id": 8, "is_bot": true, "first_name": "D" });
    let part = json!({
        "chat": chat, "from": maren(), "date": 1,
        "old_chat_member": { "user": bot, "status": "left" },
        "new_chat_member": { "user": bot, "status": status },
    });
    read_json(&update("my_chat_member", &part)).kind
}

#[test]
fn who_blocks_the_bot_and_who_comes_back() {
    assert_eq!(member(&private(), "kicked"), Kind::Private(Event::Blocked));
    assert_eq!(member(&private(), "member"), Kind::Private(Event::Unblocked));
    assert_eq!(member(&private(), "restricted"), Kind::Ignored);
    let let_in = Kind::Group { chat: ChatId(-100_200), addressed: true };
    assert_eq!(member(&group(), "member"), let_in);
    assert_eq!(member(&group(), "administrator"), let_in);
    assert_eq!(member(&group(), "kicked"), Kind::Ignored);
    assert_eq!(member(&json!({ "id": -5, "type": "channel" }), "administrator"), Kind::Ignored);
}

#[test]
fn a_group_is_heard_only_when_it_speaks_to_the_bot() {
    let by = |id: i64| json!({ "message_id": 4, "chat": group(), "from": { "id": id } });
    let cases = [
        (json!({ "text": "/start" }), true),
        (json!({ "text": "/start@duskrow_BOT now" }), true),
        (json!({ "text": "/start@other_bot" }), false),
        (json!({ "text": "thanks @duskrow_bot, good" }), true),
        (json!({ "text": "(@duskrow_bot)" }), true),
        (json!({ "text": "@duskrow_bot_two" }), false),
        (json!({ "text": "good evening" }), false),
        (json!({ "text": "Smooth", "reply_to_message": by(8) }), true),
        (json!({ "text": "Smooth", "reply_to_message": by(7) }), false),
        (json!({ "sticker": {} }), false),
    ];
    for (more, addressed) in cases {
        let expected = Kind::Group { chat: ChatId(-100_200), addressed };
        let incoming = read_json(&update("message", &message(&group(), &more)));
        assert_eq!(incoming.kind, expected, "{more}");
    }
}

#[test]
fn bots_and_other_peoples_chats_are_not_listened_to() {
    let bot = json!({ "id": 7, "is_bot": true, "first_name": "Other" });
    assert_eq!(said(&json!({ "text": "/start", "from": bot })), Kind::Ignored);
    let other = message(&json!({ "id": 9, "type": "private" }), &json!({ "text": "/start" }));
    assert_eq!(read_json(&update("message", &other)).kind, Kind::Ignored);
    let post =
        json!({ "message_id": 1, "chat": { "id": -5, "type": "channel" }, "text": "/start" });
    let channel = Kind::Group { chat: ChatId(-5), addressed: false };
    assert_eq!(read_json(&update("message", &post)).kind, channel);
    assert_eq!(read_json(&update("channel_post", &post)).kind, Kind::Ignored);
    assert_eq!(read_json(&update("kind_of_next_year", &json!({}))).kind, Kind::Ignored);
}

#[test]
fn what_cannot_be_read_keeps_all_that_can() {
    let cases = [
        (r#"{"update_id":7,"message":{"text":"\ud800"}}"#, Some(7), None, Unparsed::NotJson),
        ("[1,2]", None, None, Unparsed::NoUpdateId),
        ("{}", None, None, Unparsed::NoUpdateId),
        (r#"{"update_id":"7"}"#, None, None, Unparsed::NoUpdateId),
        (r#"{"update_id":7,"message":5}"#, Some(7), None, Unparsed::Incomplete),
        (
            r#"{"update_id":7,"message":{"from":{"id":9},"text":"x"}}"#,
            Some(7),
            Some(9),
            Unparsed::Incomplete,
        ),
        (
            r#"{"update_id":7,"my_chat_member":{"from":{"id":9},"chat":{"id":9,"type":"group"}}}"#,
            Some(7),
            Some(9),
            Unparsed::Incomplete,
        ),
        (
            r#"{"update_id":7,"edited_message":{"from":{"id":9},"chat":{"id":9,"type":"private"},
                "text":"x"}}"#,
            Some(7),
            Some(9),
            Unparsed::Incomplete,
        ),
    ];
    for (text, update, from, why) in cases {
        let incoming = read_text(text);
        assert_eq!(incoming.update, update.map(UpdateId), "{text}");
        assert_eq!(incoming.from, from.map(UserId), "{text}");
        assert_eq!(incoming.kind, Kind::Unparsed(why), "{text}");
    }
    let incoming = read_text(
        r#"{"update_id":7,"callback_query":{"id":"q","from":{"id":9},
        "message":{"chat":{"id":9,"type":"private"}}}}"#,
    );
    assert_eq!(incoming.query, Some(QueryId("q".to_owned())), "and the tap is acknowledged");
    assert_eq!(incoming.kind, Kind::Unparsed(Unparsed::Incomplete));
}

/// A second reader: where the library understands an update, both see the same.
#[test]
fn the_library_reads_the_same_people_chats_and_texts() {
    let reply = message(&private(), &json!({ "message_id": 4, "text": "Which fits the day?" }));
    let whole = [
        update("message", &message(&private(), &json!({ "text": "x", "reply_to_message": reply }))),
        update("edited_message", &message(&private(), &json!({ "text": "y", "edit_date": 2 }))),
        tap(&asked_message(), &json!(Button::Rows.token())),
        tap(&json!({ "message_id": 3, "date": 0, "chat": private() }), &json!("1|rows")),
    ];
    for json in &whole {
        let ours = read_json(json);
        let library: library::Update = serde_json::from_str(&json.to_string()).unwrap();
        let from = i64::try_from(library.from().unwrap().id.0).unwrap();
        assert_eq!(ours.from, Some(UserId(from)));
        assert_eq!(ours.update, Some(UpdateId(library.id.0.into())));
        assert_eq!(library.chat().unwrap().id.0, from);
        let number = |id: library::MessageId| MessageId(id.0.into());
        let event = match library.kind {
            library::UpdateKind::Message(seen) => Event::Typed {
                text: seen.text().unwrap().to_owned(),
                message: number(seen.id),
                reply_to: seen.reply_to_message().map(|to| RepliedTo::Message(number(to.id))),
            },
            library::UpdateKind::EditedMessage(seen) => {
                Event::Edited { message: number(seen.id), text: seen.text().unwrap().to_owned() }
            }
            library::UpdateKind::CallbackQuery(seen) => Event::Tapped {
                button: Button::read(seen.data.as_deref().unwrap()),
                message: number(seen.message.unwrap().id()),
            },
            other => panic!("{other:?}"),
        };
        assert_eq!(ours.kind, Kind::Private(event));
    }
}

/// One good update of each kind, with one of its fields made into something else.
fn spoilt() -> impl Strategy<Value = Value> {
    let member = json!({
        "chat": private(), "from": maren(), "new_chat_member": { "status": "kicked" },
    });
    let good = vec![
        update("message", &message(&private(), &json!({ "text": "x", "reply_to_message": {} }))),
        update("message", &message(&group(), &json!({ "text": "/start" }))),
        update("edited_message", &message(&private(), &json!({ "text": "y" }))),
        tap(&asked_message(), &json!(Button::Rows.token())),
        update("my_chat_member", &member),
    ];
    let other = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        (0_i64..10).prop_map(Value::from),
        prop::sample::select(vec!["private", "group", "channel", "1|rows"]).prop_map(Value::from),
        Just(json!([])),
        Just(json!({ "id": 9, "type": "private", "is_bot": true })),
    ];
    (prop::sample::select(good), any::<prop::sample::Index>(), other).prop_map(
        |(mut good, which, other)| {
            let mut paths = Vec::new();
            note_paths(&good, "", &mut paths);
            *good.pointer_mut(&paths[which.index(paths.len())]).unwrap() = other;
            good
        },
    )
}

fn note_paths(value: &Value, here: &str, paths: &mut Vec<String>) {
    for (key, inner) in value.as_object().into_iter().flatten() {
        let path = format!("{here}/{key}");
        note_paths(inner, &path, paths);
        paths.push(path);
    }
}

proptest! {
    #[test]
    fn a_spoilt_update_never_panics_and_never_speaks_for_somebody_else(update in spoilt()) {
        let incoming = read_json(&update);
        prop_assert_eq!(incoming.update.map(|id| id.0), update["update_id"].as_i64());
        let all = ["message", "edited_message", "callback_query", "my_chat_member"];
        let part = all.iter().find_map(|kind| update.get(kind)).unwrap();
        prop_assert!(incoming.update.is_none()
            || incoming.from.map(|user| user.0) == part["from"]["id"].as_i64());
        if let Kind::Private(event) = incoming.kind {
            let chat = match event {
                Event::Tapped { .. } => &part["message"]["chat"],
                _ => &part["chat"],
            };
            prop_assert_eq!(chat["id"].as_i64(), incoming.from.map(|user| user.0));
            prop_assert_eq!(chat["type"].as_str(), Some("private"));
            prop_assert_ne!(part["from"]["is_bot"].as_bool(), Some(true));
        }
    }
}
