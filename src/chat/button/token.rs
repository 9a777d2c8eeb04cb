//! How a button travels: fields between bars, after the version. One button has one token.

use chrono::{NaiveDate, NaiveTime, Weekday};

use super::{
    AskedIn, BlanketTap, BlockButton, BringBackTap, ColourTap, PaperTap, PeopleTap, ScaleTap,
    SetUpTap, UnreadableToken, YarnButton, drawn, making,
};
use super::{Button, ColourSum, Invitation, Part, Position, RowByRow, Setting};
use crate::blanket::{BlockNumber, NoteId, RowNumber, TierId};

const VERSION: &str = "1";

impl Button {
    #[expect(clippy::too_many_lines, reason = "an arm for each button, and nothing else")]
    pub fn token(&self) -> String {
        let fields = match self {
            Button::Agree { invitation } => format!("agree|{}", invitation.as_str()),
            Button::Decline => "decline".to_owned(),
            Button::Zone { zone } => format!("zone|{zone}"),
            Button::ZoneRight { zone } => format!("right|{zone}"),
            Button::OtherPlace => "place".to_owned(),
            Button::AskAt { zone, time } => format!("at|{zone}|{}", clock(*time)),
            Button::FirstDay { zone, time, day } => {
                format!("from|{zone}|{}|{}", clock(*time), date(*day))
            }
            Button::Answer { day, tier } => format!("tier|{}|{}", date(*day), tier.0),
            Button::Ask { day } => format!("ask|{}", date(*day)),
            Button::Leave { day } => format!("leave|{}", date(*day)),
            Button::Practice => "try".to_owned(),
            Button::PracticeAnswer { tier } => format!("tried|{}", tier.0),
            Button::Worked { block, from, to, colours } => {
                format!("worked|{block}|{from}|{to}|{}", colours.0)
            }
            Button::Undo { block, left, was } => format!("undo|{block}|{left}|{was}"),
            Button::Rows => "rows".to_owned(),
            Button::NotSure { day } => format!("unsure|{}", date(*day)),
            Button::Meanings { day, asked_in } => {
                format!("means|{}|{}", date(*day), asked_in_code(*asked_in))
            }
            Button::PracticeMeanings => "trymeans".to_owned(),
            Button::Compare { day, part } => format!("compare|{}|{}", date(*day), part_code(*part)),
            Button::Later { day } => format!("later|{}", date(*day)),
            Button::PutOff { day, until } => {
                format!("putoff|{}|{}", date(*day), until.map(date).unwrap_or_default())
            }
            Button::Skip { day } => format!("skip|{}", date(*day)),
            Button::ForNow { day, on } => format!("fornow|{}|{}", date(*day), u8::from(*on)),
            Button::Assume { day } => format!("assume|{}", date(*day)),
            Button::AssumeAll { first, last, count } => {
                format!("assumeall|{}|{}|{count}", date(*first), date(*last))
            }
            Button::KeepMany { id } => format!("many|{id}"),
            Button::DropMany { id } => format!("drop|{id}"),
            Button::UndoMany { id } => format!("unmany|{id}"),
            Button::WriteNote { day } => format!("note|{}", date(*day)),
            Button::DeleteNote { note } => format!("unnote|{}", note.0),
            Button::Recap { on } => format!("recap|{}", date(*on)),
            Button::Settings => "set".to_owned(),
            Button::Describe { tier } => format!("line|{}", tier.0),
            Button::DeleteLine { tier } => format!("unline|{}", tier.0),
            Button::Change { setting } => format!("change|{}", setting_code(*setting)),
            Button::SetAskAt { time } => format!("setat|{}", clock(*time)),
            Button::SetDayTurn { time } => format!("setturn|{}", clock(*time)),
            Button::SetZone { zone } => format!("setzone|{zone}"),
            Button::SetNudges { at } => format!("setnudge|{}", some_clock(*at)),
            Button::Nudges { at } => format!("nudges|{}", some_clock(*at)),
            Button::SetRecap { on, whole } => {
                let day = on.map(|day| day.num_days_from_monday().to_string());
                format!("setrecap|{}|{}", day.unwrap_or_default(), u8::from(*whole))
            }
            Button::Resume => "resume".to_owned(),
            Button::WorkedUpTo { from, to } => format!("upto|{}", position_codes(*from, *to)),
            Button::UndoUpTo { from, to } => format!("unupto|{}", position_codes(*from, *to)),
            Button::Making { act } => format!("make|{}", making::fields(*act)),
            Button::Colours(tap) => format!("hue|{}", tap.fields()),
            Button::Scale(tap) => format!("scale|{}", tap.fields()),
            Button::SetUp(tap) => format!("steps|{}", tap.fields()),
            Button::People(tap) => format!("people|{}", tap.fields()),
            // The list of rows, row by row, and rows that differ from their day.
            Button::RowsToEnd => "rowsend".to_owned(),
            Button::RowByRow(tap) => format!("card|{}", tap.fields()),
            Button::LeaveRow { day } => format!("leaverow|{}", date(*day)),
            Button::PullBack { block, left, was } => format!("pull|{block}|{left}|{was}"),
            Button::OfBlock(button) => button.fields(),
            Button::OfYarn(button) => button.fields(),
            Button::OfBlankets(tap) => format!("years|{}", tap.fields()),
            Button::BringBack(tap) => format!("bring|{}", tap.fields()),
            Button::Paper(tap) => format!("paper|{}", tap.fields()),
            Button::Draw(drawn) => format!("draw|{}", drawn::fields(*drawn)),
        };
        format!("{VERSION}|{fields}")
    }

