//! When may the next request go?
//!
//! So many a second over all chats, and one a second with a short burst for each chat. Pure:
//! times are readings of one monotonic clock, and nothing here waits.

use std::collections::BTreeMap;
use std::time::Duration;

use super::ChatId;

/// Chats remembered before those that are idle are looked for.
const CHATS_BEFORE_SWEEP: usize = 256;

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Rates {
    /// Requests a second over all chats, without any burst: the platform counts by the second.
    pub per_second: u32,
    /// The time between two requests to one chat, once its burst is used up.
    pub chat_every: Duration,
    /// Requests to one chat that may go at once.
    pub chat_burst: u32,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Ready {
    Now,
    At(Duration),
}

#[derive(Debug)]
pub struct Pacing {
    rates: Rates,
    every: Duration,
    overall: Bucket,
    chats: BTreeMap<ChatId, Bucket>,
    sweep_at: usize,
    held_until: Duration,
}

/// A token bucket, kept as the one instant at which it will be full again.
#[derive(Clone, Copy, Default, Debug)]
struct Bucket {
    full_at: Duration,
}

impl Pacing {
    pub fn new(rates: Rates) -> Pacing {
        let rates = Rates {
            per_second: rates.per_second.max(1),
            chat_burst: rates.chat_burst.max(1),
            ..rates
        };
        // Rounded up, so that the rate is never exceeded by the fraction.
        let nanos = 1_000_000_000_u64.div_ceil(u64::from(rates.per_second));
        Pacing {
            rates,
            every: Duration::from_nanos(nanos),
            overall: Bucket::default(),
            chats: BTreeMap::new(),
            sweep_at: CHATS_BEFORE_SWEEP,
            held_until: Duration::ZERO,
        }
    }

    /// Whether a request to `chat` may go, or when to ask again.
    pub fn ready(&self, chat: ChatId, now: Duration) -> Ready {
        let of_chat = self.chats.get(&chat).copied().unwrap_or_default();
        let of_chat = of_chat.next(self.rates.chat_every, self.rates.chat_burst);
        Ready::from(self.next().max(of_chat), now)
    }

    /// The same for a chat that was not written to lately: no other may go before.
    pub fn ready_for_any(&self, now: Duration) -> Ready {
        Ready::from(self.next(), now)
    }

    fn next(&self) -> Duration {
        self.held_until.max(self.overall.next(self.every, 1))
    }

    /// A request to `chat` goes now.
    pub fn took(&mut self, chat: ChatId, now: Duration) {
        self.overall.take(self.every, now);
        self.chats.entry(chat).or_default().take(self.rates.chat_every, now);
        if self.chats.len() > self.sweep_at {
            self.chats.retain(|_, bucket| bucket.full_at > now);
            self.sweep_at = CHATS_BEFORE_SWEEP.max(2 * self.chats.len());
        }
    }

    /// Nothing goes to this chat before `until`, and then one request.
    pub fn hold_until(&mut self, chat: ChatId, until: Duration) {
        let burst = self.rates.chat_every.saturating_mul(self.rates.chat_burst - 1);
        let bucket = self.chats.entry(chat).or_default();
        bucket.full_at = bucket.full_at.max(until.saturating_add(burst));
    }

    /// The platform asked for a pause: nothing goes to any chat before `until`.
    pub fn hold_all_until(&mut self, until: Duration) {
        self.held_until = self.held_until.max(until);
    }
}

impl Ready {
    fn from(at: Duration, now: Duration) -> Ready {
        match at <= now {
            true => Ready::Now,
            false => Ready::At(at),
        }
    }
}

impl Bucket {
    /// The first instant at which the bucket holds a whole token again.
    fn next(self, every: Duration, burst: u32) -> Duration {
        self.full_at.saturating_sub(every.saturating_mul(burst - 1))
    }

    fn take(&mut self, every: Duration, now: Duration) {
        self.full_at = self.full_at.max(now).saturating_add(every);
    }
}

impl Default for Rates {
    /// A little under what the platform allows: about 30 a second, and one a second in a chat.
    fn default() -> Rates {
        Rates { per_second: 28, chat_every: Duration::from_secs(1), chat_burst: 3 }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const MS: Duration = Duration::from_millis(1);

    /// Sends as early as allowed: each wish is (its earliest time, its chat).
    fn sent(pacing: &mut Pacing, wishes: &[(Duration, ChatId)]) -> Vec<(Duration, ChatId)> {
        let mut now = Duration::ZERO;
        let mut sent = Vec::new();
        for &(from, chat) in wishes {
            now = now.max(from);
            if let Ready::At(at) = pacing.ready(chat, now) {
                assert!(at > now);
                now = at;
            }
            assert_eq!(pacing.ready(chat, now), Ready::Now, "the instant named is enough");
            pacing.took(chat, now);
            sent.push((now, chat));
        }
        sent
    }

    /// No window holds more than what its length earns and the burst.
    fn check_rate(times: &[Duration], every: Duration, burst: usize) {
        for (first, &from) in times.iter().enumerate() {
            for (last, &to) in times.iter().enumerate().skip(first) {
                let earned = (to - from).as_nanos() / every.as_nanos();
                let count = (last - first + 1) as u128;
                assert!(count <= burst as u128 + earned, "{count} from {from:?} to {to:?}");
            }
        }
    }

    proptest! {
        #[test]
        fn no_window_holds_more_than_the_rates_allow(
            gaps in prop::collection::vec((0_u64..200, 0_i64..4), 1..120),
            per_second in 1_u32..60,
            chat_burst in 1_u32..5,
            chat_every_ms in 1_u64..1500,
        ) {
            let chat_every = MS * u32::try_from(chat_every_ms).unwrap();
            let rates = Rates { per_second, chat_every, chat_burst };
            let mut from = Duration::ZERO;
            let wishes: Vec<_> = gaps
                .iter()
                .map(|&(gap, chat)| {
                    from += Duration::from_millis(gap);
                    (from, ChatId(chat))
                })
                .collect();
            let sent = sent(&mut Pacing::new(rates), &wishes);
            let all: Vec<_> = sent.iter().map(|&(at, _)| at).collect();
            check_rate(&all, Duration::from_secs(1) / per_second, 1);
            for chat in (0..4).map(ChatId) {
                let own: Vec<_> =
                    sent.iter().filter(|&&(_, to)| to == chat).map(|&(at, _)| at).collect();
                check_rate(&own, chat_every, usize::try_from(chat_burst).unwrap());
            }
        }
    }

    #[test]
    fn a_thousand_chats_at_once_take_as_long_as_the_rate_says_and_no_longer() {
        let wishes: Vec<_> = (0..1000).map(|n| (Duration::ZERO, ChatId(n))).collect();
        let sent = sent(&mut Pacing::new(Rates::default()), &wishes);
        let last = sent.last().unwrap().0;
        assert!((Duration::from_millis(35_678)..Duration::from_millis(35_680)).contains(&last));
        let busiest = sent
            .iter()
            .map(|&(from, _)| {
                let second = from..from + Duration::from_secs(1);
                sent.iter().filter(|(at, _)| second.contains(at)).count()
            })
            .max();
        assert_eq!(busiest, Some(28));
    }

    #[test]
    fn one_chat_gets_its_burst_and_then_one_a_second() {
        let wishes = [(Duration::ZERO, ChatId(1)); 6];
        let sent = sent(&mut Pacing::new(Rates::default()), &wishes);
        let times: Vec<_> = sent.iter().map(|(at, _)| at.as_millis()).collect();
        assert_eq!(times, [0, 35, 71, 1000, 2000, 3000]);
    }

    #[test]
    fn a_busy_chat_does_not_hold_up_another() {
        let mut pacing = Pacing::new(Rates::default());
        sent(&mut pacing, &[(Duration::ZERO, ChatId(1)); 3]);
        let now = Duration::from_millis(110);
        assert_eq!(pacing.ready(ChatId(1), now), Ready::At(Duration::from_secs(1)));
        assert_eq!(pacing.ready(ChatId(2), now), Ready::Now);
    }

    #[test]
    fn a_chat_that_is_held_holds_up_no_other_and_gets_one_request_then() {
        let mut pacing = Pacing::new(Rates::default());
        let until = Duration::from_secs(30);
        pacing.hold_until(ChatId(1), until);
        assert_eq!(pacing.ready(ChatId(1), MS), Ready::At(until));
        assert_eq!(pacing.ready(ChatId(2), MS), Ready::Now);
        pacing.took(ChatId(1), until);
        assert_eq!(pacing.ready(ChatId(1), until + MS), Ready::At(until + MS * 1000));
    }

    #[test]
    fn a_pause_the_platform_asked_for_holds_every_chat_and_is_never_shortened() {
        let mut pacing = Pacing::new(Rates::default());
        let until = Duration::from_secs(30);
        pacing.hold_all_until(until);
        pacing.hold_all_until(Duration::from_secs(3));
        assert_eq!(pacing.ready(ChatId(9), until - MS), Ready::At(until));
        assert_eq!(pacing.ready(ChatId(9), until), Ready::Now);
    }

    #[test]
    fn idle_chats_are_forgotten() {
        let mut pacing = Pacing::new(Rates::default());
        let wishes: Vec<_> = (0..20_000).map(|n| (Duration::ZERO, ChatId(n))).collect();
        sent(&mut pacing, &wishes);
        assert!(pacing.chats.len() <= CHATS_BEFORE_SWEEP, "{}", pacing.chats.len());
    }
}
