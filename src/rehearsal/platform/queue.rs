//! Which updates does the bot still have to take? The platform's queue with its real rules.
//!
//! An update is confirmed only by a higher offset. Messages and membership changes are kept 24
//! hours, taps 150 seconds. Ids count up, but after a week without updates the next one is random.

use std::collections::VecDeque;

use chrono::{DateTime, TimeDelta, Utc};
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};

use super::dice::Dice;

/// The updates that were not confirmed yet.
#[derive(Serialize, Deserialize)]
pub struct Queue {
    waiting: VecDeque<Waiting>,
    next_id: i64,
    last_at: Option<DateTime<Utc>>,
    /// None until a poll said which kinds it wants.
    allowed: Option<Vec<String>>,
}

#[derive(Serialize, Deserialize)]
struct Waiting {
    id: i64,
    at: DateTime<Utc>,
    kept_seconds: i64,
    update: Value,
    /// A raw update is handed over once even if its id was confirmed before.
    owed: bool,
}

const MESSAGE_KEPT_SECONDS: i64 = 24 * 60 * 60;
const TAP_KEPT_SECONDS: i64 = 150;
/// The server reads an offset this far beyond the next id as no offset at all.
const OFFSET_SLACK: i64 = 10;

impl Queue {
    pub fn new(dice: &mut Dice) -> Queue {
        let (waiting, last_at, allowed) = (VecDeque::new(), None, None);
        Queue { waiting, next_id: dice.update_id(), last_at, allowed }
    }

    /// Queues an update of `kind`, unless the bot said it does not want that kind.
    pub fn push(&mut self, kind: &str, content: Value, now: DateTime<Utc>, dice: &mut Dice) {
        if self.allowed.as_ref().is_some_and(|kinds| !kinds.iter().any(|k| k == kind)) {
            return;
        }
        if self.last_at.is_some_and(|last| now - last >= TimeDelta::days(7)) {
            self.next_id = dice.update_id();
        }
        let update = json!({ "update_id": self.next_id, kind: content });
        self.keep(self.next_id, update, now, false);
    }

    /// Queues any JSON object; without an `update_id` it gets the next one.
    pub fn push_raw(&mut self, mut update: Value, now: DateTime<Utc>) -> i64 {
        let given = update.get("update_id").and_then(Value::as_i64);
        let id = given.unwrap_or(self.next_id);
        if let Some(object) = update.as_object_mut() {
            object.insert("update_id".to_owned(), json!(id));
        }
        self.keep(id, update, now, true);
        id
    }

    /// What a poll with this offset gets; confirms and forgets what lies before it.
    pub fn read(&mut self, offset: i64, limit: usize, now: DateTime<Utc>) -> Vec<Value> {
        self.expire(now);
        if offset < 0 {
            let kept = usize::try_from(offset.unsigned_abs()).unwrap_or(usize::MAX);
            let gone = self.waiting.len().saturating_sub(kept);
            self.waiting.drain(..gone);
        } else if offset > 0 && offset <= self.next_id.saturating_add(OFFSET_SLACK) {
            self.waiting.retain(|waiting| waiting.owed || waiting.id >= offset);
        }
        let read = self.waiting.iter_mut().take(limit).map(|waiting| {
            waiting.owed = false;
            waiting.update.clone()
        });
        read.collect()
    }

    /// The kinds a poll asked for; kept until another poll asks for others.
    pub fn allow(&mut self, kinds: Vec<String>) {
        self.allowed = (!kinds.is_empty()).then_some(kinds);
    }

    pub fn allowed(&self) -> Option<&[String]> {
        self.allowed.as_deref()
    }

    /// How many updates wait to be confirmed.
    pub fn len(&mut self, now: DateTime<Utc>) -> usize {
        self.expire(now);
        self.waiting.len()
    }

    pub fn clear(&mut self) {
        self.waiting.clear();
    }

    fn keep(&mut self, id: i64, update: Value, at: DateTime<Utc>, owed: bool) {
        let tap = update.get("callback_query").is_some();
        let kept_seconds = if tap { TAP_KEPT_SECONDS } else { MESSAGE_KEPT_SECONDS };
        self.waiting.push_back(Waiting { id, at, kept_seconds, update, owed });
        self.next_id = self.next_id.max(id.saturating_add(1));
        self.last_at = Some(at);
    }

