//! Is what is written for people still true? README.md and DEVELOPERS.md against the program.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// As much of the evening as the README has room for.
const MESSAGES_SHOWN: usize = 7;

/// `DUSKROW_REWRITE=1 cargo test` writes the transcript anew.
#[test]
fn the_evening_in_the_readme_is_the_one_the_rehearsal_plays() {
    let text = page("README.md");
    let (before, after) = text.split_once("```text\n").unwrap();
    let (transcript, after) = after.split_once("```\n").unwrap();
    let played = beginning(&rehearsed());
    assert!(played.contains("Which fits the day?") && played.contains("Kept: "), "{played}");
    if std::env::var_os("DUSKROW_REWRITE").is_some() {
        let text = format!("{before}```text\n{played}```\n{after}");
        return fs::write(path("README.md"), text).unwrap();
    }
    assert_eq!(transcript, played);
}

/// The picture on top of the README is what a rehearsal draws for its half-done blanket.
/// `DUSKROW_REWRITE=1 cargo test` writes it anew.
#[test]
fn the_picture_in_the_readme_is_the_one_a_rehearsal_draws() {
    let folder = tempfile::tempdir().unwrap();
    let script = folder.path().join("script.txt");
    fs::write(&script, "/blanket cloth\n").unwrap();
    let mut program = Command::new(env!("CARGO_BIN_EXE_duskrow"));
    program.args(["rehearse", "--script"]).arg(&script).arg("--out").arg(folder.path());
    let played = program.env_clear().stdin(Stdio::null()).output().unwrap();
    assert_eq!(played.status.code(), Some(0), "{}", String::from_utf8_lossy(&played.stderr));
    let of_the_picture =
        |entry: &fs::DirEntry| entry.path().extension().is_some_and(|it| it == "png");
    let entries = fs::read_dir(folder.path()).unwrap().map(Result::unwrap);
    let drawn = fs::read(entries.into_iter().find(of_the_picture).unwrap().path()).unwrap();
    let golden = path("tests/it/pictures/goldens/demo_blanket.png");
    assert!(page("README.md").contains("](tests/it/pictures/goldens/demo_blanket.png)"));
    if std::env::var_os("DUSKROW_REWRITE").is_some() {
        return fs::write(golden, drawn).unwrap();
    }
    assert!(fs::read(golden).unwrap() == drawn, "the picture is drawn differently now");
}

#[test]
fn the_pages_are_as_short_as_they_should_be() {
    for (name, words_max) in [("README.md", 900), ("DEVELOPERS.md", 2000)] {
        let words = page(name).split_whitespace().count();
        assert!((300..=words_max).contains(&words), "{name} has {words} words");
    }
}

#[test]
fn every_link_of_the_pages_leads_somewhere() {
    for name in ["README.md", "DEVELOPERS.md", "deploy/INSTALL.md"] {
        let text = page(name);
        let folder = path(name).parent().unwrap().to_owned();
        for link in text.split("](").skip(1).filter_map(|rest| rest.split(')').next()) {
            assert!(folder.join(link).exists(), "{name} leads to {link}, which is not there");
        }
    }
    assert!(page("README.md").contains("](deploy/INSTALL.md)"));
}

#[test]
fn developers_are_shown_every_room_and_every_dependency() {
    let text = page("DEVELOPERS.md");
    for entry in fs::read_dir(path("src")).unwrap() {
        let entry = entry.unwrap();
        let mut name = entry.file_name().into_string().unwrap();
        if entry.path().is_dir() {
            name.push('/');
        }
        // `app.rs` has its parts in a folder of the same name.
        let room = Path::new(&name).with_extension("rs");
        let of_file = entry.path().is_dir() && path("src").join(room).exists();
        assert!(of_file || text.contains(&name), "DEVELOPERS.md does not name src/{name}");
    }
    let names = dependencies(&page("Cargo.toml"));
    assert!(names.len() > 10 && names.contains(&"sqlx".to_owned()), "{names:?}");
    for name in names {
        assert!(text.contains(&format!("`{name}`")), "DEVELOPERS.md gives no reason for {name}");
    }
}

/// The names below `[dependencies]` and `[dev-dependencies]`.
fn dependencies(manifest: &str) -> Vec<String> {
    let mut names = Vec::new();
    let mut inside = false;
    for line in manifest.lines() {
        match line.strip_prefix('[') {
            Some(table) => inside = table.ends_with("dependencies]"),
            None => names.extend(line.split_once(" = ").filter(|_| inside).map(|(name, _)| name)),
        }
    }
    names.into_iter().map(str::to_owned).collect()
}

/// The first messages of a transcript: each begins with its time, and its text is set in.
fn beginning(transcript: &str) -> String {
    let mut messages = 0;
    let shown = transcript.lines().take_while(|line| {
        messages += usize::from(!line.starts_with(' '));
        messages <= MESSAGES_SHOWN
    });
    shown.map(|line| format!("{line}\n")).collect()
}

/// What `duskrow rehearse </dev/null` prints.
fn rehearsed() -> String {
    let mut program = Command::new(env!("CARGO_BIN_EXE_duskrow"));
    let played = program.arg("rehearse").env_clear().stdin(Stdio::null()).output().unwrap();
    assert_eq!(played.status.code(), Some(0), "{}", String::from_utf8_lossy(&played.stderr));
    String::from_utf8(played.stdout).unwrap()
}

fn page(name: &str) -> String {
    fs::read_to_string(path(name)).unwrap()
}

fn path(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}
