//! What makers do: answer by tap or in words, late, twice, change their minds, write notes, work
//! rows, fiddle with settings, block the bot and come back.

use chrono::{Days, NaiveDate, TimeDelta};
use duskrow::chat::button::Button;
use duskrow::rehearsal::{Other, TapError};
use serde_json::json;

use super::maker::{label, tier, time, zone};
use super::model::Deed;
use super::sim::{Key, Sim, What};

#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Act {
    /// A day begins: plans what happens on it.
    Day,
    /// Taps a tier on a message about a day; *Change* first where the tiers are not there.
    TapTier(i64, NaiveDate),
    Tap(i64, String),
    /// Some button of some message.
    TapAny,
    TypeTier,
    TypeDated,
    Reply(i64),
    Type(String),
    Note,
    EditNote,
    Setting,
    Block,
    Return,
    /// What no client sends, or no bot expects.
    Oddity,
}

impl Sim {
    pub fn act(&mut self, user: i64, act: Act) {
        if self.maker(user).blocked && !matches!(act, Act::Day | Act::Return) {
            return;
        }
        match act {
            Act::Day => self.plan_day(user),
            Act::TapTier(message, day) => self.tap_tier(user, message, day),
            Act::Tap(message, label) => self.tap(user, message, &label),
            Act::TapAny => self.tap_any(user),
            Act::TypeTier => {
                let tier = tier(&mut self.dice);
                let text = label(tier).to_owned();
                self.types(user, label(tier), Deed::Typed { text, day: None, tier });
            }
            Act::TypeDated => {
                let tier = tier(&mut self.dice);
                let back = self.dice.below(9);
                let day = self.makers[&user].hours.day_at(self.world.now()) - Days::new(back);
                let text = format!("{} {}", day.format("%-d %b"), label(tier));
                let deed = Deed::Typed { text: text.clone(), day: Some(day), tier };
                self.types(user, &text, deed);
            }
            Act::Reply(to) => {
                let tier = tier(&mut self.dice);
                let id = self.stand_in.reply_text(user, to, label(tier));
                let deed = Deed::Typed { text: label(tier).to_owned(), day: None, tier };
                self.deeds.insert(Key::Message(user, id), deed);
            }
            Act::Type(text) => self.types(user, &text, Deed::Nothing),
            Act::Note => {
                let text = self.maker(user).note();
                let id = self.stand_in.send_text(user, &text);
                self.maker(user).notes.push(id);
                self.deeds.insert(Key::Message(user, id), Deed::Note { text });
            }
            Act::EditNote => {
                let Some(&id) = self.maker(user).notes.last() else { return };
                let text = self.maker(user).note();
                self.stand_in.edit_text(user, id, &text);
                self.deeds.insert(Key::Edit(user, id), Deed::NoteEdited { text });
            }
            Act::Setting => self.fiddle(user),
            Act::Block => {
                self.stand_in.block(user);
                let maker = self.maker(user);
                (maker.blocked, maker.refusals) = (true, 0);
                self.excuse(user);
                let days = self.dice.between(0, 12);
                let wait = TimeDelta::days(days) + TimeDelta::hours(self.dice.between(1, 20));
                self.plan(wait, What::Acts(user, Act::Return));
            }
            Act::Return => {
                self.maker(user).blocked = false;
                self.excuse(user);
                self.types(user, "/open", Deed::Nothing);
            }
            Act::Oddity => self.send_an_oddity(user),
        }
    }

    fn plan_day(&mut self, user: i64) {
        self.plan(TimeDelta::hours(24), What::Acts(user, Act::Day));
        let habits = &self.makers[&user].habits;
        let chances = [
            (habits.writes, Act::Note),
            (habits.writes / 8, Act::EditNote),
            (habits.works, Act::Type("/rows".to_owned())),
            (habits.fiddles, Act::Setting),
            (habits.fiddles, Act::TapAny),
            (habits.changes, Act::TapAny),
            (habits.changes, Act::TypeDated),
            (habits.changes / 3, Act::TypeTier),
            (habits.blocks, Act::Block),
            (10, Act::Oddity),
            (10, Act::Type("/pause".to_owned())),
            (60, Act::Type("/resume".to_owned())),
            (20, Act::Type("/open".to_owned())),
            (20, Act::Type("/recap".to_owned())),
            (10, Act::Type("/yarn".to_owned())),
            (5, Act::Type("/cancel".to_owned())),
            (15, Act::Type("/today".to_owned())),
            (15, Act::Type("/today yesterday".to_owned())),
        ];
        for (chance, act) in chances {
            if self.dice.permille(chance) {
                let wait = TimeDelta::minutes(self.dice.between(0, 1440));
                self.plan(wait, What::Acts(user, act));
            }
        }
        // Later than the question, on most days.
        let maker = &self.makers[&user];
        let now = self.world.now();
        let mut due = maker.hours.question_due(maker.hours.day_at(now));
        if due < now {
            due = now;
        }
        let late = TimeDelta::minutes(self.dice.between(1, 240));
        self.plan(due - now + late, What::Look(user));
        if self.dice.permille(20) {
            let wait = TimeDelta::minutes(self.dice.between(0, 1440));
            self.plan(wait, What::Jumps);
        }
    }

