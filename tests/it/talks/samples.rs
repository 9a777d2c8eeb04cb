//! One sample, or a few, of everything the bot says and of every label on its buttons.

use chrono::{NaiveDate, NaiveTime};
use duskrow::blanket::{BlockNumber, Handling, How, Label, RowNumber, Side};
use duskrow::chat::say::{BlockSaid, Caption, Kept, Next, RowSaid, Rows, Say, StopSaid, Worked};

/// Every sentence that repeats what was typed.
pub fn quoting(typed: &str) -> Vec<Say> {
    let typed = || typed.to_owned();
    vec![
        Say::UnknownPlace { typed: typed() },
        Say::UnknownPlaceNear { typed: typed() },
        Say::UnknownClock { typed: typed() },
        Say::UnknownHour { typed: typed() },
        Say::UnknownFirstDay { typed: typed() },
        Say::UnknownTier { typed: typed(), day: day(), example: label("Ordinary") },
        Say::UnknownDay { typed: typed() },
        Say::NoSuchDay { typed: typed() },
        Say::UnknownRows { typed: typed(), rows_max: 33 },
        Say::NotUnderstood { typed: typed() },
    ]
}

pub fn every_say() -> Vec<Say> {
    let (day, time) = (day(), NaiveTime::from_hms_opt(21, 0, 0).unwrap());
    let block = BlockSaid { number: BlockNumber(1), month: day };
    let row = |number, side, day, handling| RowSaid {
        number: RowNumber(number),
        side,
        day,
        yarn: label("Net Float"),
        handling,
        how: Some(How::Answered),
    };
    let lines = vec![
        row(14, Side::Wrong, Some(day), Handling::Start),
        row(15, Side::Right, None, Handling::Keep),
        row(16, Side::Wrong, None, Handling::Change),
    ];
    let rows = |stop| Rows { block, blocks: 12, rows: 33, worked: 13, lines: lines.clone(), stop };
    let worked =
        |next| Say::RowsWorked(Worked { block, from: RowNumber(3), to: RowNumber(3), next });
    let mut all = quoting("smoothish");
    all.extend(without_values());
    all.extend([
        Say::WhichZone { country: "Portugal".to_owned() },
        Say::ZoneRight { place: "Lisbon".to_owned(), time },
        Say::FirstDayOutOfReach { day },
        Say::Ready { first_day: day, time, begun: true },
        Say::Ready { first_day: day, time, begun: false },
        Say::PracticeQuestion { day },
        Say::PracticeKeptNothing { tier: label("Smooth") },
        Say::Question { day },
        Say::QuestionToChange { day, now: label("Smooth") },
        Say::Kept(kept()),
        Say::Kept(Kept { stitched_in: Some(label("Shingle")), ..kept() }),
        Say::DayToCome { day },
        Say::DayOutside { day, first: day, last: day },
        Say::NotBegun { first_day: day, time },
        Say::AllOver { last_day: day },
        Say::Rows(rows(StopSaid::Enough)),
        Say::Rows(rows(StopSaid::Open { row: RowNumber(17), day })),
        Say::Rows(rows(StopSaid::ToCome { row: RowNumber(17), day })),
        Say::Rows(rows(StopSaid::BlockDone)),
        Say::Rows(Rows { lines: Vec::new(), ..rows(StopSaid::Open { row: RowNumber(14), day }) }),
        worked(Next::Row { number: RowNumber(4), rows: 33 }),
        worked(Next::Block(block)),
        worked(Next::Done),
        Say::RowsPulledBack { block, rows_left: 0 },
        Say::RowsPulledBack { block, rows_left: 1 },
        Say::RowsMoved { block, worked: 12 },
        Say::Fault { code: "K7Q2".to_owned() },
    ]);
    all
}

fn without_values() -> Vec<Say> {
    vec![
        Say::Private,
        Say::LinkInvalid,
        Say::OnlyPrivate,
        Say::Consent,
        Say::Agreed,
        Say::Declined,
        Say::AskPlace,
        Say::AskClockThere,
        Say::WhichPlaceAtThatTime,
        Say::AskHour,
        Say::AskFirstDay,
        Say::BlanketDone,
        Say::Help,
        Say::Cancelled,
        Say::NothingToCancel,
        Say::TooLong { max: 1000 },
        Say::NotText,
        Say::OldButton,
        Say::SetUpFirst,
        Say::SetUpWaits,
        Say::AskErase,
        Say::EraseNotConfirmed,
        Say::Erased,
    ]
}

pub fn every_caption() -> Vec<Caption> {
    vec![
        Caption::Agree,
        Caption::Decline,
        Caption::Yes,
        Caption::OtherPlace,
        Caption::Name("Lisbon".to_owned()),
        Caption::Hour(NaiveTime::MIN),
        Caption::Today(day()),
        Caption::Date(NaiveDate::from_ymd_opt(2027, 9, 29).unwrap()),
        Caption::AnswerTodayNow,
        Caption::PracticeQuestion,
        Caption::Change,
        Caption::LeaveAsItIs,
        Caption::Worked,
        Caption::Undo,
        Caption::NextRows,
        Caption::AnswerDay(day()),
    ]
}

pub fn kept() -> Kept {
    Kept {
        day: day(),
        tier: label("Smooth"),
        how: How::Answered,
        row: RowNumber(14),
        side: Side::Wrong,
        yarn: label("Brick"),
        stitched_in: None,
    }
}

pub fn label(text: &str) -> Label {
    Label::parse(text).unwrap()
}

pub fn day() -> NaiveDate {
    NaiveDate::from_ymd_opt(2027, 1, 14).unwrap()
}
