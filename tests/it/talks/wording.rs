//! The voice, held to its rules: every sentence, every label.

use duskrow::chat::button::Screen;
use duskrow::chat::commands::Command;
use duskrow::chat::say::{Kept, Say};
use duskrow::wording::{Span, en};

use crate::world::hostile::{corpus, turned_or_hidden};

use super::samples::{
    colours, day, every_caption, every_say, is_list, kept, label, making, quoting, scale, yarn,
};

/// No praise, thanks, guilt, apologies by habit, urging, judging a tier, or counting of what was
/// not done. Matched as whole words, in any capitals.
const FORBIDDEN: [&str; 107] = [
    // Urging and hedging.
    "just",
    "simply",
    "please",
    "remember",
    "don't worry",
    "worry",
    "only",
    "again",
    "still",
    "finally",
    "already",
    "easy",
    "easily",
    "of course",
    "obviously",
    "at last",
    "hurry",
    "do not forget",
    "try to",
    "try harder",
    "should have",
    "must",
    "ought",
    "need to",
    "overdue",
    "late",
    "behind",
    "catch up",
    "keep up",
    "keep going",
    "give up",
    "on track",
    "off track",
    // Guilt.
    "missed",
    "miss",
    "missing",
    "forgot",
    "forgotten",
    "forget",
    "neglected",
    "ignored",
    "failed",
    "failure",
    "fail",
    "fault of yours",
    "your fault",
    "blame",
    "shame",
    "ashamed",
    "guilty",
    "guilt",
    "lazy",
    "disappointed",
    "disappointing",
    "let down",
    "sadly",
    "unfortunately",
    "sorry",
    "apologies",
    "apologise",
    "apologize",
    "oops",
    "alas",
    "bad",
    "worse",
    "worst",
    "poor",
    "wasted",
    "broke",
    "gave up",
    "slipped",
    // Praise and thanks.
    "great",
    "good",
    "well",
    "well done",
    "nice",
    "nicely",
    "perfect",
    "excellent",
    "amazing",
    "awesome",
    "fantastic",
    "wonderful",
    "brilliant",
    "congratulations",
    "congrats",
    "bravo",
    "hooray",
    "yay",
    "proud",
    "success",
    "successfully",
    "achievement",
    "reward",
    "better",
    "best",
    "thank",
    "thanks",
    "glad",
    "happy",
    "love",
    // Games.
    "streak",
    "in a row",
    "score",
    "points",
    "level",
    "goal",
];

#[test]
fn every_sentence_keeps_the_rules_of_the_voice() {
    for say in every_say() {
        let text = en::say(&say).plain();
        assert_voice(&text);
        assert!(is_list(&say) || text.chars().count() <= 600, "{} characters: {text}", text.len());
        assert!(text.lines().all(|line| line == line.trim() && !line.is_empty()), "{text:?}");
    }
}

#[test]
fn every_label_and_description_keeps_the_rules_too() {
    for caption in every_caption() {
        let label = en::caption(&caption);
        assert_voice(&label);
        assert!((1..=30).contains(&label.chars().count()), "{label:?}");
        assert!(!label.ends_with('.'), "{label:?}");
    }
    for command in Command::of(true) {
        let line = en::description(command);
        assert_voice(line);
        assert!((1..=256).contains(&line.chars().count()), "{line}");
    }
}

/// Holds the two lists below to the enums: a new meaning needs a sample.
#[test]
fn no_meaning_is_left_out_of_these_checks() {
    let says = include_str!("../../../src/chat/say.rs");
    let captions = include_str!("../../../src/chat/caption.rs");
    let said: Vec<String> = every_say().iter().map(|say| format!("{say:?}")).collect();
    let labels: Vec<String> = every_caption().iter().map(|label| format!("{label:?}")).collect();
    for (source, name, samples) in [(says, "Say", said), (captions, "Caption", labels)] {
        let variants = variants(source, name);
        assert!(variants.len() > 15, "{name} was not found in its file");
        for variant in variants {
            let is = |sample: &String| {
                sample.split(|c: char| !c.is_alphanumeric()).next() == Some(variant)
            };
            assert!(samples.iter().any(is), "{name}::{variant} has no sample here");
        }
    }
}

