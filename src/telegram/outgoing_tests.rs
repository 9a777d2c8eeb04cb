//! What goes over the wire, held against the library's own writing of the same requests.

use chrono::NaiveDate;
use proptest::prelude::*;
use teloxide_core::payloads::{
    AnswerCallbackQuery, AnswerCallbackQuerySetters, EditMessageText, EditMessageTextSetters,
    SendMessage, SendMessageSetters, SetMyCommands,
};
use teloxide_core::types::{self as library, BotCommand, CallbackQueryId, MessageEntityRef};

use super::*;
use crate::blanket::TierId;
use crate::chat::button::Button;
use crate::chat::caption::Caption;
use crate::chat::say::Say;

const CHAT: ChatId = ChatId(7);

fn plain(text: &str) -> Span {
    Span::Plain(text.to_owned())
}

fn bold(text: &str) -> Span {
    Span::Bold(text.to_owned())
}

fn words(lines: Vec<Vec<Span>>) -> Words {
    Words { lines }
}

fn answer(tier: u8) -> Button {
    let day = NaiveDate::from_ymd_opt(2027, 1, 14).unwrap();
    Button::Answer { day, tier: TierId(tier) }
}

fn reply(rows: &[&[u8]]) -> Reply {
    let key = |tier: &u8| Key { caption: Caption::Change, button: answer(*tier) };
    rows.iter().fold(Reply::new(Say::Private), |reply, row| reply.keys(row.iter().map(key)))
}

fn captions(rows: &[&[&str]]) -> Vec<Vec<String>> {
    rows.iter().map(|row| row.iter().map(|&caption| caption.to_owned()).collect()).collect()
}

fn rendered(words: &Words) -> Vec<Rendered> {
    render(&reply(&[]), words, &[])
}

fn kept() -> Vec<Rendered> {
    let words = words(vec![
        vec![plain("🧶 "), bold("Kept"), plain(": <b>Smooth</b> & *co*")],
        vec![bold("Rød 🧶"), plain(", row 14")],
    ]);
    render(&reply(&[&[1, 2], &[3]]), &words, &captions(&[&["Rough", "Smooth"], &["Change"]]))
}

fn library_keyboard() -> InlineKeyboardMarkup {
    let button =
        |text: &str, tier| InlineKeyboardButton::callback(text.to_owned(), answer(tier).token());
    InlineKeyboardMarkup::new([
        vec![button("Rough", 1), button("Smooth", 2)],
        vec![button("Change", 3)],
    ])
}

const KEPT: &str = "🧶 Kept: <b>Smooth</b> & *co*\nRød 🧶, row 14";

fn library_bold() -> [MessageEntity; 2] {
    // A ball of yarn is two units; the second line starts after 30.
    [MessageEntity::bold(3, 4), MessageEntity::bold(30, 6)]
}

#[test]
fn a_message_is_sent_as_the_library_would_write_it() {
    let expected = SendMessage::new(library::ChatId(7), KEPT)
        .entities(library_bold())
        .link_preview_options(no_preview())
        .reply_markup(library_keyboard());
    let [message] = kept().try_into().unwrap();
    let request = send(CHAT, &message);
    assert_eq!(request.method, "sendMessage");
    assert_eq!(request.params, serde_json::to_value(&expected).unwrap());
    assert_eq!(request.params["link_preview_options"], json!({ "is_disabled": true }));
    assert_eq!(request.params["entities"][0], json!({ "type": "bold", "offset": 3, "length": 4 }));

    let silent = send_silently(CHAT, &message);
    let expected = serde_json::to_value(expected.disable_notification(true)).unwrap();
    assert_eq!((silent.method, silent.params), ("sendMessage", expected));
}

#[test]
fn a_message_is_changed_as_the_library_would_write_it() {
    let expected = EditMessageText::new(library::ChatId(7), library::MessageId(42), KEPT)
        .entities(library_bold())
        .link_preview_options(no_preview())
        .reply_markup(library_keyboard());
    let request = edit(CHAT, MessageId(42), &kept()[0]);
    assert_eq!(request.method, "editMessageText");
    assert_eq!(request.params, serde_json::to_value(expected).unwrap());
}

