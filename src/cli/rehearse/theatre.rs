//! The bot on a stage: the same steps as in `serve`, over real HTTP against the stand-in, with a
//! clock that is turned by hand and everything on one thread, one after the other.

use std::path::Path;
use std::time::Duration;

use anyhow::{Context, Result, ensure};
use chrono::{DateTime, FixedOffset, NaiveDateTime, TimeDelta, Utc};
use chrono_tz::Tz;

use super::demo;
use crate::app::{App, Sent, Start};
use crate::blanket::calendar::{self, zone_data};
use crate::blanket::{Book, Change};
use crate::chat::event::{MessageId, UserId};
use crate::chat::{self, door};
use crate::clock::Clock;
use crate::rehearsal::player::Stage;
use crate::rehearsal::{Person, StandIn, TOKEN};
use crate::store::{ChatId, Commit, Committed, Create, Join, Joined};
use crate::telegram::pacing::Rates;
use crate::telegram::poll::Poller;
use crate::telegram::wire::{Secret, Timeouts};
use crate::wording::en;

/// The maker of a rehearsal, invented.
pub const MAREN: i64 = 1001;
pub const NAME: &str = "Maren";

/// Polls in a row that may find something new: more is a loop that feeds itself.
const ROUNDS_MAX: u32 = 10_000;
/// The clock is not turned for a message that must wait longer than this.
const PACING_MAX: Duration = Duration::from_secs(120);

pub struct Theatre {
    pub app: App,
    pub stand_in: StandIn,
    pub clock: Clock,
    poller: Poller,
    /// Before the maker has a zone of their own.
    zone: Tz,
    /// Whose evening is rehearsed.
    facing: i64,
    /// Their calendar.
    hours: Option<calendar::Hours>,
}

impl Theatre {
    /// Opens the bot on a database, with the stand-in as its platform.
    ///
    /// # Errors
    /// Where the database or the stand-in cannot be opened.
    pub async fn open(database: &Path, stand_in: StandIn, clock: Clock) -> Result<Theatre> {
        let start = Start {
            database: database.to_owned(),
            create: Create::IfMissing,
            api_url: stand_in.url(),
            secret: Secret::new(TOKEN),
            timeouts: Timeouts { poll_wait: Duration::ZERO, ..Timeouts::default() },
            rates: Rates::default(),
            clock: clock.clone(),
            zoneinfo: None,
            local_line: None,
        };
        let app = App::open(start).await?;
        app.greet().await?;
        app.hand_over_menu().await?;
        let (poller, zone) = (Poller::new(), demo::ZONE);
        let mut theatre =
            Theatre { app, stand_in, clock, poller, zone, facing: MAREN, hours: None };
        theatre.look().await?;
        Ok(theatre)
    }

    /// Puts a maker with a whole book into the database, without a conversation.
    ///
    /// # Errors
    /// A fault of the database.
    pub async fn settle_in(&mut self, user: i64, changes: &[Change]) -> Result<()> {
        self.stand_in.introduce_with_chat(Person::new(user, NAME));
        let now = self.clock.now();
        let store = self.app.store();
        let code = store.invite(true, TimeDelta::hours(1), now).await?;
        let (mut talk, _) = door::joined(MessageId(0), &en::LEXICON);
        talk.step = chat::talk::Step::Idle;
        let join = Join {
            update: -user,
            user: UserId(user),
            chat_id: ChatId(user),
            code: code.as_str(),
            talk: &talk,
            queue: &[],
            now,
        };
        let joined = store.join(join).await?;
        ensure!(matches!(joined, Joined::Joined(_)), "the maker was there before");
        let stored = store.load(UserId(user)).await?.context("the maker is not there")?;
        let mut maker = stored.maker.clone();
        for change in changes {
            crate::blanket::apply(&mut maker.book, change);
        }
        let committed = store.commit(Commit {
            update: None,
            maker: stored.id,
            expected_revision: stored.revision,
            changes,
            talk: &talk,
            queue: &[],
            reach: None,
            wakes_at: chat::agenda(&maker, now).map(|(at, _)| at),
            now,
        });
        ensure!(committed.await? == Committed::Done, "the maker changed meanwhile");
        self.look().await
    }

