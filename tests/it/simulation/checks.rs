//! What must hold after every step, and what each maker must have when nothing is in the way.

use chrono::{NaiveDate, TimeDelta};
use duskrow::blanket::Book;
use duskrow::chat;
use duskrow::chat::event::UserId;
use duskrow::rehearsal::{Seen, SeenKind, Speaker};
use duskrow::store::Claimed;
use serde_json::Value;
use serde_json::value::RawValue;

use super::eyes;
use super::maker::{day_in, label, spoken};
use super::model::{Deed, Stands};
use super::people::Act;
use super::sim::{Key, Sim, What};
use super::weather::{Asked, End};

/// Messages a maker remembers.
const MESSAGES_KEPT: usize = 12;
/// A reply is sent so many times before it goes unheard of.
const GIVEN_UP_AFTER: u32 = 6;
/// After so many times, a message waits longer than the simulation does.
const WAITS_LONG: u32 = 3;

impl Sim {
    /// An update was taken: once it counts, again it changes nothing.
    pub async fn has_taken(&mut self, raw: &RawValue) {
        let update: Value = serde_json::from_str(raw.get()).unwrap();
        let id = update["update_id"].as_i64().unwrap();
        let again = !self.taken.insert(id);
        self.tell(format!("takes {}{}", id, if again { " again" } else { "" }));
        if !again {
            self.old.push_back((self.world.now(), raw.get().to_owned()));
        }
        let user_of = |part: &Value| part["from"]["id"].as_i64();
        let (query, message, edit) =
            (&update["callback_query"], &update["message"], &update["edited_message"]);
        let parts = [query, message, edit, &update["mystery"], &update["my_chat_member"]];
        let user = parts.into_iter().find_map(user_of);
        let Some(user) = user.filter(|user| self.makers.contains_key(user)) else { return };
        let number = |part: &Value| part["message_id"].as_i64().unwrap_or_default();
        let key = match () {
            () if query.is_object() => {
                let query = query["id"].as_str().unwrap().to_owned();
                self.queries_taken.insert(query.clone());
                Key::Query(query)
            }
            () if message.is_object() => Key::Message(user, number(message)),
            () => Key::Edit(user, number(edit)),
        };
        let deed = match again {
            false => self.deeds.get(&key).cloned().unwrap_or(Deed::Nothing),
            true => Deed::Nothing,
        };
        // A message that is edited twice is taken twice, each time as it was then.
        let deed = match (deed, edit["text"].as_str()) {
            (Deed::NoteEdited { .. }, Some(text)) => Deed::NoteEdited { text: text.to_owned() },
            (deed, _) => deed,
        };
        // What a maker wrote before she blocked the bot may be taken after a message to her was
        // refused. It is answered once, as if she had come back.
        let wrote = query.is_object() || message.is_object() || edit.is_object();
        if !again && wrote {
            self.maker(user).refusals = 0;
        }
        let eyes = self.eyes.as_mut().unwrap();
        let Some(tables) = eyes::look(eyes, user).await else {
            self.fail(&format!("maker {user} is gone"));
        };
        let now = self.bot_time();
        // A day that lasts longer from now on may have lost its question when it was over before.
        if self.maker(user).hours != tables.hours {
            self.excuse(user);
        }
        let maker = self.maker(user);
        maker.hours = tables.hours;
        let stands = match &deed {
            // A day with an answer is changed also where it is to come again in another zone.
            Deed::Tier { day, .. }
                if maker.plan.has(*day)
                    && (*day <= maker.hours.day_at(now) || maker.model.has(*day)) =>
            {
                Stands::Open
            }
            _ => Stands::Not,
        };
        let changed = tables.looked != maker.looked;
        let found = changed.then(|| tables.looked.model());
        maker.looked = tables.looked;
        let taken = maker.model.take(&deed, stands, found);
        if tables.paused {
            self.excuse(user);
        }
        if let Err(what) = taken {
            self.fail(&format!("maker {user}: {what}"));
        }
    }

    pub async fn check_book(&mut self, user: i64) {
        let book = self.book(user).await;
        self.check_holds(user, &book);
    }

    fn check_holds(&self, user: i64, book: &Book) {
        if let Err(what) = self.makers[&user].model.holds(book) {
            self.fail(&format!("maker {user}: {what}"));
        }
    }

    /// In one chat, first in is first out.
    pub fn check_order(&mut self, claimed: &Claimed) {
        let maker = self.maker(claimed.chat_id.0);
        let before = std::mem::replace(&mut maker.claimed, claimed.id.0);
        if before > claimed.id.0 {
            self.fail(&format!("message {} goes after message {before}", claimed.id.0));
        }
    }