    /// # Errors
    /// [`UnreadableToken`] for anything [`Button::token`] did not write.
    pub fn read(token: &str) -> Result<Button, UnreadableToken> {
        Button::fields(token).ok_or(UnreadableToken)
    }

    fn fields(token: &str) -> Option<Button> {
        let mut parts = token.split('|');
        if parts.next()? != VERSION {
            return None;
        }
        let name = parts.next()?;
        let rest: Vec<&str> = parts.collect();
        Some(match (name, rest.as_slice()) {
            ("agree", [code]) => Button::Agree { invitation: Invitation::parse(code)? },
            ("decline", []) => Button::Decline,
            ("zone", [zone]) => Button::Zone { zone: zone.parse().ok()? },
            ("right", [zone]) => Button::ZoneRight { zone: zone.parse().ok()? },
            ("place", []) => Button::OtherPlace,
            ("at", [zone, time]) => {
                Button::AskAt { zone: zone.parse().ok()?, time: read_clock(time)? }
            }
            ("from", [zone, time, day]) => Button::FirstDay {
                zone: zone.parse().ok()?,
                time: read_clock(time)?,
                day: read_date(day)?,
            },
            ("tier", [day, tier]) => {
                Button::Answer { day: read_date(day)?, tier: TierId(read_number(tier)?) }
            }
            ("ask", [day]) => Button::Ask { day: read_date(day)? },
            ("leave", [day]) => Button::Leave { day: read_date(day)? },
            ("try", []) => Button::Practice,
            ("tried", [tier]) => Button::PracticeAnswer { tier: TierId(read_number(tier)?) },
            ("worked", [block, from, to, colours]) => Button::Worked {
                block: BlockNumber(read_number(block)?),
                from: RowNumber(read_number(from)?),
                to: RowNumber(read_number(to)?),
                colours: ColourSum(read_number(colours)?),
            },
            ("undo", [block, left, was]) => Button::Undo {
                block: BlockNumber(read_number(block)?),
                left: read_number(left)?,
                was: read_number(was)?,
            },
            ("rows", []) => Button::Rows,
            (name, rest) => return Button::more_fields(name, rest),
        })
    }

    fn more_fields(name: &str, rest: &[&str]) -> Option<Button> {
        Some(match (name, rest) {
            ("unsure", [day]) => Button::NotSure { day: read_date(day)? },
            ("means", [day, asked_in]) => {
                Button::Meanings { day: read_date(day)?, asked_in: read_asked_in(asked_in)? }
            }
            ("trymeans", []) => Button::PracticeMeanings,
            ("compare", [day, part]) => {
                Button::Compare { day: read_date(day)?, part: read_part(part)? }
            }
            ("later", [day]) => Button::Later { day: read_date(day)? },
            ("putoff", [day, until]) => {
                Button::PutOff { day: read_date(day)?, until: read_some(until, read_date)? }
            }
            ("skip", [day]) => Button::Skip { day: read_date(day)? },
            ("fornow", [day, on]) => Button::ForNow { day: read_date(day)?, on: read_flag(on)? },
            ("assume", [day]) => Button::Assume { day: read_date(day)? },
            ("assumeall", [first, last, count]) => Button::AssumeAll {
                first: read_date(first)?,
                last: read_date(last)?,
                count: read_number(count)?,
            },
            ("many", [id]) => Button::KeepMany { id: read_number(id)? },
            ("drop", [id]) => Button::DropMany { id: read_number(id)? },
            ("unmany", [id]) => Button::UndoMany { id: read_number(id)? },
            ("note", [day]) => Button::WriteNote { day: read_date(day)? },
            ("unnote", [note]) => Button::DeleteNote { note: NoteId(read_number(note)?) },
            ("recap", [on]) => Button::Recap { on: read_date(on)? },
            ("line", [tier]) => Button::Describe { tier: TierId(read_number(tier)?) },
            ("unline", [tier]) => Button::DeleteLine { tier: TierId(read_number(tier)?) },
            ("set", []) => Button::Settings,
            ("change", [setting]) => Button::Change { setting: read_setting(setting)? },
            ("setat", [time]) => Button::SetAskAt { time: read_clock(time)? },
            ("setturn", [time]) => Button::SetDayTurn { time: read_clock(time)? },
            ("setzone", [zone]) => Button::SetZone { zone: zone.parse().ok()? },
            ("setnudge", [at]) => Button::SetNudges { at: read_some(at, read_clock)? },
            ("nudges", [at]) => Button::Nudges { at: read_some(at, read_clock)? },
            ("setrecap", [on, whole]) => {
                Button::SetRecap { on: read_some(on, read_weekday)?, whole: read_flag(whole)? }
            }
            ("resume", []) => Button::Resume,
            ("upto", [block, row, to_block, to_row]) => Button::WorkedUpTo {
                from: read_position(block, row)?,
                to: read_position(to_block, to_row)?,
            },
            ("unupto", [block, row, to_block, to_row]) => Button::UndoUpTo {
                from: read_position(block, row)?,
                to: read_position(to_block, to_row)?,
            },
            ("make", fields) => Button::Making { act: making::read(fields)? },
            ("hue", fields) => Button::Colours(ColourTap::read(fields)?),
            ("scale", fields) => Button::Scale(ScaleTap::read(fields)?),
            ("steps", fields) => Button::SetUp(SetUpTap::read(fields)?),
            ("people", fields) => Button::People(PeopleTap::read(fields)?),
            // The list of rows, row by row, and rows that differ from their day.
            ("bring", fields) => Button::BringBack(BringBackTap::read(fields)?),
            ("years", fields) => Button::OfBlankets(BlanketTap::read(fields)?),
            ("rowsend", []) => Button::RowsToEnd,
            ("card", fields) => Button::RowByRow(RowByRow::read(fields)?),
            ("leaverow", [day]) => Button::LeaveRow { day: read_date(day)? },
            ("pull", [block, left, was]) => Button::PullBack {
                block: BlockNumber(read_number(block)?),
                left: read_number(left)?,
                was: read_number(was)?,
            },
            ("paper", fields) => Button::Paper(PaperTap::read(fields)?),
            ("draw", fields) => Button::Draw(drawn::read(fields)?),
            (name, rest) => match YarnButton::read(name, rest) {
                Some(button) => Button::OfYarn(button),
                None => Button::OfBlock(BlockButton::read(name, rest)?),
            },
        })
    }
}

