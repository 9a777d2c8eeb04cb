//! Which troubles are worth a line in the log? Each kind once, and again after a while, so that a
//! night without a network is a few lines.

use std::collections::BTreeMap;
use std::time::Duration;

const SAID_AGAIN_AFTER: Duration = Duration::from_secs(60 * 60);

/// When each kind of trouble was last said, by the monotonic clock.
#[derive(Default)]
pub struct Troubles {
    said: BTreeMap<&'static str, Duration>,
    /// Something was said since the last good end.
    open: bool,
}

impl Troubles {
    /// Whether this kind of trouble is to be said now; if so, it counts as said.
    pub fn are_news(&mut self, kind: &'static str, now: Duration) -> bool {
        let news = self.said.get(kind).is_none_or(|said| now >= *said + SAID_AGAIN_AFTER);
        if news {
            self.said.insert(kind, now);
            self.open = true;
        }
        news
    }

    /// All went well: whether a trouble was said that is over now. Two bots that get in each
    /// other's way fail and succeed in turns; what was said of that stays said.
    pub fn are_over(&mut self) -> bool {
        std::mem::take(&mut self.open)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_trouble_is_said_once_an_hour_and_its_end_once() {
        let mut troubles = Troubles::default();
        let minute = Duration::from_secs(60);
        assert!(!troubles.are_over());
        assert!(troubles.are_news("conflict", minute));
        assert!(!troubles.are_news("conflict", minute * 2));
        assert!(troubles.are_news("poll", minute * 2));
        assert!(troubles.are_over());
        assert!(!troubles.are_over());
        assert!(!troubles.are_news("conflict", minute * 60));
        assert!(!troubles.are_over(), "nothing was said that could be over");
        assert!(troubles.are_news("conflict", minute * 61));
    }
}
