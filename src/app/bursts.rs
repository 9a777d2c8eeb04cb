//! How much of one maker is handled at once? 20 updates in 10 seconds, so that a client that has
//! run wild holds up nobody else.
//!
//! Counted is when an update can have been made, not when it came: what heaps up while the bot
//! hears nothing (an outage, a restart, a slow disk) was made in that time, and counts as spread
//! over it. So a maker who answered by hand through an outage is heard whole, and no client can
//! have more handled than two a second in the long run. What is left out is never acknowledged
//! as kept, and the maker is told (`chat/rush.rs`). All of it is in memory.

use std::collections::BTreeMap;
use std::sync::{MutexGuard, PoisonError};
use std::time::Duration;

use anyhow::Context;

use super::thought::Thought;
use super::{App, By, OVERTAKEN_MAX};
use crate::chat::event::{Event, UserId};
use crate::chat::rush::{self, AT_ONCE, SECONDS};
use crate::chat::say::Say;
use crate::store::{Committed, Reach, StoreError};
use crate::telegram::QueryId;
use crate::telegram::incoming::UpdateId;
use crate::telegram::poll::UPDATES_MAX;

/// How long nothing more is kept of a maker after too much at once.
const REST: Duration = Duration::from_secs(SECONDS as u64);
/// The time each update takes of its maker's share.
const SHARE: Duration = Duration::from_millis(SECONDS as u64 * 1000 / AT_ONCE as u64);
/// The platform keeps nothing longer than this.
const HEAP_MAX: Duration = Duration::from_secs(24 * 60 * 60);
/// A tap waits on the platform for this long at most; a process that starts may find as many.
const HEAP_AT_START: Duration = Duration::from_secs(150);
/// A tap that is left out says so, this often at most.
const TOAST_EVERY: Duration = Duration::from_secs(1);
/// Makers remembered before those who are quiet are looked for.
const MAKERS_BEFORE_SWEEP: usize = 256;

/// Instants are readings of the monotonic clock and [`HEAP_MAX`], so that a time before the start
/// has one too.
pub struct Bursts {
    /// The last poll that ended.
    heard_at: Duration,
    /// The last poll brought as much as one can: more of the same heap may follow.
    more_follows: bool,
    /// The earliest at which what came last can have been made.
    made_since: Duration,
    makers: BTreeMap<UserId, Spent>,
    sweep_at: usize,
}

#[derive(Clone, Copy, Default)]
struct Spent {
    /// The maker's share is used up to here.
    until: Duration,
    rests_until: Duration,
    toast_at: Duration,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Verdict {
    Within,
    TooMuch,
    /// Too much came less than [`REST`] ago, and the maker was told.
    Resting,
}

impl Bursts {
    /// A process starts that heard nothing for so long.
    pub fn new(now: Duration, unheard: Option<Duration>) -> Bursts {
        let now = now + HEAP_MAX;
        let heard_at = now - unheard.unwrap_or_default().clamp(HEAP_AT_START, HEAP_MAX);
        Bursts {
            heard_at,
            more_follows: false,
            made_since: heard_at,
            makers: BTreeMap::new(),
            sweep_at: MAKERS_BEFORE_SWEEP,
        }
    }

    /// A poll that was asked at `asked_at` brought `count` updates. While it waited, the platform
    /// would have handed over anything at once; all else was made before it was asked.
    pub fn came(&mut self, count: usize, asked_at: Duration, now: Duration) {
        let (asked_at, now) = (asked_at + HEAP_MAX, now + HEAP_MAX);
        let since = now - asked_at.saturating_sub(self.heard_at).min(HEAP_MAX);
        let waited = now.saturating_sub(asked_at);
        self.made_since = match self.more_follows {
            true => since.min(self.made_since + waited),
            false => since,
        };
        self.more_follows = count >= UPDATES_MAX;
        self.heard_at = now;
    }

