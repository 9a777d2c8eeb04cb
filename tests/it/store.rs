//! The file that keeps everything, met through its own door: a real SQLite file in a folder of its
//! own, and makers who joined with an invitation.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod books;
mod bounds;
pub mod erasing;
mod files;
mod outbox;
mod people;
mod plans;
mod space;
mod upgrade;
mod whole;
mod wishes;
mod years;

use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicI64, Ordering};

use chrono::{DateTime, NaiveDate, NaiveTime, TimeDelta, Utc};
use duskrow::blanket::stock::{Ball, Entry, EntryKind, Tenths};
use duskrow::blanket::{Beginning, Change, Hours, How, Label, Note, NoteId, NoteText, Plan, Scale};
use duskrow::blanket::{Fabric, Faces, Pieces, Tier, TierId, Yarn, YarnId};
use duskrow::chat::event::{MessageId, UserId};
use duskrow::chat::talk::Talk;
use duskrow::store::{ChatId, Commit, Committed, Create, Join, Joined, Lane, MakerId, Queued};
use duskrow::store::{QueuedPlace, Reach, Result, Store, Stored};

/// A store in a folder that goes with it.
pub struct Shelf {
    pub folder: tempfile::TempDir,
    pub store: Store,
    updates: AtomicI64,
}

/// What follows from an event, with what a test does not name left as it is.
#[derive(Default)]
pub struct Deed {
    pub update: Option<i64>,
    pub changes: Vec<Change>,
    pub talk: Talk,
    pub queue: Vec<Queued>,
    pub reach: Option<Reach>,
    pub wakes_at: Option<DateTime<Utc>>,
}

impl Shelf {
    pub async fn new() -> Shelf {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(&folder.path().join("dusk.db"), Create::IfMissing).await.unwrap();
        Shelf { folder, store, updates: AtomicI64::new(7000) }
    }

    pub fn path(&self) -> PathBuf {
        self.folder.path().join("dusk.db")
    }

    /// The file as anybody else sees it.
    pub async fn pool(&self) -> sqlx::SqlitePool {
        pool(&self.path()).await
    }

    pub fn next_update(&self) -> i64 {
        self.updates.fetch_add(1, Ordering::Relaxed)
    }

    /// Somebody who followed an invitation and agreed.
    pub async fn maker(&self, user: i64) -> MakerId {
        let code = self.store.invite(false, TimeDelta::hours(1), noon()).await.unwrap();
        let join = Join {
            update: self.next_update(),
            user: UserId(user),
            chat_id: ChatId(user),
            code: code.as_str(),
            talk: &Talk::default(),
            queue: &[],
            now: noon(),
        };
        match self.store.join(join).await.unwrap() {
            Joined::Joined(maker) => maker,
            other => panic!("{other:?}"),
        }
    }

    /// A maker with the blanket of [`beginning`].
    pub async fn maker_with_blanket(&self, user: i64) -> MakerId {
        let maker = self.maker(user).await;
        self.does(maker, Deed::change(Change::Began(Box::new(beginning())))).await;
        maker
    }

    pub async fn erases(&self, maker: MakerId) {
        assert!(self.store.erase(maker, self.next_update(), noon()).await.unwrap());
    }

    pub async fn stored(&self, maker: MakerId) -> Stored {
        self.store.load_by_id(maker).await.unwrap().unwrap()
    }

    pub async fn commit(&self, maker: MakerId, deed: &Deed) -> Result<Committed> {
        let expected_revision = self.stored(maker).await.revision;
        let commit = Commit {
            update: deed.update,
            maker,
            expected_revision,
            changes: &deed.changes,
            talk: &deed.talk,
            queue: &deed.queue,
            reach: deed.reach,
            wakes_at: deed.wakes_at,
            now: noon(),
        };
        self.store.commit(commit).await
    }

    pub async fn does(&self, maker: MakerId, deed: Deed) {
        assert_eq!(self.commit(maker, &deed).await.unwrap(), Committed::Done);
    }

    pub async fn says(&self, maker: MakerId, queue: impl IntoIterator<Item = Queued>) {
        self.does(maker, Deed { queue: queue.into_iter().collect(), ..Deed::default() }).await;
    }
}

impl Deed {
    pub fn change(change: Change) -> Deed {
        Deed { changes: vec![change], ..Deed::default() }
    }
}

pub async fn pool(path: &Path) -> sqlx::SqlitePool {
    sqlx::SqlitePool::connect(&format!("sqlite://{}", path.display())).await.unwrap()
}

pub fn noon() -> DateTime<Utc> {
    "2027-01-14T12:00:00Z".parse().unwrap()
}

pub fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

pub fn label(text: &str) -> Label {
    Label::parse(text).unwrap()
}

pub fn answered(date: &str, tier: u8) -> Change {
    Change::Answered { day: day(date), tier: TierId(tier), how: How::Answered, at: noon() }
}

pub fn note(id: i64, text: &str) -> Note {
    Note { id: NoteId(id), text: NoteText::parse(text).unwrap() }
}

/// A ball that came before the first row.
pub fn ball(tenths: u32) -> Entry {
    Entry { kind: EntryKind::Ball(Ball::of(Tenths(tenths))), rows: 0, at: noon() }
}

/// The year 2027 in Lisbon, with two tiers.
pub fn beginning() -> Beginning {
    let tier = |id, name, yarn| Tier { id: TierId(id), label: label(name), yarn: YarnId(yarn) };
    let yarn = |id, name, rgb| Yarn { id: YarnId(id), name: label(name), rgb, after: None };
    Beginning {
        plan: Plan::new(day("2027-01-01"), day("2027-12-31"), Pieces::DEFAULT, Faces::DEFAULT)
            .unwrap(),
        fabric: Fabric::DEFAULT,
        scale: Scale::new(vec![tier(1, "Rough", 1), tier(2, "Smooth", 2)], TierId(1)).unwrap(),
        yarns: vec![
            yarn(1, "Kelp", [0xAC, 0x94, 0x4B]),
            yarn(2, "Brick", [0xA0, 0x5E, 0x41]),
            yarn(9, "Harbour Blue", [0x4F, 0x7F, 0xB0]),
        ],
        joining: YarnId(9),
        hours: Hours {
            zone: chrono_tz::Europe::Lisbon,
            ask_at: NaiveTime::from_hms_opt(21, 0, 0).unwrap(),
            day_turns_at: NaiveTime::from_hms_opt(4, 0, 0).unwrap(),
        },
    }
}

/// A new message that says `params`.
pub fn new(slot: Option<&str>, params: &str) -> Queued {
    let place = QueuedPlace::New { slot: slot.map(str::to_owned) };
    Queued { lane: Lane::Reply, place, params: params.to_owned(), until: None }
}

/// The question about a day, as nobody asked for it.
pub fn question(date: &str) -> Queued {
    let slot = format!("question {date}");
    Queued { lane: Lane::Unasked, ..new(Some(&slot), &format!("How was {date}?")) }
}

/// A change of the tapped message and of the one that stands for the slot.
pub fn edit(slot: Option<&str>, tapped: Option<i64>, params: &str) -> Queued {
    let message = tapped.map(MessageId);
    let place = QueuedPlace::Change { slot: slot.map(str::to_owned), message };
    Queued { place, ..new(None, params) }
}
