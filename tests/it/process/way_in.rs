//! The first evening on a real server: `serve`, `invite --owner`, and the owner's first answer.

use duskrow::rehearsal::Person;
use rustix::process::Signal;

use super::house::House;

const OWNER: i64 = 71;

#[tokio::test]
async fn an_owner_comes_in_by_the_printed_link_answers_and_works_a_row() {
    let house = House::new().await;
    let mut bot = house.start_polling().await;
    bot.logs("no owner yet").await;
    house.stand_in.introduce(Person::new(OWNER, "Maren"));

    let code = invitation(&house).await;
    house.stand_in.open_link(OWNER, &code);
    house.taps(OWNER, "I agree").await;
    house.says(OWNER, "city").await;
    house.stand_in.send_text(OWNER, "Lisbon");
    house.taps(OWNER, "Yes").await;
    house.taps(OWNER, "21:00").await;
    house.taps(OWNER, "Today, ").await;
    house.taps(OWNER, "Answer today now").await;
    house.taps(OWNER, "Smooth").await;
    house.says(OWNER, "Smooth.\nRow 1, right side, Brick.").await;
    house.typed(OWNER, "/rows", "block 1 of").await;
    house.taps(OWNER, "Worked").await;
    house.says(OWNER, "Row 1 of").await;

    let books = house.books([OWNER]).await;
    let today = books[0].plan().first_day();
    assert_eq!(books[0].tier_of(today).unwrap().label.as_str(), "Smooth");
    assert_eq!(books[0].worked(books[0].plan().blocks().next().unwrap().number).len(), 1);
    let ended = bot.stop(Signal::TERM).await;
    ended.cleanly();
    assert!(!ended.log.contains(&code), "{}", ended.log);
    assert_eq!(house.stand_in.violations(), Vec::<String>::new());

    // An owner is there now, and the link is used up.
    let bot = house.start_polling().await;
    let stranger = OWNER + 1;
    house.stand_in.open_link(stranger, &code);
    house.says(stranger, "This link was used before").await;
    let ended = bot.stop(Signal::INT).await;
    ended.cleanly();
    assert!(!ended.log.contains("no owner yet"), "{}", ended.log);
}

#[tokio::test]
async fn whatever_is_run_under_an_open_umask_nobody_else_can_read_its_files() {
    let house = House::new().await;
    let bot = house.start_polling().await;
    house.keeps_to_itself();
    invitation(&house).await;
    let kept = house.data().join("rehearsal.db");
    let rehearsed = house.run(&["rehearse", "--empty", "--keep", kept.to_str().unwrap()]).await;
    let log = String::from_utf8(rehearsed.stderr).unwrap();
    assert!(rehearsed.status.success() && kept.exists(), "{log}");
    assert!(!log.contains("Smooth"), "{log}");
    house.keeps_to_itself();
    bot.kill().await.tells_nothing();
    house.keeps_to_itself();
    house.start_polling().await.stop(Signal::TERM).await.cleanly();
    house.keeps_to_itself();
}

/// The code in what `duskrow invite --owner` prints for the owner.
async fn invitation(house: &House) -> String {
    let printed = house.run(&["invite", "--owner"]).await;
    assert!(printed.status.success(), "{}", String::from_utf8_lossy(&printed.stderr));
    let line = String::from_utf8(printed.stdout).unwrap();
    let link = "https://t.me/duskrow_rehearsal_bot?start=";
    let code = line.strip_prefix(link).and_then(|code| code.strip_suffix('\n'));
    code.unwrap_or_else(|| panic!("no link: {line}")).to_owned()
}
