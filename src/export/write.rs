//! A whole book as JSON.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::form::{
    AskedForm, BookForm, DayForm, EarlierForm, EarlierKeptForm, EntryForm, FORMAT, FinishForm,
    FinishedForm, KeptForm, NoteForm, NudgesForm, PersonForm, PutOffForm, RemindersForm, TierForm,
    VERSION, WhatForm, WorkedForm, YarnForm,
};
use super::read::{BYTES_MAX, EARLIER_MAX};
use crate::blanket::colours::written_hex;
use crate::blanket::stock::{Entry, EntryKind};
use crate::blanket::{
    Answer, BlockNumber, Book, Earlier, Finish, How, Nudges, Reminders, Tier, WorkedRow, Yarn,
    YarnId,
};

/// What can be read back, with an end of line.
const MOST: usize = BYTES_MAX - 1;

/// The book as one JSON object, in lines, with what its days had before. `history` is all they
/// ever had, oldest first for each day; what they have now is in it or not. Of a history that is
/// too long to be read back, the part of the first days stays out.
pub fn book_file(book: &Book, history: &[Earlier]) -> String {
    let mut form = form(book, history);
    form.earlier.drain(..form.earlier.len().saturating_sub(EARLIER_MAX));
    let mut text = serde_json::to_string_pretty(&form).unwrap_or_default();
    // A book of long notes fits in one line. Where that is too long too, what days have now
    // matters more than what they had.
    if text.len() > MOST {
        text = serde_json::to_string(&form).unwrap_or_default();
    }
    while text.len() > MOST && !form.earlier.is_empty() {
        form.earlier.drain(..form.earlier.len().div_ceil(2));
        text = serde_json::to_string(&form).unwrap_or_default();
    }
    text.push('\n');
    text
}

fn form(book: &Book, history: &[Earlier]) -> BookForm {
    let (plan, hours) = (book.plan(), book.hours());
    BookForm {
        format: FORMAT.to_owned(),
        version: VERSION,
        first_day: plan.first_day(),
        last_day: plan.last_day(),
        pieces: plan.pieces(),
        fabric: *book.fabric(),
        zone: hours.zone.name().to_owned(),
        ask_at: hours.ask_at,
        day_turns_at: hours.day_turns_at,
        tiers: tiers(book, book.scale().tiers().iter()),
        removed_tiers: tiers(book, book.scale().retired()),
        question: book.question().map(|question| question.as_str().to_owned()),
        default_tier: book.scale().default_tier().id.0,
        yarns: yarns(book),
        joining_yarn: book.joining().0,
        removed_yarns: book.removed_yarns().iter().map(|yarn| yarn.0).collect(),
        reminders: reminders(book.reminders()),
        paper: *book.on_paper(),
        yarn_settings: book.yarn_settings().clone(),
        days: days(book),
        earlier: earlier(book, history),
        put_off: put_off(book),
        notes: notes(book),
        people: people(book),
        worked: worked(book),
        finished: finished(book),
        stock: book.yarns().iter().flat_map(|yarn| entries(book, yarn.id)).collect(),
        asked: book.asked().map(|(date, at)| AskedForm { date, at }),
        nudged: book.nudged(),
        recapped: book.recapped(),
    }
}

fn tiers<'a>(book: &Book, tiers: impl Iterator<Item = &'a Tier>) -> Vec<TierForm> {
    let form = |tier: &Tier| TierForm {
        id: tier.id.0,
        label: tier.label.to_string(),
        yarn: tier.yarn.0,
        line: book.tier_line(tier.id).map(|line| line.as_str().to_owned()),
    };
    tiers.map(form).collect()
}

fn yarns(book: &Book) -> Vec<YarnForm> {
    let form = |yarn: &Yarn| YarnForm {
        id: yarn.id.0,
        name: yarn.name.to_string(),
        colour: written_hex(yarn.rgb),
        after: yarn.after.map(|before| before.0),
    };
    book.yarns().iter().map(form).collect()
}

fn reminders(reminders: &Reminders) -> RemindersForm {
    RemindersForm {
        nudges: match reminders.nudges {
            Nudges::NotAsked => NudgesForm::NotAsked,
            Nudges::Off => NudgesForm::Off,
            Nudges::On => NudgesForm::On,
        },
        nudge_at: reminders.nudge_at,
        recap_on: reminders.recap_on,
        recap_at: reminders.recap_at,
        recap_whole: reminders.recap_whole,
        paused: reminders.paused,
    }
}

