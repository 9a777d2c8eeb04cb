//! The one corpus of hostile texts. Whatever a maker can type, a test types each of these there;
//! whatever the bot gives out, a test looks for them there.

use duskrow::blanket::Label;
use serde_json::Value;

/// By name, so that a test that fails says which.
pub fn corpus() -> Vec<(&'static str, String)> {
    let short = CONTROLS.iter().chain(&DIRECTIONS).chain(&UNSEEN).chain(&MARKUP).chain(&SHEETS);
    let short = short.chain(&WORDS).chain(&SCRIPTS);
    let mut all: Vec<_> = short.map(|(name, text)| (*name, (*text).to_owned())).collect();
    all.extend([
        ("ten kilobytes", "abc ".repeat(2_560)),
        ("a thousand emoji", "🧶".repeat(1_001)),
        ("marks by the hundred", format!("e{}", "\u{301}".repeat(300))),
        ("joiners by the hundred", "\u{200D}".repeat(200)),
        ("a line of lines", "x\n".repeat(300)),
        ("as long as a label", "ñ".repeat(24)),
        ("as long as a label in emoji", "🧶".repeat(24)),
    ]);
    all
}

/// Those that may be a label, each once, so that pictures and files get them.
pub fn labels() -> Vec<(&'static str, Label)> {
    let mut labels: Vec<(&str, Label)> = Vec::new();
    for (name, text) in corpus() {
        let Ok(label) = Label::parse(&text) else { continue };
        if !labels.iter().any(|(_, known)| known.is(label.as_str())) {
            labels.push((name, label));
        }
    }
    labels
}

/// ECMA-48: escape and control sequences, in their forms of 7 and of 8 bits.
const CONTROLS: [(&str, &str); 9] = [
    ("a colour of a terminal", "\u{1B}[31mred\u{1B}[0m"),
    ("a cleared screen", "\u{1B}[2J\u{1B}[H"),
    ("a title of a window", "\u{1B}]0;title\u{7}"),
    ("a link of a terminal", "\u{1B}]8;;https://example.org\u{1B}\\here\u{1B}]8;;\u{1B}\\"),
    ("a sequence in 8 bits", "a\u{9B}2Jb\u{9D}0;x\u{9C}"),
    ("bells and backspaces", "ab\u{8}\u{8}\u{7}\u{7F}"),
    ("a null", "a\0b"),
    ("the first controls", "\u{1}\u{2}\u{E}\u{F}\u{10}\u{1A}\u{1F}"),
    ("a next line", "a\u{85}b"),
];

/// Unicode UAX #9: what turns the text around it, and isolates that are not closed.
const DIRECTIONS: [(&str, &str); 6] = [
    ("an override", "\u{202E}gnp.yarn"),
    ("an override that is closed", "a\u{202D}b\u{202C}c"),
    ("an embedding", "\u{202B}abc"),
    ("isolates left open", "\u{2066}\u{2067}\u{2068}abc"),
    ("isolates that close others", "abc\u{2069}\u{2069}\u{202C}"),
    ("marks of direction", "\u{200F}abc\u{200E}\u{61C}"),
];

/// Unicode UAX #44: what is ignorable by default, and its neighbours.
const UNSEEN: [(&str, &str); 14] = [
    ("a zero-width space", "Har\u{200B}bour"),
    ("zero-width alone", "\u{200B}\u{200D}\u{FEFF}"),
    ("a byte order mark", "\u{FEFF}Harbour"),
    ("a soft hyphen", "Har\u{AD}bour"),
    ("word joiners", "a\u{2060}b\u{2063}c"),
    ("old marks of shaping", "a\u{206A}b\u{206F}c"),
    ("a lone variation selector", "\u{FE0F}"),
    ("fillers", "\u{3164}\u{115F}\u{2800}"),
    ("annotations", "a\u{FFF9}b\u{FFFB}c"),
    ("tags", "a\u{E0001}\u{E0041}b"),
    ("line and paragraph separators", "a\u{2028}b\u{2029}c"),
    ("private use", "\u{E000}\u{F8FF}"),
    ("unassigned and no character", "\u{378}\u{FFFE}\u{FFFF}\u{1FFFF}"),
    ("a replaced character", "a\u{FFFD}b"),
];

