//! A file from `/export`, sent back into the chat: shown, put in its place by a tap, whole or not
//! at all.

use chrono::NaiveDate;
use duskrow::blanket::{Book, Change, begin_next, next_plan};
use duskrow::chat::bring_back::place;
use duskrow::chat::event::UserId;
use duskrow::chat::talk::Talk;
use duskrow::chat::{Maker, agenda};
use duskrow::cli::rehearse::{demo, theatre::MAREN};
use duskrow::export::{BYTES_MAX, book_file, read_book};
use duskrow::rehearsal::{DOWNLOAD, Fault};
use duskrow::telegram::poll::Poller;

use super::erased::bytes_of;
use super::exported::{duskrow, files};
use crate::world::{World, instant};

const INES: i64 = 2001;

#[tokio::test]
async fn a_maker_brings_a_book_back_by_sending_its_file() {
    let mut world = World::begun("2027-01-01 12:00").await;
    world.play("@ evening\n[Smooth]\n[Note]\nrain\n/today\n[Change]\n[Rough]").await;
    world.play("/rows 1\n[Worked]\n/yarn\nBrick 83\n@ evening\n/export").await;
    let (name, file) = exported(&world);
    assert_eq!(name, "book-2027-01-02.json");
    let before = world.book().await;
    world.play("[Very rough]\nZEPHYR came by").await;
    let kept = world.book().await;
    assert!(bytes_of(world.folder.path(), "ZEPHYR") > 0, "the mark was never kept");

    let said = world.play(&format!("< {name}")).await;
    let offer = "bot: In the file: the blanket of 2027, 1 day kept, 1 row worked.\n  \
                 Here now: the blanket of 2027, 2 days kept, 1 row worked.\n  The tier differs on 1 day.\n";
    assert!(said.contains(offer), "{said}");
    assert!(said.contains("  /export gives you a copy of it first.\n"), "{said}");
    assert!(said.contains("[Replace it with the file]"), "{said}");
    assert_eq!(world.book().await, kept, "nothing is changed before a tap");

    let said = world.play("[Replace it with the file]").await;
    assert!(said.contains("The blanket of 2027 is now as in the file."), "{said}");
    let after = world.book().await;
    let stored = world.theatre.app.store().load(UserId(MAREN)).await.unwrap().unwrap();
    let first_day = after.plan().first_day();
    let history = world.theatre.app.store().history(stored.id, first_day).await.unwrap();
    assert_eq!(book_file(&after, &history), file, "the file is the book, earlier answers too");
    assert_eq!(history.len(), 2, "{history:?}");
    assert_eq!(after.answers(), before.answers());
    assert_eq!(bytes_of(world.folder.path(), "ZEPHYR"), 0, "no trace of what was replaced");
    // The evening goes on with it.
    let said = world.play("@ evening\n[Smooth]").await;
    assert!(said.contains("Kept:"), "{said}");
}

/// A tap is acknowledged before the file is written anew, which keeps everybody from writing; so
/// often as somebody likes, it is not.
#[tokio::test]
async fn traces_go_after_the_tap_was_acknowledged_and_once_in_five_minutes() {
    let mut world = World::begun("2027-01-01 12:00").await;
    world.play("@ evening\n[Smooth]\n/export").await;
    let (name, _) = exported(&world);
    let replace = async |world: &mut World, mark: &str| {
        world.play(&format!("/today\n[Note]\n{mark} came by\n< {name}")).await;
        world.tap_unseen("Replace it with the file");
        let acknowledged = world.requests("answerCallbackQuery");
        world.theatre.app.poll_once(&mut Poller::new()).await.unwrap();
        world.theatre.app.settle_straight().await;
        assert_eq!(world.requests("answerCallbackQuery"), acknowledged + 1);
        assert!(bytes_of(world.folder.path(), mark) > 0, "not swept before the tap is answered");
    };
    replace(&mut world, "ZEPHYR").await;
    world.theatre.app.tick().await.unwrap();
    assert_eq!(bytes_of(world.folder.path(), "ZEPHYR"), 0);

    replace(&mut world, "MISTRAL").await;
    world.pass_unseen(4);
    world.settle().await;
    assert!(bytes_of(world.folder.path(), "MISTRAL") > 0, "twice in five minutes");
    world.pass_unseen(1);
    world.settle().await;
    assert_eq!(bytes_of(world.folder.path(), "MISTRAL"), 0);

    // A process that ends before it sweeps leaves that to the next.
    world.pass_unseen(5);
    replace(&mut world, "SIROCCO").await;
    let world = world.restart().await;
    let marks = async || world.rows("meta").await.join("\n").matches("erasing").count();
    assert_eq!(marks().await, 1);
    world.theatre.app.tick().await.unwrap();
    assert_eq!((marks().await, bytes_of(world.folder.path(), "SIROCCO")), (0, 0));
}

