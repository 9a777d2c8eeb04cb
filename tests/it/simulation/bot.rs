//! The bot's five steps and its polls, in an order drawn by the seed, with crashes between them.

use std::collections::VecDeque;

use chrono::TimeDelta;
use duskrow::app::{App, Claim, Start};
use duskrow::chat::event::MessageId;
use duskrow::rehearsal::TOKEN;
use duskrow::store::{Claimed, Create, Lane, Settled};
use duskrow::telegram::error::Class;
use duskrow::telegram::error::WireError;
use duskrow::telegram::pacing::Rates;
use duskrow::telegram::poll::{Batch, Poller};
use duskrow::telegram::wire::{Secret, Timeouts};
use serde_json::value::RawValue;
use sqlx::ConnectOptions as _;
use sqlx::sqlite::SqliteConnectOptions;

use super::eyes;
use super::sim::{Sim, What};
use super::weather::End;

/// More steps than this at one instant are a loop that feeds itself.
const STEPS_MAX: u32 = 3000;
/// The clock is not turned on for a message that must wait longer than this.
const WAIT_MAX: TimeDelta = TimeDelta::seconds(120);

/// A process that runs.
pub struct Bot {
    pub app: App,
    poller: Poller,
    greeted: bool,
    batch: Option<(Batch, VecDeque<Box<RawValue>>)>,
    sending: Option<Sending>,
}

struct Sending {
    claimed: Box<Claimed>,
    came: Option<Result<Option<MessageId>, WireError>>,
}

/// Steps that found nothing to do since something last happened that they could act on.
#[derive(Default)]
struct Idle {
    poll: bool,
    tick: bool,
    send: bool,
}

#[derive(Clone, Copy)]
enum Step {
    Poll,
    Take,
    Tick,
    Send,
}

/// What the bot could do now; what is there twice is drawn more often.
fn steps(bot: &Bot, idle: &Idle) -> Vec<Step> {
    let mut steps = Vec::new();
    match &bot.batch {
        Some(_) => steps.extend([Step::Take, Step::Take]),
        None if !idle.poll => steps.push(Step::Poll),
        None => {}
    }
    if !idle.tick {
        steps.push(Step::Tick);
    }
    if !idle.send || bot.sending.is_some() {
        steps.extend([Step::Send, Step::Send]);
    }
    steps
}

impl Sim {
    /// A process starts, unless one runs.
    pub async fn start(&mut self) {
        if self.bot.is_some() {
            return;
        }
        let start = Start {
            database: self.folder.path().join("duskrow.db"),
            create: Create::IfMissing,
            api_url: "http://127.0.0.1:1".to_owned(),
            secret: Secret::new(TOKEN),
            timeouts: Timeouts::default(),
            rates: Rates::default(),
            clock: self.clock.clone(),
            zoneinfo: None,
            local_line: None,
        };
        let app = match App::open_over(self.wire.clone(), start).await {
            Ok(app) => app,
            Err(why) => self.fail(&format!("the bot does not start: {why:#}")),
        };
        self.tell("starts".to_owned());
        if self.eyes.is_none() {
            let database = self.folder.path().join("duskrow.db");
            let eyes = SqliteConnectOptions::new().filename(database).read_only(true);
            self.eyes = Some(eyes.connect().await.unwrap());
        }
        let (poller, greeted, batch, sending) = (Poller::new(), false, None, None);
        self.bot = Some(Bot { app, poller, greeted, batch, sending });
    }

    /// The process ends where it stands, and starts again at once or later.
    async fn crash(&mut self) {
        let Some(bot) = self.bot.take() else { return };
        let Bot { app, sending, .. } = bot;
        match sending {
            // It arrived, and nobody wrote that down.
            Some(Sending { claimed, came: Some(Ok(_)) }) => {
                self.may_repeat(claimed.chat_id.0, &claimed.params);
            }
            // It was refused, and nobody wrote that down.
            Some(Sending { claimed, came: Some(Err(why)) })
                if why.class() == Class::Unreachable =>
            {
                let maker = self.maker(claimed.chat_id.0);
                maker.refusals = maker.refusals.saturating_sub(1);
            }
            Some(Sending { .. }) | None => {}
        }
        drop(app);
        self.tell("crashes".to_owned());
        match self.dice.permille(800) {
            true => self.start().await,
            false => {
                let minutes = self.dice.between(1, 400);
                self.plan(TimeDelta::minutes(minutes), What::Starts);
            }
        }
    }

