//! Two makers with one bot: neither can see or change what the other has.

use chrono::{Days, NaiveDate, NaiveTime};
use duskrow::blanket::{BlockNumber, Book, Change, RowNumber, TierId};
use duskrow::chat::button::{Button, ColourSum};
use duskrow::cli::rehearse::demo;
use duskrow::cli::rehearse::theatre::MAREN;

use crate::world::World;

const OTHER: i64 = 1002;
/// Forged taps of each maker.
const FORGED: u32 = 500;
/// Taps before the bot comes to hear them: the platform forgets taps after 150 seconds, and a
/// chat takes one message a second.
const AT_ONCE: u32 = 50;

#[tokio::test]
async fn a_tap_on_the_message_of_another_maker_changes_ones_own_day() {
    let mut world = two_makers().await;
    world.play("@ evening").await;
    let theirs = world.newest().id;
    let day = "2027-07-15".parse().unwrap();
    let maren = book(&world, MAREN).await;
    let before = world.stand_in.seen_by(MAREN).len();
    let token = Button::Answer { day, tier: TierId(6) }.token();
    world.stand_in.tap_data(OTHER, theirs, &token);
    world.settle().await;
    assert_eq!(book(&world, MAREN).await, maren);
    assert_eq!(world.stand_in.seen_by(MAREN).len(), before);
    assert_eq!(book(&world, OTHER).await.answer(day).unwrap().tier, TierId(6));
}

#[tokio::test]
async fn five_hundred_forged_taps_touch_nothing_of_another_maker() {
    let mut dice = Dice(20_270_715);
    let mut world = two_makers().await;
    world.settle().await;
    for (forger, victim) in [(MAREN, OTHER), (OTHER, MAREN)] {
        let before = (book(&world, victim).await, world.stand_in.seen_by(victim));
        let own = book(&world, forger).await;
        for number in 1..=FORGED {
            let message = dice.below(40) as i64;
            world.stand_in.tap_data(forger, message, &forged(&mut dice));
            if number % AT_ONCE == 0 {
                world.settle().await;
            }
        }
        assert_eq!(world.stand_in.unconfirmed_updates(), 0);
        assert_eq!(book(&world, victim).await, before.0);
        assert_eq!(world.stand_in.seen_by(victim), before.1);
        // Else the taps would not have reached anything at all.
        assert_ne!(book(&world, forger).await, own);
    }
    // An update whose handling panicked would have been set aside.
    assert_eq!(world.dump().await["failed_updates"], [""; 0]);
    assert_eq!(world.requests("answerCallbackQuery"), 2 * FORGED as usize);
}

/// Both work on the demo blanket.
async fn two_makers() -> World {
    let mut world = World::new("2027-07-15 10:00").await;
    let changes: Vec<Change> = demo::changes();
    for user in [MAREN, OTHER] {
        world.theatre.settle_in(user, &changes).await.unwrap();
    }
    world
}

async fn book(world: &World, user: i64) -> Book {
    world.theatre.book(user).await.unwrap().unwrap()
}

/// A token nobody was given: of any button, with any numbers, often damaged.
fn forged(dice: &mut Dice) -> String {
    let zone = demo::ZONE;
    let day = NaiveDate::from_ymd_opt(2026, 12, 20).unwrap() + Days::new(dice.below(400));
    let time = NaiveTime::from_hms_opt(dice.below(24) as u32, 0, 0).unwrap();
    let tier = TierId(dice.below(12) as u8);
    let block = BlockNumber(dice.below(14) as u16);
    let (from, to) = (RowNumber(dice.below(34) as u16), RowNumber(dice.below(34) as u16));
    let colours = ColourSum(dice.below(65_536) as u16);
    let (left, was) = (dice.below(34) as u16, dice.below(34) as u16);
    let button = match dice.below(12) {
        0 => Button::Zone { zone },
        1 => Button::ZoneRight { zone },
        2 => Button::AskAt { zone, time },
        3 => Button::FirstDay { zone, time, day },
        4 => Button::Ask { day },
        5 => Button::Leave { day },
        6 => Button::PracticeAnswer { tier },
        7 => Button::Worked { block, from, to, colours },
        8 => Button::Undo { block, left, was },
        9 => Button::Rows,
        _ => Button::Answer { day, tier },
    };
    damaged(button.token(), dice)
}

fn damaged(mut token: String, dice: &mut Dice) -> String {
    let at = dice.below(token.len() as u64) as usize;
    let letter = char::from(33 + dice.below(94) as u8);
    match dice.below(6) {
        0 => token.truncate(at.max(1)),
        1 => token.insert(at, letter),
        2 => token.replace_range(at..=at, &letter.to_string()),
        _ => {}
    }
    token
}

/// Numbers that look drawn and are the same every time (the generator of Knuth's MMIX).
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: u64) -> u64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % n
    }
}
