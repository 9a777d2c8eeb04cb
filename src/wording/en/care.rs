//! The first screen, `/help`, and the caution in them, in English.
//!
//! The caution is the same for everybody, and no tier and no text brings it up. Its order is the
//! usual one: danger first, then a licensed professional. 112 answers in every member state of the
//! EU (Directive (EU) 2018/1972, article 109); for other places no number is guessed.

use super::{Span, Words, description, people, plain};
use crate::chat::commands::Command;

const CAUTION: [&str; 3] = [
    "This is a program, not care. Nobody watches this chat.",
    "If life or safety is at risk, call your local emergency number: 112 in the EU.",
    "Otherwise, ask a doctor or another licensed professional.",
];

const NOT_ENCRYPTED: &str = "Bot chats are not end-to-end encrypted.";

pub fn caution() -> Words {
    plain(CAUTION.map(str::to_owned))
}

/// The caution, and under it what the host adds.
fn with_local(local: Option<&str>) -> Words {
    caution().and(plain(local.map(str::to_owned)))
}

/// Once, since a note may say more than a tier.
pub fn with_a_first_note() -> Words {
    lines![NOT_ENCRYPTED].and(caution())
}

pub fn consent(local: Option<&str>) -> Words {
    lines![
        "One question each evening. Each answer is one blanket row.",
        "Kept here: account number, answers, notes, rows, yarn, settings. Whoever runs \
         this server can read them.",
        format!("{NOT_ENCRYPTED} /erase deletes everything kept."),
    ]
    .and(with_local(local))
}

pub fn agreed(local: Option<&str>) -> Words {
    consent(local).and(Words { lines: vec![vec![Span::Bold("You agreed.".to_owned())]] })
}

pub fn help(owner: bool, local: Option<&str>, people: &[String]) -> Words {
    let commands =
        Command::of(owner).map(|command| format!("/{} – {}", command.name(), description(command)));
    let typing = lines![
        "You can also type a tier, or its number: 1 is the lowest.",
        "To find your place in a block, type: where am I",
        "Yarn you weighed: type its colour and grams, like Shingle 83. A ball that came: Shingle \
         +50. What is there, not weighed: Shingle = 70.",
        "Other text is a note on the day I asked about, or else on the day you answered last. \
         Reply to a question, and it is a note on that day.",
        "Edit your message, and the note changes. Deleting a message in this chat does not delete \
         what is kept.",
        "Send me a book file from /export, and I show what it would bring back.",
        NOT_ENCRYPTED,
    ];
    plain(commands).and(typing).and(with_local(local)).and(people::in_help(people))
}
