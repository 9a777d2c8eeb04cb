//! A poll that is accepted and never answered: the bot notices, begins anew, and says so once;
//! meanwhile the record beside the database is stale.

use std::io;
use std::sync::{Arc, Mutex};
use std::time::Duration;

use chrono::TimeDelta;
use duskrow::app::{App, Start};
use duskrow::cli::rehearse::theatre::MAREN;
use duskrow::rehearsal::{Fault, Speaker, StandIn, TOKEN};
use duskrow::store::{Create, Freshness, Stale};
use duskrow::telegram::pacing::Rates;
use duskrow::telegram::wire::{Secret, Timeouts};
use tokio::sync::oneshot;

use crate::world::World;

/// Only keeps a bot that hangs from hanging the tests.
const HANGS_AFTER: Duration = Duration::from_secs(50);

#[tokio::test]
async fn a_poll_that_is_never_answered_is_noticed_and_polling_starts_anew() {
    let log = Paper::default();
    let _logged = log.clone().begin();
    let World { theatre, stand_in, folder, .. } = World::begun("2027-01-14 12:00").await;
    let clock = theatre.clock.clone();
    drop(theatre);
    let database = folder.path().join("duskrow.db");
    let start = Start {
        database: database.clone(),
        create: Create::Never,
        api_url: stand_in.url(),
        secret: Secret::new(TOKEN),
        timeouts: Timeouts::default(),
        rates: Rates::default(),
        clock: clock.clone(),
        zoneinfo: None,
        local_line: None,
    };
    let app = App::open(start).await.unwrap();
    let (stop, stopped) = oneshot::channel::<()>();
    let served = tokio::spawn(async move { app.serve(async { drop(stopped.await) }).await });
    let turn = |seconds| clock.turn_to(clock.now() + TimeDelta::seconds(seconds));
    let stale = || Freshness::read(&database).unwrap().unwrap().stale(clock.now());

    within("the first poll", stand_in.drained()).await;
    turn(20);
    // The poll that waits brings this; the next two are accepted and never answered.
    stand_in.fail_next("getUpdates", Fault::Stall, 2);
    let polls = polled(&stand_in);
    stand_in.send_text(MAREN, "/help");
    within("the poll that hangs", stand_in.until(|it| polled(it) == polls + 1)).await;
    let heard_at = clock.now();
    assert_eq!(stale(), None);
    stand_in.send_text(MAREN, "/today");

    turn(119);
    assert_eq!(stale(), None);
    turn(1);
    within("a poll in its place", stand_in.until(|it| polled(it) == polls + 2)).await;
    turn(31);
    assert_eq!(stale(), Some(Stale::Polling(Some(heard_at))));
    assert_eq!(said(&stand_in, "Which fits the day?"), 0);

    turn(89);
    within("an answer", stand_in.until(|it| said(it, "Which fits the day?") == 1)).await;
    assert_eq!(polled(&stand_in), polls + 4, "the third was answered, and the fourth waits");
    assert_eq!(stale(), None);
    let log_lines = log.read();
    assert_eq!(log_lines.matches("no poll ended in this time").count(), 1, "{log_lines}");
    stop.send(()).unwrap();
    within("the end", served).await.unwrap().unwrap();
    assert_eq!(Freshness::read(&database).unwrap(), None, "a bot that has ended leaves no record");
}

fn polled(stand_in: &StandIn) -> usize {
    stand_in.requests().iter().filter(|request| request.method == "getUpdates").count()
}

fn said(stand_in: &StandIn, part: &str) -> usize {
    let seen = stand_in.seen_by(MAREN);
    seen.iter().filter(|seen| seen.from == Speaker::Bot && seen.text.contains(part)).count()
}

async fn within<T>(what: &str, wait: impl Future<Output = T>) -> T {
    match tokio::time::timeout(HANGS_AFTER, wait).await {
        Ok(came) => came,
        Err(_) => panic!("waited in vain: {what}"),
    }
}

/// What this thread logs, and no other.
#[derive(Clone, Default)]
struct Paper(Arc<Mutex<Vec<u8>>>);

impl Paper {
    fn begin(self) -> tracing::subscriber::DefaultGuard {
        let lines = tracing_subscriber::fmt().with_writer(move || self.clone()).finish();
        tracing::subscriber::set_default(lines)
    }

    fn read(&self) -> String {
        String::from_utf8(self.0.lock().unwrap().clone()).unwrap()
    }
}

impl io::Write for Paper {
    fn write(&mut self, text: &[u8]) -> io::Result<usize> {
        self.0.lock().unwrap().extend_from_slice(text);
        Ok(text.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}