#[tokio::test]
async fn people_and_numbers_stay_and_who_has_none_gets_those_of_the_file() {
    let mut world = World::begun("2027-01-01 12:00").await;
    world.play("@ evening\n[Smooth]\n/export").await;
    let (without, _) = exported(&world);
    world.play("/settings\n[People and numbers]\n[Add a line]\nIda, 555 0134\n@ evening").await;
    world.play("[Rough]\n/export").await;
    let (with, _) = exported(&world);
    let people = world.book().await.people().clone();
    assert_eq!(people.len(), 1);
    let said = world.play(&format!("< {without}\n[Replace it with the file]")).await;
    assert!(said.contains("Hours, reminders, people and numbers stay."), "{said}");
    assert_eq!(world.book().await.people(), &people);
    world.play("/settings\n[People and numbers]\n[Remove 1]").await;
    assert!(world.book().await.people().is_empty());
    world.play(&format!("< {with}\n[Replace it with the file]")).await;
    assert_eq!(world.book().await.people(), &people);
}

/// Promise 1 holds over a book of before: what was asked once is not asked again.
#[tokio::test]
async fn no_day_is_asked_about_twice_because_a_book_came_back() {
    let mut world = World::begun("2027-01-01 12:00").await;
    world.play("@ evening\n[Smooth]\n/export\n@ evening\n[Rough]").await;
    let (name, _) = exported(&world);
    world.play(&format!("< {name}\n[Replace it with the file]\n@ +30m\n@ evening")).await;
    let days: Vec<String> = world.questions().into_iter().map(|(_, text)| text).collect();
    let of = |day: &str| days.iter().filter(|text| text.starts_with(day)).count();
    let asked = ["Friday 1 January", "Saturday 2 January", "Sunday 3 January"].map(of);
    assert_eq!(asked, [1, 1, 1], "{days:?}");
    assert!(world.book().await.answer("2027-01-02".parse().unwrap()).is_none());
}

#[tokio::test]
async fn a_book_moves_to_another_house_before_set_up() {
    let mut old = World::begun("2027-01-01 12:00").await;
    old.play("@ evening\n[Smooth]\n/export").await;
    let (_, file) = exported(&old);
    let mut world = World::new("2027-01-02 12:00").await;
    world.play("/start\n[I agree]").await;
    world.stand_in.send_file(MAREN, "book.json", file.into_bytes());
    let said = world.settle().await;
    assert!(
        said.contains("In the file: the blanket of 2027, 1 day kept, no row worked."),
        "{said}"
    );
    assert!(!said.contains("Here now"), "{said}");
    let said = world.play("[Bring it back]\n@ evening").await;
    assert!(said.contains("The blanket of 2027 is here now."), "{said}");
    assert!(said.contains("Which fits the day?"), "{said}");
    assert_eq!(world.book().await.answers(), old.book().await.answers());
}