/// HTML, XML 1.0 and Markdown, and what looks like the platform's own links.
const MARKUP: [(&str, &str); 15] = [
    ("a script", "<script>alert(1)</script>"),
    ("a script that fits a label", "<script>alert(1)</script"),
    ("an attribute left", "\"><img src=x onerror=a>"),
    ("bold", "<b>bold</b>"),
    ("an entity", "&amp;&lt;&#60;"),
    ("an unknown entity", "&nope;&"),
    ("an end of CDATA", "]]>"),
    ("a comment", "<!-- a --> -->"),
    ("an instruction", "<?xml version=\"1.1\"?>"),
    ("a declaration", "<!DOCTYPE a [<!ENTITY b \"c\">]>"),
    ("markdown", "*so* _so_ `so` [a](b) ~so~"),
    ("an address", "https://example.org/?a=b"),
    ("a link of the platform", "tg://user?id=1001"),
    ("a mention", "@duskrow_rehearsal_bot #tag"),
    ("surrogates in words", "\\uD83D\\uDE00 \\x1b[0m %1b"),
];

/// RFC 4180 and OWASP ASVS 5.0, 1.2.10.
const SHEETS: [(&str, &str); 10] = [
    ("a command", "=cmd|' /C calc'!A0"),
    ("a sum", "@SUM(1+1)"),
    ("a plus", "+1 sun"),
    ("a minus", "-1 rain"),
    ("a tab first", "\t=1+1"),
    ("a return first", "\r=1+1"),
    ("quotes and commas", "a\"b\",\"c,,"),
    ("lines in a cell", "a\r\n\"b\n=c"),
    ("an apostrophe first", "'=1+1"),
    ("semicolons", "a;b;=c"),
];

/// What means something where a maker types it.
const WORDS: [(&str, &str); 9] = [
    ("a command of the bot", "/erase"),
    ("an unknown command", "/nosuch@other_bot now"),
    ("the word that erases", "ERASE"),
    ("nothing", ""),
    ("space", " \t\n "),
    ("a query", "'; DROP TABLE days; --"),
    ("a path", "../../etc/passwd"),
    ("placeholders", "{0} %s ${HOME} $(id)"),
    ("a code of a button", "1|tier|20270114|6"),
];

const SCRIPTS: [(&str, &str); 9] = [
    ("right to left", "שלום"),
    ("right to left among others", "a שלום 1 עולם b"),
    ("right to left joined", "کتاب\u{200C}ها"),
    ("emoji alone", "🧶🧶🧶"),
    ("joined emoji", "🧑\u{200D}🌾 👩\u{200D}👩\u{200D}👧"),
    ("a flag of tags", "🏴\u{E0067}\u{E0062}\u{E0065}\u{E006E}\u{E0067}\u{E007F}"),
    ("an accent in two characters", "cafe\u{301}"),
    ("marks that pile up", "h\u{301}\u{302}\u{303}\u{304}\u{306}\u{307}\u{308}i"),
    ("han", "海の青い毛布"),
];

/// A character that has no business in any text the bot gives out: a control character, or one
/// that turns the text around it (UAX #9), or shows nothing (UAX #44). Written here a second time
/// on purpose, from the standards.
pub fn is_hidden(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{AD}' | '\u{61C}' | '\u{115F}' | '\u{1160}' | '\u{180E}' | '\u{200B}'
            | '\u{200E}' | '\u{200F}' | '\u{2028}'..='\u{202E}' | '\u{2060}'..='\u{206F}'
            | '\u{2800}' | '\u{3164}' | '\u{FEFF}' | '\u{FFA0}' | '\u{FFF0}'..='\u{FFFB}'
            | '\u{1BCA0}'..='\u{1BCA3}' | '\u{1D173}'..='\u{1D17A}' | '\u{E0000}'..='\u{E00FF}'
            | '\u{E01F0}'..='\u{E0FFF}')
}

/// What is wrong with a text that the bot says, if anything: hidden characters, isolates that are
/// not a pair on one line, words from right to left outside of such a pair (UAX #9, X5c and X6a).
pub fn turned_or_hidden(text: &str) -> Option<String> {
    let unpaired = |line: &str| {
        let mut open = false;
        for c in line.chars() {
            match c {
                '\u{2068}' if !open => open = true,
                '\u{2069}' if open => open = false,
                c if is_hidden(c) => return Some(format!("{c:?} is in {line:?}")),
                c if reads_from_right(c) && !open => return Some(format!("{line:?} turns")),
                _ => {}
            }
        }
        open.then(|| format!("{line:?} is left open"))
    };
    text.split('\n').find_map(unpaired)
}

/// The Hebrew and the Arabic blocks, which the corpus has.
fn reads_from_right(c: char) -> bool {
    matches!(c, '\u{590}'..='\u{8FF}' | '\u{FB1D}'..='\u{FDFF}' | '\u{FE70}'..='\u{FEFE}')
}

