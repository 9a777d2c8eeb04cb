//! `duskrow makers`, `duskrow export` and `duskrow import`: whose books there are, one book out,
//! and one book in.
//!
//! The running bot may go on meanwhile. A maker whose book is copied or brought back is told.

use std::fs;
use std::io::{self, Read, Write};
use std::path::PathBuf;

use anyhow::Context;
use chrono::{DateTime, NaiveDate};
use clap::{Args, ValueEnum};

use super::database::{DATABASE, stopped_by};
use super::{Exit, Stop, runtime};
use crate::app::queued;
use crate::blanket::{Book, Change};
use crate::chat::Maker;
use crate::chat::blankets::Years;
use crate::chat::bring_back::{self, BringBackRefusal, ShownBy};
use crate::chat::outcome::Reply;
use crate::chat::say::Say;
use crate::chat::talk::Talk;
use crate::clock::Clock;
use crate::config::Options;
use crate::export::{self, ImportFault};
use crate::store::{Commit, Committed, Create, Listed, MakerId, Store, Stored};

#[derive(Args, Debug)]
pub struct ExportWishes {
    /// The number of the maker, as duskrow makers says it
    #[arg(long)]
    book: i64,
    /// The first day of the blanket, such as 2026-01-01; left out, the one that is logged now
    #[arg(long, value_name = "DATE")]
    blanket: Option<NaiveDate>,
    /// What to write on stdout
    #[arg(long = "as", value_enum, default_value_t = Form::Book)]
    form: Form,
}

#[derive(Clone, Copy, ValueEnum, Debug)]
enum Form {
    /// The whole book as JSON, for duskrow import
    Book,
    /// The days as CSV
    Days,
    /// The rows as CSV
    Rows,
}

#[derive(Args, Debug)]
pub struct ImportWishes {
    /// The number of the maker who gets it, as duskrow makers says it
    #[arg(long)]
    book: i64,
    /// Put it in the place of a blanket that has some of its days, for good
    #[arg(long)]
    replace: bool,
    /// What duskrow export wrote, or the maker got from /export; - for stdin
    file: PathBuf,
}

/// One line a maker: their number and dates, and nothing that was answered.
pub fn makers(options: &Options) -> anyhow::Result<()> {
    let listed = runtime()?.block_on(async {
        let store = open(options).await?;
        let listed = store.listed().await?;
        store.close().await;
        anyhow::Ok(listed)
    })?;
    let mut out = io::stdout();
    listed.iter().try_for_each(|maker| writeln!(out, "{}", line(maker)))?;
    Ok(())
}

fn line(maker: &Listed) -> String {
    let blanket = match maker.blanket {
        Some((first, last)) => format!("blanket {first} to {last}"),
        None => "no blanket yet".to_owned(),
    };
    let owner = if maker.owner { ", owner" } else { "" };
    let away = if maker.reachable { "" } else { ", has blocked the bot" };
    let (id, joined) = (maker.id.0, maker.joined_at.format("%Y-%m-%d"));
    format!("{id}: joined {joined}, {blanket}{owner}{away}")
}

/// Prints a book on stdout, and tells its maker.
pub fn export(options: &Options, wishes: &ExportWishes) -> anyhow::Result<()> {
    let clock = Clock::real();
    let text = runtime()?.block_on(async {
        let store = open(options).await?;
        let (stored, book) = book(&store, wishes).await?;
        let today = book.hours().day_at(clock.now());
        let text = match wishes.form {
            Form::Book => {
                let history = store.history(stored.id, book.plan().first_day()).await?;
                export::book_file(&book, &history)
            }
            Form::Days => export::day_table(&book, today),
            Form::Rows => export::row_table(&book, today),
        };
        let said = Say::BookHandedOut { on: today, years: Years::of(&book) };
        tell(&store, &stored, (&[], &stored.maker.talk), &[Reply::new(said)], &clock).await?;
        store.close().await;
        anyhow::Ok(text)
    })?;
    io::stdout().write_all(text.as_bytes())?;
    Ok(())
}

/// Puts a book from a file in the place of a maker's, whole or not at all, and tells them.
pub fn import(options: &Options, wishes: &ImportWishes) -> anyhow::Result<()> {
    let changes = export::read_book(&read(wishes)?).map_err(refused)?;
    let clock = Clock::real();
    runtime()?.block_on(async {
        let store = open(options).await?;
        let stored = maker(&store, wishes.book).await?;
        let placed =
            bring_back::place(&stored.maker, changes, clock.now()).map_err(|why| match why {
                BringBackRefusal::SharesDays => shares_days(wishes.book),
                BringBackRefusal::File(_) => refused(ImportFault::Unreadable),
            })?;
        if let Some(before) = placed.replaces
            && !wishes.replace
        {
            let (book, first_day) = (wishes.book, before.book.years.first_day);
            let message = format!("maker {book} has a blanket of these days");
            let hint = "to put the file in its place for good, add --replace".to_owned();
            let copy = format!(
                "to keep a copy first: duskrow export --book {book} --blanket {first_day} > copy.json"
            );
            return Err(Stop { exit: Exit::Usage, message, hints: vec![copy, hint] }.into());
        }
        let on = placed.book.hours().day_at(clock.now());
        let years = Years::of(&placed.book);
        let talk = bring_back::talk_after(&stored.maker, &placed);
        let mut after = Maker { talk: talk.clone(), ..stored.maker.clone() };
        placed.changes.iter().for_each(|change| after.apply(change));
        let shown_by = ShownBy::of(&after, years.first_day);
        let mut said = vec![Reply::new(Say::BookBroughtBack { on, years, shown_by })];
        said.extend(bring_back::standing(&stored.maker, &after, &placed, clock.now()));
        tell(&store, &stored, (&placed.changes, &talk), &said, &clock).await?;
        if let Err(error) = store.finish_erasing().await {
            // The book is the new one; the bot makes up for the rest at its start and once a day.
            tracing::warn!(%error, "traces of the book before go later");
        }
        store.close().await;
        anyhow::Ok(())
    })?;
    writeln!(io::stderr(), "Maker {} has the book in the file now", wishes.book)?;
    Ok(())
}

