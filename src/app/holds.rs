//! Who waits after a message did not go through, and until when?
//!
//! The platform can answer and yet refuse messages, all of them or one. What was refused is tried
//! again after a wait that grows, and only its own chat waits with it: there, what is behind it
//! stays behind it. Where several chats fail and nothing goes through between, the trouble is the
//! platform's, and all wait, so that a thousand makers do not knock a thousand times.
//!
//! Pure: times are readings of one monotonic clock. In memory only: after a start, all is tried at
//! once.

use std::collections::{BTreeMap, BTreeSet};
use std::time::Duration;

use crate::store::OutboxId;
use crate::telegram::ChatId;
use crate::telegram::poll::{WAIT_MAX, doubled};

/// A message that may have arrived each time is sent anew after a second, which is enough for a
/// connection that broke, then after 1, 4 and 16 minutes, and every hour from then on: not lost by
/// an evening of lost replies, and no flood.
const UNCLEAR: [Duration; 5] = [
    Duration::from_secs(1),
    Duration::from_mins(1),
    Duration::from_mins(4),
    Duration::from_mins(16),
    Duration::from_hours(1),
];

/// How long before its end a message that may have arrived is tried for the last time.
const LAST_TRY: Duration = Duration::from_mins(5);

/// A message that is right for ever is given up before it has held up its chat for an hour.
const FOR_EVER_MAX: Duration = Duration::from_mins(16);

/// The chats that wait.
#[derive(Default, Debug)]
pub struct Holds {
    chats: BTreeMap<ChatId, Held>,
    /// Whose message failed last, since any went through.
    failing: BTreeSet<ChatId>,
    all_until: Duration,
}

/// What became of the first message to a chat.
#[derive(Debug)]
struct Held {
    message: OutboxId,
    refused: u32,
    unclear: usize,
    until: Duration,
}

impl Holds {
    /// Until when a chat waits.
    pub fn until(&self, chat: ChatId) -> Duration {
        self.chats.get(&chat).map_or(Duration::ZERO, |held| held.until)
    }

    /// Until when all chats wait.
    pub fn all_until(&self) -> Duration {
        self.all_until
    }

    /// A message surely did not arrive. Says how often it did not.
    pub fn refused(&mut self, chat: ChatId, message: OutboxId, now: Duration) -> u32 {
        let held = self.failed(chat, message, now);
        held.until = now + doubled(held.refused, WAIT_MAX);
        held.refused += 1;
        held.refused
    }

    /// Nobody knows whether a message arrived. `left`: for how long it is right to send it. Its
    /// last try is some minutes before that, and not after it.
    pub fn lost_sight(
        &mut self,
        chat: ChatId,
        message: OutboxId,
        now: Duration,
        left: Option<Duration>,
    ) {
        let held = self.failed(chat, message, now);
        let wait = UNCLEAR[held.unclear.min(UNCLEAR.len() - 1)];
        held.until = now
            + match left {
                Some(left) if left > LAST_TRY && left <= wait => left - LAST_TRY,
                Some(_) => wait,
                None => wait.min(FOR_EVER_MAX),
            };
        held.unclear += 1;
    }

    fn failed(&mut self, chat: ChatId, message: OutboxId, now: Duration) -> &mut Held {
        self.failing.insert(chat);
        let others = u32::try_from(self.failing.len() - 1).unwrap_or(u32::MAX);
        if let Some(before) = others.checked_sub(1) {
            self.all_until = now + doubled(before, WAIT_MAX);
        }
        let new = Held { message, refused: 0, unclear: 0, until: now };
        let held = self.chats.entry(chat).or_insert(new);
        if held.message != message {
            *held = Held { message, refused: 0, unclear: 0, until: now };
        }
        held
    }

    /// The platform took, or will never take, the first message to a chat: it works, and no other
    /// chat waits for long.
    pub fn went(&mut self, chat: ChatId, now: Duration) {
        self.chats.remove(&chat);
        self.chats.values_mut().for_each(|held| held.until = held.until.min(now + WAIT_MAX));
        self.failing.clear();
        self.all_until = Duration::ZERO;
    }

