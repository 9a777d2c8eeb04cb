//! English: every sentence the bot says.
//!
//! Short, literal, kind and true; the same word for the same thing; nothing about a tier.

mod dates;
mod lexicon;
use chrono::NaiveTime;

use self::dates::{clock, full, isolated, long, quoted, short};
use super::{Span, Words};
use crate::blanket::How;
use crate::blanket::Side;
use crate::chat::commands::Command;
use crate::chat::outcome::Offline;
use crate::chat::say::{Begins, Kept, LeftOut, Say};

pub use lexicon::LEXICON;

/// Plain lines, each a text or a formatted text.
macro_rules! lines {
    ($($line:expr),* $(,)?) => { plain([$(String::from($line)),*]) };
}

mod blankets;
mod blocks;
mod bring_back;
mod captions;
mod care;
mod colours;
mod days;
mod files;
mod making;
mod palettes;
mod paper;
mod people;
mod pictures;
mod place;
mod recap;
mod row_by_row;
mod rows;
mod scale;
mod set_up_list;
mod settings;
mod stitches;
mod yarn;

pub use captions::caption;
pub use paper::sheet as sheet_caption;
pub use pictures::{LABELS, caption as picture_caption};

#[expect(clippy::too_many_lines, reason = "one exhaustive match: everything the bot says")]
pub fn say(say: &Say) -> Words {
    match say {
        Say::Private => lines!["This bot is private. Ask its owner for an invitation."],
        Say::LinkInvalid => lines![
            "This link was used before, or its time is over.",
            "Ask the owner for a new one.",
        ],
        Say::Invitation { line } => lines![
            "This invitation is for one person. It works once, within one hour.",
            line.clone(),
        ],
        Say::AlreadyIn => lines!["You have a place here, so this link changes nothing for you."],
        Say::MovedHere => lines![
            "You agreed. Your blanket is in this chat now.",
            "/today, /open and /rows show what is kept.",
        ],
        Say::MovedAway => lines![
            "The person who runs this bot moved your blanket to another account.",
            "If you did not ask for that, tell them.",
        ],
        Say::OnlyPrivate => lines!["I answer in a private chat, never in a group."],
        Say::Consent { local } => care::consent(local.as_deref()),
        Say::Agreed { local } => care::agreed(local.as_deref()),
        Say::Declined => lines![
            "You did not agree. Nothing was kept.",
            "To agree after all, open the same link within its hour.",
        ],

        Say::AskPlace => lines!["Type your city, or the nearest big one."],
        Say::UnknownPlace { typed } => lines![
            format!("I do not know the place {}.", quoted(typed)),
            "What does your clock show now? Type it like 20:14.",
        ],
        Say::UnknownPlaceNear { typed } => {
            lines![format!("I do not know the place {}. Is it this one?", quoted(typed))]
        }
        Say::WhichZone { country } => days::which_zone(country),
        Say::ZoneRight { place, time } => {
            lines![format!("In {place} it is {} now, right?", clock(*time))]
        }
        Say::AskClockThere => lines!["What does your clock show now? Type it like 20:14."],
        Say::UnknownClock { typed } => lines![
            format!("I do not know the time {}.", quoted(typed)),
            "Type what your clock shows now, like 20:14.",
        ],
        Say::WhichPlaceAtThatTime => {
            lines!["Tap the place whose clocks show the same time as yours all year."]
        }
        Say::AskHour => lines!["When should I ask? Tap or type an hour."],
        Say::UnknownHour { typed } => lines![
            format!("I do not know the hour {}. Nothing was changed.", quoted(typed)),
            "Type it like 21:00 or 9 pm.",
        ],
        Say::WhichHour { hours } => settings::which_hour(*hours),
        Say::AskFirstDay => lines!["Tap or type the first day."],
        Say::UnknownFirstDay { typed } => lines![
            format!("I do not know the day {}. Nothing was changed.", quoted(typed)),
            "Type it like 14 Jan or 2027-01-14.",
        ],
        Say::FirstDayOutOfReach { day } => lines![
            format!("A blanket cannot begin on {}. Nothing was changed.", full(*day)),
            "Choose a day less than a year ago, or at most a year from today.",
        ],
        Say::Ready { first_day, time, begins } => ready(&full(*first_day), *time, *begins),
        Say::PracticeQuestion { day, asks } => {
            days::question(*day, asks.as_ref()).and(lines![days::PRACTICE])
        }
        Say::PracticeKeptNothing { tier } => {
            lines![format!("You chose {}. This was practice. Nothing was kept.", name(tier))]
        }

        Say::Question { day, asks } => days::question(*day, asks.as_ref()),
        Say::Meanings(said) => days::meanings(said),
        Say::QuestionToChange { day, asks, now, how } => {
            days::to_change(*day, asks.as_ref(), now, *how)
        }
        Say::Kept(kept) => said_kept(kept),
        Say::UnknownTier { typed, day, example } => days::unknown_tier(typed, *day, example),
        Say::UnknownDay { typed } => lines![
            format!("I do not know the day {}. Nothing was changed.", quoted(typed)),
            "Type it like /today 14 Jan or /today yesterday.",
        ],
        Say::NoSuchDay { typed } => lines![
            format!("No calendar has the day {}. Nothing was changed.", quoted(typed)),
            "Type it like 14 Jan or 2027-01-14.",
        ],
        Say::DayToCome { day } => {
            lines![format!("{} has not come yet. It can be answered from that day on.", long(*day))]
        }
        Say::DayOutside { day, first, last } => lines![
            format!("{} is not in this blanket. Nothing was changed.", full(*day)),
            format!("It goes from {} to {}.", full(*first), full(*last)),
        ],
        Say::NotBegun { first_day, time } => lines![
            format!("The blanket begins on {}.", full(*first_day)),
            format!("I ask from that day on, every day at {}.", clock(*time)),
        ],
        Say::AllOver { last_day } => lines![
            format!("The last day of the blanket was {}.", full(*last_day)),
            "Its days can be changed: type /today and a date. /rows shows the next rows.",
            "The next blanket can begin: tap Next blanket, or type /blankets.",
        ],
        Say::Blankets(said) => blankets::said(said),
        Say::BringBack(said) => bring_back::said(said),

        Say::Rows(said) => rows::list(said),
        Say::RowsWorked(worked) => rows::worked(worked),
        Say::RowsPulledBack { block, rows_left } => rows::pulled_back(block, *rows_left),
        Say::RowsMoved { block, worked } => rows::moved(block, *worked),
        Say::UnknownRows { typed, rows_max } => lines![
            format!("I do not know how many rows {} is. Nothing was changed.", quoted(typed)),
            format!("Type a number from 1 to {rows_max}, like /rows {}.", 12.min(*rows_max)),
            "You can also type minutes, like /rows 40 min, or /rows block.",
        ],
        Say::BlanketDone => lines!["Every row of the blanket is worked."],

        Say::Compare { day, default } => days::compare(*day, default),
        Say::DefaultMayFit { day, tier } => days::default_may_fit(*day, tier),
        Say::WhichOfThese { day, tiers } => days::which_of_these(*day, tiers),
        Say::AskLater { day } => days::ask_later(*day),
        Say::PutOff { day, asks, moved, paused } => days::put_off(*day, *asks, *moved, *paused),
        Say::LeftOpen { day } => days::left_open(*day),
        Say::Nudge { day, asks } => days::nudge(*day, asks.as_ref()),
        Say::RecapReady => {
            lines!["Your week is ready.", "To change or stop this message, type /settings."]
        }
        Say::Recap(said) => recap::whole(said),

        Say::NoOpenDays => days::no_open_days(),
        Say::OpenDays(said) => days::open(said),
        Say::Many { days, replaced } => days::many(days, *replaced),
        Say::ManyRefused { fault, example } => days::many_refused(fault, example),
        Say::ManyKept { count } => days::many_kept(*count),
        Say::ManyDropped => lines!["These days were not kept."],
        Say::ManyUndone { days } => days::many_undone(days),
        Say::ManyGone => lines!["That button is from an earlier step. Nothing was changed."],
        Say::AllAssumed { count, tier } => days::all_assumed(*count, tier),
        Say::WorkedUpTo { from, to } => days::worked_up_to(*from, *to),
        Say::CrossedOffUpTo { to, done } => {
            let words = days::crossed_off_up_to(*to);
            done.as_ref()
                .into_iter()
                .fold(words, |words, done| words.and(blocks::after_last_row(done)))
        }
        Say::WorkedAlready { to } => days::worked_before(*to),
        Say::TakenBackTo { from } => days::taken_back_to(*from),
        Say::NoSuchRow { blocks, rows } => days::no_such_row(*blocks, *rows),
        Say::RowWaits { block, day, to_come } => days::row_waits(*block, *day, *to_come),

        Say::AskNote { day } => {
            lines![format!("Type your note for {}.", long(*day)), "To leave it, type /cancel.",]
        }
        Say::Noted { day, has_tier, first: false } => days::noted(*day, *has_tier),
        Say::Noted { day, has_tier, first: true } => {
            days::noted(*day, *has_tier).and(care::with_a_first_note())
        }
        Say::NoteChanged { day } => lines![format!("Note changed: {}.", long(*day))],
        Say::NoteDeleted => lines!["The note is deleted here. Your message stays in this chat."],
        Say::EmptyNote => lines!["I see no text in this note. Nothing was changed."],
        Say::LongNote { max } => {
            lines![
                format!("A note has at most {max} characters. Nothing was changed."),
                "Send a shorter one.",
            ]
        }
        Say::TooManyNotes { day, max } => lines![
            format!("{} has {max} notes, which is all I keep.", long(*day)),
            "This one was not kept. Delete another first.",
        ],

        Say::Yarn(units, said) => yarn::say(said, *units),
        Say::YarnRefused(units, refusal) => yarn::refused(refusal, *units),

        Say::Settings(said) => settings::list(said),
        Say::TierLines { tiers } => settings::tier_lines(tiers),
        Say::AskTierLine { tier } => lines![
            format!("What are days like that are {}?", name(tier)),
            "Type one line in your own words.",
            "I show it under the question when you tap What do these mean?",
        ],
        Say::EmptyTierLine => lines!["I see no text in this line. Nothing was changed."],
        Say::LongTierLine { max } => {
            lines![format!("One line has at most {max} characters. Nothing was changed.")]
        }
        Say::People { lines, most, done } => people::list(lines, *most, done.as_ref()),
        Say::AskPerson => people::ask(),
        Say::SetUpList { steps } => set_up_list::list(steps),
        Say::SetUpLater => set_up_list::later(),
        Say::AskDayTurn => settings::ask_day_turn(),
        Say::DayTurnTooLate { time } => lines![
            format!("A day cannot end at {}. Nothing was changed.", clock(*time)),
            "Type an hour before noon, like 04:00.",
        ],
        Say::AskNudges { at } => settings::ask_nudges(*at),
        Say::NudgesSet { at } => settings::nudges_set(*at),
        Say::AskNudgeHour => lines![
            "A nudge is one quiet message when a day is open.",
            "At which hour should it come? Tap or type an hour.",
        ],
        Say::AskRecap => settings::ask_recap(),
        Say::UnknownWeekday { typed } => lines![
            format!("I do not know the day {}. Nothing was changed.", quoted(typed)),
            "Type a day of the week, like Sunday.",
        ],
        Say::NoSuchPlace { typed } => lines![
            format!("I do not know the place {}. Nothing was changed.", quoted(typed)),
            "Type the nearest big city, like Lisbon.",
        ],
        Say::Paused => settings::paused(),
        Say::Resumed { time } => {
            lines![format!("The pause is over. I ask every day at {}.", clock(*time))]
        }
        Say::Paper { on_paper, left_handed } => paper::say(*on_paper, *left_handed),
        Say::Privacy => settings::privacy(),
        Say::File(enclosed) => files::beside(*enclosed),
        Say::UnknownLook { typed } => files::unknown_look(typed),
        Say::BookHandedOut { on, years } => files::handed_out(*on, *years),
        Say::BookBroughtBack { on, years, shown_by } => files::brought_back(*on, *years, *shown_by),

        Say::Help { owner, local, people } => care::help(*owner, local.as_deref(), people),
        Say::Cancelled => lines!["Stopped. What was kept before stays as it is."],
        Say::NothingToCancel => lines!["There is nothing to stop. /help lists what I can do."],
        Say::NotUnderstood { typed } => lines![
            format!("I did not understand {}. Nothing was changed.", quoted(typed)),
            "/help lists what I can do.",
        ],
        Say::TooLong { max } => lines![
            "This text is too long for me. Nothing was changed.",
            format!("Send at most {max} characters."),
        ],
        Say::NotText => {
            lines![
                "I can read text, taps and a book file from /export, but not this message. \
                Nothing was changed."
            ]
        }
        Say::OldButton => lines!["That button is from an earlier step. Nothing was changed."],
        Say::SetUpFirst => lines!["There is no blanket yet. These steps come first."],
        Say::SetUpWaits => lines!["Set-up waits here. Send /start to go on."],
        Say::AskErase => lines![
            "This deletes all that is kept about you here, of every blanket: answers, notes, rows, \
             yarn, people and numbers, settings.",
            "To come back, you need a new invitation. /export gives you a copy first.",
            "It cannot be taken back. Type ERASE in capital letters to do it, or /cancel.",
        ],
        Say::EraseNotConfirmed { cancelled: true } => lines!["Nothing was erased."],
        Say::EraseNotConfirmed { cancelled: false } => lines![
            "Nothing was erased, and that line was not kept.",
            "To erase, type /erase, then ERASE in capital letters.",
        ],
        Say::Erased => lines![
            "Everything kept about you here is erased.",
            "I cannot reach the messages in this chat. You can delete the chat yourself.",
            "Copies that the person who runs this server made are theirs to delete.",
        ],
        Say::NotKeptYet => lines![
            "I could not keep that yet. I go on trying by myself.",
            "You do not have to send it a second time.",
        ],
        Say::TooMuch { from, max, seconds } => lines![
            format!("More than {max} messages and taps came in {seconds} seconds."),
            format!("From {} on, nothing was kept.", left_out(from)),
            format!("Wait {seconds} seconds. Then send it one more time."),
        ],
        Say::TapNotKept { seconds } => lines![format!(
            "This tap was not kept. Wait {seconds} seconds, then tap one more time."
        )],
        Say::Fault { code } => lines![
            format!("That did not work, and nothing was changed. Code {code}."),
            "The person who runs this bot can look it up.",
        ],

        Say::Making(said) => making::say(said),
        Say::MakingRefused(refusal) => making::refused(refusal),
        Say::Colours(said) => colours::say(said),
        Say::ColoursRefused(refusal) => colours::refused(refusal),
        Say::Scale(said) => scale::say(said),
        Say::ScaleRefused(refusal) => scale::refused(refusal),
        // Row by row, and rows that differ from their day.
        Say::Row { row, stale } => row_by_row::row(row, *stale),
        Say::RowWaitsHere { row, stale } => row_by_row::waiting(row, *stale),
        Say::Stopped(said) => row_by_row::stopped(said),
        Say::RowLeft { row, stitched_in, day, tier } => lines![
            format!("Row {row} stays as it is worked, in {}.", name(stitched_in)),
            format!("{} stays {}.", long(*day), name(tier)),
        ],
        Say::RowsPulledOff { block, from, to } => row_by_row::pulled_off(block, *from, *to),
        Say::AskStripe(said) => place::ask(said),
        Say::NoStripes { block, day, to_come } => place::no_stripes(block, *day, *to_come),
        Say::UnknownStripe { typed, names } => place::unknown(typed, names),
        Say::StripesUnfit { block, seen } => place::unfit(block, seen),
        Say::WhichPlace(said) => place::which(said),
        Say::TopRows { block, yarn, begins, ridges } => {
            place::top_rows(block, yarn, *begins, *ridges)
        }
        Say::Place(said) => place::found(said),

        Say::Block(said) => blocks::list(said),
        Say::Blocks { blocks } => blocks::brief_list(blocks),
        Say::BlockFinish(done) => blocks::finish(done),
        Say::BlockUnfinished { block, from, to } => blocks::unfinished(block, from.0, to.0),
        Say::UnknownBlock { typed, blocks, example } => blocks::unknown(typed, *blocks, example),
    }
}