fn clock(time: NaiveTime) -> String {
    time.format("%H%M").to_string()
}

pub(super) fn date(day: NaiveDate) -> String {
    day.format("%Y%m%d").to_string()
}

fn digits(text: &str, len: usize) -> Option<&str> {
    (text.len() == len && text.bytes().all(|b| b.is_ascii_digit())).then_some(text)
}

fn read_clock(text: &str) -> Option<NaiveTime> {
    let text = digits(text, 4)?;
    NaiveTime::from_hms_opt(text[..2].parse().ok()?, text[2..].parse().ok()?, 0)
}

pub(super) fn read_date(text: &str) -> Option<NaiveDate> {
    let text = digits(text, 8)?;
    NaiveDate::from_ymd_opt(
        text[..4].parse().ok()?,
        text[4..6].parse().ok()?,
        text[6..].parse().ok()?,
    )
}

/// Digits alone, without a sign or leading zeros, so that one button has one token.
pub(super) fn read_number<N: std::str::FromStr>(text: &str) -> Option<N> {
    let plain = text.bytes().all(|b| b.is_ascii_digit()) && (text == "0" || !text.starts_with('0'));
    plain.then(|| text.parse().ok()).flatten()
}

/// An empty field is none.
pub(super) fn read_some<T>(text: &str, read: impl FnOnce(&str) -> Option<T>) -> Option<Option<T>> {
    if text.is_empty() { Some(None) } else { read(text).map(Some) }
}

pub(super) fn read_flag(text: &str) -> Option<bool> {
    match text {
        "0" => Some(false),
        "1" => Some(true),
        _ => None,
    }
}

fn read_weekday(text: &str) -> Option<Weekday> {
    Weekday::try_from(read_number::<u8>(text)?).ok()
}

fn some_clock(at: Option<NaiveTime>) -> String {
    at.map(clock).unwrap_or_default()
}

fn position_codes(from: Position, to: Position) -> String {
    format!("{}|{}|{}|{}", from.block, from.row, to.block, to.row)
}

fn read_position(block: &str, row: &str) -> Option<Position> {
    let (block, row) = (BlockNumber(read_number(block)?), RowNumber(read_number(row)?));
    Some(Position { block, row })
}

fn part_code(part: Part) -> String {
    match part {
        Part::Group(group) => group.to_string(),
        Part::CannotTell => "x".to_owned(),
    }
}

fn read_part(text: &str) -> Option<Part> {
    match text {
        "x" => Some(Part::CannotTell),
        group => read_number(group).map(Part::Group),
    }
}

fn asked_in_code(asked_in: AskedIn) -> &'static str {
    match asked_in {
        AskedIn::Question => "q",
        AskedIn::Nudge => "n",
        AskedIn::Open => "o",
    }
}

fn read_asked_in(text: &str) -> Option<AskedIn> {
    AskedIn::ALL.into_iter().find(|asked_in| asked_in_code(*asked_in) == text)
}

fn setting_code(setting: Setting) -> &'static str {
    match setting {
        Setting::AskAt => "at",
        Setting::Place => "place",
        Setting::DayTurn => "turn",
        Setting::Nudges => "nudge",
        Setting::Recap => "recap",
        Setting::TierLines => "lines",
    }
}

fn read_setting(text: &str) -> Option<Setting> {
    Setting::ALL.into_iter().find(|setting| setting_code(*setting) == text)
}