#[tokio::test]
async fn a_second_tap_and_an_older_file_change_nothing() {
    let mut world = World::begun("2027-01-01 12:00").await;
    world.play("@ evening\n[Smooth]\n/export\n@ evening\n[Rough]").await;
    let (name, _) = exported(&world);
    world.play(&format!("< {name}")).await;
    let first = world.newest().id;
    world.play(&format!("< {name}\n[Replace it with the file]")).await;
    let book = world.book().await;
    assert_eq!(book.answers().len(), 1);
    world.stand_in.tap_on(MAREN, first, "Replace it with the file").unwrap();
    let said = world.settle().await;
    assert!(said.contains("That button is of an older file."), "{said}");

    world.play(&format!("@ evening\n[Rough]\n< {name}")).await;
    world.tap_unseen("Replace it with the file");
    world.tap_unseen("Replace it with the file");
    let said = world.settle().await;
    assert_eq!(said.matches("is now as in the file").count(), 1, "{said}");
    assert!(!said.contains("older file"), "{said}");
    world.play(&format!("@ evening\n[Rough]\n< {name}")).await;
    let kept = world.book().await;
    let said = world.play("[Leave it as it is]").await;
    assert!(said.contains("The file was not used. Nothing was changed."), "{said}");
    assert_eq!(world.book().await, kept);
}

/// What was kept since the offer was not on the screen that is tapped.
#[tokio::test]
async fn an_offer_of_days_ago_is_shown_anew_and_deletes_nothing_unseen() {
    let mut world = World::begun("2027-01-01 12:00").await;
    world.play("@ evening\n[Smooth]\n/export").await;
    let (name, _) = exported(&world);
    world.play(&format!("< {name}")).await;
    let offer = world.newest().id;
    world.play("@ evening\n[Rough]\n[Note]\nZEPHYR").await;
    let kept = world.book().await;
    world.stand_in.tap_on(MAREN, offer, "Replace it with the file").unwrap();
    let said = world.settle().await;
    assert!(said.contains("Here now: the blanket of 2027, 2 days kept"), "{said}");
    assert_eq!(world.book().await, kept);
    let said = world.play("[Replace it with the file]").await;
    assert!(said.contains("is now as in the file"), "{said}");
    assert_eq!(world.book().await.answers().len(), 1);
}

/// A new house, set up for next year, gets this year's book: today belongs to that one.
#[tokio::test]
async fn the_blanket_of_today_is_logged_where_the_other_has_not_begun() {
    let mut old = World::begun("2027-01-01 12:00").await;
    old.play("@ evening\n[Smooth]\n/pause\n/export").await;
    let (_, file) = exported(&old);
    let mut world = World::new("2027-01-02 12:00").await;
    let changes = vec![Change::Began(Box::new(demo::beginning_on("2028-01-01".parse().unwrap())))];
    world.theatre.settle_in(INES, &changes).await.unwrap();
    world.stand_in.send_file(INES, "book.json", file.into_bytes());
    world.settle().await;
    let said = world.play_as(INES, "[Bring it back]\n@ 2027-01-02 22:00").await;
    assert!(said.contains("/today, /open and /rows show what is kept."), "{said}");
    assert!(
        said.contains("Saturday 2 January\n  Which fits the day?"),
        "asked, not paused: {said}"
    );
    let stored = world.theatre.app.store().load(UserId(INES)).await.unwrap().unwrap().maker;
    assert_eq!(stored.book.unwrap().plan().first_day().to_string(), "2027-01-01");
    assert_eq!(stored.others[0].plan().first_day().to_string(), "2028-01-01");
}

/// Hours, reminders and the numbers of notes are the maker's, not the file's.
#[tokio::test]
async fn hours_a_pause_and_the_buttons_of_notes_outlive_a_book_that_comes_back() {
    let mut world = World::begun("2027-01-01 12:00").await;
    world.play("@ evening\n[Smooth]\n[Note]\nZEPHYR\n/today\n[Note]\nZEPHYR").await;
    let note = world.newest().id;
    world.play("/export\n/settings\n[Hour of the question]\n[20:00]\n/pause").await;
    let (name, _) = exported(&world);
    let said = world.play(&format!("< {name}\n[Replace it with the file]")).await;
    assert!(said.contains("I am not asking now. /resume goes on with it."), "{said}");
    let book = world.book().await;
    assert_eq!(
        (book.hours().ask_at.to_string().as_str(), book.reminders().paused),
        ("20:00:00", true)
    );
    let first_day = "2027-01-01".parse().unwrap();
    assert_eq!(book.notes(first_day).len(), 2, "two notes in the same words are two");
    world.stand_in.tap_on(MAREN, note, "Delete note").unwrap();
    world.settle().await;
    assert_eq!(world.book().await.notes(first_day).len(), 1);
    // What is in the file alone takes no number that another note has, however often it comes.
    for _ in 0..2 {
        world.play(&format!("< {name}\n[Replace it with the file]\n/today\n[Note]\nfog")).await;
        world.play(&format!("< {name}\n[Replace it with the file]")).await;
        assert_eq!(world.book().await.notes(first_day).len(), 2);
    }
}