/// The same for how the blanket is made, and for yarn.
#[test]
fn no_meaning_of_the_making_and_of_yarn_is_left_out() {
    let source = include_str!("../../../src/chat/making/said.rs");
    let button = include_str!("../../../src/chat/button/making.rs");
    let said: Vec<String> = making::every_said().iter().map(|it| format!("{it:?}")).collect();
    let refused: Vec<String> = making::every_refusal().iter().map(|it| format!("{it:?}")).collect();
    let choices: Vec<String> = making::every_choice().iter().map(|it| format!("{it:?}")).collect();
    let screens: Vec<String> = Screen::ALL.iter().map(|it| format!("{it:?}")).collect();
    let yarn = include_str!("../../../src/chat/yarn/said.rs");
    let of_yarn: Vec<String> = yarn::every_said().iter().map(|it| format!("{it:?}")).collect();
    let not_yarn: Vec<String> = yarn::every_refusal().iter().map(|it| format!("{it:?}")).collect();
    let captions: Vec<String> =
        yarn::every_yarn_caption().iter().map(|it| format!("{it:?}")).collect();
    for (source, name, samples) in [
        (source, "MakingSaid", said),
        (source, "MakingRefusal", refused),
        (button, "Choice", choices),
        (button, "Screen", screens),
        (yarn, "YarnSaid", of_yarn),
        (yarn, "YarnRefusal", not_yarn),
        (yarn, "YarnCaption", captions),
    ] {
        let variants = variants(source, name);
        assert!(variants.len() > 9, "{name} was not found in its file");
        for variant in variants {
            let first =
                |it: &String| it.split(|c: char| !c.is_alphanumeric()).next() == Some(variant);
            assert!(samples.iter().any(first), "{name}::{variant} has no sample here");
        }
    }
}

/// And for the colours of the yarns.
#[test]
fn no_meaning_of_the_colours_is_left_out() {
    let source = include_str!("../../../src/chat/colours/said.rs");
    let said: Vec<String> = colours::every_say().iter().map(|it| format!("{it:?}")).collect();
    let labels: Vec<String> = colours::every_caption().iter().map(|it| format!("{it:?}")).collect();
    for (name, samples, least) in [
        ("ColoursSaid", &said, 6),
        ("ColoursRefusal", &said, 4),
        ("Done", &said, 5),
        ("Sight", &said, 3),
        ("ColourCaption", &labels, 10),
    ] {
        let variants = variants(source, name);
        assert!(variants.len() >= least, "{name} was not found in its file");
        for variant in variants {
            let has =
                |it: &String| it.split(|c: char| !c.is_alphanumeric()).any(|word| word == variant);
            assert!(samples.iter().any(has), "{name}::{variant} has no sample here");
        }
    }
}

/// The same for the maker's own scale.
#[test]
fn no_meaning_of_the_scale_is_left_out() {
    let source = include_str!("../../../src/chat/scale/said.rs");
    let said: Vec<String> = scale::every_said().iter().map(|it| format!("{it:?}")).collect();
    let done: Vec<String> = scale::every_done().iter().map(|it| format!("{it:?}")).collect();
    let refused: Vec<String> = scale::every_refusal().iter().map(|it| format!("{it:?}")).collect();
    let captions: Vec<String> = scale::every_caption().iter().map(|it| format!("{it:?}")).collect();
    for (name, samples) in [
        ("ScaleSaid", said),
        ("ScaleDone", done),
        ("ScaleRefusal", refused),
        ("ScaleCaption", captions),
    ] {
        let variants = variants(source, name);
        assert!(variants.len() > 6, "{name} was not found in its file");
        for variant in variants {
            let first =
                |it: &String| it.split(|c: char| !c.is_alphanumeric()).next() == Some(variant);
            assert!(samples.iter().any(first), "{name}::{variant} has no sample here");
        }
    }
}

