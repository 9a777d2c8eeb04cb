//! The simulated world: makers, a bot, a stand-in and two clocks, the true one and the bot's. The
//! seed draws everything, and everything happens on one thread.

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::path::PathBuf;

use chrono::{DateTime, Days, NaiveDate, TimeDelta, Utc};
use duskrow::blanket::calendar::{self, ZoneData};
use duskrow::blanket::{Beginning, Book, Change, Hours, Plan};
use duskrow::chat::event::{MessageId, UserId};
use duskrow::chat::{self, beginning, door};
use duskrow::clock::Clock;
use duskrow::rehearsal::{Person, Settings, StandIn};
use duskrow::store::{ChatId, Commit, Committed, Join, Joined, Store};
use duskrow::telegram::wire::{Secret, Timeouts, Wire};
use duskrow::wording::en;
use sqlx::SqliteConnection;

use super::bot::Bot;
use super::dice::{Dice, Digest};
use super::maker::{self, Maker};
use super::model::{Deed, Model};
use super::people::Act;
use super::weather::{Sky, Weather};
use crate::zones;

/// The last steps, for a report.
const STEPS_TOLD: usize = 30;

pub struct Sim {
    pub seed: u64,
    pub dice: Dice,
    pub digest: Digest,
    pub steps: u64,
    told: VecDeque<String>,
    /// The true time, by which people live and the platform works.
    pub world: Clock,
    /// The bot's clock.
    pub clock: Clock,
    pub stand_in: StandIn,
    pub weather: Weather,
    pub wire: Wire,
    pub folder: tempfile::TempDir,
    pub bot: Option<Bot>,
    /// Looks into the database beside it.
    pub eyes: Option<SqliteConnection>,
    pub makers: BTreeMap<i64, Maker>,
    pub due: BTreeMap<(DateTime<Utc>, u64), What>,
    planned: u64,
    /// What each update means, by its query, its message or its edit.
    pub deeds: BTreeMap<Key, Deed>,
    pub taken: BTreeSet<i64>,
    pub queries_taken: BTreeSet<String>,
    /// Updates that were taken, to be taken once more.
    pub old: VecDeque<(DateTime<Utc>, String)>,
    /// Whether the message that goes out now is one nobody asked for.
    pub unasked: bool,
    /// A message did not go, so that the next poll opens the gate.
    pub in_doubt: bool,
    /// A poll of before the outage still waits for its answer.
    pub poll_hangs: bool,
    pub crashes_permille: u64,
    pub lost: usize,
    /// How often nobody knew whether a message had arrived.
    pub unclear: BTreeMap<i64, u32>,
    /// Releases of zone data so far.
    releases: u32,
}

/// What happens at an instant.
#[derive(Clone, Debug)]
pub enum What {
    Acts(i64, Act),
    /// A look at what one maker should have by now.
    Look(i64),
    Weather,
    Clears,
    Starts,
    Jumps,
    JumpsBack(TimeDelta),
    /// Newer zone data reaches the computer.
    ZoneData,
    /// Once a day, old updates are forgotten, and the rules looked at.
    Housekeeping,
}

#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Key {
    Query(String),
    Message(i64, i64),
    Edit(i64, i64),
}

impl Sim {
    pub async fn new(seed: u64, makers: u64) -> Sim {
        // Threads are used again, and each world begins with the rules of today.
        calendar::use_zone_data_here(ZoneData::bundled());
        let mut dice = Dice::new(seed);
        let first = NaiveDate::from_ymd_opt(2026, 1, 1).unwrap() + Days::new(dice.below(1400));
        let start = first.and_hms_opt(12, 0, 0).unwrap().and_utc();
        let (world, clock) = (Clock::turned(start), Clock::turned(start));
        let settings = Settings { seed, ..Settings::new(world.clone()) };
        let stand_in = StandIn::without_network(settings).unwrap();
        let weather = Weather::new(stand_in.clone(), seed);
        let timeouts = Timeouts { poll_wait: std::time::Duration::ZERO, ..Timeouts::default() };
        let secret = Secret::new(duskrow::rehearsal::TOKEN);
        let wire = Wire::new("http://127.0.0.1:1", secret, timeouts).unwrap();
        let wire = wire.carried_by(std::sync::Arc::new(weather.clone()));
        let memory = PathBuf::from("/dev/shm");
        let folder = match memory.is_dir() {
            true => tempfile::tempdir_in(memory).unwrap(),
            false => tempfile::tempdir().unwrap(),
        };
        let mut sim = Sim {
            seed,
            dice,
            digest: Digest::new(),
            steps: 0,
            told: VecDeque::new(),
            world,
            clock,
            stand_in,
            weather,
            wire,
            folder,
            bot: None,
            eyes: None,
            makers: BTreeMap::new(),
            due: BTreeMap::new(),
            planned: 0,
            deeds: BTreeMap::new(),
            taken: BTreeSet::new(),
            queries_taken: BTreeSet::new(),
            old: VecDeque::new(),
            unasked: false,
            poll_hangs: false,
            in_doubt: false,
            crashes_permille: 0,
            lost: 0,
            unclear: BTreeMap::new(),
            releases: 0,
        };
        sim.start().await;
        for user in 0..makers {
            sim.settle_in(1001 + i64::try_from(user).unwrap()).await;
        }
        sim.plan(TimeDelta::hours(5), What::Weather);
        sim.plan(TimeDelta::hours(6), What::Housekeeping);
        let wait = TimeDelta::days(sim.dice.between(5, 60));
        sim.plan(wait, What::ZoneData);
        sim
    }