#[tokio::test]
async fn a_file_that_is_no_book_gets_one_sentence_and_changes_nothing() {
    let mut world = World::begun("2027-01-01 12:00").await;
    world.play("@ evening\n[Smooth]\n/export").await;
    let (_, file) = exported(&world);
    let kept = world.book().await;
    let huge = " ".repeat(BYTES_MAX + 1);
    let newer = file.replacen("\"version\": 2", "\"version\": 99", 1);
    let impossible = file.replacen("Europe/Lisbon", "Nowhere", 1);
    for (content, why) in [
        ("", "I cannot read this file as a book."),
        ("\u{89}PNG\r\n", "I cannot read this file as a book."),
        (&file[..file.len() / 2], "I cannot read this file as a book."),
        (&huge, "This file is larger than any book."),
        (&newer, "This file is from a newer version of this bot."),
        (&impossible, "Something in this file cannot be in a book."),
    ] {
        world.stand_in.send_file(MAREN, "book.json", content.as_bytes().to_vec());
        let said = world.settle().await;
        assert!(said.contains(why) && said.contains("Nothing was changed."), "{said}");
        assert!(!said.contains('['), "no button leads on: {said}");
        assert_eq!(world.book().await, kept);
    }
    let fetched = world.requests("getFile");
    assert_eq!(fetched, 5, "what is said to be too large is not even fetched");
}

#[tokio::test]
async fn a_file_the_platform_does_not_hand_over_can_be_tried_again() {
    let mut world = World::begun("2027-01-01 12:00").await;
    world.play("@ evening\n[Smooth]\n/export\n@ evening\n[Rough]").await;
    let (name, _) = exported(&world);
    let sorry = "I could not get this file. Nothing was changed.";
    for (method, fault) in [
        ("getFile", Fault::DropReply),
        ("getFile", Fault::BadJson),
        ("getFile", Fault::status(400, "Bad Request: wrong file_id")),
        (DOWNLOAD, Fault::DropRequest),
    ] {
        world.stand_in.fail_next(method, fault, 1);
        let said = world.play(&format!("< {name}")).await;
        assert!(said.contains(sorry), "{said}");
    }
    world.play(&format!("< {name}")).await;
    world.stand_in.fail_next(DOWNLOAD, Fault::DropRequest, 1);
    let kept = world.book().await;
    let said = world.play("[Replace it with the file]").await;
    assert!(said.contains(sorry), "{said}");
    assert_eq!(world.book().await, kept);
    let said = world.play("[Replace it with the file]").await;
    assert!(said.contains("is now as in the file"), "{said}");
    assert_eq!(world.book().await.answers().len(), 1);
}

#[tokio::test]
async fn nothing_of_a_strangers_is_fetched() {
    let mut world = World::begun("2027-01-01 12:00").await;
    let before = world.dump().await;
    world.stand_in.send_file(INES, "book.json", b"{}".to_vec());
    world.settle().await;
    assert_eq!(world.requests("getFile"), 0);
    let after = world.dump().await;
    for table in ["makers", "blankets", "days", "outbox", "failed_updates"] {
        assert_eq!(before[table], after[table], "{table}");
    }
}

