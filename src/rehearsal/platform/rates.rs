//! May another message go out now? The platform's pace, told in virtual time.
//!
//! Two leaky buckets: over all chats 30 messages fit at once and 30 a second drain; per chat 5 fit
//! at once and one a second drains. The real numbers are "about" and undocumented; these are the
//! tightest reading that lets a short burst pass. Edits count. A refused message takes no room.

use std::collections::BTreeMap;
use std::time::Duration;

use super::refusal::Refusal;

/// How many messages fit at once, and how many a second drain.
#[derive(Clone, Copy, Debug)]
pub struct Limits {
    pub all_burst: u32,
    pub all_per_second: u32,
    pub chat_burst: u32,
    pub chat_per_second: u32,
}

impl Default for Limits {
    fn default() -> Limits {
        Limits { all_burst: 30, all_per_second: 30, chat_burst: 5, chat_per_second: 1 }
    }
}

/// The buckets; without limits everything passes.
pub struct Rates {
    limits: Option<Limits>,
    all: Bucket,
    chats: BTreeMap<i64, Bucket>,
}

impl Rates {
    pub fn new(limits: Option<Limits>) -> Rates {
        Rates { limits, all: Bucket::default(), chats: BTreeMap::new() }
    }

    /// Counts one message to `chat` at `now` on the monotonic clock, or refuses it.
    pub fn count(&mut self, chat: i64, now: Duration) -> Result<(), Refusal> {
        let Some(limits) = self.limits else { return Ok(()) };
        // A drained bucket says nothing any more.
        self.chats.retain(|_, bucket| bucket.drained_at > now);
        let one = self.chats.entry(chat).or_default();
        let wait = one.wait(now, limits.chat_burst, limits.chat_per_second).max(self.all.wait(
            now,
            limits.all_burst,
            limits.all_per_second,
        ));
        if !wait.is_zero() {
            return Err(Refusal::too_many_requests(wait.as_millis().div_ceil(1000) as u64));
        }
        one.fill(now, limits.chat_per_second);
        self.all.fill(now, limits.all_per_second);
        Ok(())
    }
}

#[derive(Default)]
struct Bucket {
    drained_at: Duration,
}

impl Bucket {
    fn wait(&self, now: Duration, burst: u32, per_second: u32) -> Duration {
        let room = drop_time(per_second) * burst.saturating_sub(1);
        self.drained_at.saturating_sub(now).saturating_sub(room)
    }

    fn fill(&mut self, now: Duration, per_second: u32) {
        self.drained_at = self.drained_at.max(now) + drop_time(per_second);
    }
}

fn drop_time(per_second: u32) -> Duration {
    Duration::from_secs(1) / per_second.max(1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn passed(rates: &mut Rates, chats: impl Iterator<Item = i64>, at: Duration) -> usize {
        chats.filter(|chat| rates.count(*chat, at).is_ok()).count()
    }

    #[test]
    fn five_messages_to_one_chat_pass_at_once_and_then_one_a_second() {
        let mut rates = Rates::new(Some(Limits::default()));
        assert_eq!(passed(&mut rates, [7; 9].into_iter(), Duration::ZERO), 5);
        let refusal = rates.count(7, Duration::from_millis(300)).unwrap_err();
        assert_eq!(refusal.description, "Too Many Requests: retry after 1");
        assert_eq!(refusal.retry_after, Some(1));
        assert_eq!(passed(&mut rates, [7; 9].into_iter(), Duration::from_secs(1)), 1);
        assert_eq!(passed(&mut rates, [7; 9].into_iter(), Duration::from_secs(60)), 5);
    }

    #[test]
    fn thirty_messages_a_second_pass_over_all_chats() {
        let mut rates = Rates::new(Some(Limits::default()));
        assert_eq!(passed(&mut rates, 1..100, Duration::ZERO), 30);
        assert_eq!(passed(&mut rates, 100..200, Duration::from_millis(500)), 15);
        assert!(rates.chats.len() < 200);
    }

    #[test]
    fn a_refused_message_takes_no_room() {
        let mut rates = Rates::new(Some(Limits::default()));
        assert_eq!(passed(&mut rates, [7; 500].into_iter(), Duration::ZERO), 5);
        assert_eq!(passed(&mut rates, 100..200, Duration::ZERO), 25);
    }
}