#[test]
fn plain_words_without_buttons_carry_nothing_else() {
    let [message] = rendered(&words(vec![vec![plain("Cancelled.")]])).try_into().unwrap();
    let expected = json!({
        "chat_id": 7, "text": "Cancelled.", "link_preview_options": { "is_disabled": true },
    });
    assert_eq!(send(CHAT, &message).params, expected);
}

#[test]
fn taps_are_acknowledged_and_commands_listed_as_the_library_would_write_it() {
    let query = QueryId("99".to_owned());
    let plain = AnswerCallbackQuery::new(CallbackQueryId("99".to_owned()));
    let request = answer_callback(&query, None);
    assert_eq!(request.method, "answerCallbackQuery");
    assert_eq!(request.params, serde_json::to_value(&plain).unwrap());
    let with = answer_callback(&query, Some("Kept"));
    assert_eq!(with.params, serde_json::to_value(plain.text("Kept")).unwrap());
    let long = answer_callback(&query, Some(&"🧶".repeat(150)));
    assert_eq!(long.params["text"], json!("🧶".repeat(100)));

    let list = [("today", "Answer a day"), ("rows", "Next rows")];
    let expected =
        SetMyCommands::new(list.map(|(name, description)| BotCommand::new(name, description)));
    let request = commands(&list);
    assert_eq!(request.method, "setMyCommands");
    assert_eq!(request.params, serde_json::to_value(expected).unwrap());
}

#[test]
fn a_message_waits_as_json_and_comes_back_the_same() {
    for message in kept().iter().chain(&rendered(&words(vec![vec![plain("x")]]))) {
        let stored = serde_json::to_string(message).unwrap();
        let back: Rendered = serde_json::from_str(&stored).unwrap();
        assert!(&back == message, "{stored}");
    }
}

#[test]
fn a_long_list_is_split_at_a_line_and_the_buttons_are_under_the_last_part() {
    let line = |n: usize| vec![plain("Row "), bold(&format!("{n:04}")), plain(&"·".repeat(90))];
    let words = words((0..100).map(line).collect());
    let messages = render(&reply(&[&[1]]), &words, &captions(&[&["Worked"]]));
    // 98 units and a line end each: 41 lines are 4,058 units, 42 would be 4,157.
    let lines: Vec<_> = messages.iter().map(|message| message.text.lines().count()).collect();
    assert_eq!(lines, [41, 41, 18]);
    let joined: Vec<_> = messages.iter().map(|message| message.text.as_str()).collect();
    assert_eq!(joined.join("\n"), words.plain());
    let with_buttons: Vec<_> = messages.iter().map(|message| message.keyboard.is_some()).collect();
    assert_eq!(with_buttons, [false, false, true]);
    assert_eq!(messages[2].entities[0], MessageEntity::bold(4, 4));
    assert!(messages[2].text.starts_with("Row 0082"));
}

#[test]
fn the_platforms_limit_is_met_to_the_unit() {
    let lengths = |text: &str| -> Vec<usize> {
        rendered(&words(vec![vec![plain(text)]])).iter().map(|part| units(&part.text)).collect()
    };
    assert_eq!(lengths(&"x".repeat(4096)), [4096]);
    assert_eq!(lengths(&"x".repeat(4097)), [4096, 1]);
    assert_eq!(lengths(&"🧶".repeat(2049)), [4096, 2]);
    assert_eq!(lengths(&format!("x{}", "🧶".repeat(2048))), [4095, 2]);
    assert_eq!(lengths(&format!("{}\ny", "x".repeat(4096))), [4096, 1]);
    assert_eq!(lengths(&format!("{}\ny", "x".repeat(4097))), [4096, 3]);
    assert_eq!(lengths(&format!("a\n{}", "x".repeat(4096))), [1, 4096]);
    // The part in the middle would be blank, and is not sent.
    assert_eq!(lengths(&format!("a{}b", "\n".repeat(9000))), [4096, 808]);
}