fn left_out(first: &LeftOut) -> String {
    match first {
        LeftOut::Answer { day } => format!("your answer for {}", long(*day)),
        LeftOut::Text { typed } => quoted(typed),
        LeftOut::Tap => "your last tap".to_owned(),
        LeftOut::Message => "your last message".to_owned(),
    }
}

/// A time in which the bot was offline, after a question or a nudge.
pub fn offline(offline: &Offline) -> Words {
    let Offline { from, to } = offline;
    let (start, end) = (clock(from.time()), clock(to.time()));
    let when = match from.date() == to.date() {
        true => format!("on {} from {start} to {end}", long(from.date())),
        false => format!("from {} {start} to {} {end}", short(from.date()), short(to.date())),
    };
    lines![format!("I was offline {when}."), "Taps in that time did not arrive."]
}

/// One line about a command, for help and for the platform's menu.
pub fn description(command: Command) -> &'static str {
    match command {
        Command::Today => "Answer a day or change it. Example: /today 14 Jan",
        Command::Open => "Days that have no tier yet",
        Command::Rows => "The next rows to work. Examples: /rows 6, /rows 40 min",
        Command::Yarn => "What yarn is on hand, whether it lasts, what to buy",
        Command::Recap => "The last seven days, and the work",
        Command::Settings => "The hour, the place, scale, colours, paper, reminders",
        Command::Stitch => "How the blanket is made: blocks, stitch, width, size",
        Command::Pause => "Stop asking for a while",
        Command::Resume => "Go on asking",
        Command::Privacy => "What is kept about you, and who can read it",
        Command::Blanket => "A picture of the blanket so far",
        Command::Blankets => "Your blankets over the years, and the next one",
        Command::Export => "Your blanket as files: the whole book, days, rows",
        Command::Invite => "A link that lets one more person in",
        Command::Help => "What I can do, and who can help",
        Command::Cancel => "Stop the step we are in",
        Command::Erase => "Delete everything kept about you",
        Command::Block => "A block as a list, and its ends. Examples: /block 3, /block all",
        Command::Start => "Set up a blanket. With a blanket: what I can do",
    }
}

