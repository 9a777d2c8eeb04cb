//! The hostile corpus through the whole bot: over HTTP into the chat, into the terminal of a
//! rehearsal, and into every file that a maker or a host can ask for.

use std::collections::BTreeSet;

use chrono::{DateTime, FixedOffset};
use duskrow::blanket::{
    Beginning, Book, Change, Label, OwnQuestion, PersonId, PersonLine, Scale, Tier, TierLine, apply,
};
use duskrow::cli::rehearse::demo;
use duskrow::cli::rehearse::theatre::MAREN;
use duskrow::export;
use duskrow::rehearsal::transcript::{Form, Transcript};
use duskrow::rehearsal::{Person, Seen, SeenKind};

use super::exported::duskrow;
use crate::world::hostile::{corpus, is_hidden, labels, unsound};
use crate::world::{World, instant};

/// The platform's own limit of a text, in UTF-16 units.
const TYPED_UNITS_MAX: usize = 4096;

/// Seven tiers and eight yarns with these names, lines about tiers, people, a question.
fn changes(names: &[Label]) -> Vec<Change> {
    let mut begun: Beginning = demo::beginning_on("2027-01-01".parse().unwrap());
    let tiers = begun.scale.tiers().iter().zip(names);
    let tiers: Vec<Tier> =
        tiers.map(|(tier, label)| Tier { label: label.clone(), ..tier.clone() }).collect();
    let default = tiers[0].id;
    let ids: Vec<_> = tiers.iter().map(|tier| tier.id).collect();
    begun.scale = Scale::new(tiers, default).unwrap();
    for (yarn, name) in begun.yarns.iter_mut().zip(names) {
        yarn.name = name.clone();
    }
    let mut changes = vec![Change::Began(Box::new(begun))];
    let mut texts = corpus().into_iter().map(|(_, text)| text).cycle();
    let at = instant("2027-01-01 12:00");
    for tier in ids {
        let line = texts.find_map(|text| TierLine::parse(&text).ok());
        changes.push(Change::Described { tier, line, at });
    }
    for id in 1..=5 {
        let line = texts.find_map(|text| PersonLine::parse(&text).ok()).unwrap();
        changes.push(Change::PersonKept { id: PersonId(id), line });
    }
    let question = texts.find_map(|text| OwnQuestion::parse(&text).ok());
    changes.push(Change::QuestionSet(question));
    changes
}

/// A maker with names of the corpus whose every text was typed as a note; a few days answered and
/// worked, and every file asked for.
async fn lived(names: &[Label], notes: &[String]) -> World {
    let mut world = World::new("2027-01-01 12:00").await;
    world.theatre.settle_in(MAREN, &changes(names)).await.unwrap();
    world.stand_in.introduce(Person::new(MAREN, "\u{202E}<b>=cmd\u{1B}[2J"));
    for text in notes {
        world.type_unseen("/today");
        world.settle().await;
        let tier = world.newest().labels()[0].to_owned();
        world.tap_unseen(&tier);
        world.settle().await;
        world.tap_unseen("Note");
        world.settle().await;
        world.type_unseen(text);
        world.settle().await;
        // A day has room for twenty notes.
        if world.book().await.notes(world.theatre.clock.now().date_naive()).len() > 15 {
            world.play("/cancel\n@ +1d").await;
        }
    }
    world.play("/cancel\n/rows 1\n[Worked]\n/open\n/yarn\n/help\n/settings\n/recap\n/export").await;
    world.play("/blanket\n/blanket big\n/block 1\n[Picture]\n/block 1\n[On paper]").await;
    world
}

/// What somebody can send, and what is no command to the bot.
fn typed() -> Vec<String> {
    let texts = corpus().into_iter().map(|(_, text)| text);
    let sendable = |text: &String| text.encode_utf16().count() <= TYPED_UNITS_MAX;
    texts
        .filter(|text| sendable(text) && !text.starts_with('/') && !text.trim().is_empty())
        .collect()
}

fn groups() -> Vec<Vec<Label>> {
    let labels: Vec<Label> = labels().into_iter().map(|(_, label)| label).collect();
    let groups: Vec<Vec<Label>> = (0..labels.len().div_ceil(7))
        .map(|at| (0..7).map(|of| labels[(at * 7 + of) % labels.len()].clone()).collect())
        .collect();
    assert!(groups.len() > 3, "{}", groups.len());
    groups
}

