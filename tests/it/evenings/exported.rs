//! `/export`: the days and the rows reach the chat as files, made of the book as it is then.

use std::io::Write;
use std::process::{Command, Stdio};

use duskrow::blanket::calendar::{ZoneData, use_zone_data_here};
use duskrow::blanket::{Book, Change, begin_next, next_plan};
use duskrow::chat::event::UserId;
use duskrow::cli::rehearse::{demo, theatre::MAREN};
use duskrow::export;
use duskrow::rehearsal::SeenKind;

use super::erased::bytes_of;
use crate::world::zones::moved;
use crate::world::{World, instant};

const INES: i64 = 2001;

#[tokio::test]
async fn the_days_and_the_rows_come_as_two_tables() {
    let mut world = World::begun("2027-01-01 12:00").await;
    world.play("@ evening\n[Smooth]\n@ evening\n@ evening\n[Very rough]\n[Note]").await;
    world.play("=1+1, \"quoted\"\n/rows 1\n[Worked]\n/export").await;
    let files = files(&world);
    let names: Vec<&str> = files.iter().map(|(name, ..)| name.as_str()).collect();
    assert_eq!(names, ["book-2027-01-03.json", "days-2027-01-03.csv", "rows-2027-01-03.csv"]);
    // The columns and records of RFC 4180; the note as OWASP would have it.
    let (_, beside, days) = &files[1];
    assert!(beside.starts_with("Your days as a table:"), "{beside}");
    let days: Vec<&str> = days.split("\r\n").collect();
    assert_eq!(days.len(), 5, "{days:?}");
    let columns = "date,block,row,side,tier,label,yarn,colour,kept,kept_at,notes";
    assert_eq!(days[0], columns);
    let first = "2027-01-01,1,1,RS,6,Smooth,Brick,#A05E41,answered,2027-01-01T21:00:00Z,";
    assert_eq!(days[1], first);
    assert_eq!(days[2], "2027-01-02,1,2,WS,,,,,,,");
    let third = "2027-01-03,1,3,RS,1,Very rough,Mussel,#3D2078,answered,2027-01-03T21:00:00Z,";
    assert_eq!(days[3], format!("{third}\"'=1+1, \"\"quoted\"\"\""));
    let rows: Vec<&str> = files[2].2.split("\r\n").collect();
    let worked = "1,1,RS,2027-01-01,Smooth,Brick,#A05E41,worked,Brick,2027-01-03T21:00:0";
    assert!(rows[1].starts_with(worked), "{}", rows[1]);
    assert_eq!(rows[2], "1,2,WS,2027-01-02,,,,open,,");
    assert_eq!(rows[3], "1,3,RS,2027-01-03,Very rough,Mussel,#3D2078,waiting,,");
    assert_eq!(rows[4], "1,4,WS,2027-01-04,,,,to come,,");
    assert_eq!(world.requests("sendDocument"), 3);
}

#[tokio::test]
async fn a_file_that_waits_is_made_when_it_is_sent() {
    let mut world = World::begun("2027-01-01 12:00").await;
    world.play("@ evening").await;
    world.type_unseen("/export");
    world.tap_unseen("Smooth");
    world.settle().await;
    assert!(files(&world)[1].2.contains("2027-01-01,1,1,RS,6,Smooth,"));
    let maker = world.theatre.book(MAREN).await.unwrap().unwrap();
    assert_eq!(maker.answers().len(), 1);
}

