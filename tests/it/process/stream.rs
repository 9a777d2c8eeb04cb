//! Makers who answer one day after the other, by taps and in words, whatever happens to the bot.
//!
//! Each waits for the bot's answer before the next day, as people do; none knows of the kills.

use std::sync::{Arc, Mutex, PoisonError};

use chrono::{Days, NaiveDate};
use duskrow::blanket::TierId;
use duskrow::rehearsal::{Seen, SeenKind, Speaker, StandIn};

use super::house::{first_day, sees_since, spoken, tier_label};

/// Numbers that are the same for the same seed.
pub struct Dice(pub u64);

impl Dice {
    /// From 0 up to `sides`, which is not reached.
    pub fn below(&mut self, sides: u64) -> u64 {
        // Marsaglia's xorshift, 2003.
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % sides
    }
}

/// What a maker did: one update each.
#[derive(Clone, PartialEq)]
pub enum Act {
    /// Asked for the question of a day.
    Asked,
    Answered(Answer),
}

#[derive(Clone, PartialEq)]
pub struct Answer {
    pub user: i64,
    pub day: NaiveDate,
    pub tier: TierId,
    /// Of a tap.
    pub query: Option<String>,
}

/// All acts of all makers, in the order in which the platform got them.
#[derive(Clone)]
pub struct Stream {
    stand_in: StandIn,
    shared: Arc<Mutex<Shared>>,
}

#[derive(Default)]
struct Shared {
    acts: Vec<Act>,
    over: bool,
}

impl Stream {
    pub fn new(stand_in: StandIn) -> Stream {
        Stream { stand_in, shared: Arc::default() }
    }

    pub fn acts(&self) -> Vec<Act> {
        self.look(|shared| shared.acts.clone())
    }

    /// Waits until the makers have done so many things.
    pub async fn has_acted(&self, times: usize) {
        self.stand_in.until(|_| self.look(|shared| shared.acts.len()) >= times).await;
    }

    /// Every maker ends with the day they are at.
    pub fn end(&self) {
        self.look(|shared| shared.over = true);
    }

    /// One maker's days, from the second of the blanket on, until the stream ends.
    pub async fn answer_days(self, user: i64, seed: u64) {
        let mut dice = Dice(seed);
        let mut day = first_day();
        while !self.look(|shared| shared.over) {
            day = day + Days::new(1);
            let tier = TierId(u8::try_from(1 + dice.below(7)).unwrap());
            self.answer_day(user, day, tier, &mut dice).await;
        }
    }

    async fn answer_day(&self, user: i64, day: NaiveDate, tier: TierId, dice: &mut Dice) {
        let label = tier_label(tier);
        let before = self.stand_in.seen_by(user).last().map_or(0, |seen| seen.number);
        self.act(|stand_in| {
            stand_in.send_text(user, &format!("/today {day}"));
            Act::Asked
        });
        let question = |seen: &Seen| is_question(seen, day);
        let question = sees_since(&self.stand_in, user, before, "a question", question).await;
        let answer = |query| Act::Answered(Answer { user, day, tier, query });
        // A tap, taps of an impatient client, or words.
        match dice.below(5) {
            again @ 0..=3 => {
                for _ in 0..=again {
                    self.act(|stand_in| {
                        answer(Some(stand_in.tap_on(user, question.id, &label).unwrap()))
                    });
                }
            }
            _ => self.act(|stand_in| {
                stand_in.send_text(user, &label);
                answer(None)
            }),
        }
        let kept = format!("Kept: {}, {label}.", spoken(day));
        let says_so = |seen: &Seen| seen.from == Speaker::Bot && seen.text.starts_with(&kept);
        sees_since(&self.stand_in, user, before, &kept, says_so).await;
    }

    /// The act and its note are one: no other maker's comes between.
    fn act(&self, how: impl FnOnce(&StandIn) -> Act) {
        self.look(|shared| shared.acts.push(how(&self.stand_in)));
    }

    fn look<T>(&self, at: impl FnOnce(&mut Shared) -> T) -> T {
        at(&mut self.shared.lock().unwrap_or_else(PoisonError::into_inner))
    }
}

/// Whether this is a new message that asks about the day.
pub fn is_question(seen: &Seen, day: NaiveDate) -> bool {
    seen.from == Speaker::Bot
        && seen.kind == SeenKind::Message
        && seen.text == format!("{}\nWhich fits the day?", spoken(day))
}
