//! Where a bot lives: a data folder, a token file, a platform. Makers can be settled in before it
//! starts, and everything kept can be read beside it while it runs.

use std::collections::BTreeSet;
use std::fs;
use std::os::unix::fs::{OpenOptionsExt, PermissionsExt};
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use chrono::{Days, NaiveDate, TimeDelta};
use duskrow::blanket::{Beginning, Book, Change, How, TierId};
use duskrow::chat::event::UserId;
use duskrow::chat::talk::Talk;
use duskrow::chat::{self, Maker};
use duskrow::cli::rehearse::demo;
use duskrow::clock::Clock;
use duskrow::rehearsal::{Person, Seen, Settings, Speaker, StandIn, TOKEN};
use duskrow::store::{ChatId, Commit, Committed, Create, Join, Joined, Store};
use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{ConnectOptions as _, Connection as _, SqliteConnection};
use tempfile::TempDir;

use super::bot::{Bot, Ended};
use super::within;
use crate::world::request_log;

pub struct House {
    pub stand_in: StandIn,
    folder: TempDir,
}

impl House {
    pub async fn new() -> House {
        House::built(TOKEN, None).await
    }

    /// The bot's token, whatever the platform's is.
    pub async fn with_token(token: &str) -> House {
        House::built(token, None).await
    }

    /// Everything the bot keeps is on this disk.
    pub async fn on_disk(disk: &Path) -> House {
        House::built(TOKEN, Some(disk)).await
    }

    async fn built(token: &str, disk: Option<&Path>) -> House {
        let clock = Clock::real();
        let settings =
            Settings { limits: None, request_log: request_log(), ..Settings::new(clock) };
        let stand_in = StandIn::start(settings).await.unwrap();
        let folder = match disk {
            Some(disk) => tempfile::tempdir_in(disk).unwrap(),
            None => tempfile::tempdir().unwrap(),
        };
        let path = folder.path().join("token");
        let mut file = fs::OpenOptions::new();
        let file = file.write(true).create_new(true).mode(0o600).open(path);
        std::io::Write::write_all(&mut file.unwrap(), token.as_bytes()).unwrap();
        House { stand_in, folder }
    }

    pub fn data(&self) -> PathBuf {
        self.folder.path().join("data")
    }

    pub fn database(&self) -> PathBuf {
        self.data().join("duskrow.db")
    }

