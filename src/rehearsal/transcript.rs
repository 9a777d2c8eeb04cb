//! How is a rehearsal read afterwards? As a text for people, or as one JSON object a line.
//!
//! Pictures and documents are saved beside it. A hostile name or text cannot move the cursor of a
//! terminal: what is not plain text is spelled out. Knows no zones: the caller tells local time.

use std::fmt::Write as _;
use std::fs::OpenOptions;
use std::io::{ErrorKind, Write as _};
use std::os::unix::fs::OpenOptionsExt;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};
use chrono::{DateTime, FixedOffset, Utc};
use serde_json::json;

use super::seen::{Seen, SeenFile, SeenKind, Speaker};

/// How a transcript looks.
pub struct Transcript<L> {
    local: L,
    form: Form,
    /// Where files go; none keeps them out.
    folder: Option<PathBuf>,
}

pub enum Form {
    /// For people; with the names of those who speak.
    Text { bot: String, maker: String },
    /// `{"at","maker","from","kind","id","text","buttons","file","width","height"}`, one object a
    /// line; `maker` names whose chat it is.
    Json { maker: String },
}

impl<L: Fn(DateTime<Utc>) -> DateTime<FixedOffset>> Transcript<L> {
    /// `local` tells the maker's local time.
    pub fn new(local: L, form: Form, folder: Option<PathBuf>) -> Transcript<L> {
        Transcript { local, form, folder }
    }

    /// One event, ended by a newline. A file the bot brings is saved first; a maker has theirs.
    pub fn render(&self, seen: &Seen) -> Result<String> {
        let saved = match (&seen.file, &self.folder, seen.from) {
            (Some(file), Some(folder), Speaker::Bot) => Some(save(file, folder)?),
            (Some(_) | None, _, Speaker::Bot | Speaker::Maker) => None,
        };
        let at = (self.local)(seen.at);
        Ok(match &self.form {
            Form::Text { bot, maker } => {
                let speaker = match seen.from {
                    Speaker::Bot => bot,
                    Speaker::Maker => maker,
                };
                text(seen, at, speaker, saved.as_deref())
            }
            Form::Json { maker } => line(seen, at, maker, saved.as_deref()),
        })
    }
}

fn text(seen: &Seen, at: DateTime<FixedOffset>, speaker: &str, saved: Option<&str>) -> String {
    let mark = match seen.kind {
        SeenKind::Edit => "  (edited)",
        SeenKind::Deleted => "  (deleted)",
        SeenKind::Toast => "  (notice)",
        SeenKind::Message | SeenKind::Picture | SeenKind::Document | SeenKind::Tap => "",
    };
    let mut out = format!("{}  {}{mark}\n", at.format("%Y-%m-%d %H:%M"), shown(speaker));
    let mut put = |line: &str| {
        out.push_str(if line.is_empty() { "" } else { "    " });
        out.push_str(line);
        out.push('\n');
    };
    match seen.kind {
        SeenKind::Tap => put(&format!("[{}]", shown(&seen.text))),
        SeenKind::Message
        | SeenKind::Edit
        | SeenKind::Deleted
        | SeenKind::Toast
        | SeenKind::Picture
        | SeenKind::Document => seen.text.lines().for_each(|line| put(&shown(line))),
    }
    if let Some(file) = &seen.file {
        let size = match file.size {
            Some((width, height)) => format!("{width} x {height}"),
            None => format!("{} bytes", file.bytes.len()),
        };
        put(&match saved {
            Some(saved) => format!("(saved as {saved}, {size})", saved = shown(saved)),
            None => format!("({}, {size})", shown(&file.name)),
        });
    }
    for row in &seen.buttons {
        let labels: Vec<String> = row.iter().map(|label| format!("[{}]", shown(label))).collect();
        put(&labels.join(" "));
    }
    out
}

