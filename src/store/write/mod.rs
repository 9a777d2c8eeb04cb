//! One change of a book, written into the tables.
//!
//! Does to the rows what `Book::apply` does to the value: what is loaded afterwards is the book it
//! was applied to. Never decides whether a change makes sense.

mod begin;
mod days;
mod notes;
mod people;
mod scale;
mod settings;
mod yarn;

use chrono::{DateTime, Utc};
use sqlx::SqliteConnection;

use super::MakerId;
use super::codes::ms;
use super::error::{Result, StoreError};
use super::outbox::queue;
use crate::blanket::{Answer, Change, Finish};

/// Writes one change, and says which blanket is logged after it.
pub async fn write(
    tx: &mut SqliteConnection,
    maker: MakerId,
    blanket: Option<i64>,
    change: &Change,
    now: DateTime<Utc>,
) -> Result<i64> {
    if let Change::Began(beginning) = change {
        let begun = begin::begin(tx, maker, beginning).await?;
        begin::log(tx, maker, begun).await?;
        if let Some(replaced) = blanket {
            begin::delete(tx, replaced).await?;
        }
        return Ok(begun);
    }
    if let Change::Logged { first_day } = change {
        let other = begin::find(tx, maker, *first_day).await?.ok_or_else(nobody_began)?;
        begin::log(tx, maker, other).await?;
        return Ok(other);
    }
    let own = blanket.ok_or_else(nobody_began)?;
    if let Change::BlanketDeleted { first_day } = change {
        let other = begin::find(tx, maker, *first_day).await?.filter(|other| *other != own);
        begin::delete(tx, other.ok_or_else(nobody_began)?).await?;
        return Ok(own);
    }
    if let Change::Of { first_day, change } = change {
        let other = begin::find(tx, maker, *first_day).await?;
        match (&**change, other) {
            (Change::Began(beginning), None) => {
                begin::begin(tx, maker, beginning).await?;
            }
            (change, Some(other)) => write_own(tx, maker, other, change, now).await?,
            (_, None) => return Err(nobody_began()),
        }
        return Ok(own);
    }
    write_own(tx, maker, own, change, now).await?;
    Ok(own)
}

fn nobody_began() -> StoreError {
    StoreError::Other(anyhow::anyhow!("a change of a blanket nobody began"))
}

async fn write_own(
    tx: &mut SqliteConnection,
    maker: MakerId,
    blanket: i64,
    change: &Change,
    now: DateTime<Utc>,
) -> Result<()> {
    match change {
        // Those were dealt with before.
        Change::Began(_)
        | Change::Of { .. }
        | Change::Logged { .. }
        | Change::BlanketDeleted { .. } => {}
        Change::DaysMoved { first_day, last_day } => {
            settings::days(tx, blanket, *first_day, *last_day).await?;
        }
        Change::Asked { day, at } => days::ask(tx, blanket, *day, ms(*at)).await?,
        Change::Answered { day, tier, how, at } => {
            let answer = Answer { tier: *tier, how: *how, at: *at };
            days::keep(tx, blanket, *day, &answer).await?;
            queue::drop_question(tx, maker, *day).await?;
        }
        Change::Earlier(earlier) => days::remember(tx, blanket, earlier).await?,
        Change::Reopened { day } => days::reopen(tx, blanket, *day, now).await?,
        Change::PutOff { day, until } => {
            days::put_off(tx, blanket, *day, *until).await?;
            queue::drop_question(tx, maker, *day).await?;
        }
        Change::Noted { day, note } => notes::note(tx, blanket, *day, note).await?,
        Change::NoteDeleted { note } => notes::delete(tx, blanket, *note).await?,
        Change::PersonKept { id, line } => people::keep(tx, blanket, *id, line).await?,
        Change::PersonRemoved { id } => people::remove(tx, blanket, *id).await?,
        Change::Worked { block, yarns, at } => {
            yarn::work(tx, blanket, *block, yarns, ms(*at)).await?;
        }
        Change::PulledBack { block, rows_left } => {
            yarn::pull_back(tx, blanket, *block, *rows_left).await?;
            settings::finish(tx, blanket, (*block, Finish::Woven), false).await?;
            settings::finish(tx, blanket, (*block, Finish::Joined), false).await?;
        }
        Change::Stocked { yarn, entry } => yarn::stock(tx, blanket, *yarn, entry).await?,
        Change::Unstocked { yarn } => yarn::unstock(tx, blanket, *yarn).await?,
        Change::Described { tier, line, at } => {
            let line = line.as_ref().map_or("", |line| line.as_str());
            settings::describe(tx, blanket, *tier, line, ms(*at)).await?;
        }
        Change::Shaped { pieces, fabric } => {
            settings::shape(tx, blanket, pieces, fabric).await?;
        }
        Change::Scaled(scale) => scale::scale(tx, blanket, scale).await?,
        Change::YarnAdded(yarn) => scale::yarn(tx, blanket, yarn).await?,
        Change::JoiningMoved { yarn } => scale::joining(tx, blanket, *yarn).await?,
        Change::YarnRemoved { yarn } => scale::remove_yarn(tx, blanket, *yarn).await?,
        Change::QuestionSet(question) => {
            scale::question(tx, blanket, question.as_ref()).await?;
        }
        Change::Finished { block, finish, done } => {
            settings::finish(tx, blanket, (*block, *finish), *done).await?;
        }
        Change::YarnSet(settings) => yarn::settings(tx, blanket, settings).await?,
        Change::YarnNamed(named) => yarn::name(tx, blanket, named).await?,
        Change::TiersMoved { yarns } => yarn::move_tiers(tx, blanket, yarns).await?,
        Change::HoursSet(hours) => settings::hours(tx, blanket, hours).await?,
        Change::PaperSet(on_paper) => settings::paper(tx, blanket, on_paper).await?,
        Change::RemindersSet(reminders) => settings::reminders(tx, blanket, reminders).await?,
        Change::Nudged { on } => settings::nudged(tx, blanket, *on).await?,
        Change::Recapped { on } => settings::recapped(tx, blanket, *on).await?,
    }
    Ok(())
}
