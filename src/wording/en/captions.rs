//! What is written on buttons, in English.

use chrono::Weekday;

use super::dates::{clock, full, isolated, short};
use super::rows::block_name;
use super::{blankets, colours, making, paper, scale, set_up_list, yarn};
use crate::blanket::RowNumber;
use crate::chat::button::Setting;
use crate::chat::caption::Caption;

#[expect(clippy::too_many_lines, reason = "one exhaustive match: every label")]
pub fn caption(caption: &Caption) -> String {
    let plain = match caption {
        Caption::Agree => "I agree",
        Caption::Decline => "I do not agree",
        Caption::Yes => "Yes",
        Caption::No => "No",
        Caption::OtherPlace => "Another place",
        Caption::AnswerTodayNow => "Answer today now",
        Caption::PracticeQuestion => "Practice question",
        Caption::Change => "Change",
        Caption::ReplaceWithFile => "Replace it with the file",
        Caption::BringBack => "Bring it back",
        Caption::LeaveAsItIs => "Leave it as it is",
        Caption::Worked => "Worked",
        Caption::Undo => "Undo",
        Caption::NextRows => "Next rows",
        Caption::NotSure => "Not sure?",
        Caption::Meanings => "What do these mean?",
        Caption::Later => "Later",
        Caption::Skip => "Skip",
        Caption::Note => "Note",
        Caption::ForNow => "For now",
        Caption::KeepForGood => "Settled",
        Caption::Lower => "Lower",
        Caption::MuchLower => "Much lower",
        Caption::AboutTheSame => "About the same",
        Caption::Higher => "Higher",
        Caption::MuchHigher => "Much higher",
        Caption::CannotTell => "Cannot tell",
        Caption::Back => "Back",
        Caption::Tomorrow => "Tomorrow",
        Caption::InThreeDays => "In 3 days",
        Caption::IWillComeBack => "I will come back",
        Caption::AnswerNow => "Answer it now",
        Caption::DoNotKeep => "Do not keep them",
        Caption::CrossOff => "Cross them off",
        Caption::DoNotCrossOff => "Do not cross them off",
        Caption::DeleteNote => "Delete note",
        Caption::DeleteLine => "Delete these words",
        Caption::Show => "Show",
        Caption::Setting(setting) => self::setting(*setting),
        Caption::Paper(tap) => paper::caption(*tap),
        Caption::Weekday(day) => weekday(*day),
        Caption::RecapWhole => "Send all of it at once",
        Caption::RecapShort => "Send one line first",
        Caption::NoRecap => "No weekly recap",
        Caption::NoNudges => "No nudges",
        Caption::Resume => "Go on asking",
        Caption::SetUpList => "Set-up list",
        Caption::SetUpStep { step, set } => return set_up_list::caption(*step, *set),
        Caption::People => "People and numbers",
        Caption::AddPerson => "Add a line",
        Caption::RemoveNumber(number) => return format!("Remove {number}"),
        Caption::Name(name) => name,
        Caption::KeepTier(tier) => return format!("Keep {}", isolated(tier)),
        Caption::Hour(time) => return clock(*time),
        Caption::Today(day) => return format!("Today, {}", short(*day)),
        Caption::Date(day) => return full(*day),
        Caption::AnswerDay(day) => return format!("Answer {}", short(*day)),
        Caption::SetDayTo { day, tier } => {
            return format!("Set {} to {}", short(*day), isolated(tier));
        }
        Caption::SetAllTo { count, tier } => {
            return format!("Set all {count} to {}", isolated(tier));
        }
        Caption::KeepDays(1) => "Keep this day",
        Caption::KeepDays(count) => return format!("Keep these {count} days"),
        Caption::Yarn(caption) => return yarn::caption(caption),
        Caption::Making(act, terms) => return making::caption(*act, *terms),
        Caption::Colours(caption) => return colours::caption(*caption),
        Caption::Scale(caption) => return scale::caption(caption),
        Caption::Blankets(caption) => return blankets::caption(*caption),
        Caption::WhereAmI => "Where am I?",
        Caption::StartOver => "Start over",
        Caption::NoStripeBelow => "No stripe below",
        Caption::LookIn(block) => return format!("Look in {}", block_name(block)),
        Caption::RowCount(1) => "1 row",
        Caption::RowCount(count) => return format!("{count} rows"),
        Caption::Ridges(1) => "1 ridge",
        Caption::Ridges(count) => return format!("{count} ridges"),
        Caption::AfterRows { from, to } if from == to => return format!("After row {to}"),
        Caption::AfterRows { from, to } => return format!("After one of rows {from} to {to}"),
        Caption::CrossOffRows { from, to } if from == to => return format!("Cross off row {to}"),
        Caption::CrossOffRows { from, to } => return format!("Cross off rows {from} to {to}"),
        Caption::TakeBackTo(row) => return format!("Take back to row {row}"),

        Caption::ShowBlock(block) => return format!("List of {}", block_name(block)),
        Caption::PreviousBlock => "Previous block",
        Caption::NextBlock => "Next block",
        Caption::AllBlocks => "All blocks",
        Caption::Picture => "Picture",
        Caption::TheYear => "The year",
        Caption::BlockSheet => "On paper",
        Caption::Woven => "Ends are woven",
        Caption::NotWoven => "Not woven",
        Caption::Joined => "Joined",
        Caption::NotJoined => "Not joined",
        Caption::Place { city, time } => return format!("{city}, {} now", clock(*time)),
        // Row by row, and rows that differ from their day.
        Caption::RowByRow => "Row by row",
        Caption::StopHere => "Stop here",
        Caption::ToBlockEnd => "To the end of the block",
        Caption::LeaveRow(row) => return format!("Leave row {row} as it is"),
        Caption::PullBack { to, rows } => return pull_back(*to, *rows),
    };
    plain.to_owned()
}

/// Which rows come off is said before the tap. A phone shows about 30 characters.
fn pull_back(to: RowNumber, rows: u16) -> String {
    let (first, last) = (to.0.saturating_add(1), to.0.saturating_add(rows));
    match rows {
        1 => format!("Pull back 1 row: {last}"),
        _ => format!("Pull back {rows} rows: {first} to {last}"),
    }
}

fn setting(setting: Setting) -> &'static str {
    match setting {
        Setting::AskAt => "Hour of the question",
        Setting::Place => "Place",
        Setting::DayTurn => "When a day ends",
        Setting::Nudges => "Nudges",
        Setting::Recap => "Weekly recap",
        Setting::TierLines => "Words for each tier",
    }
}

pub fn weekday(day: Weekday) -> &'static str {
    match day {
        Weekday::Mon => "Monday",
        Weekday::Tue => "Tuesday",
        Weekday::Wed => "Wednesday",
        Weekday::Thu => "Thursday",
        Weekday::Fri => "Friday",
        Weekday::Sat => "Saturday",
        Weekday::Sun => "Sunday",
    }
}
