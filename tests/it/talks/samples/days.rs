//! Samples about days: hard to name, put off, open, many at once; notes; what comes of itself.

use chrono::NaiveDate;
use duskrow::blanket::{BlockNumber, How, RowNumber};
use duskrow::chat::button::Position;
use duskrow::chat::many::ManyFault;
use duskrow::chat::say::{Around, BlockSaid, MeaningsSaid, OpenSaid, RecapDay, RecapSaid, Say};

use super::settings::{tier, tiers};
use super::{date, day, label, refused};

pub fn every_say() -> Vec<Say> {
    let day = day();
    let asks = date(2027, 1, 17).and_hms_opt(10, 0, 0);
    let mut all = vec![
        Say::Compare { day, default: label("Ordinary") },
        Say::DefaultMayFit { day, tier: tier("Ordinary", None) },
        Say::DefaultMayFit { day, tier: tier("Ordinary", Some("work, supper, an early night")) },
        Say::WhichOfThese { day, tiers: tiers() },
        Say::Meanings(meanings()),
        Say::Meanings(MeaningsSaid { practice: true, ..meanings() }),
        Say::Meanings(MeaningsSaid { kept: Some((label("Smooth"), How::ForNow)), ..meanings() }),
        Say::WhichOfThese { day, tiers: vec![tier("Smooth", None)] },
        Say::AskLater { day },
        Say::PutOff { day, asks, moved: false, paused: false },
        Say::PutOff { day, asks, moved: true, paused: false },
        Say::PutOff { day, asks, moved: true, paused: true },
        Say::PutOff { day, asks: None, moved: false, paused: false },
        Say::LeftOpen { day },
        Say::Nudge { day, asks: None },
        Say::Nudge { day, asks: Some(super::scale::question()) },
        Say::RecapReady,
        Say::AskNote { day },
        Say::Noted { day, has_tier: true, first: false },
        Say::Noted { day, has_tier: false, first: false },
        Say::Noted { day, has_tier: false, first: true },
        Say::NoteChanged { day },
        Say::NoteDeleted,
        Say::EmptyNote,
        Say::LongNote { max: 500 },
        Say::TooManyNotes { day, max: 20 },
        Say::NoOpenDays,
        Say::OpenDays(open(vec![day])),
        Say::OpenDays(open(day.iter_days().take(40).collect())),
        Say::Recap(recap()),
        Say::Recap(RecapSaid { yarn_short: Vec::new(), ready: None, rows_worked: 0, ..recap() }),
        Say::Recap(RecapSaid { days: Vec::new(), ..recap() }),
    ];
    all.extend(many(day));
    all.extend(worked_up_to(day));
    all
}

fn meanings() -> MeaningsSaid {
    let asks = Some(super::scale::question());
    MeaningsSaid { day: day(), asks, tiers: tiers(), kept: None, practice: false }
}

fn many(day: NaiveDate) -> Vec<Say> {
    let days = |count| day.iter_days().take(count).map(|day| (day, label("Smooth"))).collect();
    vec![
        Say::Many { days: days(1), replaced: 0 },
        Say::Many { days: days(31), replaced: 1 },
        Say::Many { days: days(31), replaced: 2 },
        refused(ManyFault::TooMany { max: 366 }),
        refused(ManyFault::Twice { day }),
        refused(ManyFault::Outside { day }),
        refused(ManyFault::ToCome { day }),
        Say::ManyKept { count: 1 },
        Say::ManyKept { count: 31 },
        Say::ManyDropped,
        Say::ManyUndone { days: vec![] },
        Say::ManyUndone { days: vec![day] },
        Say::ManyUndone { days: day.iter_days().take(31).collect() },
        Say::ManyGone,
        Say::AllAssumed { count: 1, tier: label("Ordinary") },
        Say::AllAssumed { count: 5, tier: label("Ordinary") },
    ]
}

fn worked_up_to(day: NaiveDate) -> Vec<Say> {
    let at = |block, row| Position { block: BlockNumber(block), row: RowNumber(row) };
    let (start, block, to) = (at(1, 0), at(3, 0), at(3, 12));
    vec![
        Say::WorkedUpTo { from: start, to },
        Say::WorkedUpTo { from: block, to },
        Say::WorkedUpTo { from: at(3, 11), to },
        Say::CrossedOffUpTo { to, done: None },
        Say::WorkedAlready { to },
        Say::TakenBackTo { from: start },
        Say::TakenBackTo { from: to },
        Say::NoSuchRow { blocks: 12, rows: 33 },
        Say::NoSuchRow { blocks: 1, rows: 33 },
        Say::RowWaits { block: BlockNumber(1), day, to_come: true },
        Say::RowWaits { block: BlockNumber(1), day, to_come: false },
    ]
}

fn open(days: Vec<NaiveDate>) -> OpenSaid {
    OpenSaid {
        days,
        before: Some(Around(Some((label("A bit rough"), How::Assumed)))),
        after: Some(Around(None)),
        notes: vec![(date(2027, 1, 13), "dentist".to_owned())],
    }
}

fn recap() -> RecapSaid {
    let kept = [Some(How::Answered), None, Some(How::ForNow), Some(How::Assumed), None, None, None];
    let days = day().iter_days().zip(kept);
    RecapSaid {
        first: day(),
        last: date(2027, 1, 20),
        days: days
            .map(|(day, how)| RecapDay { day, kept: how.map(|how| (label("Smooth"), how)) })
            .collect(),
        ready: Some((BlockSaid { number: BlockNumber(1), month: Some(day()) }, 9)),
        rows_worked: 4,
        yarn_short: vec![label("Brick"), label("Kelp")],
    }
}