/// Each blanket is known by its days.
#[tokio::test]
async fn a_file_of_other_years_stands_beside_the_blanket_there_is() {
    let mut world = World::begun("2027-01-01 12:00").await;
    let from = |day: &str| Book::begin(&demo::beginning_on(day.parse().unwrap()));
    world.play("@ evening\n[Smooth]").await;
    let kept = world.book().await;
    // Reminders are the maker's, whichever blanket they were set for.
    let there = |day: &str| {
        let mut book = from(day);
        book.apply(&Change::RemindersSet(*kept.reminders()));
        book
    };
    let file = book_file(&from("2025-06-01"), &[]);
    world.stand_in.send_file(MAREN, "old.json", file.into_bytes());
    let said = world.settle().await;
    assert!(
        said.contains("In the file: the blanket of 2025 to 2026, no day kept, no row worked."),
        "{said}"
    );
    let said = world.play("[Bring it back]").await;
    let said_there = "The blanket of 2025 to 2026 is here now.\n  \
                 To see it: /blankets, then Work on blanket 2025 to 2026.\n  [Blankets]";
    assert!(said.contains(said_there), "{said}");
    assert!(world.play("/rows").await.contains("Brick"), "the rows of the one worked on");
    assert_eq!(world.book().await, kept);
    let stored = world.theatre.app.store().load(UserId(MAREN)).await.unwrap().unwrap().maker;
    assert_eq!(stored.others, [there("2025-06-01")]);

    // It takes the place of the one it shares days with, whichever is logged.
    let file = book_file(&from("2026-01-01"), &[]);
    world.stand_in.send_file(MAREN, "old.json", file.into_bytes());
    let said = world.settle().await;
    assert!(
        said.contains("For a copy of it first: /blankets, Work on blanket 2025 to 2026, /export."),
        "{said}"
    );
    let said = world.play("[Replace it with the file]").await;
    assert!(said.contains("The blanket of 2026 is now as in the file."), "{said}");
    let stored = world.theatre.app.store().load(UserId(MAREN)).await.unwrap().unwrap().maker;
    assert_eq!((stored.book, stored.others), (Some(kept.clone()), vec![there("2026-01-01")]));

    let before = world.dump().await;
    let file = book_file(&from("2026-03-01"), &[]);
    world.stand_in.send_file(MAREN, "old.json", file.into_bytes());
    let said = world.settle().await;
    let why = "This file shares days with more than one of your blankets.";
    assert!(said.contains(why) && said.contains("Nothing was changed."), "{said}");
    for table in ["blankets", "days", "history", "tiers", "yarns"] {
        assert_eq!(before[table], world.dump().await[table], "{table}");
    }
}

#[tokio::test]
async fn the_next_blanket_stays_where_the_one_before_is_brought_back() {
    let mut world = World::begun("2027-12-25 12:00").await;
    let first = demo::beginning_on("2027-01-01".parse().unwrap());
    let book = Book::begin(&first);
    let (next_day, today) = ("2028-01-01".parse().unwrap(), "2027-12-25".parse().unwrap());
    let plan = next_plan(&book, &[], next_day, today).unwrap();
    let mut changes = vec![Change::Began(Box::new(first))];
    changes.extend(begin_next(&book, plan, instant("2027-12-25 12:00")));
    world.theatre.settle_in(INES, &changes).await.unwrap();
    let file = book_file(&book, &[]);
    world.stand_in.send_file(INES, "book.json", file.into_bytes());
    world.settle().await;
    world.play_as(INES, "[Replace it with the file]").await;
    let stored = world.theatre.app.store().load(UserId(INES)).await.unwrap().unwrap().maker;
    assert_eq!(stored.book, Some(book));
    assert_eq!(stored.others.len(), 1);
}

/// A blanket at the end of time was looked through for ever, day by day.
#[tokio::test]
async fn a_file_from_the_end_of_time_hangs_nobody() {
    let mut world = World::begun("2027-01-01 12:00").await;
    let file = book_file(&Book::begin(&demo::beginning_on("2025-01-01".parse().unwrap())), &[]);
    let file = file.replacen("2025-01-01", "+262142-12-30", 1);
    let file = file.replacen("2025-12-31", "+262142-12-31", 1);
    world.stand_in.send_file(MAREN, "book.json", file.into_bytes());
    let said = world.settle().await;
    assert!(said.contains("Something in this file cannot be in a book."), "{said}");
    let said = world.play("@ evening\n[Smooth]").await;
    assert!(said.contains("Kept: Friday 1 January, Smooth."), "{said}");
}