    /// The bot comes to rest, step by step. A step that found nothing to do leaves everything as
    /// it was, so a crash after it is the crash before it, and is drawn once.
    pub async fn burst(&mut self) {
        let mut idle = Idle::default();
        let mut may_crash = true;
        for _ in 0..STEPS_MAX {
            let Some(bot) = &self.bot else { return };
            let steps = steps(bot, &idle);
            if steps.is_empty() {
                return;
            }
            if may_crash && self.dice.permille(self.crashes_permille) {
                self.crash().await;
                idle = Idle::default();
                continue;
            }
            let step = self.dice.one_of(&steps);
            may_crash = self.step(step, &mut idle).await;
            self.look_at_what_came();
        }
        self.fail("the bot does not come to rest");
    }

    /// Whether something came of it.
    async fn step(&mut self, step: Step, idle: &mut Idle) -> bool {
        match step {
            Step::Poll => {
                let held_still = self.holds_still();
                idle.poll = self.poll().await;
                if held_still && !self.holds_still() {
                    (idle.tick, idle.send) = (false, false);
                }
                !idle.poll
            }
            Step::Take => {
                self.take_next().await;
                (idle.tick, idle.send) = (false, false);
                true
            }
            Step::Tick => {
                idle.tick = self.tick().await;
                idle.send &= idle.tick;
                !idle.tick
            }
            Step::Send => {
                let before = self.world.now();
                idle.send = self.send().await;
                // Time went by for a message that had to wait.
                idle.tick &= self.world.now() == before;
                idle.poll &= !std::mem::take(&mut self.in_doubt);
                !idle.send
            }
        }
    }

    fn holds_still(&self) -> bool {
        self.bot.as_ref().is_none_or(|bot| bot.app.holds_still())
    }

    /// Whether nothing came of it.
    async fn poll(&mut self) -> bool {
        let clear = self.weather.is_clear();
        if self.poll_hangs && !clear {
            self.poll_hangs = self.dice.permille(800);
            return true;
        }
        let bot = self.bot.as_mut().unwrap();
        if !bot.greeted {
            bot.greeted = bot.app.greet().await.is_ok();
            let said = format!("greets: {}", bot.greeted);
            let again = clear || bot.greeted;
            self.tell(said);
            return !again;
        }
        match bot.app.fetch(&mut bot.poller).await {
            Err(error) => {
                self.tell(format!("polls: {error}"));
                !clear
            }
            Ok(batch) if batch.updates.is_empty() => {
                self.tell("polls".to_owned());
                true
            }
            Ok(batch) => {
                let mut updates: VecDeque<_> = batch.updates.iter().cloned().collect();
                let said = format!("polls: {} updates", updates.len());
                bot.batch = None;
                if self.dice.permille(100) {
                    let turned = self.dice.below(updates.len() as u64);
                    updates.rotate_left(usize::try_from(turned).unwrap());
                }
                if let Some((_, old)) = self.some_old_update() {
                    updates.push_front(RawValue::from_string(old).unwrap());
                }
                self.bot.as_mut().unwrap().batch = Some((batch, updates));
                self.tell(said);
                false
            }
        }
    }

    /// An update of the last two days, once more.
    fn some_old_update(&mut self) -> Option<(chrono::DateTime<chrono::Utc>, String)> {
        let since = self.world.now() - TimeDelta::days(2);
        while self.old.front().is_some_and(|(at, _)| *at < since) {
            self.old.pop_front();
        }
        if self.old.is_empty() || !self.dice.permille(150) {
            return None;
        }
        let index = self.dice.below(self.old.len() as u64);
        self.old.get(usize::try_from(index).unwrap()).cloned()
    }

