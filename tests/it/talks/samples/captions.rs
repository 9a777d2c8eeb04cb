//! One sample of every label on a button, with the longest names there are.

use chrono::{NaiveTime, Weekday};
use duskrow::blanket::{BlockNumber, FirstRow, Paper, RowNumber};
use duskrow::chat::button::{PaperTap, SetUpStep, Setting};
use duskrow::chat::caption::Caption;
use duskrow::chat::say::BlockSaid;

use super::{blankets, colours, date, day, making, rows, scale, yarn};

#[expect(clippy::too_many_lines, reason = "a sample for each caption, and nothing else")]
pub fn every_caption() -> Vec<Caption> {
    let tier = || "A bit smooth".to_owned();
    let mut all = vec![
        Caption::Agree,
        Caption::Decline,
        Caption::Yes,
        Caption::No,
        Caption::OtherPlace,
        Caption::Name("Lisbon".to_owned()),
        Caption::Hour(NaiveTime::MIN),
        Caption::Today(day()),
        Caption::Date(date(2027, 9, 29)),
        Caption::AnswerTodayNow,
        Caption::PracticeQuestion,
        Caption::Change,
        Caption::ReplaceWithFile,
        Caption::BringBack,
        Caption::LeaveAsItIs,
        Caption::Worked,
        Caption::Undo,
        Caption::NextRows,
        Caption::AnswerDay(day()),
        Caption::NotSure,
        Caption::Meanings,
        Caption::Later,
        Caption::Skip,
        Caption::Note,
        Caption::ForNow,
        Caption::KeepForGood,
        Caption::Lower,
        Caption::MuchLower,
        Caption::AboutTheSame,
        Caption::Higher,
        Caption::MuchHigher,
        Caption::CannotTell,
        Caption::KeepTier(tier()),
        Caption::Back,
        Caption::Tomorrow,
        Caption::InThreeDays,
        Caption::IWillComeBack,
        Caption::AnswerNow,
        Caption::SetDayTo { day: day(), tier: tier() },
        Caption::SetAllTo { count: 365, tier: tier() },
        Caption::KeepDays(1),
        Caption::KeepDays(31),
        Caption::DoNotKeep,
        Caption::CrossOff,
        Caption::DoNotCrossOff,
        Caption::DeleteNote,
        Caption::DeleteLine,
        Caption::Show,
        Caption::Place { city: "Ho Chi Minh".to_owned(), time: NaiveTime::MIN },
        Caption::RecapWhole,
        Caption::RecapShort,
        Caption::NoRecap,
        Caption::NoNudges,
        Caption::Resume,
        Caption::SetUpList,
        Caption::People,
        Caption::AddPerson,
        Caption::RemoveNumber(5),
    ];
    all.extend(Paper::ALL.map(|paper| Caption::Paper(PaperTap::Size(paper))));
    all.extend(FirstRow::ALL.map(|first| Caption::Paper(PaperTap::FirstRow(first))));
    all.extend([true, false].map(|left| Caption::Paper(PaperTap::LeftHanded(left))));
    all.push(Caption::Paper(PaperTap::Show));
    all.extend(rows::every_caption());
    all.extend(of_blocks());
    all.extend(SetUpStep::ALL.map(|step| Caption::SetUpStep { step, set: true }));
    all.extend(Setting::ALL.map(Caption::Setting));
    let week = (0..7).map(|day| Weekday::try_from(day).unwrap());
    all.extend(week.map(Caption::Weekday));
    all.extend(making::every_caption());
    all.extend(yarn::every_caption());
    all.extend(colours::every_caption());
    all.extend(scale::captions());
    all.extend(blankets::every_caption());
    all
}

fn of_blocks() -> Vec<Caption> {
    vec![
        Caption::WhereAmI,
        Caption::StartOver,
        Caption::NoStripeBelow,
        Caption::LookIn(september()),
        Caption::RowCount(1),
        Caption::RowCount(33),
        Caption::Ridges(1),
        Caption::Ridges(33),
        Caption::AfterRows { from: RowNumber(7), to: RowNumber(7) },
        Caption::AfterRows { from: RowNumber(101), to: RowNumber(120) },
        Caption::CrossOffRows { from: RowNumber(7), to: RowNumber(7) },
        Caption::CrossOffRows { from: RowNumber(101), to: RowNumber(120) },
        Caption::TakeBackTo(RowNumber(120)),
        Caption::ShowBlock(september()),
        Caption::ShowBlock(BlockSaid { month: None, ..september() }),
        Caption::PreviousBlock,
        Caption::NextBlock,
        Caption::AllBlocks,
        Caption::Picture,
        Caption::TheYear,
        Caption::BlockSheet,
        Caption::Woven,
        Caption::NotWoven,
        Caption::Joined,
        Caption::NotJoined,
    ]
}

fn september() -> BlockSaid {
    BlockSaid { number: BlockNumber(9), month: Some(date(2027, 9, 1)) }
}
