//! The owner lets others in from the chat: `/invite`, which is nobody else's.

use duskrow::cli::rehearse::theatre::MAREN;
use duskrow::rehearsal::{Fault, Person, SeenKind, Speaker};

use crate::store::erasing::files_with;
use crate::world::World;

const NEW: i64 = 2001;
const LINK: &str = "https://t.me/duskrow_rehearsal_bot?start=";

#[tokio::test]
async fn the_owner_gets_a_link_that_lets_one_person_in_and_no_file_ever_holds_its_code() {
    let mut world = World::demo().await;
    let said = world.play("/invite").await;
    assert!(said.contains("for one person. It works once, within one hour.\n"), "{said}");
    let code = code_in(&said);
    let kept = files_with(world.folder.path(), code.as_bytes());
    assert_eq!(kept, Vec::<String>::new());
    world.let_in(NEW, &code).await;
    assert_eq!(world.dump().await["makers"].len(), 2);
    let before = world.dump().await;
    world.stand_in.introduce(Person::new(NEW + 1, "Somebody"));
    world.stand_in.open_link(NEW + 1, &code);
    world.settle().await;
    assert_eq!(world.dump().await, before);
}

#[tokio::test]
async fn a_second_invite_brings_another_link_and_each_works() {
    let mut world = World::demo().await;
    let codes = [code_in(&world.play("/invite").await), code_in(&world.play("/invite").await)];
    assert_ne!(codes[0], codes[1]);
    for (user, code) in (NEW..).zip(&codes) {
        world.let_in(user, code).await;
    }
    assert_eq!(world.dump().await["makers"].len(), 3);
}

#[tokio::test]
async fn a_link_that_is_lost_on_the_way_is_asked_for_anew() {
    let mut world = World::demo().await;
    world.settle().await;
    world.stand_in.fail_next("sendMessage", Fault::DropRequest, 1);
    assert_eq!(world.play("/invite").await.matches(LINK).count(), 0);
    let code = code_in(&world.play("/invite").await);
    world.let_in(NEW, &code).await;
    assert_eq!(world.dump().await["makers"].len(), 2);
}

#[tokio::test]
async fn to_another_maker_invite_is_no_command_and_no_help_or_menu_names_it() {
    let mut world = World::demo().await;
    let code = code_in(&world.play("/invite").await);
    world.let_in(NEW, &code).await;
    world.stand_in.send_text(NEW, "Lisbon");
    world.settle().await;
    let before = world.dump().await["invitations"].clone();
    let unknown = world.play_as(NEW, "/invited").await;
    assert!(unknown.contains("/invited"), "{unknown}");
    let forged = world.play_as(NEW, "/invite").await;
    assert_eq!(forged.replace("/invite", "/invited"), unknown);
    for forged in ["/invite@duskrow_rehearsal_bot", "/INVITE", "/invite owner"] {
        let said = world.play_as(NEW, forged).await;
        assert!(!said.contains(LINK), "{said}");
    }
    assert_eq!(world.dump().await["invitations"], before);
    assert!(!world.play_as(NEW, "/help").await.contains("/invite"));
    assert!(world.play("/help").await.contains("/invite – "));
    let asked = world.stand_in.requests();
    let mut menus = asked.iter().filter(|asked| asked.method == "setMyCommands");
    assert!(menus.all(|menu| !format!("{menu:?}").contains("invite")));
}

pub fn code_in(said: &str) -> String {
    let (_, rest) = said.split_once(LINK).unwrap_or_else(|| panic!("no link: {said}"));
    rest.lines().next().unwrap().to_owned()
}

impl World {
    /// Somebody opens the link and agrees.
    pub async fn let_in(&mut self, user: i64, code: &str) {
        self.stand_in.introduce(Person::new(user, "Somebody"));
        self.stand_in.open_link(user, code);
        self.settle().await;
        self.stand_in.tap(user, "I agree").unwrap();
        self.settle().await;
    }
}

/// What the bot said in a chat, changes included.
pub fn heard(world: &World, chat: i64) -> Vec<String> {
    let seen = world.stand_in.seen_by(chat).into_iter();
    let of_bot = seen.filter(|seen| seen.from == Speaker::Bot && seen.kind != SeenKind::Toast);
    of_bot.map(|seen| seen.text).collect()
}

#[tokio::test]
async fn the_owner_may_invite_before_she_has_a_blanket() {
    let mut world = World::new("2027-01-14 12:00").await;
    world.theatre.settle_in(MAREN, &[]).await.unwrap();
    let code = code_in(&world.play("/invite").await);
    world.let_in(NEW, &code).await;
    assert!(heard(&world, NEW).concat().contains("city"), "{:?}", heard(&world, NEW));
}