    /// The program in an environment that holds nothing but what is set here, with the umask most
    /// servers have.
    pub fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new("/bin/sh");
        let script = "umask 022; exec \"$0\" \"$@\"";
        command.args(["-c", script, env!("CARGO_BIN_EXE_duskrow")]).args(arguments).env_clear();
        command
            .current_dir(self.folder.path())
            .env("DUSKROW_DATA", self.data())
            .env("DUSKROW_TOKEN_FILE", self.folder.path().join("token"))
            .env("DUSKROW_API_URL", self.stand_in.url())
            .env("DUSKROW_RATE", "10000")
            .env("DUSKROW_LOG", "trace");
        command
    }

    pub fn start(&self) -> Bot {
        Bot::start(self.command(&["serve"]))
    }

    /// Starts a bot and waits until it polls.
    pub async fn start_polling(&self) -> Bot {
        // The stand-in may take a while to notice that an earlier bot was killed, so that only a
        // poll that comes from now on is the new bot's.
        let polls = |stand_in: &StandIn| {
            stand_in.requests().iter().filter(|request| request.method == "getUpdates").count()
        };
        let before = polls(&self.stand_in);
        let bot = self.start();
        let polled = self.stand_in.until(|stand_in| polls(stand_in) > before);
        within("the first poll", polled).await;
        within("an empty queue", self.stand_in.drained()).await;
        bot
    }

    /// A subcommand beside the running bot.
    pub async fn run(&self, arguments: &[&str]) -> Output {
        let mut command = self.command(arguments);
        command.stdin(Stdio::null());
        tokio::task::spawn_blocking(move || command.output().unwrap()).await.unwrap()
    }

    /// A maker in the middle of a blanket: its first day is [`first_day`], and answered. Today was
    /// asked about, so that nothing falls due while a test runs.
    pub async fn settle_in(&self, user: i64, beginning: Beginning) {
        self.stand_in.introduce_with_chat(Person::new(user, "Maren"));
        let now = self.stand_in.now();
        let store = Store::open(&self.database(), Create::IfMissing).await.unwrap();
        let code = store.invite(false, TimeDelta::hours(1), now).await.unwrap();
        let (update, code, talk) = (-user, code.as_str(), &Talk::default());
        let (user, chat_id, queue) = (UserId(user), ChatId(user), &[]);
        let join = Join { update, user, chat_id, code, talk, queue, now };
        assert!(matches!(store.join(join).await.unwrap(), Joined::Joined(_)));
        let stored = store.load(user).await.unwrap().unwrap();
        let (day, tier) = (beginning.plan.first_day(), beginning.scale.default_tier().id);
        let today = beginning.hours.day_at(now);
        let changes = [
            Change::Began(Box::new(beginning)),
            Change::Answered { day, tier, how: How::Answered, at: now },
            Change::Asked { day: today, at: now },
        ];
        let mut book = None;
        for change in &changes {
            duskrow::blanket::apply(&mut book, change);
        }
        let maker = Maker { owner: false, book, others: Vec::new(), talk: talk.clone() };
        let commit = Commit {
            update: None,
            maker: stored.id,
            expected_revision: stored.revision,
            changes: &changes,
            talk,
            queue,
            reach: None,
            wakes_at: chat::agenda(&maker, now).map(|(at, _)| at),
            now,
        };
        assert_eq!(store.commit(commit).await.unwrap(), Committed::Done);
        store.close().await;
    }

    /// The books of these makers as a bot would find them that starts now, read from a copy.
    pub async fn books(&self, users: impl IntoIterator<Item = i64>) -> Vec<Book> {
        let copy = self.copy();
        let store = Store::open(&copy.path().join("duskrow.db"), Create::Never).await.unwrap();
        let mut books = Vec::new();
        for user in users {
            let stored = store.load(UserId(user)).await.unwrap().unwrap();
            books.push(stored.maker.book.unwrap());
        }
        store.close().await;
        books
    }

    /// Every answer in the database, by maker, day and tier, as a bot that starts now finds it.
    pub async fn answers(&self) -> BTreeSet<(i64, NaiveDate, TierId)> {
        let copy = self.copy();
        let mut database = connection(&copy.path().join("duskrow.db")).await;
        let kept = "SELECT user_id, day, tier FROM days JOIN makers USING (blanket)";
        let kept: Vec<(i64, NaiveDate, u8)> =
            sqlx::query_as(kept).fetch_all(&mut database).await.unwrap();
        database.close().await.unwrap();
        kept.into_iter().map(|(user, day, tier)| (user, day, TierId(tier))).collect()
    }

    /// How many lines the history of all makers has.
    pub async fn history(&self) -> i64 {
        let copy = self.copy();
        let mut database = connection(&copy.path().join("duskrow.db")).await;
        let count = sqlx::query_scalar("SELECT count(*) FROM history");
        let count = count.fetch_one(&mut database).await.unwrap();
        database.close().await.unwrap();
        count
    }

    /// Another program's way into the database of the running bot.
    pub async fn database_beside(&self) -> SqliteConnection {
        connection(&self.database()).await
    }

    /// The database and its write-ahead log, which together hold every commit.
    fn copy(&self) -> TempDir {
        let copy = tempfile::tempdir().unwrap();
        for name in ["duskrow.db", "duskrow.db-wal"] {
            let from = self.data().join(name);
            if from.exists() {
                fs::copy(from, copy.path().join(name)).unwrap();
            }
        }
        copy
    }

    /// Waits for something to appear in a chat.
    pub async fn sees(&self, user: i64, what: &str, fits: impl Fn(&Seen) -> bool) -> Seen {
        sees_since(&self.stand_in, user, 0, what, fits).await
    }

    /// Waits until the bot says something with this in it.
    pub async fn says(&self, user: i64, part: &str) -> Seen {
        self.sees(user, part, |seen| seen.from == Speaker::Bot && seen.text.contains(part)).await
    }

    /// Types something, and waits for the answer with this in it.
    pub async fn typed(&self, user: i64, text: &str, answer: &str) {
        self.stand_in.send_text(user, text);
        self.says(user, answer).await;
    }

    /// Waits for a button that begins like this, and taps it.
    pub async fn taps(&self, user: i64, label: &str) {
        let fits = |seen: &Seen| seen.labels().iter().any(|it| it.starts_with(label));
        let seen = self.sees(user, label, fits).await;
        let whole = seen.labels().into_iter().find(|it| it.starts_with(label)).unwrap();
        self.stand_in.tap(user, whole).unwrap();
    }

    /// Waits until the bot has taken all that was done, and has answered what is done now.
    pub async fn comes_through(&self, user: i64) {
        let before = self.stand_in.seen_by(user).last().map_or(0, |seen| seen.number);
        self.stand_in.send_text(user, "/help");
        let answer = |seen: &Seen| {
            seen.number > before && seen.from == Speaker::Bot && seen.text.contains("/rows")
        };
        self.sees(user, "the help", answer).await;
        within("the poll after it", self.stand_in.drained()).await;
    }

    /// How often the bot asked the platform for this.
    pub fn requests(&self, method: &str) -> usize {
        self.stand_in.requests().iter().filter(|request| request.method == method).count()
    }

    /// Nothing the bot made can be read by anybody else.
    pub fn keeps_to_itself(&self) {
        let found = all_below(&self.data());
        assert!(found.len() >= 3, "folder, database and lock are expected: {found:?}");
        for path in found {
            let mode = fs::metadata(&path).unwrap().permissions().mode();
            assert_eq!(mode & 0o077, 0, "{} has mode {mode:o}", path.display());
        }
    }
}

