//! The stand-in itself: started, stopped, broken on purpose, looked into, kept.
//!
//! What a person can do with it is in `person`. Cheap to clone; the last clone dropped ends it.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use anyhow::{Result, ensure};
use chrono::{DateTime, Utc};
use tokio::sync::Mutex;

use super::http::{Call, Desk, Fault, Listening, Log, Logged, Reply, Shared};
use super::platform::{Bot, Kept, Limits, Moment, Platform};
use crate::clock::Clock;

/// The token of a stand-in that was given no other.
pub const TOKEN: &str = "1000000001:StandInStandInStandInStandInStandIn";

/// How a stand-in is to be.
pub struct Settings {
    pub clock: Clock,
    pub token: String,
    pub bot_name: String,
    pub bot_username: String,
    /// 0 takes a free one.
    pub port: u16,
    /// None lets any number of messages pass.
    pub limits: Option<Limits>,
    /// Ids that are random on the platform come from here.
    pub seed: u64,
    /// A file every request is appended to, as a JSON line.
    pub request_log: Option<PathBuf>,
    /// An earlier rehearsal to go on from.
    pub kept: Option<Kept>,
}

impl Settings {
    pub fn new(clock: Clock) -> Settings {
        Settings {
            clock,
            token: TOKEN.to_owned(),
            bot_name: "Duskrow".to_owned(),
            bot_username: "duskrow_rehearsal_bot".to_owned(),
            port: 0,
            limits: Some(Limits::default()),
            seed: 1,
            request_log: None,
            kept: None,
        }
    }
}

/// A platform on this computer, for one bot.
#[derive(Clone)]
pub struct StandIn(Arc<Inner>);

struct Inner {
    shared: Arc<Shared>,
    port: u16,
    listening: Mutex<Option<Listening>>,
}

impl StandIn {
    /// Listens on 127.0.0.1.
    pub async fn start(settings: Settings) -> Result<StandIn> {
        let port = settings.port;
        let shared = Arc::new(shared(settings)?);
        let listening = Listening::start(port, shared.clone()).await?;
        let port = listening.port;
        Ok(StandIn(Arc::new(Inner { shared, port, listening: Mutex::new(Some(listening)) })))
    }

    /// Listens nowhere; only [`StandIn::call`] reaches it.
    pub fn without_network(settings: Settings) -> Result<StandIn> {
        let shared = Arc::new(shared(settings)?);
        Ok(StandIn(Arc::new(Inner { shared, port: 0, listening: Mutex::new(None) })))
    }

    /// Where the Bot API is: `url()/bot<token>/<method>`.
    pub fn url(&self) -> String {
        format!("http://127.0.0.1:{}", self.0.port)
    }

    /// Answers a request from the same process exactly as one over a socket.
    pub async fn call(&self, call: Call) -> Reply {
        if self.look(|desk, _| desk.down) {
            return Reply::Hangup;
        }
        self.shared().answer(call).await
    }

    /// The bytes of a file by the path `getFile` gave, as over a socket.
    pub fn file(&self, path: &str) -> Option<Vec<u8>> {
        let bytes = self.look(|desk, _| desk.platform.file_at(path));
        bytes.map(|bytes| bytes.to_vec())
    }

    /// From now on connections are refused and the open ones are cut, whatever they wait for.
    pub async fn stop(&self) {
        if let Some(listening) = self.0.listening.lock().await.take() {
            listening.stop().await;
        }
        self.shared().change(|desk, _| {
            desk.down = true;
            desk.waiting = None;
        });
    }

    /// Listens again, on the same port.
    pub async fn restart(&self) -> Result<()> {
        let mut listening = self.0.listening.lock().await;
        if self.0.port != 0 && listening.is_none() {
            *listening = Some(Listening::start(self.0.port, self.0.shared.clone()).await?);
        }
        self.shared().change(|desk, _| desk.down = false);
        Ok(())
    }

    /// The next `times` requests of `method` (or [`super::ANY`]) go wrong.
    pub fn fail_next(&self, method: &str, fault: Fault, times: u32) {
        self.shared().change(|desk, _| desk.faults.arm(method, fault, times));
    }

    /// No armed fault is left, and stalled requests are hung up.
    pub fn heal(&self) {
        self.shared().change(|desk, _| desk.faults.heal());
    }

    /// The newest requests, oldest first.
    pub fn requests(&self) -> Vec<Logged> {
        self.look(|desk, _| desk.log.requests())
    }

    /// What the real server would let pass but no careful bot does; a test expects none.
    pub fn violations(&self) -> Vec<String> {
        self.look(|desk, _| desk.log.violations.clone())
    }

    /// How many updates the bot has not confirmed.
    pub fn unconfirmed_updates(&self) -> usize {
        self.look(|desk, now| desk.platform.unconfirmed(now))
    }

    /// Waits until the bot has confirmed every update and waits for more in a long poll.
    pub async fn drained(&self) {
        let idle = |desk: &mut Desk, now: Moment| {
            desk.waiting.is_some() && desk.platform.unconfirmed(now) == 0
        };
        self.shared().until(idle).await;
    }

    /// Waits until `ready` holds, looking again after every request and every act of a person.
    pub async fn until(&self, mut ready: impl FnMut(&StandIn) -> bool) {
        let mut changes = self.shared().changes();
        while !ready(self) {
            if changes.changed().await.is_err() {
                return;
            }
        }
    }

    /// The instant on the stand-in's clock.
    pub fn now(&self) -> DateTime<Utc> {
        self.0.shared.clock.now()
    }

    /// Keeps chats, ids, files and the instant in a file, for a later [`Settings::kept`].
    pub fn keep(&self, path: &Path) -> Result<()> {
        self.look(|desk, now| desk.platform.save(path, now))
    }

    pub(super) fn shared(&self) -> &Shared {
        &self.0.shared
    }

    fn look<T>(&self, at: impl FnOnce(&mut Desk, Moment) -> T) -> T {
        self.shared().look(at)
    }
}

fn shared(settings: Settings) -> Result<Shared> {
    let id = settings.token.split(':').next().and_then(|id| id.parse().ok());
    ensure!(id.is_some(), "a token starts with the bot's number and a colon");
    let bot = Bot {
        id: id.unwrap_or_default(),
        name: settings.bot_name,
        username: settings.bot_username,
    };
    let log = Log::open(settings.request_log.as_deref())?;
    let now = Moment { wall: settings.clock.now(), monotonic: settings.clock.monotonic() };
    let platform = Platform::new(bot, settings.limits, settings.kept, settings.seed, now);
    Ok(Shared::new(settings.clock, settings.token, platform, log))
}
