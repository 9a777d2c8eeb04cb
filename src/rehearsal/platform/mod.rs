//! What does the platform do with a request, or with what a person does? One value, no network.
//!
//! Everything here is plain and synchronous: the handle locks it, the server in `http` talks for
//! it. Never reads a clock: each call is given its [`Moment`].

mod chats;
mod dice;
mod files;
pub mod methods;
mod people;
mod queue;
mod rates;
mod reading;
mod refusal;
mod state;
mod wire;

use std::collections::{BTreeMap, VecDeque};
use std::time::Duration;

use chrono::{DateTime, Utc};

pub use chats::Person;
pub use people::{Other, TapError};
pub use rates::Limits;
pub use reading::params::{Params, Upload};
pub use refusal::Refusal;
pub use state::Kept;

use super::seen::Seen;
use rates::Rates;
use state::State;

/// The platform as one bot meets it.
pub struct Platform {
    bot_id: i64,
    bot_name: String,
    bot_username: String,
    state: State,
    rates: Rates,
    seen: BTreeMap<i64, VecDeque<Seen>>,
    seen_count: u64,
    newest_poll: u64,
}

/// Now, on both clocks.
#[derive(Clone, Copy)]
pub struct Moment {
    pub wall: DateTime<Utc>,
    pub monotonic: Duration,
}

/// Who the bot is, as `getMe` tells it.
pub struct Bot {
    pub id: i64,
    pub name: String,
    pub username: String,
}

const SEEN_KEPT_PER_CHAT: usize = 5_000;

impl Platform {
    pub fn new(
        bot: Bot,
        limits: Option<Limits>,
        kept: Option<Kept>,
        seed: u64,
        now: Moment,
    ) -> Platform {
        Platform {
            bot_id: bot.id,
            bot_name: bot.name,
            bot_username: bot.username,
            state: kept.map_or_else(|| State::new(seed, now.wall), |kept| kept.0),
            rates: Rates::new(limits),
            seen: BTreeMap::new(),
            seen_count: 0,
            newest_poll: 0,
        }
    }

    pub fn save(&mut self, path: &std::path::Path, now: Moment) -> anyhow::Result<()> {
        self.state.instant = now.wall;
        self.state.save(path)
    }

    /// What was seen in a chat after the event `number`, oldest first.
    pub fn seen_since(&self, chat: i64, number: u64) -> impl Iterator<Item = &Seen> {
        self.seen.get(&chat).into_iter().flat_map(move |seen| {
            let newer = seen.partition_point(|seen| seen.number <= number);
            seen.range(newer..)
        })
    }

    /// How many updates the bot has not confirmed.
    pub fn unconfirmed(&mut self, now: Moment) -> usize {
        self.state.queue.len(now.wall)
    }

    fn show(&mut self, chat: i64, mut seen: Seen) {
        self.seen_count += 1;
        seen.number = self.seen_count;
        let all = self.seen.entry(chat).or_default();
        if all.len() >= SEEN_KEPT_PER_CHAT {
            all.pop_front();
        }
        all.push_back(seen);
    }
}