    /// Days pass.
    pub async fn run(&mut self, days: i64) {
        let end = self.world.now() + TimeDelta::days(days);
        while self.world.now() < end {
            let next = self.due.keys().next().map_or(end, |(at, _)| *at);
            let wake = match &self.bot {
                Some(bot) => bot.app.next_wake().await.unwrap(),
                None => None,
            };
            let now = self.bot_time();
            let wake = wake.map(|wake| self.world.now() + (wake - now));
            let wake = wake.filter(|wake| *wake > self.world.now());
            let next = wake.map_or(next, |wake| wake.min(next)).min(end);
            self.pass(next - self.world.now());
            while let Some(first) = self.due.first_entry() {
                if first.key().0 > self.world.now() {
                    break;
                }
                let what = first.remove();
                self.happens(what).await;
            }
            self.burst().await;
        }
    }

    /// All troubles end, and everything that waits is done.
    pub async fn calm(&mut self) {
        self.crashes_permille = 0;
        self.weather.turns(Sky::Clear);
        self.weather.set_faults(0);
        self.start().await;
        self.pass(TimeDelta::minutes(5));
        self.burst().await;
        let users: Vec<i64> = self.makers.keys().copied().collect();
        for user in users {
            self.check_book(user).await;
        }
    }

    async fn happens(&mut self, what: What) {
        self.tell(format!("{what:?}"));
        match what {
            What::Acts(user, act) => self.act(user, act),
            What::Look(user) => {
                self.burst().await;
                self.look_after(user).await;
            }
            What::Weather => self.change_weather(),
            What::Clears => {
                self.weather.turns(Sky::Clear);
                self.weather.set_faults(if self.dice.permille(500) { 0 } else { 30 });
            }
            What::Starts => self.start().await,
            What::Jumps => {
                let minutes = [-1440, -61, -5, 3, 9, 60, 1440, 525_600];
                let by = TimeDelta::minutes(self.dice.one_of(&minutes));
                self.clock.jump_wall(by);
                let wait = TimeDelta::minutes(self.dice.between(1, 600));
                self.plan(wait, What::JumpsBack(-by));
            }
            What::JumpsBack(by) => self.clock.jump_wall(by),
            What::ZoneData => self.change_zone_data(),
            What::Housekeeping => self.keep_house().await,
        }
    }

    fn change_weather(&mut self) {
        let wait = TimeDelta::minutes(self.dice.between(600, 6000));
        self.plan(wait, What::Weather);
        self.crashes_permille = self.dice.one_of(&[0, 1, 3, 10]);
        self.weather.set_faults(self.dice.one_of(&[0, 0, 20, 100, 300]));
        if self.dice.permille(350) {
            let skies = [Sky::Refused, Sky::Silent, Sky::BadGateway];
            self.weather.turns(self.dice.one_of(&skies));
            self.poll_hangs = self.dice.permille(700);
            let longest = self.dice.one_of(&[20, 300, 1500]);
            let minutes = self.dice.between(2, longest);
            self.plan(TimeDelta::minutes(minutes), What::Clears);
        }
    }

    /// Some places move their clocks.
    fn change_zone_data(&mut self) {
        let wait = TimeDelta::days(self.dice.between(20, 90));
        self.plan(wait, What::ZoneData);
        let mut zones: Vec<&str> = self.makers.values().map(|m| m.hours.zone.name()).collect();
        zones.sort_unstable();
        let places = ["Asia/Tokyo", "America/Halifax", "Europe/Athens", "Pacific/Apia"];
        zones.retain(|_| self.dice.permille(500));
        let moves: Vec<(&str, &str)> =
            zones.into_iter().map(|zone| (zone, self.dice.one_of(&places))).collect();
        self.releases += 1;
        let release = format!("{}a", 3000 + self.releases);
        let folder = self.folder.path().join(&release);
        calendar::use_zone_data_here(zones::moved(&folder, &release, &moves));
        let users: Vec<i64> = self.makers.keys().copied().collect();
        for user in users {
            self.excuse(user);
            let now = self.bot_time();
            let maker = self.maker(user);
            let today = maker.hours.day_at(now);
            maker.moved.extend([today.pred_opt().unwrap(), today, today.succ_opt().unwrap()]);
        }
    }

