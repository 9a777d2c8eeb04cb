//! A whole book from JSON: all of it, or nothing.
//!
//! Whatever the file holds, no book comes of it that could not have come about in the chat: what
//! it names is there, what it counts is within the caps, when it was is in years that makers live
//! in. No number of the platform is taken from it; notes get new ones.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{DateTime, Utc};

use super::bounds::{self, is_day, is_minute, is_turn_of_day};
use super::form::{
    AskedForm, BookForm, DayForm, EarlierForm, EntryForm, FORMAT, FinishForm, Head, KeptForm,
    NoteForm, NudgesForm, PersonForm, RemindersForm, TierForm, VERSION, WhatForm, YarnForm,
};
use crate::blanket::colours::{read_hex, written_hex};
use crate::blanket::letters::shown;
use crate::blanket::stock::{BALLS_MAX, Ball, Decimetres, Entry, EntryKind, Tenths, WEIGHINGS_MAX};
use crate::blanket::{
    Beginning, BlockNumber, Change, Earlier, Finish, Hours, How, Label, NOTES_PER_DAY_MAX, Note,
    NoteFault, NoteId, NoteText, Nudges, OwnQuestion, PEOPLE_MAX, PersonId, PersonLine, Plan,
    Reminders, Scale, Tier, TierId, TierLine, YARNS_MAX, Yarn, YarnId, YarnSettings,
};

/// The largest file that is read, in bytes: all the notes a year can have, in letters of four
/// bytes, and what else there is. The platform hands over 20 MB.
pub const BYTES_MAX: usize = 18 << 20;
/// The most lines of what days had before: more than fifty a day. They are written one by one while
/// other makers wait.
pub const EARLIER_MAX: usize = 20_000;
/// A strip of two years is the longest block.
const ROWS_MAX: u16 = 732;
/// Rows of blocks that were cut away once.
const ROWS_WITHOUT_PLACE_MAX: u16 = 2 * ROWS_MAX;

/// Why a file is no book. Nothing was changed.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum ImportFault {
    TooLarge,
    /// It is no file of ours, or was changed so that it cannot be read.
    Unreadable,
    /// Written by a newer version of the program.
    TooNew,
    /// It can be read, and names something that is not there or cannot be.
    Impossible,
}

type Read<T> = Result<T, ImportFault>;

/// What a blanket began with, and all that has happened to it since: applied in this order they
/// are the book that was written, but for the numbers of notes.
///
/// # Errors
/// An [`ImportFault`].
pub fn read_book(bytes: &[u8]) -> Read<Vec<Change>> {
    if bytes.len() > BYTES_MAX {
        return Err(ImportFault::TooLarge);
    }
    let head: Head = serde_json::from_slice(bytes).map_err(|_| ImportFault::Unreadable)?;
    if head.format != FORMAT || head.version == 0 {
        return Err(ImportFault::Unreadable);
    }
    if head.version > VERSION {
        return Err(ImportFault::TooNew);
    }
    let form: BookForm = serde_json::from_slice(bytes).map_err(|_| ImportFault::Unreadable)?;
    let beginning = beginning(&form)?;
    let known = Known::of(&form, &beginning);
    let mut changes = vec![Change::Began(Box::new(beginning))];
    changes.extend(known.removed_yarns(&form)?);
    changes.push(Change::RemindersSet(reminders(&form.reminders)?));
    if let Some(question) = &form.question {
        let question = own(OwnQuestion::parse(&shown(question)))?;
        changes.push(Change::QuestionSet(Some(question)));
    }
    changes.push(Change::YarnSet(Box::new(known.settings(&form)?)));
    changes.push(Change::PaperSet(form.paper));
    changes.extend(known.lines(&form)?);
    changes.extend(known.earlier(&form.earlier)?);
    changes.extend(known.days(&form.days)?);
    changes.extend(known.put_off(&form)?);
    changes.extend(form.asked.as_ref().map(|asked| known.asked(asked)).transpose()?);
    changes.extend(known.notes(&form.notes)?);
    changes.extend(people(&form.people)?);
    changes.extend(known.rows(&form)?);
    changes.extend(known.stock(&form.stock)?);
    sure(form.nudged.is_none_or(is_day) && form.recapped.is_none_or(is_day))?;
    changes.extend(form.nudged.map(|on| Change::Nudged { on }));
    changes.extend(form.recapped.map(|on| Change::Recapped { on }));
    Ok(changes)
}

