//! What should a maker do in a rehearsal? One line of a script, one act.
//!
//! Knows no zones and no hours of asking: a line says `evening`, the stage knows when that is.

use chrono::{NaiveDateTime, TimeDelta};

/// One act and the line it stands on.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// From 1.
    pub number: usize,
    pub act: Act,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Act {
    /// Types a text or a command.
    Type(String),
    /// Taps the button with this label.
    Tap(String),
    /// Opens the newest invitation anybody was shown.
    OpenInvitation,
    /// Sends this file: the newest document of that name that the bot sent to anybody, else the
    /// one at that place on this computer.
    SendFile(String),
    /// From here on, this person acts.
    TakeOver(String),
    /// Turns the clock forward.
    Turn(Turn),
}

/// How far to turn the clock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Turn {
    /// To the next hour of asking.
    Evening,
    /// To the same local time some days on.
    Days(u64),
    /// By hours and minutes.
    By(TimeDelta),
    /// To a local time.
    At(NaiveDateTime),
}

/// A line that says nothing a rehearsal can do.
#[derive(Debug, PartialEq, thiserror::Error)]
#[error("line {number}: {why}")]
pub struct BadLine {
    pub number: usize,
    pub why: String,
}

/// Ten years: further than any blanket.
const MAX_MINUTES: u64 = 10 * 366 * 24 * 60;
/// As a button's label: opens the newest invitation.
const INVITATION: &str = "invitation";
const NAME_CHARS_MAX: usize = 32;

/// Reads a script. Blank lines and remarks (`# …`) say nothing.
pub fn read(script: &str) -> Result<Vec<Line>, BadLine> {
    let numbered = script.lines().map(str::trim).zip(1..);
    let lines = numbered.filter(|(line, _)| !line.is_empty() && !line.starts_with('#'));
    let read = lines.map(|(line, number)| match act(line) {
        Ok(act) => Ok(Line { number, act }),
        Err(why) => Err(BadLine { number, why }),
    });
    read.collect()
}

fn act(line: &str) -> Result<Act, String> {
    if let Some(label) = line.strip_prefix('[') {
        let label = label.strip_suffix(']').ok_or("a button's label ends with ]")?.trim();
        return match label {
            "" => Err("a button has a label: [Smooth]".to_owned()),
            INVITATION => Ok(Act::OpenInvitation),
            label => Ok(Act::Tap(label.to_owned())),
        };
    }
    if let Some(name) = line.strip_prefix("= ") {
        let name = name.trim();
        let sound = (1..=NAME_CHARS_MAX).contains(&name.chars().count())
            && name.chars().all(char::is_alphabetic);
        return match sound {
            true => Ok(Act::TakeOver(name.to_owned())),
            false => Err("a person has one name of letters: = Ines".to_owned()),
        };
    }
    if let Some(name) = line.strip_prefix("< ") {
        return match name.trim() {
            "" => Err("a file has a name: < book-2027-07-15.json".to_owned()),
            name => Ok(Act::SendFile(name.to_owned())),
        };
    }
    match line.strip_prefix('@') {
        Some(when) => Ok(Act::Turn(turn(when.trim())?)),
        None => Ok(Act::Type(line.to_owned())),
    }
}

fn turn(when: &str) -> Result<Turn, String> {
    if when == "evening" {
        return Ok(Turn::Evening);
    }
    if let Some(span) = when.strip_prefix('+') {
        return forward(span).ok_or_else(|| format!("cannot turn the clock by +{span}; {FORMS}"));
    }
    let at = NaiveDateTime::parse_from_str(when, "%Y-%m-%d %H:%M");
    at.map(Turn::At).map_err(|_| format!("cannot turn the clock to {when:?}; {FORMS}"))
}

const FORMS: &str = "it takes @ evening, @ +3d, @ +2h, @ +90m or @ 2027-03-01 21:00";

fn forward(span: &str) -> Option<Turn> {
    let digits = span.trim_end_matches(|c: char| !c.is_ascii_digit());
    let count: u64 = digits.parse().ok().filter(|_| digits.bytes().all(|b| b.is_ascii_digit()))?;
    let minutes_each = match &span[digits.len()..] {
        "d" => 24 * 60,
        "h" => 60,
        "m" => 1,
        _ => return None,
    };
    let minutes = count.checked_mul(minutes_each).filter(|m| (1..=MAX_MINUTES).contains(m))?;
    match minutes_each {
        1 | 60 => Some(Turn::By(TimeDelta::minutes(i64::try_from(minutes).ok()?))),
        _ => Some(Turn::Days(count)),
    }
}

#[cfg(test)]
mod tests {
    use chrono::NaiveDate;

    use super::*;

    #[test]
    fn each_kind_of_line_is_one_act() {
        let script = "# an evening\n\n/start\n @ evening \n[Very rough]\nLate, and [tired]\n\
                      @ +3d\n@+90m\n@ +2h\n@ 2027-03-01 21:00\n\
                      =  Ines\n[invitation]\n<  a book.json\n";
        let read = read(script).unwrap();
        let acts: Vec<(usize, Act)> = read.into_iter().map(|l| (l.number, l.act)).collect();
        let march = NaiveDate::from_ymd_opt(2027, 3, 1).unwrap().and_hms_opt(21, 0, 0).unwrap();
        assert_eq!(
            acts,
            [
                (3, Act::Type("/start".into())),
                (4, Act::Turn(Turn::Evening)),
                (5, Act::Tap("Very rough".into())),
                (6, Act::Type("Late, and [tired]".into())),
                (7, Act::Turn(Turn::Days(3))),
                (8, Act::Turn(Turn::By(TimeDelta::minutes(90)))),
                (9, Act::Turn(Turn::By(TimeDelta::hours(2)))),
                (10, Act::Turn(Turn::At(march))),
                (11, Act::TakeOver("Ines".into())),
                (12, Act::OpenInvitation),
                (13, Act::SendFile("a book.json".into())),
            ]
        );
    }

    #[test]
    fn a_line_that_cannot_be_read_is_named_by_its_number() {
        for line in [
            "[Smooth",
            "[ ]",
            "= 1001",
            "= Ines Two",
            "= <b>",
            "@",
            "@ noon",
            "@ +3w",
            "@ +0d",
            "@ +-3d",
            "@ +d",
            "@ -3d",
            "@ +é",
            "@ +99999999999999999999d",
            "@ +3661d",
            "@ 2027-02-30 21:00",
            "@ 2027-03-01",
        ] {
            let why = read(&format!("/start\n{line}")).unwrap_err();
            assert_eq!(why.number, 2, "{line}");
            assert!(why.to_string().starts_with("line 2: "), "{why}");
        }
    }
}
