//! Does the house stand as it was drawn? Reads the sources and holds the arrows of `src/lib.rs`,
//! the one file each for the clock, tokens and zones, and the rules every file keeps.
//!
//! The rules are tried on small made-up sources first: a check that cannot fail is a defect.

mod paths;
mod pieces;
mod rules;

use std::fs;
use std::path::Path;

use self::rules::{Source, faults};

#[test]
fn every_file_keeps_to_its_room() {
    let mut found = Vec::new();
    for source in sources(&["src", "tests"], &["rs"]) {
        found.extend(faults(&source));
    }
    assert!(found.is_empty(), "\n{}", found.join("\n"));
}

#[test]
fn no_file_names_a_machine_or_leaves_work_undone() {
    let folders = ["src", "tests", "migrations", "deploy", ".ci", ".cargo"];
    let mut texts = sources(&folders, &[]);
    for entry in fs::read_dir(root()).unwrap() {
        let path = entry.unwrap().path();
        let ours = ["md", "toml"].iter().any(|end| path.extension().is_some_and(|it| it == *end));
        if ours {
            texts.push(read(&path));
        }
    }
    let found: Vec<String> = texts.iter().flat_map(rules::faults_of_any_text).collect();
    assert!(found.is_empty(), "\n{}", found.join("\n"));
    for name in ["README.md", "Cargo.toml", ".ci/run", "deploy/duskrow.service", "src/app.rs"] {
        assert!(texts.iter().any(|text| text.path == name), "{name} was not looked at");
    }
}

#[test]
fn every_room_has_its_arrows() {
    for entry in fs::read_dir(root().join("src")).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        let room = name.trim_end_matches(".rs");
        let known = rules::ROOMS.iter().any(|(named, _)| *named == room);
        assert!(known || ["lib", "main"].contains(&room), "{name} is in no room with arrows");
    }
    for (room, _) in rules::ROOMS {
        let there = root().join("src").join(room).exists();
        let file = root().join("src").join(format!("{room}.rs")).exists();
        assert!(there || file, "the room {room} is gone");
    }
}

/// Every file below the folders whose name ends in one of `endings`; in any, where there is none.
fn sources(folders: &[&str], endings: &[&str]) -> Vec<Source> {
    let mut found = Vec::new();
    let mut folders: Vec<_> = folders.iter().map(|folder| root().join(folder)).collect();
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            let fits = |end: &&str| path.extension().is_some_and(|it| it == *end);
            if path.is_dir() {
                folders.push(path);
            } else if endings.is_empty() || endings.iter().any(fits) {
                found.push(read(&path));
            }
        }
    }
    assert!(found.len() > 3, "the sources are gone");
    found
}

fn read(path: &Path) -> Source {
    let text = fs::read(path).unwrap();
    let name = path.strip_prefix(root()).unwrap().to_str().unwrap().to_owned();
    Source { path: name, text: String::from_utf8_lossy(&text).into_owned() }
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}