    /// A question came.
    pub fn is_asked(&mut self, user: i64, message: i64, day: NaiveDate) {
        let habits = &self.makers[&user].habits;
        let (answers, taps, at_once) = (habits.answers, habits.taps, habits.at_once);
        let (later, changes) = (habits.later, habits.changes);
        let wait = match self.dice.permille(at_once) {
            true => TimeDelta::seconds(self.dice.between(1, 1200)),
            false => TimeDelta::minutes(self.dice.between(1, 2000)),
        };
        if self.dice.permille(later) {
            let first = self.dice.one_of(&["Later", "Later", "Skip", "Not sure?", "Not sure?"]);
            self.plan(wait, What::Acts(user, Act::Tap(message, first.to_owned())));
            let second = ["Tomorrow", "In 3 days", "I will come back", "Lower", "About the same"];
            let second = self.dice.one_of(&second).to_owned();
            let wait = wait + TimeDelta::minutes(self.dice.between(1, 9));
            self.plan(wait, What::Acts(user, Act::Tap(message, second)));
            return;
        }
        if !self.dice.permille(answers) {
            return;
        }
        let act = match self.dice.permille(taps) {
            true => Act::TapTier(message, day),
            false if self.dice.permille(500) => Act::Reply(message),
            false => Act::TypeTier,
        };
        self.plan(wait, What::Acts(user, act.clone()));
        if self.dice.permille(60) {
            // An impatient client.
            self.plan(wait, What::Acts(user, act));
        }
        if self.dice.permille(changes) {
            let wait = wait + TimeDelta::minutes(self.dice.between(1, 3000));
            self.plan(wait, What::Acts(user, Act::TapTier(message, day)));
        }
    }

    fn types(&mut self, user: i64, text: &str, deed: Deed) {
        let id = self.stand_in.send_text(user, text);
        self.deeds.insert(Key::Message(user, id), deed);
    }

    fn tap_tier(&mut self, user: i64, message: i64, day: NaiveDate) {
        let tier = tier(&mut self.dice);
        let shown = self.makers[&user].shown(message);
        match self.stand_in.tap_on(user, message, label(tier)) {
            Ok(query) => {
                // On a message that names no day, the tier may answer one, or be about the tier.
                let unnamed = Deed::Typed { text: label(tier).to_owned(), day: None, tier };
                let day = shown.unwrap_or(Some(day));
                let deed = day.map_or(unnamed, |day| Deed::Tier { day, tier });
                self.deeds.insert(Key::Query(query), deed);
            }
            Err(TapError::Absent { there, .. }) if there.iter().any(|there| there == "Change") => {
                self.tap(user, message, "Change");
                let wait = TimeDelta::seconds(self.dice.between(20, 900));
                let day = shown.flatten().unwrap_or(day);
                self.plan(wait, What::Acts(user, Act::TapTier(message, day)));
            }
            Err(_) => {}
        }
    }

    fn tap(&mut self, user: i64, message: i64, label: &str) {
        let Ok(query) = self.stand_in.tap_on(user, message, label) else { return };
        self.deeds.insert(Key::Query(query), Deed::Tapped { label: label.to_owned() });
    }

    fn tap_any(&mut self, user: i64) {
        let Some(message) = self.some_message(user) else { return };
        let Err(TapError::Absent { there, .. }) = self.stand_in.tap_on(user, message, "") else {
            return;
        };
        if there.is_empty() {
            return;
        }
        let index = self.dice.below(there.len() as u64);
        let label = &there[usize::try_from(index).unwrap()];
        // Tiers are tapped where their day is known.
        let is_tier = (1..=7).any(|id| super::maker::label(duskrow::blanket::TierId(id)) == label);
        if !is_tier {
            self.tap(user, message, label);
        }
    }

    fn some_message(&mut self, user: i64) -> Option<i64> {
        let count = self.makers[&user].messages.len() as u64;
        if count == 0 {
            return None;
        }
        let index = usize::try_from(self.dice.below(count)).unwrap();
        self.makers[&user].messages.get(index).copied()
    }

    fn fiddle(&mut self, user: i64) {
        let Some(message) = self.some_message(user) else { return };
        let button = match self.dice.below(5) {
            0 => Button::SetZone { zone: zone(&mut self.dice) },
            1 => Button::SetAskAt { time: time(&mut self.dice) },
            2 => {
                let hour = u32::try_from(self.dice.below(9)).unwrap();
                let time = chrono::NaiveTime::from_hms_opt(hour, 0, 0).unwrap();
                Button::SetDayTurn { time }
            }
            3 => Button::SetNudges { at: Some(time(&mut self.dice)) },
            _ => Button::SetNudges { at: None },
        };
        let query = self.stand_in.tap_data(user, message, &button.token());
        self.deeds.insert(Key::Query(query), Deed::Nothing);
    }

    fn send_an_oddity(&mut self, user: i64) {
        let from = json!({ "id": user, "is_bot": false, "first_name": "Maker" });
        let chat = json!({ "id": user, "type": "private", "first_name": "Maker" });
        match self.dice.below(5) {
            0 => drop(self.stand_in.send_other(user, Other::Sticker)),
            1 => drop(self.stand_in.tap_data(user, 1, "9|from|the|future")),
            2 => drop(self.stand_in.push_raw_update(json!({ "mystery": { "from": from } }))),
            3 => {
                let message = json!({ "message_id": "one", "from": from, "chat": chat });
                self.stand_in.push_raw_update(json!({ "message": message }));
            }
            _ => {
                let query = json!({ "id": "77", "from": from, "data": "1|skip|20270114" });
                self.stand_in.push_raw_update(json!({ "callback_query": query }));
            }
        }
    }
}