async fn open(options: &Options) -> anyhow::Result<Store> {
    let path = options.data.join(DATABASE);
    let opened = Store::open(&path, Create::Never).await;
    opened.map_err(|error| stopped_by(error.into()))
}

pub(super) async fn maker(store: &Store, number: i64) -> anyhow::Result<Stored> {
    let stored = store.load_by_id(MakerId(number)).await?;
    stored.ok_or_else(|| {
        let message = format!("there is no maker {number}");
        let hints = vec!["duskrow makers lists them".to_owned()];
        Stop { exit: Exit::Usage, message, hints }.into()
    })
}

async fn book(store: &Store, wishes: &ExportWishes) -> anyhow::Result<(Stored, Book)> {
    let stored = maker(store, wishes.book).await?;
    let all = || stored.maker.book.iter().chain(&stored.maker.others);
    let book = match wishes.blanket {
        None => stored.maker.book.as_ref(),
        Some(first) => all().find(|book| book.plan().first_day() == first),
    };
    let Some(book) = book.cloned() else {
        let mut days: Vec<String> = all().map(|book| book.plan().first_day().to_string()).collect();
        days.sort_unstable();
        let message = match days.is_empty() {
            true => format!("maker {} has no blanket yet", wishes.book),
            false => format!("maker {} has no blanket that begins on that day", wishes.book),
        };
        let hint = format!("theirs begin on {}", days.join(" and "));
        let hints = if days.is_empty() { Vec::new() } else { vec![hint] };
        return Err(Stop { exit: Exit::Usage, message, hints }.into());
    };
    Ok((stored, book))
}

/// Commits changes of a book with the messages that say so. When the maker wakes next is left to
/// the bot, which may go by other zone data and another clock than this process: a wake long past
/// has it look at once, by its own.
async fn tell(
    store: &Store,
    stored: &Stored,
    (changes, talk): (&[Change], &Talk),
    said: &[Reply],
    clock: &Clock,
) -> anyhow::Result<()> {
    let now = clock.now();
    let queue = queued(said)?;
    let committed = store.commit(Commit {
        update: None,
        maker: stored.id,
        expected_revision: stored.revision,
        changes,
        talk,
        queue: &queue,
        reach: None,
        wakes_at: Some(DateTime::UNIX_EPOCH),
        now,
    });
    match committed.await? {
        Committed::Done => Ok(()),
        Committed::SeenBefore | Committed::Overtaken => {
            let message = "the maker wrote to the bot at this very moment".to_owned();
            let hints = vec!["try again".to_owned()];
            Err(Stop { exit: Exit::TryAgain, message, hints }.into())
        }
    }
}

/// At most one byte more than can be a book.
fn read(wishes: &ImportWishes) -> anyhow::Result<Vec<u8>> {
    let limit = u64::try_from(export::BYTES_MAX)? + 1;
    let mut bytes = Vec::new();
    if wishes.file.as_os_str() == "-" {
        io::stdin().take(limit).read_to_end(&mut bytes)?;
    } else {
        let file = fs::File::open(&wishes.file);
        let file = file.with_context(|| format!("cannot read {}", wishes.file.display()))?;
        file.take(limit).read_to_end(&mut bytes)?;
    }
    Ok(bytes)
}

fn shares_days(maker: i64) -> Stop {
    let message = format!("the file shares days with more than one blanket of maker {maker}");
    let hint = "nothing was changed".to_owned();
    Stop { exit: Exit::Failure, message, hints: vec![hint] }
}

fn refused(fault: ImportFault) -> Stop {
    let (message, hint) = match fault {
        ImportFault::TooLarge => ("the file is larger than any book", None),
        ImportFault::Unreadable => ("the file is no book of duskrow, or was changed", None),
        ImportFault::TooNew => {
            let hint = "install that version first";
            ("the file was written by a newer version of duskrow", Some(hint))
        }
        ImportFault::Impossible => ("the file names something that cannot be in a book", None),
    };
    let nothing = "nothing was changed".to_owned();
    let hints = hint.map(str::to_owned).into_iter().chain([nothing]).collect();
    Stop { exit: Exit::Failure, message: message.to_owned(), hints }
}