/// A check outside the program measures how hard they are to read. It names the file to write.
#[test]
fn every_sentence_is_written_down_where_that_is_asked_for() {
    let said = every_say().into_iter().map(|say| {
        let debug = format!("{say:?}");
        let name = debug.split(|c: char| !c.is_alphanumeric()).next().unwrap_or_default();
        serde_json::json!({ "say": name, "text": en::say(&say).plain() })
    });
    let lines: Vec<String> = said.map(|line| line.to_string()).collect();
    assert!(lines.len() > 100, "{} sentences", lines.len());
    if let Some(file) = std::env::var_os("DUSKROW_SENTENCES") {
        std::fs::write(file, lines.join("\n") + "\n").unwrap();
    }
}

#[test]
fn the_first_line_of_the_question_is_the_day_and_nothing_else() {
    let words = en::say(&Say::Question { day: day(), asks: None });
    assert_eq!(words.lines[0], [Span::Bold("Thursday 14 January".to_owned())]);
    assert_eq!(words.plain(), "Thursday 14 January\nWhich fits the day?");
}

#[test]
fn hostile_text_is_quoted_on_its_line_and_cannot_turn_the_rest() {
    for (name, typed) in corpus() {
        for (say, harmless) in quoting(&typed).into_iter().zip(quoting("word")) {
            let (text, plain) = (en::say(&say).plain(), en::say(&harmless).plain());
            assert_eq!(text.lines().count(), plain.lines().count(), "{text:?}");
            assert!(text.chars().count() <= plain.chars().count() + 50, "{text:?}");
            assert_eq!(turned_or_hidden(&text), None, "{name}");
            let empty = text.contains("\"\"") && !typed.contains('"');
            assert!(!empty, "an empty quotation: {text:?}");
        }
    }
}

#[test]
fn a_right_to_left_name_does_not_turn_the_sentence_around_it() {
    let kept = Kept { tier: label("שלום"), ..kept() };
    let said = en::say(&Say::Kept(kept)).plain();
    assert!(said.starts_with("Kept: Thursday 14 January, \u{2068}שלום\u{2069}."), "{said:?}");
}

#[test]
fn help_names_every_command_and_where_help_is() {
    let help = en::say(&Say::Help { owner: true, local: None, people: Vec::new() }).plain();
    for command in Command::of(true) {
        assert!(help.contains(&format!("/{} – ", command.name())), "{help}");
    }
    assert!(help.contains("call your local emergency number"), "{help}");
    assert!(help.contains("a doctor or another licensed professional"), "{help}");
    assert!(help.contains("does not delete what is kept"), "{help}");
}

fn assert_voice(text: &str) {
    assert!(!text.contains('!'), "{text}");
    assert!(!text.chars().any(is_emoji), "{text}");
    let folded = text.to_lowercase();
    let words: Vec<&str> =
        folded.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let spaced = format!(" {} ", words.join(" "));
    for word in FORBIDDEN {
        assert!(!spaced.contains(&format!(" {word} ")), "{word:?} in {text:?}");
    }
}

fn is_emoji(c: char) -> bool {
    matches!(c, '\u{2190}'..='\u{21FF}' | '\u{2600}'..='\u{27BF}' | '\u{1F000}'..='\u{1FAFF}')
}

/// Names of the variants of an enum, read from its source.
fn variants<'a>(source: &'a str, name: &str) -> Vec<&'a str> {
    let start = source.split(&format!("pub enum {name} {{\n")).nth(1).unwrap_or_default();
    let body = start.split("\n}").next().unwrap_or_default();
    let lines = body.lines().filter(|line| {
        line.starts_with("    ") && line[4..].starts_with(|c: char| c.is_ascii_uppercase())
    });
    lines.filter_map(|line| line.trim().split(|c: char| !c.is_alphanumeric()).next()).collect()
}