/// With the program itself, beside the running bot.
#[tokio::test]
async fn a_host_brings_a_book_back_from_a_file_and_the_maker_is_told() {
    let mut world = World::begun("2027-01-01 12:00").await;
    world
        .play("@ evening\n[Smooth]\n[Note]\nrain\n/rows 1\n[Worked]\n/yarn\nBrick 83\n@ evening")
        .await;
    let listed = duskrow(&world, &["makers"], "");
    assert!(listed.0.contains("1: joined 20") && listed.0.contains("2027-01-01 to 2027-12-31"));
    let (book, _, code) = duskrow(&world, &["export", "--book=1"], "");
    assert_eq!(code, Some(0));
    let before = world.theatre.book(MAREN).await.unwrap().unwrap();
    assert_eq!(book, export::book_file(&before, &[]));
    world.play("[Very rough]\nZEPHYR came by").await;
    assert!(bytes_of(world.folder.path(), "ZEPHYR") > 0, "the mark was never kept");

    let check = |arguments: &[&str], file: &str, exit, said: &str| {
        let (_, heard, code) = duskrow(&world, arguments, file);
        assert_eq!((code, heard.contains(said)), (Some(exit), true), "{heard}");
    };
    check(&["import", "--book=1", "-"], &book, 2, "add --replace");
    check(&["import", "--book=1", "--replace", "-"], "no book", 1, "is no book of duskrow");
    let zone = book.replace("Europe/Lisbon", "Nowhere");
    check(&["import", "--book=1", "--replace", "-"], &zone, 1, "nothing was changed");
    check(&["import", "--book=9", "-"], &book, 2, "there is no maker 9");
    check(&["import", "--book=1", "/nowhere/book.json"], "", 74, "cannot read /nowhere/book.json");
    assert_eq!(world.theatre.book(MAREN).await.unwrap().unwrap().answers().len(), 2);

    check(
        &["import", "--book=1", "--replace", "-"],
        &book,
        0,
        "Maker 1 has the book in the file now",
    );
    let after = world.theatre.book(MAREN).await.unwrap().unwrap();
    assert_eq!(export::book_file(&after, &[]), book);
    assert_eq!(world.dump().await["blankets"].len(), 1, "what was replaced is gone");
    assert_eq!(bytes_of(world.folder.path(), "ZEPHYR"), 0, "no trace of it is left");
    let said = world.stand_in.seen_by(MAREN);
    let copied = said
        .iter()
        .filter(|seen| seen.text.contains("made a copy of the whole book of the blanket of 2027"));
    assert_eq!(copied.count(), 1);
    let said = world.settle().await;
    assert!(said.contains("brought the blanket of 2027 back from a file"), "{said}");
    // The evening goes on with it.
    let said = world.play("@ evening\n[Smooth]").await;
    assert!(said.contains("Kept:"), "{said}");
}

#[tokio::test]
async fn a_book_brought_back_leaves_the_makers_other_blankets_alone() {
    let mut world = World::begun("2027-12-25 12:00").await;
    let first = demo::beginning_on("2027-01-01".parse().unwrap());
    let book = Book::begin(&first);
    let (next_day, today) = ("2028-01-01".parse().unwrap(), "2027-12-25".parse().unwrap());
    let plan = next_plan(&book, &[], next_day, today).unwrap();
    let mut changes = vec![Change::Began(Box::new(first))];
    changes.extend(begin_next(&book, plan, instant("2027-12-25 12:00")));
    world.theatre.settle_in(INES, &changes).await.unwrap();
    let before = world.dump().await;

    let from =
        |day: &str| export::book_file(&Book::begin(&demo::beginning_on(day.parse().unwrap())), &[]);
    let import = ["import", "--book=2", "--replace", "-"];
    let (_, heard, code) = duskrow(&world, &import, &from("2027-03-01"));
    let other = "the file shares days with more than one blanket of maker 2";
    assert_eq!((code, heard.contains(other)), (Some(1), true), "{heard}");
    assert_eq!(world.dump().await, before);

    let (next, _, code) = duskrow(&world, &["export", "--book=2", "--blanket=2028-01-01"], "");
    assert!(code == Some(0) && next.contains("\"first_day\": \"2028-01-01\""), "{next}");
    let nowhere = ["export", "--book=2", "--blanket=2025-01-01"];
    let (_, heard, code) = duskrow(&world, &nowhere, "");
    let theirs = "theirs begin on 2027-01-01 and 2028-01-01";
    assert_eq!((code, heard.contains(theirs)), (Some(2), true), "{heard}");

    let (_, heard, code) = duskrow(&world, &import, &from("2026-12-01"));
    assert_eq!(code, Some(0), "{heard}");
    let stored = world.theatre.app.store().load(UserId(INES)).await.unwrap().unwrap().maker;
    let days = |book: &Book| book.plan().first_day().to_string();
    assert_eq!(days(&stored.book.unwrap()), "2026-12-01");
    assert_eq!(stored.others.iter().map(days).collect::<Vec<_>>(), ["2028-01-01"]);
}