/// A new house, set up for the year after, has a blanket of this year beside it; a file of that
/// one is of some days ago.
#[test]
fn a_file_for_another_blanket_brings_no_question_again() {
    let from = |day: &str| Book::begin(&demo::beginning_on(day.parse().unwrap()));
    let asked = |day: &str| Change::Asked {
        day: day.parse().unwrap(),
        at: instant(&format!("{day} 21:00")),
    };
    let with = |changes: &[Change]| {
        let mut book = from("2027-01-01");
        changes.iter().for_each(|change| book.apply(change));
        book
    };
    let day = |text: &str| text.parse::<NaiveDate>().unwrap();
    let there = with(&[
        asked("2027-01-14"),
        Change::Nudged { on: day("2027-01-13") },
        Change::Recapped { on: day("2027-01-10") },
    ]);
    let (book, talk) = (Some(from("2028-01-01")), Talk::default());
    let mut maker = Maker { owner: false, book, others: vec![there.clone()], talk };
    let file = book_file(&with(&[asked("2027-01-12")]), &[]);
    let now = instant("2027-01-14 22:00");
    let placed = place(&maker, read_book(file.as_bytes()).unwrap(), now).unwrap();
    placed.changes.iter().for_each(|change| maker.apply(change));
    let book = maker.book.as_ref().unwrap();
    assert_eq!(book.plan(), there.plan(), "the blanket of today is the one logged");
    assert_eq!(
        (book.asked(), book.nudged(), book.recapped()),
        (there.asked(), there.nudged(), there.recapped())
    );
    let (next, _) = agenda(&maker, now).unwrap();
    assert_eq!(next, instant("2027-01-15 21:00"));
}

/// A tap keeps what is written on the button.
#[tokio::test]
async fn the_question_that_stood_gets_the_tiers_of_the_book_that_came() {
    let mut world = World::begun("2026-01-01 12:00").await;
    world.play("@ evening\n[Smooth]\n/export").await;
    let (name, _) = exported(&world);
    world.play("/settings\n[Scale]\n[Smooth]\n[Rename]\nCalm\n@ evening").await;
    let question = world.newest();
    assert!(question.labels().contains(&"Calm") && !question.labels().contains(&"Smooth"));
    let said = world.play(&format!("< {name}\n[Replace it with the file]")).await;
    let asks = "bot changes: Friday 2 January\n  Which fits the day?";
    assert_eq!(said.matches(asks).count(), 1, "{said}");
    assert!(world.stand_in.tap_on(MAREN, question.id, "Calm").is_err());
    world.stand_in.tap_on(MAREN, question.id, "Smooth").unwrap();
    let said = world.settle().await;
    assert!(said.contains("Kept: Friday 2 January, Smooth."), "{said}");
    // Where the tiers are the same, nothing has to change.
    world.play("/export\n@ evening").await;
    let (name, _) = exported(&world);
    let said = world.play(&format!("< {name}\n[Replace it with the file]")).await;
    assert!(!said.contains("Which fits the day?"), "{said}");
    // A host's way, by the clock of the host, leads to the same.
    let (book, ..) = duskrow(&world, &["export", "--book=1"], "");
    let other = book.replacen("\"Smooth\"", "\"Calm\"", 1);
    let (_, heard, code) = duskrow(&world, &["import", "--book=1", "--replace", "-"], &other);
    assert_eq!(code, Some(0), "{heard}");
    let said = world.settle().await;
    assert!(said.contains("bot changes: Saturday 3 January\n  Which fits the day?"), "{said}");
    assert!(said.contains("[Calm]"), "{said}");
}

/// Name and content of the newest book that came.
fn exported(world: &World) -> (String, String) {
    let mut books = files(world).into_iter().filter(|(name, ..)| name.starts_with("book-"));
    let (name, _, content) = books.next_back().unwrap();
    (name, content)
}