    fn verdict(&self, user: UserId, now: Duration) -> Verdict {
        let now = now + HEAP_MAX;
        let Some(spent) = self.makers.get(&user) else { return Verdict::Within };
        if now < spent.rests_until {
            return Verdict::Resting;
        }
        match spent.until.max(self.made_since) + SHARE > now + REST {
            true => Verdict::TooMuch,
            false => Verdict::Within,
        }
    }

    /// An update of a maker was handled that had not been before.
    pub fn handled(&mut self, user: UserId, now: Duration) {
        let made_since = self.made_since;
        let spent = self.makers.entry(user).or_default();
        spent.until = spent.until.max(made_since) + SHARE;
        if self.makers.len() > self.sweep_at {
            let now = now + HEAP_MAX;
            self.makers.retain(|_, spent| spent.until.max(spent.rests_until) > now);
            self.sweep_at = MAKERS_BEFORE_SWEEP.max(2 * self.makers.len());
        }
    }

    /// The maker was told that too much came.
    fn rest(&mut self, user: UserId, now: Duration) {
        self.makers.entry(user).or_default().rests_until = now + HEAP_MAX + REST;
    }

    /// Whether a tap that is left out gets a line now; if so, it is counted.
    fn may_toast(&mut self, user: UserId, now: Duration) -> bool {
        let now = now + HEAP_MAX;
        let spent = self.makers.entry(user).or_default();
        let may = now >= spent.toast_at;
        if may {
            spent.toast_at = now + TOAST_EVERY;
        }
        may
    }
}

impl App {
    pub(super) fn bursts(&self) -> MutexGuard<'_, Bursts> {
        self.bursts.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Leaves an update out where too much of its maker came at once, which is told once in a
    /// while. Blocking the bot and coming back always count.
    pub(super) async fn leave_out(
        &self,
        user: UserId,
        update: UpdateId,
        event: Option<&Event>,
    ) -> anyhow::Result<Option<By>> {
        let verdict = self.bursts().verdict(user, self.clock.monotonic());
        if verdict == Verdict::Within || matches!(event, Some(Event::Blocked | Event::Unblocked)) {
            return Ok(None);
        }
        if self.store.seen(update.0).await? {
            return Ok(Some(By::MakerAgain));
        }
        if verdict == Verdict::Resting {
            return Ok(Some(By::MakerInARush));
        }
        for _ in 0..OVERTAKEN_MAX {
            let Some(stored) = self.store.load(user).await? else { return Ok(None) };
            let now = self.now();
            let outcome = rush::too_much(&stored.maker.talk, event);
            let thought = Thought::of_outcome(&stored.maker, now, outcome)?;
            let reach = Some(Reach::Reachable);
            match self.commit(&stored, Some(update), &thought, reach, now).await? {
                Committed::Done => {
                    tracing::warn!(maker = stored.id.0, "too much came at once, and was left out");
                    self.bursts().rest(user, self.clock.monotonic());
                    return Ok(Some(By::MakerInARush));
                }
                Committed::SeenBefore => return Ok(Some(By::MakerAgain)),
                Committed::Overtaken => {}
            }
        }
        Err(StoreError::Busy).context("an update was overtaken again and again")
    }

