//! The bot as `serve` runs it, all its loops at once, on a clock that is turned from one sleeper
//! to the next: hours of them in a second. Nothing here waits in real time.

mod clocks;
mod files;
mod outage;
mod thousand;

use chrono::{DateTime, NaiveDateTime, NaiveTime, Utc};
use duskrow::app::{App, Start};
use duskrow::blanket::{Change, Hours, calendar};
use duskrow::cli::rehearse::demo;
use duskrow::clock::Clock;
use duskrow::rehearsal::{Logged, Seen, SeenKind, Speaker, StandIn, TOKEN};
use duskrow::store::Create;
use duskrow::telegram::pacing::Rates;
use duskrow::telegram::wire::{Secret, Timeouts};
use tempfile::TempDir;

use crate::world::World;

/// All loops of `serve`: one polls, one wakes, one sends, one looks at the rules.
const LOOPS: usize = 4;

/// Looks at a bot that rests and seems to poll, before the wait is in vain.
const LOOKS_MAX: usize = 3_000;

/// All that is to do now is done.
struct Rest {
    /// When the first of those who sleep wakes.
    until: DateTime<Utc>,
    /// A poll hangs open.
    polls: bool,
}

struct Serving {
    app: App,
    clock: Clock,
    stand_in: StandIn,
    _folder: TempDir,
}

impl Serving {
    /// Makers whose blankets began on this local day in Lisbon, each with their hours.
    async fn new(local: &str, makers: impl Iterator<Item = (i64, Hours)>) -> Serving {
        let mut world = World::new(local).await;
        let first_day = world.theatre.clock.now().date_naive();
        for (user, hours) in makers {
            let mut beginning = demo::beginning_on(first_day);
            beginning.hours = hours;
            world.theatre.settle_in(user, &[Change::Began(Box::new(beginning))]).await.unwrap();
        }
        let World { theatre, stand_in, folder, .. } = world;
        let clock = theatre.clock.clone();
        drop(theatre);
        let start = Start {
            database: folder.path().join("duskrow.db"),
            create: Create::Never,
            api_url: stand_in.url(),
            secret: Secret::new(TOKEN),
            timeouts: Timeouts::default(),
            rates: Rates::default(),
            clock: clock.clone(),
            zoneinfo: None,
            local_line: None,
        };
        Serving { app: App::open(start).await.unwrap(), clock, stand_in, _folder: folder }
    }

    /// What happens while the bot is served.
    async fn during<T>(&self, story: impl Future<Output = T>) -> T {
        tokio::select! {
            ended = self.app.serve(std::future::pending()) => panic!("it ended: {ended:?}"),
            told = story => told,
        }
    }

    /// Turns the clock, sleeper by sleeper, up to this local time in Lisbon. How many instants
    /// somebody slept until.
    async fn turn_to(&self, local: &str) -> usize {
        let at = instant(local);
        let mut turns = 0;
        loop {
            let rest = self.rests().await;
            turns += 1;
            self.clock.turn_to(rest.until.min(at));
            if rest.polls {
                self.app.line_was_open();
            }
            if rest.until >= at {
                self.rests().await;
                return turns;
            }
        }
    }

    /// Waits until each loop waits for the clock, or the poller for the platform.
    async fn rests(&self) -> Rest {
        let mut rest = self.rests_now().await;
        // A loop that was stirred counts as asleep until it has had its turn.
        for _ in 0..4 {
            tokio::task::yield_now().await;
            rest = self.rests_now().await;
        }
        rest
    }

    async fn rests_now(&self) -> Rest {
        // The poller sleeps too while it waits for the platform: a poll is given up some time.
        for _ in 0..LOOKS_MAX {
            let until = self.clock.asleep(LOOPS).await;
            if !self.app.hears() {
                return Rest { until, polls: false };
            }
            // A platform that just stopped is not heard any more in a moment.
            tokio::select! {
                () = self.stand_in.drained() => return Rest { until, polls: true },
                () = tokio::time::sleep(std::time::Duration::from_millis(10)) => {}
            }
        }
        panic!("all loops sleep, and the bot takes a platform for there that it cannot poll");
    }

    /// The new messages the bot sent to one maker: local time in Lisbon, and the first line.
    fn said_to(&self, user: i64) -> Vec<(String, String)> {
        let seen = self.stand_in.seen_by(user).into_iter();
        let said = seen.filter(|seen| seen.from == Speaker::Bot && seen.kind == SeenKind::Message);
        let told = |seen: Seen| {
            let at = calendar::local(demo::ZONE, seen.at).format("%Y-%m-%d %H:%M");
            (at.to_string(), seen.text.lines().next().unwrap_or_default().to_owned())
        };
        said.map(told).collect()
    }

    /// How often the platform was asked for this.
    fn requests(&self, method: &str) -> usize {
        self.stand_in.requests().iter().filter(|asked| asked.method == method).count()
    }

    /// Requests the platform answered with this code.
    fn answered(&self, method: &str, code: u16) -> Vec<Logged> {
        let fits = |asked: &Logged| asked.method == method && asked.status == Some(code);
        self.stand_in.requests().into_iter().filter(fits).collect()
    }
}

/// A local time in Lisbon, with seconds.
fn instant(local: &str) -> DateTime<Utc> {
    let local = NaiveDateTime::parse_from_str(local, "%Y-%m-%d %H:%M:%S").unwrap();
    calendar::instant(demo::ZONE, local)
}

/// Hours in Lisbon: when a maker is asked, and when their day turns.
fn hours(ask_at: &str, day_turns_at: &str) -> Hours {
    let time = |text| NaiveTime::parse_from_str(text, "%H:%M").unwrap();
    Hours { zone: demo::ZONE, ask_at: time(ask_at), day_turns_at: time(day_turns_at) }
}
