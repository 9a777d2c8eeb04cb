//! `duskrow rehearse --script - --empty --json`, the real program: from `/start` to two answered
//! weeks, worked rows and undone ones. Every line parses, with the documented keys.

use std::fs;
use std::io::Write;
use std::process::{Command, Output, Stdio};

use serde_json::Value;

const KEYS: [&str; 10] =
    ["at", "buttons", "file", "from", "height", "id", "kind", "maker", "text", "width"];

#[test]
fn a_script_goes_from_start_to_the_rows_of_two_answered_weeks() {
    let mut script =
        String::from("/start\n[I agree]\nLisbon\n[Yes]\n[21:00]\n[Today, Fri 1 Jan]\n");
    script.push_str("[Answer today now]\n[Smooth]\n@ +1h\n");
    for tier in ["Rough", "Ordinary", "A bit smooth"].into_iter().cycle().take(13) {
        script.push_str(&format!("@ evening\n[{tier}]\n"));
    }
    script.push_str("/rows 14\n[Worked]\n[Undo]\n");
    let played = rehearse(&["--script", "-", "--empty", "--json"], &script);
    assert_eq!(played.status.code(), Some(0), "{}", String::from_utf8_lossy(&played.stderr));
    let stdout = String::from_utf8(played.stdout).unwrap();
    let lines: Vec<Value> = stdout.lines().map(parsed).collect();
    let says = |part: &str| {
        let bot = lines.iter().filter(|line| line["from"] == "bot");
        bot.filter(|line| line["text"].as_str().unwrap().contains(part)).count()
    };
    assert_eq!(says("Kept: "), 14);
    assert_eq!(says("Which fits the day?"), 14);
    assert_eq!(says("14 WS Thu 14 Rough"), 0);
    assert_eq!(says("\n1 RS Fri 1 Brick\n2 WS Sat 2 Tarred Rope, change\n"), 1);
    assert_eq!(says("Rows 1 to 14 of January are worked."), 1);
    assert_eq!(says("Taken back.\nNo row of January is worked."), 1);
    let last = lines.last().unwrap();
    assert_eq!(last["at"].as_str().unwrap()[..16], *"2027-01-14T21:00");
    assert_eq!(last["buttons"][0][0], "Next rows");
}

#[test]
fn a_label_that_is_not_there_ends_the_run_and_says_which_are() {
    let played = rehearse(&["--script", "-", "--empty"], "/start\n[I disagree]\n");
    assert_eq!(played.status.code(), Some(1));
    let said = String::from_utf8(played.stderr).unwrap();
    assert_eq!(
        said,
        "error: line 2: no button [I disagree] here; there are [I agree] [I do not agree]\n"
    );
    assert!(String::from_utf8(played.stdout).unwrap().contains("[I agree]"));
}

#[test]
fn files_go_to_a_folder_that_is_made_for_them() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("pictures of July");
    let played = rehearse(&["--script", "-", "--out", out.to_str().unwrap()], "/blanket\n");
    assert_eq!(played.status.code(), Some(0), "{}", String::from_utf8_lossy(&played.stderr));
    assert!(out.join("blanket-2027-07-15.png").is_file());
    let file = folder.path().join("a file");
    fs::write(&file, "").unwrap();
    let played = rehearse(&["--script", "-", "--out", file.to_str().unwrap()], "/blanket\n");
    assert_eq!(played.status.code(), Some(74));
    let said = String::from_utf8(played.stderr).unwrap();
    assert!(said.starts_with("error: cannot make the folder "), "{said}");
}

#[test]
fn the_built_in_evenings_play_to_their_end() {
    for (arguments, part) in [
        (&[][..], "Kept: Thursday 15 July, Smooth."),
        (&["--empty"], "Kept: Friday 1 January, A bit smooth."),
        (&["--start", "2027-07-20"], "Tuesday 20 July"),
        (&["--json"], "\"text\":\"[Smooth]\""),
    ] {
        let played = rehearse(arguments, "");
        assert_eq!(played.status.code(), Some(0), "{arguments:?}");
        let stdout = String::from_utf8(played.stdout).unwrap();
        assert!(stdout.contains(part), "{arguments:?}: {stdout}");
    }
}

/// Every key is there, and holds what is documented.
fn parsed(line: &str) -> Value {
    let value: Value = serde_json::from_str(line).unwrap();
    let mut keys: Vec<&String> = value.as_object().unwrap().keys().collect();
    keys.sort();
    assert_eq!(keys, KEYS, "{line}");
    assert!(chrono::DateTime::parse_from_rfc3339(value["at"].as_str().unwrap()).is_ok(), "{line}");
    assert!(["bot", "maker"].contains(&value["from"].as_str().unwrap()), "{line}");
    let kinds = ["message", "edit", "toast", "picture", "document"];
    assert!(kinds.contains(&value["kind"].as_str().unwrap()), "{line}");
    assert!(value["id"].is_i64() && value["text"].is_string(), "{line}");
    for row in value["buttons"].as_array().unwrap() {
        assert!(row.as_array().unwrap().iter().all(Value::is_string), "{line}");
    }
    value
}

fn rehearse(arguments: &[&str], script: &str) -> Output {
    let mut program = Command::new(env!("CARGO_BIN_EXE_duskrow"));
    program.arg("rehearse").args(arguments).env_clear();
    program.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = program.spawn().unwrap();
    let mut stdin = child.stdin.take().unwrap();
    // A program that never reads its script may be gone by now.
    let _ = stdin.write_all(script.as_bytes());
    drop(stdin);
    child.wait_with_output().unwrap()
}