fn kept(how: How) -> KeptForm {
    match how {
        How::Answered => KeptForm::Answered,
        How::ForNow => KeptForm::ForNow,
        How::Assumed => KeptForm::Assumed,
    }
}

/// The newest line of a day that has an answer is that answer.
fn earlier(book: &Book, history: &[Earlier]) -> Vec<EarlierForm> {
    let newest: BTreeMap<NaiveDate, usize> =
        history.iter().enumerate().map(|(index, line)| (line.day, index)).collect();
    let is_now = |index: usize, line: &Earlier| {
        let now = book.answer(line.day);
        newest.get(&line.day) == Some(&index)
            && now.is_some_and(|now| line.kept == Some((now.tier, now.how)) && line.at == now.at)
    };
    let before = history.iter().enumerate().filter(|(index, line)| !is_now(*index, line));
    let form = |(_, line): (usize, &Earlier)| EarlierForm {
        date: line.day,
        kept: line.kept.map(|(tier, how)| EarlierKeptForm { tier: tier.0, kept: kept(how) }),
        at: line.at,
    };
    before.map(form).collect()
}

fn days(book: &Book) -> Vec<DayForm> {
    let form = |(date, answer): (&NaiveDate, &Answer)| DayForm {
        date: *date,
        tier: answer.tier.0,
        kept: kept(answer.how),
        at: answer.at,
    };
    book.answers().iter().map(form).collect()
}

fn put_off(book: &Book) -> Vec<PutOffForm> {
    let of = |date| book.put_off(date).map(|until| PutOffForm { date, until });
    dates(book).filter_map(of).collect()
}

fn notes(book: &Book) -> Vec<NoteForm> {
    let of = |date| {
        let notes = book.notes(date).iter();
        notes.map(move |note| NoteForm { date, text: note.text.as_str().to_owned() })
    };
    dates(book).flat_map(of).collect()
}

fn people(book: &Book) -> Vec<PersonForm> {
    let people = book.people().iter();
    people.map(|(id, line)| PersonForm { id: id.0, line: line.as_str().to_owned() }).collect()
}

fn worked(book: &Book) -> Vec<WorkedForm> {
    let form = |block: BlockNumber, row: &WorkedRow| WorkedForm {
        block: block.0,
        yarn: row.yarn.0,
        at: row.at,
    };
    let all = book.all_worked();
    all.flat_map(|(block, rows)| rows.iter().map(move |row| form(block, row))).collect()
}

fn finished(book: &Book) -> Vec<FinishedForm> {
    let form = |(block, finish): (BlockNumber, Finish)| FinishedForm {
        block: block.0,
        finish: match finish {
            Finish::Woven => FinishForm::Woven,
            Finish::Joined => FinishForm::Joined,
        },
    };
    book.all_finished().map(form).collect()
}

fn entries(book: &Book, yarn: YarnId) -> impl Iterator<Item = EntryForm> + '_ {
    let form = move |entry: &Entry| EntryForm {
        yarn: yarn.0,
        rows: entry.rows,
        at: entry.at,
        what: match &entry.kind {
            EntryKind::Ball(ball) => WhatForm::Balls {
                count: ball.count,
                each: ball.each.0,
                length_each: ball.length_each.map(|length| length.0),
                lot: ball.lot.as_ref().map(ToString::to_string),
                weighed: ball.weighed.map(|weighed| weighed.0),
            },
            EntryKind::Weighing(tenths) => WhatForm::Weighing(tenths.0),
            EntryKind::Correction(tenths) => WhatForm::Correction(tenths.0),
            EntryKind::Tried { before, after, rows } => {
                WhatForm::Tried { before: before.0, after: after.0, rows: *rows }
            }
        },
    };
    book.ledger(yarn).entries().iter().map(form)
}

/// The days of the blanket.
fn dates(book: &Book) -> impl Iterator<Item = NaiveDate> + '_ {
    let plan = book.plan();
    plan.first_day().iter_days().take_while(|day| *day <= plan.last_day())
}