/// What is wrong with a request that brings words into a chat, if anything. The limits are those of
/// the platform's Bot API: 4,096 UTF-16 units a text, 1,024 a caption, 64 bytes a token. No parse
/// mode, so that nothing in it is read as markup; no preview of an address somebody typed.
pub fn unsound(params: &Value) -> Option<String> {
    let (words, entities, units_max) = match params["text"].as_str() {
        Some(text) => (text, &params["entities"], 4096),
        None => (params["caption"].as_str()?, &params["caption_entities"], 1024),
    };
    let units = words.encode_utf16().count();
    let whole = |from: u64, length: u64| {
        let all: Vec<u16> = words.encode_utf16().collect();
        let part = all.get(usize::try_from(from).ok()?..usize::try_from(from + length).ok()?)?;
        (length > 0).then(|| String::from_utf16(part).ok())?
    };
    let entities = entities.as_array().map(Vec::as_slice).unwrap_or_default();
    let bold = |entity: &Value| {
        let part = whole(entity["offset"].as_u64()?, entity["length"].as_u64()?);
        (entity["type"] == "bold").then_some(part?)
    };
    if units > units_max || words.trim().is_empty() {
        return Some(format!("{units} units"));
    }
    if let Some(wrong) = entities.iter().find(|entity| bold(entity).is_none()) {
        return Some(format!("{wrong} in {words:?}"));
    }
    if !params["parse_mode"].is_null() {
        return Some("markup".to_owned());
    }
    let rows = params["reply_markup"]["inline_keyboard"].as_array();
    for button in rows.into_iter().flatten().filter_map(Value::as_array).flatten() {
        let (label, token) = (button["text"].as_str()?, button["callback_data"].as_str()?);
        if label.trim().is_empty() || label.chars().any(is_hidden_in_label) {
            return Some(format!("a button {label:?}"));
        }
        if token.len() > 64 {
            return Some(format!("a token of {} bytes", token.len()));
        }
    }
    turned_or_hidden(words)
}

/// Labels of buttons stand alone; one with more than a name has the name between isolates.
fn is_hidden_in_label(c: char) -> bool {
    is_hidden(c) && !matches!(c, '\u{2068}' | '\u{2069}')
}

mod agreed {
    use clap::Parser as _;
    use duskrow::blanket::{Label, NoteText, OwnQuestion, PersonLine, TierLine, letters};
    use duskrow::cli::CommandLine;
    use duskrow::rehearsal::transcript;

    use super::is_hidden;

    /// Where makers type, where the host does, and in the terminal, the same characters hide.
    #[test]
    fn every_place_hides_the_same_characters() {
        let mut hidden = 0;
        for c in (0..=u32::from(char::MAX)).filter_map(char::from_u32) {
            let hides = is_hidden(c);
            hidden += usize::from(hides);
            assert_eq!(letters::hides(c), hides, "{c:?}");
            assert_eq!(transcript::shown(&c.to_string()) != c.to_string(), hides, "{c:?}");
            if !hides || c.is_whitespace() {
                continue;
            }
            let text = format!("a{c}b");
            assert!(Label::parse(&text).is_err(), "{c:?}");
            assert!(OwnQuestion::parse(&text).is_err(), "{c:?}");
            assert_eq!(NoteText::parse(&text).unwrap().as_str(), "ab", "{c:?}");
            assert_eq!(TierLine::parse(&text).unwrap().as_str(), "ab", "{c:?}");
            assert_eq!(PersonLine::parse(&text).unwrap().as_str(), "ab", "{c:?}");
            // No argument of a program can hold it.
            if c != '\0' && hidden % 7 == 0 {
                let line = format!("--local-line=Call {text}");
                assert!(
                    CommandLine::try_parse_from(["duskrow", "makers", &line]).is_err(),
                    "{c:?}"
                );
            }
        }
        assert!(hidden > 3_900, "{hidden}");
    }

    /// What shows nothing alone is no label, no note, no question and no line.
    #[test]
    fn what_nobody_sees_is_nothing() {
        for c in (0..=u32::from(char::MAX)).filter_map(char::from_u32) {
            if letters::hides(c) || letters::joins(c) || c.is_whitespace() {
                let text = format!("{c} {c}");
                assert!(Label::parse(&text).is_err(), "{c:?}");
                assert!(OwnQuestion::parse(&text).is_err(), "{c:?}");
                assert!(NoteText::parse(&text).is_err(), "{c:?}");
                assert!(TierLine::parse(&text).is_err(), "{c:?}");
                assert!(PersonLine::parse(&text).is_err(), "{c:?}");
            }
        }
    }
}