    async fn take_next(&mut self) {
        let bot = self.bot.as_mut().unwrap();
        let Some((batch, updates)) = &mut bot.batch else { return };
        let Some(raw) = updates.pop_front() else {
            bot.poller.confirm(batch);
            bot.batch = None;
            self.tell("confirms".to_owned());
            return;
        };
        let taken = bot.app.take(&raw).await;
        bot.app.settle_straight().await;
        if let Err(why) = taken {
            self.fail(&format!("an update is not taken: {why:#}"));
        }
        self.has_taken(&raw).await;
        if self.dice.permille(30) {
            let bot = self.bot.as_mut().unwrap();
            if let Some((_, updates)) = &mut bot.batch {
                updates.push_front(raw);
            }
        }
    }

    async fn tick(&mut self) -> bool {
        let woken = self.bot.as_ref().unwrap().app.tick().await;
        match woken {
            Ok(0) => true,
            Ok(count) => {
                self.tell(format!("ticks: {count}"));
                false
            }
            Err(why) => self.fail(&format!("a tick fails: {why:#}")),
        }
    }

    /// One of the three steps that send.
    async fn send(&mut self) -> bool {
        let bot = self.bot.as_mut().unwrap();
        match bot.sending.take() {
            None => match bot.app.claim().await {
                Err(why) => self.fail(&format!("nothing can be claimed: {why:#}")),
                Ok(Claim::Nothing) => true,
                Ok(Claim::Wait(until)) => {
                    let wait = until.saturating_sub(self.clock.monotonic());
                    let wait = TimeDelta::from_std(wait).unwrap() + TimeDelta::milliseconds(1);
                    if wait <= WAIT_MAX {
                        self.pass(wait);
                    }
                    wait > WAIT_MAX
                }
                Ok(Claim::Message(claimed)) => {
                    self.tell(format!("claims {} for {}", claimed.id.0, claimed.chat_id.0));
                    self.check_order(&claimed);
                    self.unasked = claimed.lane == Lane::Unasked;
                    let sending = Sending { claimed, came: None };
                    self.bot.as_mut().unwrap().sending = Some(sending);
                    false
                }
            },
            Some(Sending { claimed, came: None }) => {
                let came = bot.app.request(&claimed).await;
                let said = format!("requests {}: {:?}", claimed.id.0, came.as_ref().err());
                bot.sending = Some(Sending { claimed, came: Some(came) });
                self.tell(said);
                false
            }
            Some(Sending { claimed, came: Some(came) }) => {
                let settled = bot.app.settle(&claimed, came).await;
                self.has_settled(&claimed, settled).await;
                false
            }
        }
    }

    async fn has_settled(&mut self, claimed: &Claimed, settled: anyhow::Result<Settled>) {
        match settled {
            Err(why) => self.fail(&format!("nothing can be settled: {why:#}")),
            Ok(Settled::Drop) => {
                self.fail(&format!("a message is dropped: {}", claimed.params));
            }
            Ok(settled) => {
                self.tell(format!("settles {}: {settled:?}", claimed.id.0));
                self.in_doubt = matches!(settled, Settled::Unclear | Settled::Retry);
                if settled == Settled::Unclear {
                    *self.unclear.entry(claimed.id.0).or_default() += 1;
                    if !eyes::waits(self.eyes.as_mut().unwrap(), claimed.id.0).await {
                        self.was_lost(claimed);
                    }
                }
            }
        }
    }

    /// What the requests of the last step mean for people.
    fn look_at_what_came(&mut self) {
        let asked = self.weather.asked();
        let mut chats: Vec<i64> = Vec::new();
        for asked in asked {
            if let Some(query) = &asked.query
                && asked.end == End::Answered(200)
                && !self.queries_taken.contains(query)
            {
                self.fail("a tap is acknowledged that was not taken");
            }
            self.has_asked(&asked);
            if self.makers.contains_key(&asked.chat) && !chats.contains(&asked.chat) {
                chats.push(asked.chat);
            }
        }
        for user in chats {
            self.sees(user);
        }
    }
}