    /// A tap that is left out is told so in place of an acknowledgement.
    pub(super) fn say_tap_not_kept(&self, user: UserId, query: &QueryId) {
        if self.bursts().may_toast(user, self.clock.monotonic()) {
            self.straight.notice(query, &Say::TapNotKept { seconds: SECONDS });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const MAREN: UserId = UserId(7);

    fn seconds(count: u64) -> Duration {
        Duration::from_secs(count)
    }

    /// How many of `offered` updates at one instant are handled, without a rest after them.
    fn handled_of(bursts: &mut Bursts, offered: u32, now: Duration) -> u32 {
        let mut handled = 0;
        for _ in 0..offered {
            if bursts.verdict(MAREN, now) == Verdict::Within {
                bursts.handled(MAREN, now);
                handled += 1;
            }
        }
        handled
    }

    /// The start was a while ago, and polls hang open.
    fn listening(now: Duration) -> Bursts {
        let mut bursts = Bursts::new(seconds(0), None);
        bursts.came(0, seconds(0), now);
        bursts.came(1, now, now);
        bursts
    }

    #[test]
    fn twenty_are_handled_at_once_and_two_a_second_after_them() {
        let mut bursts = listening(seconds(1000));
        assert_eq!(handled_of(&mut bursts, 100, seconds(1000)), 20);
        for later in [1001, 1002, 1003] {
            bursts.came(99, seconds(later), seconds(later));
            assert_eq!(handled_of(&mut bursts, 100, seconds(later)), 2, "{later}");
        }
        bursts.came(1, seconds(1003), seconds(1100));
        assert_eq!(handled_of(&mut bursts, 100, seconds(1100)), 20);
        assert_eq!(bursts.verdict(UserId(8), seconds(1100)), Verdict::Within);
    }

    #[test]
    fn a_poll_that_waited_for_long_lets_no_more_pass() {
        let mut bursts = listening(seconds(1000));
        bursts.came(50, seconds(1000), seconds(1050));
        assert_eq!(handled_of(&mut bursts, 100, seconds(1050)), 20);
        // Nor after one that brought as much as one can.
        bursts.came(100, seconds(1050), seconds(1060));
        assert_eq!(handled_of(&mut bursts, 100, seconds(1060)), 20);
        bursts.came(100, seconds(1060), seconds(1110));
        assert_eq!(handled_of(&mut bursts, 100, seconds(1110)), 20);
    }

    #[test]
    fn what_heaped_up_while_nothing_was_heard_is_spread_over_that_time() {
        let mut bursts = listening(seconds(1000));
        // Nothing could be asked for 150 seconds; the heap comes in three polls.
        bursts.came(100, seconds(1150), seconds(1150));
        assert_eq!(handled_of(&mut bursts, 100, seconds(1150)), 100);
        bursts.came(100, seconds(1150), seconds(1151));
        assert_eq!(handled_of(&mut bursts, 100, seconds(1151)), 100);
        bursts.came(99, seconds(1151), seconds(1151));
        // 20 at once, and two for each of the 151 seconds.
        assert_eq!(handled_of(&mut bursts, 300, seconds(1151)), 20 + 2 * 151 - 200);
        bursts.came(99, seconds(1151), seconds(1151));
        assert_eq!(handled_of(&mut bursts, 99, seconds(1151)), 0);
    }

    #[test]
    fn a_process_that_starts_knows_how_long_nothing_was_heard() {
        let day = seconds(24 * 60 * 60);
        for (unheard, at_once) in [
            (None, 20 + 2 * 150),
            (Some(seconds(5)), 20 + 2 * 150),
            (Some(seconds(3600)), 20 + 2 * 3600),
            (Some(day * 365), 20 + 2 * 86_400),
        ] {
            let mut bursts = Bursts::new(seconds(3), unheard);
            bursts.came(100, seconds(3), seconds(3));
            assert_eq!(handled_of(&mut bursts, 200_000, seconds(3)), at_once, "{unheard:?}");
        }
    }

    #[test]
    fn after_too_much_a_maker_rests_for_ten_seconds() {
        let mut bursts = listening(seconds(1000));
        handled_of(&mut bursts, 20, seconds(1000));
        assert_eq!(bursts.verdict(MAREN, seconds(1000)), Verdict::TooMuch);
        bursts.rest(MAREN, seconds(1000));
        assert_eq!(bursts.verdict(MAREN, seconds(1009)), Verdict::Resting);
        bursts.came(1, seconds(1010), seconds(1010));
        assert_eq!(handled_of(&mut bursts, 100, seconds(1010)), 20);
    }

    #[test]
    fn quiet_makers_are_not_remembered_for_ever() {
        let mut bursts = listening(seconds(1000));
        for user in 0..10_000 {
            let now = seconds(1000 + u64::try_from(user).unwrap());
            bursts.came(1, now, now);
            bursts.handled(UserId(user), now);
        }
        assert!(bursts.makers.len() <= 2 * MAKERS_BEFORE_SWEEP, "{}", bursts.makers.len());
    }
}