fn beginning(form: &BookForm) -> Read<Beginning> {
    let impossible = ImportFault::Impossible;
    sure(is_day(form.first_day) && is_day(form.last_day))?;
    let plan = Plan::new(form.first_day, form.last_day, form.pieces, form.fabric.faces());
    let yarns: Vec<Yarn> = form.yarns.iter().map(yarn).collect::<Read<_>>()?;
    let ids: BTreeSet<YarnId> = yarns.iter().map(|yarn| yarn.id).collect();
    let joining = YarnId(form.joining_yarn);
    let mut tiers = form.tiers.iter().chain(&form.removed_tiers);
    let sound = ids.len() == yarns.len()
        && yarns.len() <= YARNS_MAX
        && ids.contains(&joining)
        && each_after_a_known_one(&yarns)
        && tiers.all(|tier| ids.contains(&YarnId(tier.yarn)))
        && form.fabric.check().is_ok()
        && form.fabric.is_within_limits();
    sure(sound)?;
    Ok(Beginning {
        plan: plan.map_err(|_| impossible)?,
        fabric: form.fabric,
        scale: scale(form)?,
        yarns,
        joining,
        hours: hours(form)?,
    })
}

/// Labels that count as the same today may have been two once, and stay two.
fn scale(form: &BookForm) -> Read<Scale> {
    let tier = |tier: &TierForm| {
        Ok(Tier { id: TierId(tier.id), label: label(&tier.label)?, yarn: YarnId(tier.yarn) })
    };
    let tiers = form.tiers.iter().map(tier).collect::<Read<_>>()?;
    let removed = form.removed_tiers.iter().map(tier).collect::<Read<_>>()?;
    let scale = Scale::kept(tiers, TierId(form.default_tier));
    scale.and_then(|scale| scale.with_retired(removed)).map_err(|_| ImportFault::Impossible)
}

fn yarn(form: &YarnForm) -> Read<Yarn> {
    let (rgb, name) = (strict_hex(&form.colour)?, label(&form.name)?);
    Ok(Yarn { id: YarnId(form.id), name, rgb, after: form.after.map(YarnId) })
}

fn hours(form: &BookForm) -> Read<Hours> {
    let BookForm { ask_at, day_turns_at, .. } = *form;
    sure(is_minute(ask_at) && is_turn_of_day(day_turns_at))?;
    let zone = form.zone.parse().map_err(|_| ImportFault::Impossible)?;
    Ok(Hours { zone, ask_at, day_turns_at })
}

/// A yarn comes after one that was there before it.
fn each_after_a_known_one(yarns: &[Yarn]) -> bool {
    let known = |(index, yarn): (usize, &Yarn)| {
        yarn.after.is_none_or(|before| yarns[..index].iter().any(|known| known.id == before))
    };
    yarns.iter().enumerate().all(known)
}

fn strict_hex(text: &str) -> Read<[u8; 3]> {
    let rgb = read_hex(text).filter(|rgb| written_hex(*rgb).eq_ignore_ascii_case(text));
    rgb.ok_or(ImportFault::Impossible)
}

/// A text as it is kept today. What nobody sees is left out: rules of before let more of it in.
fn own<T, F>(read: Result<T, F>) -> Read<T> {
    read.map_err(|_| ImportFault::Impossible)
}

fn label(text: &str) -> Read<Label> {
    own(Label::parse(&shown(text)))
}

fn instant(at: DateTime<Utc>) -> Read<DateTime<Utc>> {
    bounds::instant(at).ok_or(ImportFault::Impossible)
}

fn reminders(form: &RemindersForm) -> Read<Reminders> {
    sure(is_minute(form.nudge_at) && is_minute(form.recap_at))?;
    Ok(Reminders {
        nudges: match form.nudges {
            NudgesForm::NotAsked => Nudges::NotAsked,
            NudgesForm::Off => Nudges::Off,
            NudgesForm::On => Nudges::On,
        },
        nudge_at: form.nudge_at,
        recap_on: form.recap_on,
        recap_at: form.recap_at,
        recap_whole: form.recap_whole,
        paused: form.paused,
    })
}

fn people(people: &[PersonForm]) -> Read<Vec<Change>> {
    let in_order = people.is_sorted_by(|one, next| one.id < next.id);
    let known = |person: &PersonForm| person.id > 0 && bounds::ms(person.id).is_some();
    sure(people.len() <= PEOPLE_MAX && in_order && people.iter().all(known))?;
    let kept = |PersonForm { id, line }: &PersonForm| {
        let line = own(PersonLine::parse(line))?;
        Ok(Change::PersonKept { id: PersonId(*id), line })
    };
    people.iter().map(kept).collect()
}

