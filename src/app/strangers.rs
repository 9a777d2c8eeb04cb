//! Which strangers get a line: each one a day, one a second over all. Which of them may try a
//! code: until too many were wrong. Counted in memory alone.

use std::collections::{BTreeMap, VecDeque};
use std::time::Duration;

use crate::chat::event::UserId;

const STRANGERS_MAX: usize = 1000;
const ONE_EACH: Duration = Duration::from_secs(24 * 60 * 60);
const OVERALL: Duration = Duration::from_secs(1);
const TAPS_A_SECOND: u32 = 2;
/// Wrong codes of one person within [`WRONG_FOR`], and of all together. A guess finds a code of 128
/// random bits never; the limits keep a crowd from costing look-ups. The second is high, since
/// while it holds nobody else comes in either.
const WRONG_EACH_MAX: usize = 5;
const WRONG_OVERALL_MAX: usize = 1000;
const WRONG_FOR: Duration = Duration::from_secs(60 * 60);

/// When each stranger was answered last, by the monotonic clock.
#[derive(Default)]
pub struct Strangers {
    answered: BTreeMap<UserId, Duration>,
    last: Option<Duration>,
    /// Taps answered within the second that began then.
    tapped: Option<(Duration, u32)>,
    /// Wrong codes of the last hour, oldest first.
    wrong: VecDeque<(Duration, UserId)>,
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

    /// Whether a code of this stranger is looked up now.
    pub fn may_try(&mut self, user: UserId, now: Duration) -> bool {
        self.wrong.retain(|(at, _)| now < *at + WRONG_FOR);
        let own = self.wrong.iter().filter(|(_, who)| *who == user).count();
        own < WRONG_EACH_MAX && self.wrong.len() < WRONG_OVERALL_MAX
    }

    /// A code that was looked up was wrong.
    pub fn was_wrong(&mut self, user: UserId, now: Duration) {
        self.wrong.push_back((now, user));
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
    fn the_sixth_wrong_code_of_a_person_within_an_hour_is_not_looked_up_nor_the_next_of_a_crowd() {
        let mut strangers = Strangers::default();
        let mut tries = |user, minute: u64| {
            let now = Duration::from_secs(60 * minute);
            let may = strangers.may_try(UserId(user), now);
            if may {
                strangers.was_wrong(UserId(user), now);
            }
            may
        };
        let own: Vec<bool> = [0, 10, 20, 30, 40, 50, 59, 60, 61].map(|at| tries(1, at)).to_vec();
        assert_eq!(own, [true, true, true, true, true, false, false, true, false]);
        assert!(tries(2, 61));
        let crowd = (1000..3000).filter(|user| tries(*user, 62)).count();
        assert_eq!(crowd + 6, WRONG_OVERALL_MAX);
        assert!(!tries(3, 62));
        assert!(tries(3, 122));
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