fn line(seen: &Seen, at: DateTime<FixedOffset>, maker: &str, saved: Option<&str>) -> String {
    let from = match seen.from {
        Speaker::Bot => "bot",
        Speaker::Maker => "maker",
    };
    let kind = match seen.kind {
        SeenKind::Message | SeenKind::Tap => "message",
        SeenKind::Edit | SeenKind::Deleted => "edit",
        SeenKind::Toast => "toast",
        SeenKind::Picture => "picture",
        SeenKind::Document => "document",
    };
    // As in a script: what stands in brackets was tapped.
    let text = match seen.kind {
        SeenKind::Tap => format!("[{}]", seen.text),
        SeenKind::Message
        | SeenKind::Edit
        | SeenKind::Deleted
        | SeenKind::Toast
        | SeenKind::Picture
        | SeenKind::Document => seen.text.clone(),
    };
    let size = seen.file.as_ref().and_then(|file| file.size);
    let object = json!({
        "at": at.to_rfc3339_opts(chrono::SecondsFormat::Secs, false),
        "maker": maker,
        "from": from,
        "kind": kind,
        "id": seen.id,
        "text": text,
        "buttons": seen.buttons,
        "file": saved,
        "width": size.map(|(width, _)| width),
        "height": size.map(|(_, height)| height),
    });
    let mut out = String::new();
    for character in object.to_string().chars() {
        if is_hidden(character) {
            let mut units = [0; 2];
            for unit in character.encode_utf16(&mut units) {
                // Writing to a string cannot fail.
                let _written = write!(out, "\\u{unit:04x}");
            }
        } else {
            out.push(character);
        }
    }
    out.push('\n');
    out
}

/// The text with everything spelled out that a terminal would act on or not show.
pub fn shown(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for character in text.chars() {
        match is_hidden(character) {
            true => out.extend(character.escape_unicode()),
            false => out.push(character),
        }
    }
    out
}

/// Control characters (ECMA-48), line and direction marks (Unicode UAX #9), and what shows nothing.
/// The joiners that hold emoji and some scripts together stay.
fn is_hidden(character: char) -> bool {
    character.is_control()
        || matches!(character,
            '\u{ad}' | '\u{61c}' | '\u{115f}' | '\u{1160}' | '\u{180e}' | '\u{200b}'
            | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}'
            | '\u{2800}' | '\u{3164}' | '\u{feff}' | '\u{ffa0}' | '\u{fff0}'..='\u{fffb}'
            | '\u{1bca0}'..='\u{1bca3}' | '\u{1d173}'..='\u{1d17a}'
            | '\u{e0000}'..='\u{e00ff}' | '\u{e01f0}'..='\u{e0fff}')
}

/// Saves a file under its name or, if that is taken, with a number; the name it got.
fn save(file: &SeenFile, folder: &Path) -> Result<String> {
    let (stem, ending) = safe_name(&file.name);
    for number in 1..10_000 {
        let name = match number {
            1 => format!("{stem}{ending}"),
            _ => format!("{stem}-{number}{ending}"),
        };
        let path = folder.join(&name);
        match OpenOptions::new().write(true).create_new(true).mode(0o600).open(&path) {
            Err(taken) if taken.kind() == ErrorKind::AlreadyExists => {}
            opened => {
                opened
                    .and_then(|mut opened| opened.write_all(&file.bytes))
                    .with_context(|| format!("cannot save {}", path.display()))?;
                return Ok(name);
            }
        }
    }
    bail!("too many files named {stem}{ending} in {}", folder.display())
}

/// A name that stays in its folder, cut into stem and ending.
fn safe_name(name: &str) -> (String, String) {
    let plain = |c: char| if c.is_alphanumeric() || "-_.".contains(c) { c } else { '-' };
    let name: String = name.chars().take(80).map(plain).collect();
    let name = name.trim_start_matches('.');
    match name.rsplit_once('.') {
        Some((stem, ending)) if !stem.is_empty() => (stem.to_owned(), format!(".{ending}")),
        Some(_) | None if name.is_empty() => ("file".to_owned(), String::new()),
        Some(_) | None => (name.to_owned(), String::new()),
    }
}

#[cfg(test)]
mod tests {
    use std::os::unix::fs::PermissionsExt;
    use std::sync::Arc;

    use serde_json::Value;

    use super::*;

    fn local(at: DateTime<Utc>) -> DateTime<FixedOffset> {
        at.with_timezone(&FixedOffset::east_opt(3600).unwrap())
    }

    fn seen(kind: SeenKind, text: &str) -> Seen {
        Seen {
            number: 1,
            at: DateTime::parse_from_rfc3339("2027-07-14T20:00:00Z").unwrap().to_utc(),
            from: Speaker::Bot,
            kind,
            id: 9,
            text: text.to_owned(),
            spans: vec![],
            buttons: vec![vec!["Rough".into(), "Smooth".into()], vec!["Change".into()]],
            file: None,
            silent: false,
        }
    }

    fn picture(name: &str, size: Option<(u32, u32)>) -> Seen {
        let bytes = Arc::new(b"picture".to_vec());
        let file = Some(Arc::new(SeenFile { name: name.to_owned(), bytes, size }));
        Seen { file, buttons: vec![], ..seen(SeenKind::Picture, "Row 14.") }
    }