#[tokio::test]
async fn hostile_words_come_out_of_every_output_intact_and_harmless() {
    let (groups, typed) = (groups(), typed());
    let some = typed.len().div_ceil(groups.len());
    for (names, typed) in groups.iter().zip(typed.chunks(some)) {
        let world = lived(names, typed).await;
        let book = world.book().await;
        let notes: usize = book.answers().keys().map(|day| book.notes(*day).len()).sum();
        assert!(2 * notes > typed.len(), "{notes} notes of {}", typed.len());
        let failed = world.rows("failed_updates").await;
        assert_eq!(failed, Vec::<String>::new());
        assert_eq!(world.stand_in.violations(), Vec::<String>::new());
        for request in world.stand_in.requests() {
            if ["sendMessage", "editMessageText", "sendDocument", "sendPhoto"]
                .contains(&request.method.as_str())
            {
                assert_eq!(unsound(&request.params), None, "{names:?}");
            }
        }
        let seen = world.stand_in.seen_by(MAREN);
        seen.iter().for_each(terminal_is_safe);
        let files: Vec<&Seen> = seen.iter().filter(|seen| seen.file.is_some()).collect();
        let endings: BTreeSet<&str> =
            files.iter().filter_map(|seen| seen.file.as_ref()?.name.rsplit('.').next()).collect();
        let wanted = BTreeSet::from(["csv", "json", "pdf", "png", "svg"]);
        assert_eq!(endings, wanted);
        for seen in files {
            let file = seen.file.as_ref().unwrap();
            let plain = |c: char| c.is_ascii_alphanumeric() || "-_.".contains(c);
            assert!(file.name.chars().all(plain), "{}", file.name);
            match file.name.rsplit('.').next() {
                Some("csv") => {
                    table_is_safe(std::str::from_utf8(&file.bytes).unwrap(), &book, &file.name)
                }
                Some("json") => {
                    assert_eq!(brought_back(&file.bytes), export::book_file(&book, &[]))
                }
                Some("png") => assert!(file.bytes.starts_with(b"\x89PNG\r\n"), "{}", file.name),
                Some("pdf") => assert!(file.bytes.starts_with(b"%PDF-"), "{}", file.name),
                Some("svg") => assert!(file.bytes.starts_with(b"<svg "), "{}", file.name),
                other => panic!("{other:?}: {}", file.name),
            }
        }
        for (form, ending) in [("days", "csv"), ("rows", "csv"), ("book", "json")] {
            let (out, _, code) = duskrow(&world, &["export", "--book=1", "--as", form], "");
            assert_eq!(code, Some(0));
            match ending {
                // By the clock of this machine, no day of the blanket has come.
                "csv" if form == "days" => assert_eq!(cells_are_safe(&out, form).len(), 1),
                "csv" => table_is_safe(&out, &book, form),
                _ => assert_eq!(brought_back(out.as_bytes()), export::book_file(&book, &[])),
            }
        }
        // Of hosts' lists, no word of a maker is in any.
        let (out, _, code) = duskrow(&world, &["makers"], "");
        assert_eq!(code, Some(0));
        assert!(out.chars().all(|c| c == '\n' || (' '..='~').contains(&c)), "{out:?}");
    }
}

/// ECMA-48 and UAX #9: nothing that a terminal acts on, in either form, and the JSON says the text
/// as it was.
fn terminal_is_safe(seen: &Seen) {
    let local = |at: DateTime<chrono::Utc>| at.with_timezone(&FixedOffset::east_opt(0).unwrap());
    let maker = "\u{202E}\u{1B}]0;x\u{7}".to_owned();
    let as_text = Form::Text { bot: "Duskrow".to_owned(), maker: maker.clone() };
    for form in [as_text, Form::Json { maker }] {
        let is_json = matches!(form, Form::Json { .. });
        let out = Transcript::new(local, form, None).render(seen).unwrap();
        assert!(out.chars().all(|c| c == '\n' || !is_hidden(c)), "{out:?}");
        if is_json {
            let value: serde_json::Value = serde_json::from_str(&out).unwrap();
            let said = value["text"].as_str().unwrap();
            let tapped = seen.kind == SeenKind::Tap;
            assert_eq!(said, if tapped { format!("[{}]", seen.text) } else { seen.text.clone() });
            assert_eq!(out.lines().count(), 1, "{out:?}");
        }
    }
}

/// RFC 4180, and OWASP ASVS 5.0, 1.2.10.
fn cells_are_safe(table: &str, name: &str) -> Vec<Vec<String>> {
    let records = records(table).unwrap_or_else(|| panic!("{name} is no table: {table}"));
    let width = records[0].len();
    assert!(records.iter().all(|record| record.len() == width), "{name}");
    for cell in records.iter().flatten() {
        assert!(!cell.starts_with(['=', '+', '-', '@', '\t', '\r', '\n', '\0']), "{cell:?}");
        assert!(cell.chars().all(|c| c == '\n' || !is_hidden(c)), "{cell:?}");
    }
    records
}