    async fn keep_house(&mut self) {
        self.plan(TimeDelta::hours(24), What::Housekeeping);
        // The bot's own loop waits while the time is in doubt.
        let ahead = self.clock.now() - self.world.now();
        let Some(bot) = self.bot.as_ref().filter(|_| ahead < TimeDelta::minutes(10)) else {
            return;
        };
        bot.app.store().prune(bot.app.now()).await.unwrap();
        if bot.app.wakes_are_stale().await.unwrap() {
            bot.app.derive_wakes().await.unwrap();
        }
    }

    /// Both clocks go on.
    pub fn pass(&mut self, by: TimeDelta) {
        self.world.turn_to(self.world.now() + by);
        self.clock.turn_to(self.clock.now() + by);
        if let Some(bot) = &self.bot
            && self.weather.is_clear()
        {
            bot.app.line_was_open();
        }
    }

    /// The time by which the bot goes.
    pub fn bot_time(&self) -> DateTime<Utc> {
        self.bot.as_ref().map_or(self.world.now(), |bot| bot.app.now())
    }

    pub fn plan(&mut self, wait: TimeDelta, what: What) {
        self.planned += 1;
        self.due.insert((self.world.now() + wait, self.planned), what);
    }

    pub fn maker(&mut self, user: i64) -> &mut Maker {
        self.makers.get_mut(&user).unwrap()
    }

    pub fn store(&self) -> &Store {
        self.bot.as_ref().unwrap().app.store()
    }

    pub async fn book(&self, user: i64) -> Book {
        let stored = self.store().load(UserId(user)).await.unwrap().unwrap();
        stored.maker.book.unwrap()
    }

    /// Notes a step, for the digest and for a report.
    pub fn tell(&mut self, step: String) {
        self.steps += 1;
        let step = format!("{} {step}", self.world.now().format("%F %T"));
        self.digest.add(&step);
        if self.told.len() == STEPS_TOLD {
            self.told.pop_front();
        }
        self.told.push_back(step);
    }

    pub fn fail(&self, what: &str) -> ! {
        let told: Vec<&str> = self.told.iter().map(String::as_str).collect();
        let seed = self.seed;
        panic!(
            "{what}\nthe bot's clock: {}\nthe last steps:\n{}\nrepeat it: SEED={seed} cargo test \
             simulation",
            self.bot_time(),
            told.join("\n")
        );
    }

    async fn settle_in(&mut self, user: i64) {
        self.stand_in.introduce_with_chat(Person::new(user, &format!("Maker {user}")));
        let now = self.clock.now();
        let (zone, ask_at) = (maker::zone(&mut self.dice), maker::time(&mut self.dice));
        let hours = Hours { zone, ask_at, day_turns_at: chat::day_turns_at_default() };
        let first_day = hours.day_at(now) - Days::new(self.dice.below(6)) + Days::new(3);
        let begun = beginning(Plan::year_from(first_day), hours, &en::LEXICON).unwrap();
        let book = self.join(user, &begun, now).await;
        let maker = Maker::new(user, hours, book.plan().clone(), Model::of(&book), &mut self.dice);
        self.makers.insert(user, maker);
        let wait = TimeDelta::minutes(self.dice.between(1, 600));
        self.plan(wait, What::Acts(user, Act::Day));
    }

    async fn join(&self, user: i64, begun: &Beginning, now: DateTime<Utc>) -> Book {
        let store = self.store();
        let code = store.invite(user == 1001, TimeDelta::hours(1), now).await.unwrap();
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
        assert!(matches!(store.join(join).await.unwrap(), Joined::Joined(_)));
        let stored = store.load(UserId(user)).await.unwrap().unwrap();
        let mut after = stored.maker.clone();
        let changes = [Change::Began(Box::new(begun.clone()))];
        duskrow::blanket::apply(&mut after.book, &changes[0]);
        let commit = Commit {
            update: None,
            maker: stored.id,
            expected_revision: stored.revision,
            changes: &changes,
            talk: &talk,
            queue: &[],
            reach: None,
            wakes_at: chat::agenda(&after, now).map(|(at, _)| at),
            now,
        };
        assert!(store.commit(commit).await.unwrap() == Committed::Done);
        after.book.unwrap()
    }
}
