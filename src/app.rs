//! Where everything meets: the five steps of the bot. `take` handles one update, `tick` one wake,
//! `claim` marks one waiting message, `request` sends it, `settle` records what became of it.
//!
//! The only file that knows all rooms. The loops of `serve` and the rehearsal only call these.

mod apart;
mod bursts;
mod doorstep;
mod drawing;
mod enclosing;
mod fetching;
mod gate;
mod holds;
mod loops;
mod polling;
mod pulse;
mod recent;
mod said;
mod sending;
mod straight;
mod strangers;
mod sweeping;
mod thought;
mod timekeeper;
mod troubles;
mod wakes;
mod zone_data;

pub use loops::Sent;
pub use said::queued;
pub use sending::Claim;

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use anyhow::Context;
use chrono::{DateTime, Utc};
use serde_json::value::RawValue;
use tokio::sync::Notify;

use self::bursts::Bursts;
use self::gate::Gate;
use self::holds::Holds;
use self::pulse::Pulse;
use self::recent::Recent;
use self::strangers::Strangers;
use self::sweeping::Sweeps;
use self::thought::Thought;
use self::timekeeper::Timekeeper;
use crate::chat::commands::Command;
use crate::chat::event::{BookFile, Event, RepliedTo, UserId};
use crate::chat::lexicon::Lexicon;
use crate::chat::outcome::{Outcome, Reply, Slot};
use crate::chat::say::Say;
use crate::clock::Clock;
use crate::store::{
    Commit, Committed, Create, FailedUpdate, Lock, OutboxId, Reach, Settled, Store, StoreError,
    Stored,
};
use crate::telegram::error::WireError;
use crate::telegram::incoming::{self, Incoming, Kind, UpdateId};
use crate::telegram::pacing::{Pacing, Rates};
use crate::telegram::poll::{self, Me};
use crate::telegram::wire::{Secret, Timeouts, Wire};
use crate::telegram::{ChatId, outgoing};
use crate::wording::en;

/// A commit that was overtaken is made anew from what is kept now.
const OVERTAKEN_MAX: u32 = 5;

/// What the bot is started with.
pub struct Start {
    pub database: PathBuf,
    pub create: Create,
    pub api_url: String,
    pub secret: Secret,
    pub timeouts: Timeouts,
    pub rates: Rates,
    pub clock: Clock,
    /// The system's zone data, where it is to be used once it is newer than the copy built in.
    pub zoneinfo: Option<PathBuf>,
    /// What the host adds to the caution.
    pub local_line: Option<String>,
}

/// The running bot.
pub struct App {
    store: Store,
    wire: Wire,
    clock: Clock,
    zoneinfo: Option<PathBuf>,
    lexicon: Lexicon,
    me: Mutex<Option<Me>>,
    pacing: Arc<Mutex<Pacing>>,
    holds: Mutex<Holds>,
    strangers: Mutex<Strangers>,
    gate: Mutex<Gate>,
    timekeeper: Mutex<Timekeeper>,
    pulse: Pulse,
    bursts: Mutex<Bursts>,
    /// Makers who were told that something is not kept yet.
    not_kept: Mutex<BTreeSet<UserId>>,
    straight: straight::Straight,
    recent: Mutex<Recent>,
    /// Up to where fetching files has used its share of the time, by the monotonic clock.
    fetching: Mutex<Duration>,
    sweeps: Mutex<Sweeps>,
    /// What became of messages, where that could not be kept yet.
    unsettled: Mutex<Vec<(OutboxId, Settled)>>,
    /// Something waits in the outbox.
    stirred: Notify,
    /// A wake may have come nearer.
    woken: Notify,
    /// A message did not go through, and nobody knows whether the platform answers.
    doubted: Notify,
    _lock: Lock,
}

/// Who an update came from.
#[derive(Clone, Copy, PartialEq, Eq)]
enum By {
    /// What was handled was kept.
    Maker,
    /// What was handled before, and changes nothing.
    MakerAgain,
    /// It was left out, since too much came at once.
    MakerInARush,
    /// Anybody else, a group, or nobody.
    Stranger,
}

impl App {
    /// Opens the database, which only one bot at a time may do. Sends nothing yet.
    ///
    /// # Errors
    /// Where the database is held by another process, damaged, or cannot be opened, or the
    /// settings of the wire cannot be used.
    pub async fn open(start: Start) -> anyhow::Result<App> {
        let wire = Wire::new(&start.api_url, start.secret.clone(), start.timeouts)?;
        App::open_over(wire, start).await
    }

