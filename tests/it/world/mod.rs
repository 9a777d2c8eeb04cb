//! The one door for conversations: the real bot, a real database file, the stand-in over HTTP,
//! and a clock that is turned. A test says what the maker does and reads what the maker reads.

pub mod hostile;
pub mod zones;

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::PathBuf;

use chrono::{DateTime, NaiveDateTime, TimeDelta, Utc};
use duskrow::blanket::{Book, Change, calendar};
use duskrow::cli::rehearse::demo;
use duskrow::cli::rehearse::theatre::{MAREN, NAME, Theatre};
use duskrow::clock::Clock;
use duskrow::rehearsal::player::{self, Stage};
use duskrow::rehearsal::{Logged, Person, Seen, SeenKind, Settings, Speaker, StandIn, script};
use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{AssertSqlSafe, ConnectOptions as _, Connection as _, SqliteConnection};

pub struct World {
    pub theatre: Theatre,
    pub stand_in: StandIn,
    pub folder: tempfile::TempDir,
    shown: u64,
}

impl World {
    /// Nobody knows the bot yet; it is this local time in Lisbon.
    pub async fn new(local: &str) -> World {
        let clock = Clock::turned(instant(local));
        World::by_clocks(clock.clone(), clock).await
    }

    /// The same, where the platform goes by a clock of its own, which is turned by itself.
    pub async fn by_clocks(clock: Clock, platform: Clock) -> World {
        let folder = tempfile::tempdir().unwrap();
        let settings = Settings { request_log: request_log(), ..Settings::new(platform) };
        let stand_in = StandIn::start(settings).await.unwrap();
        stand_in.introduce(Person::new(MAREN, NAME));
        let database = folder.path().join("duskrow.db");
        let theatre = Theatre::open(&database, stand_in.clone(), clock).await.unwrap();
        World { theatre, stand_in, folder, shown: 0 }
    }

    /// Maren has a blanket that begins on the day of `local`, asked about at 21:00.
    pub async fn begun(local: &str) -> World {
        World::new(local).await.begins().await
    }

    /// A blanket that begins today.
    pub async fn begins(self) -> World {
        let mut world = self;
        let first_day = world.theatre.clock.now().date_naive();
        let beginning = demo::beginning_on(first_day);
        let changes = [Change::Began(Box::new(beginning))];
        world.theatre.settle_in(MAREN, &changes).await.unwrap();
        world
    }

    /// The demo blanket, on its evening.
    pub async fn demo() -> World {
        let mut world = World::new("2027-07-15 20:55").await;
        world.theatre.settle_in(MAREN, &demo::changes()).await.unwrap();
        world
    }

    /// Plays script lines as Maren, and gives what she saw as a short transcript.
    pub async fn play(&mut self, lines: &str) -> String {
        self.play_as(MAREN, lines).await
    }

    pub async fn play_as(&mut self, user: i64, lines: &str) -> String {
        let lines = script::read(lines).unwrap();
        let mut text = String::new();
        let mut before = String::new();
        let played = player::play(
            &lines,
            (user, "Maren"),
            &self.stand_in,
            &mut self.theatre,
            |_, who, seen| {
                if before != who && !before.is_empty() {
                    text.push_str(&format!("= {who}\n"));
                }
                who.clone_into(&mut before);
                write_seen(&mut text, seen);
                Ok(())
            },
        );
        if let Err(why) = played.await {
            panic!("{why:#}\nso far:\n{text}");
        }
        self.shown = self.stand_in.seen_by(user).last().map_or(0, |seen| seen.number);
        // No test may make the bot ask what the platform would only just let pass.
        assert_eq!(self.stand_in.violations(), Vec::<String>::new());
        text
    }

    /// Runs the bot until it has nothing left to do, and gives what Maren saw since.
    pub async fn settle(&mut self) -> String {
        self.theatre.settle().await.unwrap();
        let mut text = String::new();
        for seen in self.stand_in.seen_since(MAREN, self.shown) {
            self.shown = seen.number;
            write_seen(&mut text, &seen);
        }
        text
    }

    /// Turns the clock without the bot running: it is down, or the network is.
    pub fn pass_unseen(&self, minutes: i64) {
        self.theatre.clock.turn_to(self.theatre.clock.now() + TimeDelta::minutes(minutes));
    }

    /// The same, up to this local time in Lisbon.
    pub fn unseen_until(&self, local: &str) {
        let at = instant(local);
        assert!(at > self.theatre.clock.now(), "{local} is over");
        self.theatre.clock.turn_to(at);
    }

    /// Maren taps, and the bot does not hear of it yet.
    pub fn tap_unseen(&self, label: &str) {
        self.stand_in.tap(MAREN, label).unwrap();
    }

    /// Maren types, and the bot does not hear of it yet.
    pub fn type_unseen(&self, text: &str) {
        self.stand_in.send_text(MAREN, text);
    }

    /// Stops the bot without a farewell and starts it again on the same database.
    pub async fn restart(self) -> World {
        let World { theatre, stand_in, folder, shown } = self;
        let clock = theatre.clock.clone();
        drop(theatre);
        let database = folder.path().join("duskrow.db");
        let theatre = Theatre::open(&database, stand_in.clone(), clock).await.unwrap();
        World { theatre, stand_in, folder, shown }
    }