    /// The book of a maker, as it is kept.
    ///
    /// # Errors
    /// A fault of the database.
    pub async fn book(&self, user: i64) -> Result<Option<Book>> {
        Ok(self.app.store().load(UserId(user)).await?.and_then(|stored| stored.maker.book))
    }

    /// Takes every update that waits and sends everything that may go, until nothing is left. A
    /// message that must keep its distance turns the clock by as much.
    async fn run(&mut self) -> Result<()> {
        for _ in 0..ROUNDS_MAX {
            self.app.poll_once(&mut self.poller).await?;
            self.app.settle_straight().await;
            let woken = self.app.tick().await?;
            let sent = self.send_all().await?;
            if woken == 0 && !sent && self.stand_in.unconfirmed_updates() == 0 {
                return self.look().await;
            }
        }
        anyhow::bail!("the bot does not come to rest")
    }

    async fn send_all(&mut self) -> Result<bool> {
        let mut any = false;
        loop {
            match self.app.send_once().await? {
                Sent::Nothing => return Ok(any),
                Sent::Settled(_) | Sent::PutOff => any = true,
                Sent::Wait(wait) => {
                    ensure!(wait <= PACING_MAX, "a message must wait {wait:?}");
                    self.clock.turn_to(self.clock.now() + TimeDelta::from_std(wait)?);
                }
            }
        }
    }

    async fn look(&mut self) -> Result<()> {
        self.hours = self.book(self.facing).await?.map(|book| *book.hours());
        Ok(())
    }

    /// All the while a poll hangs open, as it would in `serve`.
    fn turn_hands(&self, at: DateTime<Utc>) {
        self.clock.turn_to(at);
        self.app.line_was_open();
    }

    fn zone(&self) -> Tz {
        self.hours.map_or(self.zone, |hours| hours.zone)
    }
}

impl Stage for Theatre {
    async fn settle(&mut self) -> Result<()> {
        self.run().await
    }

    /// Wake by wake, each time until the bot has come to rest.
    async fn turn_to(&mut self, at: DateTime<Utc>) -> Result<()> {
        loop {
            self.run().await?;
            match self.app.next_wake().await? {
                Some(wake) if wake <= at => self.turn_hands(wake),
                Some(_) | None => break,
            }
        }
        self.turn_hands(at);
        self.run().await
    }

    fn local(&self, at: DateTime<Utc>) -> DateTime<FixedOffset> {
        at.with_timezone(&zone_data().offset(self.zone(), at))
    }

    fn instant(&self, local: NaiveDateTime) -> DateTime<Utc> {
        calendar::instant(self.zone(), local)
    }

    async fn turn_towards(&mut self, user: i64) -> Result<()> {
        self.facing = user;
        self.look().await
    }

    /// Maren is the owner; others are invited by her.
    async fn invitation(&mut self, user: i64, text: &str) -> Result<Option<String>> {
        let known = self.app.store().load(UserId(MAREN)).await?.is_some();
        if user != MAREN || text != "/start" || known {
            return Ok(None);
        }
        let code = self.app.store().invite(true, TimeDelta::hours(1), self.clock.now()).await?;
        Ok(Some(code.as_str().to_owned()))
    }

    fn next_evening(&self) -> DateTime<Utc> {
        let now = self.clock.now();
        let hours = self.hours.unwrap_or_else(|| demo::hours(self.zone));
        let mut day = hours.day_at(now);
        loop {
            let at = hours.question_due(day);
            if at > now && hours.day_exists(day) {
                return at;
            }
            day = day.succ_opt().unwrap_or(day);
        }
    }
}