    pub fn has_asked(&mut self, asked: &Asked) {
        if !self.makers.contains_key(&asked.chat) {
            return;
        }
        if asked.end == (End::Unclear { arrived: true }) && asked.method == "sendMessage" {
            *self.maker(asked.chat).repeats.entry(plain(&asked.text)).or_default() += 1;
        }
        if asked.end == End::Answered(403) {
            let maker = self.maker(asked.chat);
            maker.refusals += 1;
            if maker.refusals > 1 {
                self.fail("a maker who blocked the bot is written to again");
            }
        }
    }

    /// A crash came between the message and the note that it arrived.
    pub fn may_repeat(&mut self, user: i64, params: &str) {
        let params: Value = serde_json::from_str(params).unwrap();
        let text = said_in(&params);
        let maker = self.maker(user);
        *maker.repeats.entry(text).or_default() += 1;
        maker.refusals = maker.refusals.saturating_sub(1);
    }

    /// Of replies alone may one go, after nobody knew often enough whether it had arrived, and then
    /// the platform was there each time. What nobody asked for goes with its day.
    pub fn was_lost(&mut self, claimed: &Claimed) {
        let params: Value = serde_json::from_str(&claimed.params).unwrap();
        let (user, text) = (claimed.chat_id.0, said_in(&params));
        self.lost += 1;
        let times = self.unclear[&claimed.id.0];
        if !self.weather.is_clear() || times < GIVEN_UP_AFTER || claimed.until.is_some() {
            let sky = if self.weather.is_clear() { "no outage" } else { "an outage" };
            self.fail(&format!(
                "{sky} loses a message to maker {user} after {times} times: {text}"
            ));
        }
    }

    /// The question of the day that is on, and of those beside it, may be missing.
    pub fn excuse(&mut self, user: i64) {
        let now = self.bot_time();
        let maker = self.maker(user);
        let today = maker.hours.day_at(now);
        let days = [today.pred_opt().unwrap(), today, today.succ_opt().unwrap()];
        maker.excused.extend(days);
    }

    /// What a maker sees that was not there before.
    pub fn sees(&mut self, user: i64) {
        let news = self.stand_in.seen_since(user, self.makers[&user].seen);
        for seen in news {
            self.maker(user).seen = seen.number;
            if seen.from == Speaker::Maker {
                continue;
            }
            self.tell(format!("{user} sees {:?} {}", seen.kind, told(&seen.text)));
            self.check_words(user, &seen.text);
            self.check_kept(user, &seen.text);
            let near = self.makers[&user].hours.day_at(self.clock.now());
            self.maker(user).shows(seen.id, day_in(&seen.text, near));
            if seen.kind == SeenKind::Message {
                self.message_came(user, &seen);
            }
        }
    }

    fn message_came(&mut self, user: i64, seen: &Seen) {
        let maker = self.maker(user);
        maker.messages.push(seen.id);
        if maker.messages.len() > MESSAGES_KEPT {
            maker.messages.remove(0);
        }
        let repeated = maker.repeats.get_mut(&seen.text).is_some_and(|left| {
            let more = *left > 0;
            *left = left.saturating_sub(1);
            more
        });
        let today = self.makers[&user].hours.day_at(self.bot_time());
        let question = seen.text.lines().nth(1) == Some("Which fits the day?")
            && !seen.text.contains("\nKept now: ");
        let nudge = seen.text.contains(" is open.");
        if question && let Some(day) = day_in(&seen.text, today) {
            self.is_asked(user, seen.id, day);
            if self.unasked && !nudge {
                let maker = self.maker(user);
                let count = maker.questions.entry(day).or_default();
                *count += usize::from(!repeated);
                if *count > 1 {
                    self.fail(&format!("maker {user} is asked twice about {day}"));
                }
            }
        }
        if self.unasked && !repeated {
            let came = self.maker(user).unasked.entry(today).or_default();
            came.push(seen.text.clone());
            let came = came.clone();
            // Newer zone data can make a day so long that two evenings are in it, each with the
            // question of its own day and a nudge.
            let evenings = if self.makers[&user].moved.contains(&today) { 2 } else { 1 };
            let nudges = came.iter().filter(|text| text.contains(" is open.")).count();
            if came.len() > 2 * evenings || nudges > evenings {
                let came = format!("maker {user} got {came:?} on {today}");
                self.fail(&came);
            }
        }
        if seen.text.contains("nudge") || seen.labels() == ["Yes", "No"] {
            let answer = self.dice.one_of(&["Yes", "Yes", "No"]).to_owned();
            let wait = TimeDelta::minutes(self.dice.between(1, 90));
            self.plan(wait, What::Acts(user, Act::Tap(seen.id, answer)));
        }
        if seen.labels().contains(&"Worked") {
            let wait = TimeDelta::minutes(self.dice.between(1, 200));
            self.plan(wait, What::Acts(user, Act::Tap(seen.id, "Worked".to_owned())));
            let undoes = if self.dice.permille(200) { "Undo" } else { "Next rows" };
            let wait = wait + TimeDelta::minutes(self.dice.between(1, 60));
            self.plan(wait, What::Acts(user, Act::Tap(seen.id, undoes.to_owned())));
        }
    }