    /// The same over a wire that is there already, whatever address `start` names.
    ///
    /// # Errors
    /// Those of [`App::open`].
    pub async fn open_over(wire: Wire, start: Start) -> anyhow::Result<App> {
        if let Some(folder) = &start.zoneinfo {
            zone_data::use_newer(folder);
        }
        let lock = Lock::take(&start.database)?;
        let store = Store::open(&start.database, start.create).await?;
        store.requeue_sending().await?;
        let (heard_at, outage) = store.heard().await?;
        let gate = Gate::new(heard_at, outage);
        let unheard = heard_at.and_then(|at| (start.clock.now() - at).to_std().ok());
        let bursts = Bursts::new(start.clock.monotonic(), unheard);
        if !store.has_owner().await? {
            tracing::info!("no owner yet; `duskrow invite --owner` makes a link for one");
        }
        let pacing = Arc::new(Mutex::new(Pacing::new(start.rates)));
        let straight = straight::Straight::new(wire.clone(), pacing.clone(), start.clock.clone());
        Ok(App {
            store,
            recent: Mutex::default(),
            fetching: Mutex::default(),
            sweeps: Mutex::new(Sweeps::new()),
            straight,
            holds: Mutex::default(),
            wire,
            pulse: Pulse::new(start.database, start.clock.monotonic()),
            clock: start.clock,
            zoneinfo: start.zoneinfo,
            lexicon: Lexicon { local_line: start.local_line, ..en::LEXICON.clone() },
            me: Mutex::new(None),
            pacing,
            strangers: Mutex::new(Strangers::default()),
            gate: Mutex::new(gate),
            timekeeper: Mutex::default(),
            bursts: Mutex::new(bursts),
            not_kept: Mutex::default(),
            unsettled: Mutex::default(),
            stirred: Notify::new(),
            woken: Notify::new(),
            doubted: Notify::new(),
            _lock: lock,
        })
    }

    pub fn store(&self) -> &Store {
        &self.store
    }

    pub fn wire(&self) -> &Wire {
        &self.wire
    }

    /// Learns the bot's own name.
    ///
    /// # Errors
    /// A [`WireError`] of the platform, or a fault of the database.
    pub async fn greet(&self) -> anyhow::Result<()> {
        let (me, date) = poll::me(&self.wire).await?;
        self.told_the_time(date);
        if self.store.set_bot(me.id.0, &me.username).await? {
            tracing::info!("this database was used with another bot before; its messages are new");
        }
        let name = me.username.clone();
        let known = self.me.lock().unwrap_or_else(PoisonError::into_inner).replace(me);
        if known.is_none() {
            tracing::info!(bot = name, "the platform knows this bot");
        }
        self.open_gate();
        Ok(())
    }

    /// Hands the platform the list of commands, which it shows as a menu.
    ///
    /// # Errors
    /// A [`WireError`]; the bot works without a menu.
    pub async fn hand_over_menu(&self) -> Result<(), WireError> {
        let list: Vec<_> = Command::ALL
            .iter()
            .map(|&command| (command.name(), en::description(command)))
            .collect();
        let menu = outgoing::commands(&list);
        self.wire.call(menu.method, &menu.params).await.map(|_| ())
    }

    fn me(&self) -> Me {
        let me = self.me.lock().unwrap_or_else(PoisonError::into_inner).clone();
        me.unwrap_or(Me { id: UserId(0), username: String::new() })
    }

    /// Handles one update: responds, commits, acknowledges. A repeated update changes nothing.
    ///
    /// An update that meets the same fault however often it is taken is set aside, since all that
    /// came after it would wait for ever.
    ///
    /// # Errors
    /// A fault of the database that may pass; then nothing of the update was kept, and it may be
    /// taken again.
    pub async fn take(&self, raw: &RawValue) -> anyhow::Result<()> {
        let incoming = incoming::read(raw, &self.me());
        let Some(update) = incoming.update else {
            tracing::warn!("an update without a number was left out");
            return Ok(());
        };
        let by = match self.taken(&incoming, update, raw).await {
            Ok(by) => by,
            Err(fault) if may_pass(&fault) => {
                self.say_not_kept_yet(incoming.from).await;
                return Err(fault);
            }
            Err(fault) => {
                let fault = format!("{fault:#}");
                tracing::error!(update = update.0, fault, "an update failed");
                let known = match incoming.from {
                    Some(user) => self.store.load(user).await.ok().flatten(),
                    None => None,
                };
                self.set_aside(update, known.as_ref(), "failed", raw).await?
            }
        };
        if by == By::Maker {
            // The disk took something: what it does not take from here on is news.
            self.not_kept().clear();
            if let Some(user) = incoming.from {
                self.bursts().handled(user, self.clock.monotonic());
                self.holds().acted(ChatId::from(user));
            }
        }
        self.answer_tap(&incoming, by);
        self.stirred.notify_one();
        self.woken.notify_one();
        Ok(())
    }