/// What the rest of a file may name.
struct Known {
    plan: Plan,
    tiers: BTreeSet<TierId>,
    removed: BTreeSet<TierId>,
    yarns: BTreeSet<YarnId>,
}

impl Known {
    fn of(form: &BookForm, beginning: &Beginning) -> Known {
        Known {
            plan: beginning.plan.clone(),
            tiers: form.tiers.iter().map(|tier| TierId(tier.id)).collect(),
            removed: form.removed_tiers.iter().map(|tier| TierId(tier.id)).collect(),
            yarns: form.yarns.iter().map(|yarn| YarnId(yarn.id)).collect(),
        }
    }

    fn removed_yarns(&self, form: &BookForm) -> Read<Vec<Change>> {
        let removed = &form.removed_yarns;
        sure(removed.is_sorted_by(|one, next| one < next))?;
        sure(!removed.iter().any(|yarn| self.yarns.contains(&YarnId(*yarn))))?;
        Ok(removed.iter().map(|yarn| Change::YarnRemoved { yarn: YarnId(*yarn) }).collect())
    }

    /// A guess about a tier that never was on this scale is of the blanket before, and left out.
    fn settings(&self, form: &BookForm) -> Read<YarnSettings> {
        let mut settings = form.yarn_settings.clone();
        settings.guess.retain(|tier, _| self.ever(*tier));
        if let Some(ball) = &settings.ball {
            let length = ball.length_each.unwrap_or_default();
            sure((1..=Ball::EACH_MAX.0).contains(&ball.each.0) && length <= Decimetres::MAX)?;
        }
        Ok(settings)
    }

    fn ever(&self, tier: TierId) -> bool {
        self.tiers.contains(&tier) || self.removed.contains(&tier)
    }

    fn lines(&self, form: &BookForm) -> Read<Vec<Change>> {
        let mut lines = Vec::new();
        for tier in form.tiers.iter().chain(&form.removed_tiers) {
            let Some(line) = &tier.line else { continue };
            let line = own(TierLine::parse(line))?;
            let tier = TierId(tier.id);
            let at = DateTime::UNIX_EPOCH;
            lines.push(Change::Described { tier, line: Some(line), at });
        }
        Ok(lines)
    }

    fn days(&self, days: &[DayForm]) -> Read<Vec<Change>> {
        let mut dates = BTreeSet::new();
        let mut changes = Vec::new();
        for day in days {
            let (date, tier) = (day.date, TierId(day.tier));
            sure(self.plan.has(date) && self.tiers.contains(&tier) && dates.insert(date))?;
            let (how, at) = (how(&day.kept), instant(day.at)?);
            changes.push(Change::Answered { day: date, tier, how, at });
        }
        Ok(changes)
    }

    /// A day may have had tiers that were removed since.
    fn earlier(&self, earlier: &[EarlierForm]) -> Read<Vec<Change>> {
        let read = |line: &EarlierForm| {
            let kept = line.kept.as_ref().map(|kept| (TierId(kept.tier), how(&kept.kept)));
            sure(self.plan.has(line.date) && kept.is_none_or(|(tier, _)| self.ever(tier)))?;
            Ok(Change::Earlier(Earlier { day: line.date, kept, at: instant(line.at)? }))
        };
        sure(earlier.len() <= EARLIER_MAX)?;
        earlier.iter().map(read).collect()
    }

    fn asked(&self, asked: &AskedForm) -> Read<Change> {
        sure(self.plan.has(asked.date))?;
        Ok(Change::Asked { day: asked.date, at: instant(asked.at)? })
    }

    fn put_off(&self, form: &BookForm) -> Read<Vec<Change>> {
        let mut dates = BTreeSet::new();
        let mut changes = Vec::new();
        for day in &form.put_off {
            sure(self.plan.has(day.date) && dates.insert(day.date))?;
            sure(day.until.is_none_or(is_day))?;
            changes.push(Change::PutOff { day: day.date, until: day.until });
        }
        Ok(changes)
    }