    /// Nobody reads another maker's words.
    fn check_words(&self, user: i64, text: &str) {
        let own = user.to_string();
        let mut after = text.split("zebra ").skip(1);
        if after.any(|rest| !rest.starts_with(&own)) {
            self.fail(&format!("maker {user} reads another maker's words: {text}"));
        }
    }

    /// What is said to be kept was kept.
    fn check_kept(&self, user: i64, text: &str) {
        let Some(rest) = text.strip_prefix("Kept: ") else { return };
        // A line of the maker's people and numbers, whatever is in it.
        if rest.starts_with('"') {
            return;
        }
        let model = &self.makers[&user].model;
        let kept = model.ever_had(|day, tier| {
            let after_day = rest.find(", ").map(|at| &rest[at + 2..]).unwrap_or_default();
            after_day.starts_with(label(tier)) && rest.starts_with(&spoken(day))
        });
        if !kept {
            self.fail(&format!("maker {user} reads of an answer that is not there: {text}"));
        }
    }

    /// With the bot at rest and the platform there: is the day's question there, and a next wake?
    pub async fn look_after(&mut self, user: i64) {
        if self.bot.is_none() || !self.weather.is_clear() || self.makers[&user].blocked {
            return;
        }
        let now = self.bot_time();
        let stored = self.store().load(UserId(user)).await.unwrap().unwrap();
        let next = chat::agenda(&stored.maker, now);
        let book = stored.maker.book.as_ref().unwrap();
        self.check_holds(user, book);
        if let Some((at, why)) = next {
            let waking = self.store().due(at, 10_000).await.unwrap();
            if !waking.contains(&UserId(user)) && !self.is_excused(user, book.hours().day_at(now)) {
                self.fail(&format!("maker {user} is not woken at {at} for {why:?}"));
            }
        }
        let (hours, today) = (*book.hours(), book.hours().day_at(now));
        let due = hours.question_due(today) + TimeDelta::minutes(1);
        let spaced = book.asked().is_none_or(|(_, at)| at + TimeDelta::hours(12) < now);
        let wanted = book.plan().has(today)
            && book.answer(today).is_none()
            && book.put_off(today).is_none()
            && !book.reminders().paused
            && due <= now
            && hours.day_exists(today);
        if !wanted || self.is_excused(user, today) {
            return;
        }
        let asked = book.asked().is_some_and(|(day, _)| day >= today);
        if !asked && spaced {
            self.fail(&format!("maker {user} was not asked about {today}"));
        }
        let maker = &self.makers[&user];
        let came = maker.questions.contains_key(&today) || maker.model.ever_answered(today);
        if book.asked().is_some_and(|(day, _)| day == today)
            && !came
            && !self.waits_long(user, today).await
        {
            self.fail(&format!("the question about {today} did not reach maker {user}"));
        }
    }

    /// The question is kept, and waits for longer than the clock is turned on for it: nobody knew
    /// again and again whether it, or what goes before it, had arrived.
    async fn waits_long(&mut self, user: i64, day: NaiveDate) -> bool {
        let slot = format!("question {day}");
        let first = eyes::first_before(self.eyes.as_mut().unwrap(), user, &slot).await;
        first.and_then(|first| self.unclear.get(&first)).is_some_and(|times| *times >= WAITS_LONG)
    }

    fn is_excused(&self, user: i64, day: NaiveDate) -> bool {
        self.makers[&user].excused.contains(&day)
    }
}

/// Codes of faults are drawn by chance.
fn told(text: &str) -> &str {
    text.split(" Code ").next().unwrap()
}

/// What a message says, beside a file too. Of some files that is known only once they are made.
fn said_in(params: &Value) -> String {
    let text = params["text"].as_str().or(params["caption"].as_str());
    plain(text.unwrap_or_default())
}

/// A message without its markup.
fn plain(text: &str) -> String {
    let mut plain = String::new();
    let mut inside = false;
    for c in text.chars() {
        match c {
            '<' => inside = true,
            '>' if inside => inside = false,
            c if !inside => plain.push(c),
            _ => {}
        }
    }
    plain.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&")
}
