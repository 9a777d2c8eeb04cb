//! One sample, or a few, of everything the bot says and of every label on its buttons.

mod blankets;
mod blocks;
mod bring_back;
mod captions;
pub mod colours;
mod days;
pub mod making;
mod place;
mod rows;
pub mod scale;
mod settings;
pub mod yarn;

use chrono::{NaiveDate, NaiveTime};
use duskrow::blanket::{BlockNumber, How, Label, RowNumber, Side};
use duskrow::chat::making::MakingSaid;
use duskrow::chat::many::ManyFault;
use duskrow::chat::say::{Begins, BlockSaid, Kept, LeftOut, Next, Say, Worked};
use duskrow::chat::scale::ScaleSaid;
use duskrow::chat::yarn::said::YarnSaid;

pub use captions::every_caption;

/// Lists are as long as what they list.
pub fn is_list(say: &Say) -> bool {
    if let Say::Yarn(_, said) = say {
        return matches!(**said, YarnSaid::List { .. } | YarnSaid::Detail(_) | YarnSaid::ToBuy(_));
    }
    if let Say::Scale(said) = say {
        return matches!(**said, ScaleSaid::Home { .. });
    }
    matches!(
        say,
        Say::Rows(_)
            | Say::Help { .. }
            | Say::Many { .. }
            | Say::OpenDays(_)
            | Say::Recap(_)
            | Say::Block(_)
            | Say::Blocks { .. }
            | Say::Colours(_)
            | Say::Blankets(_)
            | Say::Making(MakingSaid::Worked(_))
    )
}

/// Every sentence that repeats what was typed.
pub fn quoting(typed: &str) -> Vec<Say> {
    let typed = || typed.to_owned();
    let mut all = vec![
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
        Say::NoSuchPlace { typed: typed() },
        Say::UnknownWeekday { typed: typed() },
        Say::UnknownStripe { typed: typed(), names: vec![label("Shingle"), label("Kelp")] },
        blocks::unknown(typed(), 12),
        too_much(LeftOut::Text { typed: typed() }),
        refused(ManyFault::NoDate { line: 3, typed: typed() }),
        refused(ManyFault::NoTier { line: 3, typed: typed() }),
    ];
    all.extend(making::quoting(&typed()));
    all.extend(yarn::quoting(&typed()));
    all.push(colours::unread(typed()));
    all.extend(scale::quoting(&typed()));
    all
}

pub fn refused(fault: ManyFault) -> Say {
    Say::ManyRefused { fault, example: label("Ordinary") }
}

fn to_change(how: How) -> Say {
    Say::QuestionToChange { day: day(), asks: None, now: label("Smooth"), how }
}

fn too_much(from: LeftOut) -> Say {
    Say::TooMuch { from, max: 20, seconds: 10 }
}

pub fn every_say() -> Vec<Say> {
    let (day, time) = (day(), NaiveTime::from_hms_opt(21, 0, 0).unwrap());
    let block = BlockSaid { number: BlockNumber(1), month: Some(day) };
    let worked = |next| {
        let (from, to) = (RowNumber(3), RowNumber(3));
        Say::RowsWorked(Worked { block, from, to, next, done: None })
    };
    let mut all = quoting("smoothish");
    all.extend(without_values());
    all.extend(days::every_say());
    all.extend(settings::every_say());
    all.extend(yarn::every_say());
    all.extend(making::every_say());
    all.extend(colours::every_say());
    all.extend(scale::every_say());
    all.extend(blankets::every_say());
    all.extend(bring_back::every_say());
    all.extend(rows::every_say());
    all.extend(place::every_say());
    all.extend(blocks::every_say());
    all.extend([
        Say::WhichZone { country: "Portugal".to_owned() },
        Say::ZoneRight { place: "Lisbon".to_owned(), time },
        Say::FirstDayOutOfReach { day },
        Say::Ready { first_day: day, time, begins: Begins::Earlier },
        Say::Ready { first_day: day, time, begins: Begins::Today },
        Say::Ready { first_day: day, time, begins: Begins::Later },
        Say::PracticeQuestion { day, asks: None },
        Say::PracticeKeptNothing { tier: label("Smooth") },
        Say::Question { day, asks: None },
        Say::Question { day, asks: Some(scale::question()) },
        to_change(How::Answered),
        to_change(How::Assumed),
        Say::Kept(kept()),
        Say::Kept(Kept { stitched_in: Some(label("Shingle")), ..kept() }),
        Say::Kept(Kept { how: How::ForNow, ..kept() }),
        Say::Kept(Kept { how: How::Assumed, ..kept() }),
        Say::DayToCome { day },
        Say::DayOutside { day, first: day, last: day },
        Say::NotBegun { first_day: day, time },
        Say::AllOver { last_day: day },
        worked(Next::Row { number: RowNumber(4), rows: 33 }),
        worked(Next::Block(block)),
        worked(Next::Done),
        Say::RowsPulledBack { block, rows_left: 0 },
        Say::RowsPulledBack { block, rows_left: 1 },
        Say::RowsMoved { block, worked: 12 },
        Say::NotKeptYet,
        Say::Fault { code: "K7Q2".to_owned() },
        too_much(LeftOut::Answer { day }),
        too_much(LeftOut::Tap),
        too_much(LeftOut::Message),
        Say::TapNotKept { seconds: 10 },
    ]);
    all
}

fn without_values() -> Vec<Say> {
    vec![
        Say::Private,
        Say::LinkInvalid,
        Say::Invitation { line: "https://t.me/a_bot?start=k7Q2".to_owned() },
        Say::AlreadyIn,
        Say::MovedHere,
        Say::MovedAway,
        Say::OnlyPrivate,
        Say::Consent { local: None },
        Say::Agreed { local: None },
        Say::Agreed { local: local() },
        Say::Declined,
        Say::AskPlace,
        Say::AskClockThere,
        Say::WhichPlaceAtThatTime,
        Say::AskHour,
        Say::WhichHour { hours: [9, 21].map(|hour| NaiveTime::from_hms_opt(hour, 0, 0).unwrap()) },
        Say::AskFirstDay,
        Say::BlanketDone,
        Say::Help { owner: false, local: local(), people: settings::people() },
        Say::Help { owner: true, local: None, people: Vec::new() },
        Say::Cancelled,
        Say::NothingToCancel,
        Say::TooLong { max: 1000 },
        Say::NotKeptYet,
        Say::NotText,
        Say::OldButton,
        Say::SetUpFirst,
        Say::SetUpWaits,
        Say::AskErase,
        Say::EraseNotConfirmed { cancelled: true },
        Say::EraseNotConfirmed { cancelled: false },
        Say::Erased,
    ]
}

/// What a host may add to the caution.
fn local() -> Option<String> {
    Some("Crisis line of this town: 555 0142.".to_owned())
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
    date(2027, 1, 14)
}

pub fn date(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).unwrap()
}