    fn expire(&mut self, now: DateTime<Utc>) {
        self.waiting.retain(|w| now - w.at < TimeDelta::seconds(w.kept_seconds));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(seconds: i64) -> DateTime<Utc> {
        DateTime::from_timestamp(1_800_000_000 + seconds, 0).unwrap()
    }

    fn ids(updates: &[Value]) -> Vec<i64> {
        updates.iter().map(|update| update["update_id"].as_i64().unwrap()).collect()
    }

    fn filled(count: i64) -> (Queue, Dice, i64) {
        let mut dice = Dice::new(1);
        let mut queue = Queue::new(&mut dice);
        let first = queue.next_id;
        for _ in 0..count {
            queue.push("message", json!({}), at(0), &mut dice);
        }
        (queue, dice, first)
    }

    #[test]
    fn updates_come_again_until_a_higher_offset_confirms_them() {
        let (mut queue, _, first) = filled(3);
        assert_eq!(ids(&queue.read(0, 2, at(1))), [first, first + 1]);
        assert_eq!(ids(&queue.read(first, 9, at(1))), [first, first + 1, first + 2]);
        assert_eq!(ids(&queue.read(first + 2, 9, at(1))), [first + 2]);
        assert_eq!(ids(&queue.read(0, 9, at(1))), [first + 2]);
        assert_eq!(ids(&queue.read(first + 3, 9, at(1))), [0; 0]);
        assert_eq!(queue.len(at(1)), 0);
    }

    #[test]
    fn a_negative_offset_forgets_all_but_the_last() {
        let (mut queue, _, first) = filled(3);
        assert_eq!(ids(&queue.read(-2, 9, at(1))), [first + 1, first + 2]);
        assert_eq!(queue.len(at(1)), 2);
    }

    #[test]
    fn taps_are_kept_150_seconds_and_messages_a_day() {
        let (mut queue, mut dice, first) = filled(1);
        queue.push("callback_query", json!({}), at(0), &mut dice);
        assert_eq!(queue.len(at(149)), 2);
        assert_eq!(ids(&queue.read(0, 9, at(150))), [first]);
        assert_eq!(queue.len(at(86_399)), 1);
        assert_eq!(queue.len(at(86_400)), 0);
    }

    #[test]
    fn after_a_week_of_silence_the_next_id_is_random_and_an_old_offset_confirms_nothing() {
        let (mut queue, mut dice, first) = filled(1);
        queue.read(first + 1, 9, at(1));
        queue.push("message", json!({}), at(7 * 86_400 - 1), &mut dice);
        assert_eq!(ids(&queue.read(first + 1, 9, at(7 * 86_400))), [first + 1]);
        for week in 2..40 {
            queue.push("message", json!({}), at(week * 7 * 86_400), &mut dice);
            let id = queue.next_id - 1;
            // Ten beyond the next id is the last offset that counts as one.
            let far = id + 12;
            assert_eq!(ids(&queue.read(far, 9, at(week * 7 * 86_400))), [id]);
            queue.read(id + 11, 9, at(week * 7 * 86_400));
            assert_eq!(queue.len(at(week * 7 * 86_400)), 0);
            assert_ne!(id, first + week);
        }
    }

    #[test]
    fn a_kind_that_was_not_asked_for_is_not_queued() {
        let (mut queue, mut dice, _) = filled(0);
        queue.allow(vec!["message".to_owned()]);
        queue.push("callback_query", json!({}), at(0), &mut dice);
        queue.push("message", json!({}), at(0), &mut dice);
        assert_eq!(queue.len(at(0)), 1);
        queue.allow(vec![]);
        queue.push("callback_query", json!({}), at(0), &mut dice);
        assert_eq!(queue.len(at(0)), 2);
    }

    #[test]
    fn a_raw_update_with_a_confirmed_id_is_handed_over_once() {
        let (mut queue, _, first) = filled(1);
        queue.read(first + 1, 9, at(1));
        queue.push_raw(json!({ "update_id": first, "message": {} }), at(1));
        assert_eq!(ids(&queue.read(first + 1, 9, at(1))), [first]);
        assert_eq!(ids(&queue.read(first + 1, 9, at(1))), [0; 0]);
        assert_eq!(queue.push_raw(json!({ "mystery": {} }), at(1)), first + 1);
    }
}