/// Whoever takes the apostrophes off has the book's words.
fn table_is_safe(table: &str, book: &Book, name: &str) {
    let records = cells_are_safe(table, name);
    let restored: BTreeSet<String> = records.iter().flatten().map(|cell| restored(cell)).collect();
    let days = book.answers().keys();
    for day in days {
        let tier = book.tier_of(*day).unwrap();
        assert!(restored.contains(tier.label.as_str()), "{} in {name}", tier.label);
        let yarn = book.yarn_name(tier.yarn).unwrap();
        assert!(restored.contains(yarn.as_str()), "{yarn} in {name}");
        let notes: Vec<&str> = book.notes(*day).iter().map(|note| note.text.as_str()).collect();
        let has_notes = records[0].last().is_some_and(|column| column == "notes");
        assert!(!has_notes || restored.contains(&notes.join("\n")), "the notes of {day} in {name}");
    }
}

fn restored(cell: &str) -> String {
    let bare = cell.trim_start_matches('\'');
    let formula = bare.starts_with(['=', '+', '-', '@', '\t', '\r', '\n', '\0']);
    match cell.strip_prefix('\'') {
        Some(rest) if formula => rest.to_owned(),
        Some(_) | None => cell.to_owned(),
    }
}

/// Records end with CRLF (rule 1); cells with quotes, commas or line ends are quoted (6), and
/// quotes in them doubled (7). `None` for anything else.
fn records(table: &str) -> Option<Vec<Vec<String>>> {
    let (mut all, mut record) = (Vec::new(), Vec::new());
    let mut rest = table;
    while !rest.is_empty() {
        let (cell, after) = match rest.strip_prefix('"') {
            None => {
                let end = rest.find([',', '\r', '\n', '"'])?;
                (rest[..end].to_owned(), &rest[end..])
            }
            Some(mut quoted) => {
                let mut cell = String::new();
                loop {
                    let (part, after) = quoted.split_once('"')?;
                    cell.push_str(part);
                    match after.strip_prefix('"') {
                        Some(more) => {
                            cell.push('"');
                            quoted = more;
                        }
                        None => break (cell, after),
                    }
                }
            }
        };
        record.push(cell);
        rest = match after.strip_prefix(',') {
            Some(rest) => rest,
            None => {
                all.push(std::mem::take(&mut record));
                after.strip_prefix("\r\n")?
            }
        };
    }
    Some(all)
}

/// A book file read and written once more.
fn brought_back(bytes: &[u8]) -> String {
    let mut book = None;
    export::read_book(bytes).unwrap().iter().for_each(|change| apply(&mut book, change));
    export::book_file(&book.unwrap(), &[])
}

/// What is refused changes nothing that is kept: the same database, but for how often it was
/// written, and which messages were sent.
#[tokio::test]
async fn what_is_refused_leaves_the_database_as_it_was() {
    let mut world = World::begun("2027-01-14 12:00").await;
    let ways = [
        "/settings\n[Scale]\n[Smooth]\n[Rename]",
        "/settings\n[Scale]\n[The question]",
        "/settings\n[Colours]\n[See or change a colour]\n[Kelp]\n[Another name]",
        "/settings\n[Colours]\n[See or change a colour]\n[Kelp]",
        "/settings\n[Hour of the question]",
        "/settings\n[Place]",
    ];
    let mut refused = 0;
    for (text, way) in typed().into_iter().zip(ways.into_iter().cycle()) {
        world.play(&format!("/cancel\n{way}")).await;
        let before = kept(&world).await;
        world.type_unseen(&text);
        let said = world.settle().await;
        if said.contains("Nothing was changed.") {
            let after = kept(&world).await;
            let other = after.iter().zip(&before).find(|(now, was)| now != was);
            assert_eq!(other, None, "{way}: {text:?}");
            refused += 1;
        } else {
            // The next is tried on the first names.
            world = World::begun("2027-01-14 12:00").await;
        }
    }
    assert!(refused > 25, "{refused}");
    assert_eq!(world.stand_in.violations(), Vec::<String>::new());
}

async fn kept(world: &World) -> Vec<(String, Vec<String>)> {
    let of_sending = ["makers", "outbox", "slots", "sent_files", "sqlite_sequence"];
    let dump = world.dump().await.into_iter();
    dump.filter(|(table, _)| !of_sending.contains(&table.as_str())).collect()
}
