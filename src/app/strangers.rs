//! Which strangers get a line: each one a day, one a second over all. Counted in memory alone.

use std::collections::BTreeMap;
use std::time::Duration;

use crate::chat::event::UserId;

const STRANGERS_MAX: usize = 1000;
const ONE_EACH: Duration = Duration::from_secs(24 * 60 * 60);
const OVERALL: Duration = Duration::from_secs(1);
const TAPS_A_SECOND: u32 = 2;

/// When each stranger was answered last, by the monotonic clock.
#[derive(Default)]
pub struct Strangers {
    answered: BTreeMap<UserId, Duration>,
    last: Option<Duration>,
    /// Taps answered within the second that began then.
    tapped: Option<(Duration, u32)>,
}

impl Strangers {
    /// Whether a tap of a stranger gets a request now; if so, it is counted. A tap on *I agree*
    /// takes two: its screen changes, and it is acknowledged.
    pub fn may_tap(&mut self, now: Duration) -> bool {
        match &mut self.tapped {
            Some((since, count)) if now < *since + OVERALL => {
                *count += 1;
                *count <= TAPS_A_SECOND
            }
            tapped => {
                *tapped = Some((now, 1));
                true
            }
        }
    }

    /// Whether this stranger gets a line now; if so, it is counted.
    pub fn may_be_answered(&mut self, user: UserId, now: Duration) -> bool {
        self.answered.retain(|_, at| now < *at + ONE_EACH);
        let too_soon = self.last.is_some_and(|last| now < last + OVERALL);
        let full = self.answered.len() >= STRANGERS_MAX;
        if too_soon || full || self.answered.contains_key(&user) {
            return false;
        }
        self.answered.insert(user, now);
        self.last = Some(now);
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stranger_gets_one_line_a_day_and_all_together_one_a_second() {
        let mut strangers = Strangers::default();
        let second = Duration::from_secs(1);
        let mut check = |user, now: Duration, expected| {
            assert_eq!(strangers.may_be_answered(UserId(user), now), expected, "{user} {now:?}");
        };
        check(1, second * 10, true);
        check(1, second * 20, false);
        check(2, second * 20, true);
        check(3, second * 20, false);
        check(3, second * 21, true);
        check(1, second * 10 + ONE_EACH, true);
    }

    #[test]
    fn taps_of_strangers_cost_two_requests_a_second_however_many_come() {
        let mut strangers = Strangers::default();
        let mut tap = |ms| strangers.may_tap(Duration::from_millis(ms));
        let answers: Vec<bool> = [0, 1, 2, 999, 1000, 1001, 1002].map(&mut tap).to_vec();
        assert_eq!(answers, [true, true, false, false, true, true, false]);
    }

    #[test]
    fn at_most_a_thousand_strangers_are_remembered() {
        let mut strangers = Strangers::default();
        for user in 0..2000 {
            let now = Duration::from_secs(u64::try_from(user).unwrap());
            strangers.may_be_answered(UserId(user), now);
        }
        assert_eq!(strangers.answered.len(), STRANGERS_MAX);
    }
}
