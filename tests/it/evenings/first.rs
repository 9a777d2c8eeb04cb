//! The first evening: from opening the link to the first kept answer, exactly as it reads.

use duskrow::cli::rehearse::theatre::MAREN;
use duskrow::rehearsal::{Seen, SeenKind, Speaker};

use super::answers;
use crate::world::World;

const SET_UP: &str = "/start\n[I agree]\nLisbon\n[Yes]\n[21:00]\n[Today, Fri 1 Jan]";

#[tokio::test]
async fn a_first_evening_goes_from_the_link_to_a_kept_answer() {
    let mut world = World::new("2027-01-01 20:14").await;
    let set_up = world.play(SET_UP).await;
    let evening = world.play("[Answer today now]\n[Smooth]").await;
    insta::assert_snapshot!(format!("{set_up}{evening}"));
    assert_eq!(answers(&world).await, ["2027-01-01 Smooth"]);
}

#[tokio::test]
async fn set_up_takes_four_taps_one_typed_word_and_110_words_to_read() {
    let mut world = World::new("2027-01-01 20:14").await;
    world.play(SET_UP).await;
    let seen = world.stand_in.seen_by(MAREN);
    let of_maker = |kind| {
        let mine = |seen: &&Seen| seen.from == Speaker::Maker && seen.kind == kind;
        seen.iter().filter(mine).map(|seen| seen.text.as_str()).collect::<Vec<_>>()
    };
    assert!(of_maker(SeenKind::Tap).len() <= 4, "{:?}", of_maker(SeenKind::Tap));
    assert_eq!(of_maker(SeenKind::Message), ["/start", "Lisbon"]);
    let words = words_to_read(&seen);
    // Far fewer would mean that they are not counted.
    assert!((60..=110).contains(&words), "{words} words");
}

/// The words of the bot's messages. What stays when a message is changed was read before.
fn words_to_read(seen: &[Seen]) -> usize {
    let of_bot: Vec<&Seen> = seen.iter().filter(|seen| seen.from == Speaker::Bot).collect();
    let new_lines = of_bot.iter().enumerate().flat_map(|(index, now)| {
        let before = of_bot[..index].iter().rfind(|before| before.id == now.id);
        let read = move |line: &&str| before.is_some_and(|it| it.text.lines().any(|l| l == *line));
        now.text.lines().filter(move |line: &&str| !read(line))
    });
    let words = new_lines.flat_map(str::split_whitespace);
    words.filter(|word| word.contains(char::is_alphanumeric)).count()
}

#[tokio::test]
async fn nothing_is_kept_before_the_maker_agrees_or_once_they_do_not() {
    let mut world = World::new("2027-01-01 20:14").await;
    world.play("/start").await;
    let before = world.dump().await;
    assert_eq!(before["makers"], [""; 0]);
    let declined = world.play("[I do not agree]").await;
    assert!(
        declined.contains("bot changes: You did not agree. Nothing was kept.\n")
            && declined.ends_with("To agree after all, open the same link within its hour.\n"),
        "{declined}"
    );
    assert_eq!(world.dump().await, before);
    // The same link is good for a change of mind.
    world.play("/start\n[I agree]").await;
    assert_eq!(world.dump().await["makers"].len(), 1);
}

#[tokio::test]
async fn two_answered_weeks_become_rows_that_are_worked_and_taken_back() {
    let mut world = World::begun("2027-01-01 12:00").await;
    for tier in ["Smooth", "Rough", "Ordinary", "Ordinary", "A bit rough", "Smooth", "Smooth"] {
        world.play(&format!("@ evening\n[{tier}]")).await;
    }
    for tier in ["Very smooth", "Rough", "Ordinary", "4", "a bit smooth", "Very rough", "7"] {
        world.play(&format!("@ evening\n{tier}")).await;
    }
    insta::assert_snapshot!(world.play("/rows 14\n[Worked]").await);
    let block = world.book().await.current_block().unwrap().number;
    assert_eq!(world.book().await.worked(block).len(), 14);
    let undone = world.play("[Undo]").await;
    assert!(undone.contains("Taken back.\n  No row of January is worked."), "{undone}");
    assert_eq!(world.book().await.worked(block).len(), 0);
}