fn ready(first_day: &str, time: NaiveTime, begins: Begins) -> Words {
    let at = clock(time);
    let row_1 = format!("Set up. Row 1 is {first_day}. I ask every day at {at}.");
    match begins {
        Begins::Later => lines![format!("Set up. From {first_day} I ask every day at {at}.")],
        Begins::Today => lines![format!("Set up. I ask every day at {at}.")],
        Begins::Earlier => {
            lines![row_1, "The days before today are open. /open goes through them."]
        }
    }
}

fn said_kept(kept: &Kept) -> Words {
    let (tier, yarn) = (name(&kept.tier), name(&kept.yarn));
    let (day, row) = (long(kept.day), kept.row);
    let first = match kept.how {
        How::Answered => format!("Kept: {day}, {tier}."),
        How::ForNow => format!("Kept for now: {day}, {tier}."),
        How::Assumed => format!("Set to the default tier: {day}, {tier}."),
    };
    let second = match &kept.stitched_in {
        Some(other) => format!("Row {row} is worked in {}. {tier} is {yarn}.", name(other)),
        None => format!("Row {row}, {}, {yarn}.", side(kept.side)),
    };
    lines![first, second]
}

fn side_code(side: Side) -> &'static str {
    match side {
        Side::Right => "RS",
        Side::Wrong => "WS",
    }
}

fn side(side: Side) -> &'static str {
    match side {
        Side::Right => "right side",
        Side::Wrong => "wrong side",
    }
}

/// A tier, and that it was kept for now or set to the default tier.
fn marked(tier: &crate::blanket::Label, how: How) -> String {
    format!("{}{}", name(tier), mark(how))
}

fn mark(how: How) -> &'static str {
    match how {
        How::Answered => "",
        How::ForNow => " (for now)",
        How::Assumed => " (set)",
    }
}

fn name(label: &crate::blanket::Label) -> String {
    isolated(label.as_str())
}

fn plain(lines: impl IntoIterator<Item = String>) -> Words {
    Words { lines: lines.into_iter().map(|line| vec![Span::Plain(line)]).collect() }
}