    /// A tap waits for an answer of its own. Acknowledged is what was kept, or changed nothing.
    fn answer_tap(&self, incoming: &Incoming, by: By) {
        let Some(query) = &incoming.query else { return };
        match (by, incoming.from) {
            (By::Maker | By::MakerAgain, _) => self.straight.acknowledge(query),
            (By::MakerInARush, Some(user)) => self.say_tap_not_kept(user, query),
            (By::Stranger, _) if self.stranger_may_tap() => self.straight.acknowledge(query),
            (By::MakerInARush, None) | (By::Stranger, _) => {}
        }
    }

    /// Each maker hears once, while the database cannot keep anything, that the bot tries again.
    async fn say_not_kept_yet(&self, user: Option<UserId>) {
        let Some(user) = user else { return };
        let maker = matches!(self.store.load(user).await, Ok(Some(_)));
        if maker && self.not_kept().insert(user) {
            self.say_straight(ChatId::from(user), &Reply::new(Say::NotKeptYet));
        }
    }

    fn not_kept(&self) -> MutexGuard<'_, BTreeSet<UserId>> {
        self.not_kept.lock().unwrap_or_else(PoisonError::into_inner)
    }

    async fn taken(
        &self,
        incoming: &Incoming,
        update: UpdateId,
        raw: &RawValue,
    ) -> anyhow::Result<By> {
        match &incoming.kind {
            Kind::Ignored => Ok(By::Stranger),
            Kind::Group { chat, addressed } => {
                if *addressed && self.stranger_may_be_answered(UserId(chat.0)) {
                    self.say_straight(*chat, &Reply::new(Say::OnlyPrivate));
                }
                Ok(By::Stranger)
            }
            Kind::Unparsed(why) => {
                let known = match incoming.from {
                    Some(user) => self.store.load(user).await?,
                    None => None,
                };
                if let Some(stored) = &known
                    && let Some(by) = self.leave_out(stored.user, update, None).await?
                {
                    return Ok(by);
                }
                tracing::warn!(update = update.0, ?why, "an update could not be read");
                self.set_aside(update, known.as_ref(), "unreadable", raw).await
            }
            Kind::Private(event) => {
                let Some(user) = incoming.from else { return Ok(By::Stranger) };
                self.handle(user, update, event).await
            }
        }
    }

    async fn handle(&self, user: UserId, update: UpdateId, event: &Event) -> anyhow::Result<By> {
        if let Some(by) = self.leave_out(user, update, Some(event)).await? {
            return Ok(by);
        }
        let mut fetched = None;
        for _ in 0..OVERTAKEN_MAX {
            let Some(stored) = self.store.load(user).await? else {
                self.answer_the_door(user, update, event).await?;
                return Ok(By::Stranger);
            };
            let now = self.now();
            let event = &self.in_context(&stored, update, event, &mut fetched).await?;
            let thought = Thought::of_event(&stored.maker, now, event, &self.lexicon)?;
            if thought.outcome.erases {
                return self.erase(&stored, update, &thought.outcome).await;
            }
            let code = match thought.outcome.invites {
                true => self.invitation_for(update).await?,
                false => None,
            };
            let reach = match event.as_ref() {
                Event::Blocked => Reach::Unreachable,
                _ => Reach::Reachable,
            };
            match self.commit(&stored, Some(update), &thought, Some(reach), now).await? {
                Committed::Done => {
                    self.has_let_go(&stored, &thought.outcome.changes);
                    if let Some(code) = code {
                        self.hand_over(ChatId(stored.chat_id.0), &code);
                    }
                    return Ok(By::Maker);
                }
                Committed::SeenBefore => return Ok(By::MakerAgain),
                Committed::Overtaken => {}
            }
        }
        Err(StoreError::Busy).context("an update was overtaken again and again")
    }

    /// A reply on the platform names a message; the store knows which day that message is about. A
    /// file is named by an id; the platform has what is in it.
    async fn in_context<'a>(
        &self,
        stored: &Stored,
        update: UpdateId,
        event: &'a Event,
        fetched: &mut Option<BookFile>,
    ) -> anyhow::Result<Cow<'a, Event>> {
        if let Some(with_file) = self.fetched(stored, update, event, fetched).await? {
            return Ok(Cow::Owned(with_file));
        }
        let Event::Typed { text, message, reply_to: Some(RepliedTo::Message(replied)) } = event
        else {
            return Ok(Cow::Borrowed(event));
        };
        let slot = self.store.slot_of(stored.id, *replied).await?;
        let day = slot.and_then(|slot| Slot::day_of(&slot));
        let reply_to = day.map(RepliedTo::Day).or(Some(RepliedTo::Message(*replied)));
        Ok(Cow::Owned(Event::Typed { text: text.clone(), message: *message, reply_to }))
    }

    async fn commit(
        &self,
        stored: &Stored,
        update: Option<UpdateId>,
        thought: &Thought,
        reach: Option<Reach>,
        now: DateTime<Utc>,
    ) -> anyhow::Result<Committed> {
        let commit = Commit {
            update: update.map(|update| update.0),
            maker: stored.id,
            expected_revision: stored.revision,
            changes: &thought.outcome.changes,
            talk: &thought.outcome.talk,
            queue: &thought.queue,
            reach,
            wakes_at: thought.wake.map(|(at, _)| at),
            now,
        };
        self.store.commit(commit).await.context("cannot keep what happened")
    }

    async fn erase(
        &self,
        stored: &Stored,
        update: UpdateId,
        outcome: &Outcome,
    ) -> anyhow::Result<By> {
        match self.store.erase(stored.id, update.0, self.now()).await {
            Ok(true) => {}
            Ok(false) => return Ok(By::MakerAgain),
            Err(error) => {
                if self.store.load_by_id(stored.id).await?.is_some() {
                    return Err(error.into());
                }
                // The maker is gone from the tables; what is left of the sweeping is done soon.
                tracing::warn!(%error, "an erasing is finished later");
                self.wants_sweep();
            }
        }
        self.recent().forget(stored.id);
        self.holds().forget(ChatId(stored.chat_id.0));
        tracing::info!(maker = stored.id.0, "a maker's data was erased");
        for reply in &outcome.replies {
            self.say_straight(ChatId(stored.chat_id.0), reply);
        }
        Ok(By::Maker)
    }

    /// An update that could not be handled is kept for the host, if a known maker sent it, and the
    /// maker is told so once.
    async fn set_aside(
        &self,
        update: UpdateId,
        known: Option<&Stored>,
        kind: &str,
        raw: &RawValue,
    ) -> anyhow::Result<By> {
        let now = self.now();
        if self.store.seen(update.0).await? {
            return Ok(if known.is_some() { By::MakerAgain } else { By::Stranger });
        }
        let code = straight::fault_code()?;
        let failed = FailedUpdate {
            update: update.0,
            maker: known.map(|stored| stored.id),
            kind,
            raw: known.map(|_| raw.get()),
            code: &code,
        };
        self.store.fail_update(failed, now).await?;
        tracing::error!(update = update.0, code, "an update was set aside");
        let Some(stored) = known else { return Ok(By::Stranger) };
        self.say_straight(ChatId(stored.chat_id.0), &Reply::new(Say::Fault { code }));
        Ok(By::Maker)
    }

    /// Sends a reply now, or never. It does not wait for its turn, but it counts: the platform
    /// counts it too.
    pub(super) fn say_straight(&self, chat: ChatId, reply: &Reply) {
        let now = self.clock.monotonic();
        self.pacing().took(chat, now);
        self.straight.say(chat, reply);
    }

    /// Waits until what was sent straight has been answered or given up.
    pub async fn settle_straight(&self) {
        self.straight.drain().await;
    }
}

/// Whether the same step may succeed later, with nothing changed but the disk.
fn may_pass(fault: &anyhow::Error) -> bool {
    fault.downcast_ref::<StoreError>().is_some_and(StoreError::may_pass)
}
