//! Days set in one go: pasted and shown back, or open ones set to the default tier. One tap sets
//! them, another takes all of it back.

use chrono::{DateTime, NaiveDate, Utc};

use super::button::Button;
use super::caption::Caption;
use super::event::MessageId;
use super::outcome::{Outcome, Place, Reply};
use super::say::Say;
use super::talk::{Before, KeptAs, Step, Undo, UndoDay, Until};
use super::{Maker, many, nudges};
use crate::blanket::{Book, Change, How, TierId};

/// Keeps the pasted days that were shown. Of days answered since then, the list comes once more.
pub fn keep(maker: &Maker, book: &Book, id: i64, now: DateTime<Utc>, tapped: MessageId) -> Outcome {
    let kept = |count| {
        Reply::new(Say::ManyKept { count })
            .at(in_place(tapped))
            .key(Caption::Undo, Button::UndoMany { id })
    };
    let Some(draft) = maker.talk.draft.as_ref().filter(|draft| draft.id == id) else {
        return match standing(maker, id) {
            Some(undo) => maker.quiet().say(kept(undo.count)),
            None => gone(maker, tapped),
        };
    };
    let known = |tier: &u8| book.scale().tier(TierId(*tier)).is_some();
    let days = draft.days.iter().filter(|(_, tier)| known(tier));
    let days: Vec<_> = days.map(|(day, tier)| (*day, TierId(*tier))).collect();
    let newer = |(day, _): &(NaiveDate, TierId)| {
        book.answer(*day).is_some_and(|answer| answer.at.timestamp_millis() > id)
    };
    if days.iter().any(newer) {
        let mut shown = many::show_back(maker, book, Ok(days), now);
        shown.replies.iter_mut().for_each(|reply| reply.place = in_place(tapped));
        return shown;
    }
    let mut outcome = set(maker, book, &days, How::Answered, (id, now));
    outcome.talk.draft = None;
    nudges::ask_once(book, outcome.say(kept(days.len())))
}

pub fn forget(maker: &Maker, id: i64, tapped: MessageId) -> Outcome {
    let mut outcome = maker.quiet().say(Reply::new(Say::ManyDropped).at(in_place(tapped)));
    if outcome.talk.draft.as_ref().is_some_and(|draft| draft.id == id) {
        outcome.talk.draft = None;
    }
    outcome
}

/// Sets all open days to the default tier, if they are the ones the button spoke of.
pub fn assume_all(
    maker: &Maker,
    book: &Book,
    (first, last, count): (NaiveDate, NaiveDate, u16),
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    let spoken_of = |days: &[NaiveDate]| {
        let ends = days.first() == Some(&first) && days.last() == Some(&last);
        ends && days.len() == usize::from(count)
    };
    let tier = book.scale().default_tier();
    let said = |id| {
        Reply::new(Say::AllAssumed { count: usize::from(count), tier: tier.label.clone() })
            .at(in_place(tapped))
            .key(Caption::Undo, Button::UndoMany { id })
    };
    let open: Vec<NaiveDate> = book.open_days(book.hours().day_at(now)).collect();
    if spoken_of(&open) {
        let days: Vec<_> = open.into_iter().map(|day| (day, tier.id)).collect();
        let id = maker.talk.fresh_id(now);
        let outcome = set(maker, book, &days, How::Assumed, (id, now)).say(said(id));
        return nudges::ask_once(book, outcome);
    }
    // A second tap on the same button.
    let done = maker.talk.undo.as_ref().filter(|undo| {
        let days: Vec<NaiveDate> = undo.days.iter().map(|day| day.day).collect();
        !undo.taken_back && spoken_of(&days) && stands(book, undo)
    });
    match done {
        Some(undo) => maker.quiet().say(said(undo.id)),
        None => gone(maker, tapped),
    }
}