#[test]
fn a_bold_span_over_a_cut_is_bold_on_both_sides() {
    let messages = rendered(&words(vec![vec![plain("a"), bold(&"x".repeat(5000))]]));
    assert_eq!(messages[0].entities, [MessageEntity::bold(1, 4095)]);
    assert_eq!(messages[1].entities, [MessageEntity::bold(0, 905)]);
}

#[test]
fn emphasis_beyond_what_the_platform_keeps_is_left_out() {
    let messages = rendered(&words((0..130).map(|_| vec![bold("a"), plain("b")]).collect()));
    assert_eq!(messages[0].entities.len(), 100);
}

#[test]
fn nothing_of_a_message_is_shown_in_a_log() {
    let message = &kept()[0];
    let shown = format!("{message:?} {:?}", edit(CHAT, MessageId(42), message));
    assert_eq!(shown, "Rendered(hidden) Request(editMessageText)");
}

#[test]
#[should_panic(expected = "a message without words")]
fn a_blank_message_is_a_bug() {
    rendered(&words(vec![vec![plain(" ")], vec![]]));
}

#[test]
#[should_panic(expected = "9 buttons in a row")]
fn more_buttons_than_fit_a_row_are_a_bug() {
    let captions = captions(&[&["x"; 9]]);
    render(&reply(&[&[1; 9]]), &words(vec![vec![plain("x")]]), &captions);
}

#[test]
#[should_panic(expected = "104 buttons")]
fn more_buttons_than_fit_a_message_are_a_bug() {
    let (keys, labels): ([&[u8]; 13], [&[&str]; 13]) = ([&[1; 8]; 13], [&["x"; 8]; 13]);
    render(&reply(&keys), &words(vec![vec![plain("x")]]), &captions(&labels));
}

#[test]
#[should_panic(expected = "as many captions as buttons")]
fn a_button_without_its_caption_is_a_bug() {
    render(&reply(&[&[1, 2]]), &words(vec![vec![plain("x")]]), &captions(&[&["x"]]));
}

#[test]
#[should_panic(expected = "command Today")]
fn a_command_the_platform_would_refuse_is_a_bug() {
    commands(&[("Today", "Answer a day")]);
}

fn any_words() -> impl Strategy<Value = Words> {
    let text =
        prop_oneof!["[a-zå🧶\u{5D0}\n ]{0,12}", (1_usize..3000).prop_map(|n| "x🧶".repeat(n)),];
    let span = (text, any::<bool>())
        .prop_map(|(text, heavy)| if heavy { bold(&text) } else { plain(&text) });
    prop::collection::vec(prop::collection::vec(span, 0..4), 0..12)
        .prop_map(words)
        .prop_filter("says something", |words| !words.plain().trim().is_empty())
}

proptest! {
    /// The library counts the units back into text; bold letters are compared one by one.
    #[test]
    fn nothing_is_lost_or_made_bold_that_was_not(words in any_words()) {
        let messages = rendered(&words);
        let mut sent = Vec::new();
        for message in &messages {
            prop_assert!((1..=4096).contains(&units(&message.text)));
            let heavy = MessageEntityRef::parse(&message.text, &message.entities);
            for (at, letter) in message.text.char_indices() {
                sent.push((letter, heavy.iter().any(|range| range.range().contains(&at))));
            }
        }
        let meant = words.lines.iter().flatten().flat_map(|span| {
            span.text().chars().map(move |letter| (letter, matches!(span, Span::Bold(_))))
        });
        let dark = |(letter, _): &(char, bool)| !letter.is_whitespace();
        let sent: Vec<_> = sent.into_iter().filter(dark).collect();
        let meant: Vec<_> = meant.filter(dark).collect();
        prop_assert_eq!(sent, meant);
    }
}