    /// Somebody is there, and waits for an answer: what is first in the chat is tried at once.
    pub fn acted(&mut self, chat: ChatId) {
        if let Some(held) = self.chats.get_mut(&chat) {
            held.until = Duration::ZERO;
            held.unclear = 0;
        }
    }

    pub fn forget(&mut self, chat: ChatId) {
        self.chats.remove(&chat);
        self.failing.remove(&chat);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const MAREN: ChatId = ChatId(1);
    const INES: ChatId = ChatId(2);

    fn at(seconds: u64) -> Duration {
        Duration::from_secs(seconds)
    }

    #[test]
    fn a_refused_message_waits_twice_as_long_each_time_up_to_a_minute() {
        let mut holds = Holds::default();
        let mut waits = Vec::new();
        for refusals in 1..=9 {
            assert_eq!(holds.refused(MAREN, OutboxId(7), at(100)), refusals);
            waits.push((holds.until(MAREN) - at(100)).as_secs());
        }
        assert_eq!(waits, [1, 2, 4, 8, 16, 32, 60, 60, 60]);
        assert_eq!(holds.refused(MAREN, OutboxId(8), at(100)), 1, "another message");
        assert_eq!(holds.until(MAREN), at(101));
    }

    #[test]
    fn a_message_that_may_have_arrived_comes_eleven_times_in_seven_hours_at_most() {
        let (mut holds, mut now, mut sent) = (Holds::default(), at(0), 0);
        while now < Duration::from_hours(7) {
            sent += 1;
            holds.lost_sight(MAREN, OutboxId(7), now, Some(Duration::from_hours(24)));
            now = holds.until(MAREN);
        }
        assert_eq!(sent, 11);
        holds.lost_sight(MAREN, OutboxId(7), now, None);
        assert_eq!(holds.until(MAREN) - now, at(16 * 60), "a reply waits for less");
        holds.refused(MAREN, OutboxId(7), now);
        assert_eq!(holds.until(MAREN) - now, at(1), "a refusal is counted by itself");
    }

    #[test]
    fn one_chat_waits_alone_and_several_that_fail_in_a_row_hold_all_up() {
        let mut holds = Holds::default();
        for second in 0..9 {
            holds.refused(MAREN, OutboxId(7), at(second));
        }
        assert_eq!((holds.until(INES), holds.all_until()), (at(0), at(0)));
        let waits: Vec<u64> = (2..10)
            .map(|chat| {
                holds.refused(ChatId(chat), OutboxId(chat), at(100));
                (holds.all_until() - at(100)).as_secs()
            })
            .collect();
        assert_eq!(waits, [1, 2, 4, 8, 16, 32, 60, 60]);
        holds.lost_sight(ChatId(20), OutboxId(20), at(100), None);
        holds.lost_sight(ChatId(20), OutboxId(20), at(101), None);
        holds.lost_sight(ChatId(20), OutboxId(20), at(161), None);
        assert_eq!(holds.until(ChatId(20)), at(161 + 240));
        holds.went(INES, at(170));
        assert_eq!(holds.until(ChatId(20)), at(230), "and nobody waits for long");
        assert_eq!(holds.all_until(), at(0), "the platform works");
        assert_eq!(holds.until(INES), at(0));
        assert!(holds.until(MAREN) > at(0));
    }

    #[test]
    fn a_message_nobody_knows_of_is_tried_shortly_before_its_end() {
        let (mut holds, mut now, end) = (Holds::default(), at(0), at(1800));
        let mut tried = Vec::new();
        while now < end {
            tried.push(now.as_secs());
            holds.lost_sight(MAREN, OutboxId(7), now, Some(end - now));
            now = holds.until(MAREN);
        }
        assert_eq!(tried, [0, 1, 61, 301, 1261, 1500]);
    }

    #[test]
    fn a_maker_who_does_something_is_not_kept_waiting() {
        let mut holds = Holds::default();
        holds.refused(MAREN, OutboxId(7), at(10));
        holds.acted(MAREN);
        assert_eq!(holds.until(MAREN), at(0));
        holds.refused(MAREN, OutboxId(7), at(11));
        assert_eq!(holds.until(MAREN), at(13), "but it is the second time");
    }
}