    pub async fn book(&self) -> Book {
        self.theatre.book(MAREN).await.unwrap().unwrap()
    }

    /// Every row of the database, table by table, but for those that say only which updates were
    /// seen and which bot this is.
    pub async fn dump(&self) -> BTreeMap<String, Vec<String>> {
        let options = SqliteConnectOptions::new().filename(self.folder.path().join("duskrow.db"));
        let mut database = options.read_only(true).connect().await.unwrap();
        let names = "SELECT name FROM sqlite_schema WHERE type = 'table'";
        let names: Vec<String> = sqlx::query_scalar(names).fetch_all(&mut database).await.unwrap();
        let mut dump = BTreeMap::new();
        for name in names {
            if !["seen_updates", "meta"].contains(&name.as_str()) {
                let rows = rows_of(&mut database, &name).await;
                dump.insert(name, rows);
            }
        }
        database.close().await.unwrap();
        dump
    }

    /// Every row of one table.
    pub async fn rows(&self, table: &str) -> Vec<String> {
        let options = SqliteConnectOptions::new().filename(self.folder.path().join("duskrow.db"));
        let mut database = options.read_only(true).connect().await.unwrap();
        let rows = rows_of(&mut database, table).await;
        database.close().await.unwrap();
        rows
    }

    /// How often the platform was asked for this.
    pub fn requests(&self, method: &str) -> usize {
        self.stand_in.requests().iter().filter(|asked| asked.method == method).count()
    }

    /// How often the platform was asked for this, and refused it with this code.
    pub fn refusals(&self, method: &str, code: u16) -> usize {
        let asked = self.stand_in.requests();
        let fits = |log: &&Logged| log.method == method && log.status == Some(code);
        asked.iter().filter(fits).count()
    }

    /// The evening questions in the order they came: local time in Lisbon, and the day.
    pub fn questions(&self) -> Vec<(String, String)> {
        let seen = self.stand_in.seen_by(MAREN).into_iter();
        let asked = seen.filter(|seen| seen.from == Speaker::Bot && seen.kind == SeenKind::Message);
        let question = |seen: Seen| {
            let (day, rest) = seen.text.split_once("\nWhich fits the day?")?;
            assert!(rest.is_empty() || rest.starts_with("\nI was offline "), "{rest}");
            let day = day.to_owned();
            let local = calendar::local(demo::ZONE, seen.at);
            Some((local.format("%Y-%m-%d %H:%M").to_string(), day))
        };
        asked.filter_map(question).collect()
    }

    /// The newest message of the bot, as it reads now.
    pub fn newest(&self) -> Seen {
        let of_bot = |seen: &Seen| {
            let message = matches!(seen.kind, SeenKind::Message | SeenKind::Edit);
            seen.from == Speaker::Bot && message
        };
        self.stand_in.seen_by(MAREN).into_iter().rfind(of_bot).unwrap()
    }
}

/// The instant of a local time in Lisbon.
pub fn instant(local: &str) -> DateTime<Utc> {
    let local = NaiveDateTime::parse_from_str(local, "%Y-%m-%d %H:%M").unwrap();
    calendar::instant(demo::ZONE, local)
}

async fn rows_of(database: &mut SqliteConnection, table: &str) -> Vec<String> {
    rows_where(database, table, "true").await
}

/// The rows of a table for which this holds, written out.
pub async fn rows_where(database: &mut SqliteConnection, table: &str, which: &str) -> Vec<String> {
    let columns = AssertSqlSafe(format!("SELECT name FROM pragma_table_info('{table}')"));
    let columns: Vec<String> = sqlx::query_scalar(columns).fetch_all(&mut *database).await.unwrap();
    let quoted: Vec<String> = columns.iter().map(|name| format!("quote(\"{name}\")")).collect();
    let quoted = quoted.join("||' '||");
    let rows = AssertSqlSafe(format!("SELECT {quoted} FROM \"{table}\" WHERE {which}"));
    sqlx::query_scalar(rows).fetch_all(database).await.unwrap()
}

/// `bot: …` or `bot changes: …`, one line of text under the other, buttons in brackets.
fn write_seen(text: &mut String, seen: &Seen) {
    let who = match (seen.from, seen.kind) {
        (Speaker::Bot, SeenKind::Edit) => "bot changes",
        (Speaker::Bot, SeenKind::Toast) => "bot notices",
        (Speaker::Bot, _) => "bot",
        (Speaker::Maker, SeenKind::Tap) => return writeln!(text, "tap: {}", seen.text).unwrap(),
        (Speaker::Maker, _) => "maker",
    };
    let body = seen.text.replace('\n', "\n  ");
    writeln!(text, "{who}: {body}").unwrap();
    for line in &seen.buttons {
        let line: Vec<String> = line.iter().map(|label| format!("[{label}]")).collect();
        writeln!(text, "  {}", line.join(" ")).unwrap();
    }
}

/// Where this process notes every request for the independent check, if the host of the tests
/// wants it.
pub fn request_log() -> Option<PathBuf> {
    let folder = std::env::var_os("DUSKROW_REQUEST_LOG")?;
    Some(PathBuf::from(folder).join(format!("it-{}.jsonl", std::process::id())))
}