    /// Notes are named by the messages they were typed in; those of a file were typed in none.
    fn notes(&self, notes: &[NoteForm]) -> Read<Vec<Change>> {
        let mut count: BTreeMap<_, usize> = BTreeMap::new();
        let mut changes = Vec::new();
        for (id, note) in (1..).zip(notes) {
            let of_day = count.entry(note.date).or_default();
            *of_day += 1;
            sure(self.plan.has(note.date) && *of_day <= NOTES_PER_DAY_MAX)?;
            let text = match NoteText::parse(&note.text) {
                // Nobody ever saw anything of it.
                Err(NoteFault::Empty) => continue,
                text => own(text)?,
            };
            let note_id = NoteId(-id);
            changes.push(Change::Noted { day: note.date, note: Note { id: note_id, text } });
        }
        Ok(changes)
    }

    /// No block has more worked rows than it has rows.
    fn rows(&self, form: &BookForm) -> Read<Vec<Change>> {
        let mut worked: BTreeMap<BlockNumber, u16> = BTreeMap::new();
        let mut without_place = 0;
        let mut changes = Vec::new();
        for row in &form.worked {
            let (block, yarn) = (BlockNumber(row.block), YarnId(row.yarn));
            let most = match self.plan.block(block) {
                Some(block) => block.rows,
                None => {
                    without_place += 1;
                    ROWS_MAX
                }
            };
            let count = worked.entry(block).or_default();
            *count += 1;
            sure(*count <= most && without_place <= ROWS_WITHOUT_PLACE_MAX)?;
            sure(is_a_block(block) && self.yarns.contains(&yarn))?;
            changes.push(Change::Worked { block, yarns: vec![yarn], at: instant(row.at)? });
        }
        let mut done = BTreeSet::new();
        for finished in &form.finished {
            let block = BlockNumber(finished.block);
            let finish = match finished.finish {
                FinishForm::Woven => Finish::Woven,
                FinishForm::Joined => Finish::Joined,
            };
            sure(is_a_block(block) && done.insert((block, finish)))?;
            changes.push(Change::Finished { block, finish, done: true });
        }
        Ok(changes)
    }

    fn stock(&self, entries: &[EntryForm]) -> Read<Vec<Change>> {
        let (mut balls, mut weighings) = (0_u32, 0_u32);
        let mut changes = Vec::new();
        for form in entries {
            let kind = entry_kind(&form.what)?;
            match &kind {
                EntryKind::Ball(ball) => balls = balls.saturating_add(u32::from(ball.count)),
                EntryKind::Weighing(_) | EntryKind::Correction(_) | EntryKind::Tried { .. } => {
                    weighings += 1;
                }
            }
            let yarn = YarnId(form.yarn);
            sure(self.yarns.contains(&yarn) && balls <= BALLS_MAX && weighings <= WEIGHINGS_MAX)?;
            let entry = Entry { kind, rows: form.rows, at: instant(form.at)? };
            changes.push(Change::Stocked { yarn, entry });
        }
        Ok(changes)
    }
}

fn how(form: &KeptForm) -> How {
    match form {
        KeptForm::Answered => How::Answered,
        KeptForm::ForNow => How::ForNow,
        KeptForm::Assumed => How::Assumed,
    }
}

fn entry_kind(form: &WhatForm) -> Read<EntryKind> {
    let weight = |tenths: u32| {
        sure(tenths <= Tenths::MAX.0)?;
        Ok(Tenths(tenths))
    };
    Ok(match form {
        WhatForm::Weighing(tenths) => EntryKind::Weighing(weight(*tenths)?),
        WhatForm::Correction(tenths) => EntryKind::Correction(weight(*tenths)?),
        WhatForm::Tried { before, after, rows } => {
            sure(after <= before && *rows > 0)?;
            EntryKind::Tried { before: weight(*before)?, after: weight(*after)?, rows: *rows }
        }
        WhatForm::Balls { count, each, length_each, lot, weighed } => {
            sure(*count > 0 && *each > 0 && *each <= Ball::EACH_MAX.0)?;
            let lot = lot.as_deref().map(label);
            let length_each = length_each.map(Decimetres);
            sure(length_each.is_none_or(|length| length <= Decimetres::MAX))?;
            EntryKind::Ball(Ball {
                count: *count,
                each: Tenths(*each),
                length_each,
                lot: lot.transpose()?,
                weighed: weighed.map(weight).transpose()?,
            })
        }
    })
}

/// Of this way of cutting the blanket, or of one before it.
fn is_a_block(block: BlockNumber) -> bool {
    (1..=Plan::DAYS_MAX).contains(&i64::from(block.0))
}

fn sure(fits: bool) -> Read<()> {
    if fits { Ok(()) } else { Err(ImportFault::Impossible) }
}
