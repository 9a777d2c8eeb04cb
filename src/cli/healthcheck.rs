//! `duskrow healthcheck`: does the bot of this data folder work? Exit code 0 and no word while
//! polling and ticking are fresh, else 1 and one sentence. Never talks to the platform or to the
//! bot, and never opens the database.

use chrono::{DateTime, Utc};

use super::database::DATABASE;
use super::{Exit, Stop};
use crate::clock::Clock;
use crate::config::Options;
use crate::store::{Freshness, Stale};

/// Looks at the record the running bot keeps beside its database.
pub fn run(options: &Options) -> anyhow::Result<()> {
    let now = Clock::real().now();
    let trouble = match Freshness::read(&options.data.join(DATABASE)) {
        Ok(Some(freshness)) => freshness.stale(now).map(|stale| sentence(stale, now)),
        Ok(None) => Some(format!("no bot runs in {}", options.data.display())),
        Err(error) => Some(format!("the record of the bot cannot be read: {error}")),
    };
    let Some(message) = trouble else { return Ok(()) };
    // Container runtimes know 0 and 1 alone.
    Err(Stop { exit: Exit::Failure, message, hints: Vec::new() }.into())
}

fn sentence(stale: Stale, now: DateTime<Utc>) -> String {
    let ago = |at: DateTime<Utc>| {
        let seconds = (now - at).num_seconds();
        format!("{}, {seconds} seconds ago", at.format("%Y-%m-%d %H:%M:%S UTC"))
    };
    match stale {
        Stale::Polling(Some(at)) => format!("the last poll ended at {}", ago(at)),
        Stale::Polling(None) => "no poll has ended since the bot started".to_owned(),
        Stale::Ticking(Some(at)) => format!("the bot last looked at what is due at {}", ago(at)),
        Stale::Ticking(None) => "the bot has not looked at what is due yet".to_owned(),
    }
}