/// The program beside the bot knows nothing of the zone data and the clock the bot goes by.
#[tokio::test]
async fn a_book_handed_out_or_brought_back_beside_the_bot_moves_no_question() {
    let mut world = World::begun("2027-01-14 12:00").await;
    let folder = tempfile::tempdir().unwrap();
    // Lisbon goes by the time of Athens from now on: two hours ahead.
    let moved = moved(folder.path(), "2099a", &[("Europe/Lisbon", "Europe/Athens")]);
    use_zone_data_here(moved);
    world.theatre.app.derive_wakes().await.unwrap();
    let (book, heard, code) = duskrow(&world, &["export", "--book=1"], "");
    assert_eq!(code, Some(0), "{heard}");
    world.play("@ 2027-01-15 12:00").await;
    let import = ["import", "--book=1", "--replace", "-"];
    let (_, heard, code) = duskrow(&world, &import, &book);
    assert_eq!(code, Some(0), "{heard}");
    world.play("@ 2027-01-16 12:00").await;
    let at: Vec<String> = world.questions().into_iter().map(|(at, _)| at).collect();
    use_zone_data_here(ZoneData::bundled());
    assert_eq!(at, ["2027-01-14 21:00", "2027-01-15 21:00"]);
    // It was looked at once, and not all the time.
    let wake = world.theatre.app.next_wake().await.unwrap().unwrap();
    assert_eq!(wake.to_string(), "2027-01-16 19:00:00 UTC");
}

/// A blanket without days can hold notes, yarn and a scale of the maker's own.
#[tokio::test]
async fn a_host_replaces_nothing_unless_they_say_so() {
    let mut world = World::begun("2027-01-01 12:00").await;
    let (file, ..) = duskrow(&world, &["export", "--book=1"], "");
    world.play("/yarn\nBrick 83").await;
    let before = world.dump().await;
    let (_, heard, code) = duskrow(&world, &["import", "--book=1", "-"], &file);
    let why = "maker 1 has a blanket of these days";
    assert_eq!((code, heard.contains(why)), (Some(2), true), "{heard}");
    assert!(heard.contains("add --replace"), "{heard}");
    assert_eq!(world.dump().await, before);
    // Beside it there is room.
    let other =
        export::book_file(&Book::begin(&demo::beginning_on("2025-01-01".parse().unwrap())), &[]);
    let (_, heard, code) = duskrow(&world, &["import", "--book=1", "-"], &other);
    assert_eq!(code, Some(0), "{heard}");
    assert_eq!(world.dump().await["blankets"].len(), 2);
}

/// What the program says on stdout and stderr, and its exit code.
pub fn duskrow(world: &World, arguments: &[&str], stdin: &str) -> (String, String, Option<i32>) {
    let mut program = Command::new(env!("CARGO_BIN_EXE_duskrow"));
    program.env_clear().arg(format!("--data={}", world.folder.path().display())).args(arguments);
    program.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut running = program.spawn().unwrap();
    // It may end before it has read all.
    let _ = running.stdin.take().unwrap().write_all(stdin.as_bytes());
    let ended = running.wait_with_output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (text(ended.stdout), text(ended.stderr), ended.status.code())
}

/// Name, caption and content of each document that came.
pub fn files(world: &World) -> Vec<(String, String, String)> {
    let seen = world.stand_in.seen_by(MAREN);
    let documents = seen.into_iter().filter(|seen| seen.kind == SeenKind::Document);
    let content = documents.map(|seen| {
        let file = seen.file.unwrap();
        (file.name.clone(), seen.text, String::from_utf8(file.bytes.to_vec()).unwrap())
    });
    content.collect()
}