/// Takes back what was set in one go: each day that has what it was set to gets what it had
/// before.
pub fn undo(maker: &Maker, book: &Book, id: i64, now: DateTime<Utc>, tapped: MessageId) -> Outcome {
    let Some(undo) = maker.talk.undo.as_ref().filter(|undo| undo.id == id) else {
        return gone(maker, tapped);
    };
    let mut outcome = maker.quiet();
    let untouched = |day: &&UndoDay| undo.taken_back || as_set(book, day);
    let days: Vec<UndoDay> = undo.days.iter().filter(untouched).copied().collect();
    if !undo.taken_back {
        outcome.changes.extend(days.iter().flat_map(back));
    }
    let dates: Vec<NaiveDate> = days.iter().map(|day| day.day).collect();
    let mut said = Reply::new(Say::ManyUndone { days: dates.clone() }).at(in_place(tapped));
    if let [day] = dates.as_slice()
        && *day <= book.hours().day_at(now)
    {
        said = said.key(Caption::AnswerDay(*day), Button::Ask { day: *day });
    }
    outcome.talk.undo = Some(Undo { days, taken_back: true, ..undo.clone() });
    outcome.say(said)
}

/// The changes that give a day what it had before.
fn back(day: &UndoDay) -> Vec<Change> {
    match (day.before, day.put_off) {
        (Some(Before { tier, how, at }), _) => {
            vec![Change::Answered { day: day.day, tier: TierId(tier), how: how.into(), at }]
        }
        (None, None) => vec![Change::Reopened { day: day.day }],
        (None, Some(until)) => vec![
            Change::Reopened { day: day.day },
            Change::PutOff { day: day.day, until: until.into() },
        ],
    }
}

/// The changes that give days their tiers, and what *Undo* would need.
fn set(
    maker: &Maker,
    book: &Book,
    days: &[(NaiveDate, TierId)],
    how: How,
    (id, at): (i64, DateTime<Utc>),
) -> Outcome {
    let mut outcome = maker.quiet();
    let undo = record(book, days, how, id);
    outcome.changes.extend(undo.days.iter().map(|day| Change::Answered {
        day: day.day,
        tier: TierId(day.set_to),
        how,
        at,
    }));
    if let Step::Day { day } = outcome.talk.step
        && days.iter().any(|(set, _)| *set == day)
    {
        outcome.talk.step = Step::Idle;
    }
    outcome.talk.undo = Some(undo);
    outcome
}

/// What *Undo* needs to know of days that are to be set. A day that has the same tier in the same
/// way is not changed.
pub fn record(book: &Book, days: &[(NaiveDate, TierId)], how: How, id: i64) -> Undo {
    let changed = days.iter().filter_map(|&(day, tier)| {
        let before = book.answer(day);
        let same = before.is_some_and(|before| (before.tier, before.how) == (tier, how));
        (!same).then(|| UndoDay {
            day,
            set_to: tier.0,
            set_as: how.into(),
            before: before.map(|before| Before {
                tier: before.tier.0,
                how: before.how.into(),
                at: before.at,
            }),
            put_off: book.put_off(day).map(Until::from),
        })
    });
    Undo { id, count: days.len(), days: changed.collect(), taken_back: false }
}

/// The id of the *Undo* that takes back this one day, where it stands as it was set.
pub fn undo_of(maker: &Maker, book: &Book, day: NaiveDate) -> Option<i64> {
    let undo = maker.talk.undo.as_ref().filter(|undo| !undo.taken_back)?;
    let alone = matches!(undo.days.as_slice(), [only] if only.day == day);
    (alone && stands(book, undo)).then_some(undo.id)
}

/// What was kept by this id, where it was not taken back.
fn standing(maker: &Maker, id: i64) -> Option<&Undo> {
    maker.talk.undo.as_ref().filter(|undo| undo.id == id && !undo.taken_back)
}

fn stands(book: &Book, undo: &Undo) -> bool {
    undo.days.iter().all(|day| as_set(book, day))
}

fn as_set(book: &Book, day: &UndoDay) -> bool {
    let set = |answer: crate::blanket::Answer| {
        answer.tier == TierId(day.set_to) && KeptAs::from(answer.how) == day.set_as
    };
    book.answer(day.day).is_some_and(set)
}

fn gone(maker: &Maker, tapped: MessageId) -> Outcome {
    maker.quiet().say(Reply::new(Say::ManyGone).at(in_place(tapped)))
}

fn in_place(tapped: MessageId) -> Place {
    Place::Change { slot: None, tapped: Some(tapped) }
}