/// Waits for something to appear in a chat after the event `since`.
pub async fn sees_since(
    stand_in: &StandIn,
    user: i64,
    since: u64,
    what: &str,
    fits: impl Fn(&Seen) -> bool,
) -> Seen {
    let mut found = None;
    let seen = stand_in.until(|stand_in| {
        found = stand_in.seen_since(user, since).into_iter().find(|seen| fits(seen));
        found.is_some()
    });
    within(what, seen).await;
    found.unwrap()
}

impl Ended {
    /// It ended as a host expects it to: told to, and with no secret in its log.
    pub fn cleanly(&self) {
        assert_eq!(self.status.code(), Some(0), "{}", self.log);
        self.tells_nothing();
    }

    pub fn tells_nothing(&self) {
        let (_, secret) = TOKEN.split_once(':').unwrap();
        assert!(!self.log.contains(secret), "the token is in the log: {}", self.log);
    }
}

async fn connection(path: &Path) -> SqliteConnection {
    SqliteConnectOptions::new().filename(path).connect().await.unwrap()
}

/// The first day of every blanket here: long enough ago that hundreds of days can be answered.
pub fn first_day() -> NaiveDate {
    Clock::real().now().date_naive() - Days::new(300)
}

/// The demo's scale and hours.
pub fn beginning() -> Beginning {
    demo::beginning_on(first_day())
}

pub fn tier_label(id: TierId) -> String {
    beginning().scale.tier(id).unwrap().label.to_string()
}

/// A date as the bot writes it.
pub fn spoken(day: NaiveDate) -> String {
    day.format("%A %-d %B").to_string()
}

fn all_below(folder: &Path) -> Vec<PathBuf> {
    let mut found = vec![folder.to_owned()];
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() { found.extend(all_below(&path)) } else { found.push(path) }
    }
    found
}