    fn as_text(seen: &Seen, folder: Option<&Path>) -> String {
        let form = Form::Text { bot: "Duskrow".into(), maker: "Maren".into() };
        Transcript::new(local, form, folder.map(Path::to_owned)).render(seen).unwrap()
    }

    fn as_json(seen: &Seen) -> (String, Value) {
        let line = Transcript::new(local, Form::Json { maker: "Maren".into() }, None)
            .render(seen)
            .unwrap();
        let value = serde_json::from_str(&line).unwrap();
        (line, value)
    }

    #[test]
    fn a_message_shows_local_time_speaker_text_and_buttons() {
        assert_eq!(
            as_text(&seen(SeenKind::Edit, "Kept.\n\nRow 14."), None),
            "2027-07-14 21:00  Duskrow  (edited)\n    Kept.\n\n    Row 14.\n    \
             [Rough] [Smooth]\n    [Change]\n"
        );
        let tap = Seen { from: Speaker::Maker, buttons: vec![], ..seen(SeenKind::Tap, "Smooth") };
        assert_eq!(as_text(&tap, None), "2027-07-14 21:00  Maren\n    [Smooth]\n");
    }

    #[test]
    fn a_picture_is_saved_beside_the_transcript_and_never_over_another() {
        let folder = tempfile::tempdir().unwrap();
        let picture = picture("year.png", Some((1182, 1080)));
        let first = as_text(&picture, Some(folder.path()));
        assert!(first.ends_with("    Row 14.\n    (saved as year.png, 1182 x 1080)\n"), "{first}");
        let second = as_text(&picture, Some(folder.path()));
        assert!(second.contains("(saved as year-2.png, 1182 x 1080)"), "{second}");
        let saved = folder.path().join("year-2.png");
        assert_eq!(std::fs::read(&saved).unwrap(), b"picture");
        assert_eq!(std::fs::metadata(&saved).unwrap().permissions().mode() & 0o777, 0o600);
    }

    #[test]
    fn a_file_of_the_maker_is_named_and_not_saved_once_more() {
        let folder = tempfile::tempdir().unwrap();
        let sent = Seen { from: Speaker::Maker, text: String::new(), ..picture("a.json", None) };
        let shown = as_text(&sent, Some(folder.path()));
        assert_eq!(shown, "2027-07-14 21:00  Maren\n    (a.json, 7 bytes)\n");
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
    }

    #[test]
    fn a_file_cannot_leave_its_folder() {
        let folder = tempfile::tempdir().unwrap();
        let inner = folder.path().join("inner");
        std::fs::create_dir(&inner).unwrap();
        for name in ["../a.csv", "/tmp/a", "..", ".bashrc", "a\u{202e}b\n.csv"] {
            as_text(&picture(name, None), Some(&inner));
        }
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
        assert_eq!(std::fs::read_dir(&inner).unwrap().count(), 5);
        assert!(inner.join("bashrc").exists() && inner.join("a-b-.csv").exists());
    }

    #[test]
    fn a_json_line_has_every_key_and_says_the_offset() {
        let (_, value) = as_json(&picture("year.png", Some((1182, 1080))));
        assert_eq!(
            value,
            json!({
                "at": "2027-07-14T21:00:00+01:00", "maker": "Maren", "from": "bot",
                "kind": "picture", "id": 9, "text": "Row 14.", "buttons": [], "file": null, "width": 1182, "height": 1080,
            })
        );
        let (_, tap) = as_json(&seen(SeenKind::Tap, "Smooth"));
        assert_eq!((&tap["kind"], &tap["text"]), (&json!("message"), &json!("[Smooth]")));
        assert_eq!(tap["buttons"], json!([["Rough", "Smooth"], ["Change"]]));
    }

    #[test]
    fn nothing_hostile_reaches_the_terminal() {
        let hostile = "\u{1b}[2J\u{7}\u{9b}A\u{202e}B\u{2066}C\u{200b}D\u{7f}\r";
        let message = Seen {
            buttons: vec![vec![format!("a\n{hostile}")]],
            ..seen(SeenKind::Message, hostile)
        };
        let form = Form::Text { bot: hostile.into(), maker: String::new() };
        let text = Transcript::new(local, form, None).render(&message).unwrap();
        let (line, value) = as_json(&message);
        for out in [&text, &line] {
            assert!(out.chars().all(|c| c == '\n' || !is_hidden(c)), "{out:?}");
        }
        assert_eq!(value["text"], json!(hostile));
        assert_eq!(text.lines().count(), 3, "{text}");
    }
}
