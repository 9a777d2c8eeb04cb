//! What a button does, and the token that carries it through the platform.
//!
//! The only file that knows tokens. A token is at most 64 bytes, starts with its version, and
//! carries the day and ids that are never reused, so that a button from last year means what it
//! meant then. An unreadable token is a value, never a fault.

use chrono::{NaiveDate, NaiveTime};
use chrono_tz::Tz;

use crate::blanket::{BlockNumber, RowNumber, TierId, YarnId};

/// The platform takes 1 to 64 bytes.
pub const TOKEN_BYTES_MAX: usize = 64;

const VERSION: &str = "1";

#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Button {
    /// I agree; carries the invitation, because nothing is kept before this tap.
    Agree {
        invitation: Invitation,
    },
    Decline,
    Zone {
        zone: Tz,
    },
    ZoneRight {
        zone: Tz,
    },
    OtherPlace,
    AskAt {
        zone: Tz,
        time: NaiveTime,
    },
    FirstDay {
        zone: Tz,
        time: NaiveTime,
        day: NaiveDate,
    },
    /// The tier of a day.
    Answer {
        day: NaiveDate,
        tier: TierId,
    },
    /// Show the question about this day, whatever it has now.
    Ask {
        day: NaiveDate,
    },
    /// Leave the day as it is and show what is kept.
    Leave {
        day: NaiveDate,
    },
    Practice,
    PracticeAnswer {
        tier: TierId,
    },
    /// Rows `from` to `to` of the block are stitched, in the colours that were listed.
    Worked {
        block: BlockNumber,
        from: RowNumber,
        to: RowNumber,
        colours: ColourSum,
    },
    /// Take a crossing off back: rows 1 to `left` were worked before it, 1 to `was` after it.
    Undo {
        block: BlockNumber,
        left: u16,
        was: u16,
    },
    Rows,
}

/// A check sum of the colours of a list of rows: another list has, almost always, another sum.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct ColourSum(pub u16);

/// The code of an invitation link: 1 to 48 characters of `A-Z a-z 0-9 _ -`.
#[derive(Clone, PartialEq, Eq)]
pub struct Invitation(String);

/// A token no version of the bot wrote, or of a version it no longer reads.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct UnreadableToken;

impl Invitation {
    const CHARS_MAX: usize = 48;

    pub fn parse(text: &str) -> Option<Invitation> {
        let plain = |c: char| c.is_ascii_alphanumeric() || c == '_' || c == '-';
        let fits = (1..=Invitation::CHARS_MAX).contains(&text.len()) && text.chars().all(plain);
        fits.then(|| Invitation(text.to_owned()))
    }

    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl ColourSum {
    /// Buttons in old messages carry it: the arithmetic stays as it is.
    pub fn of(yarns: &[YarnId]) -> ColourSum {
        let add = |sum: u16, yarn: &YarnId| sum.wrapping_mul(40_503).wrapping_add(yarn.0.into());
        ColourSum(yarns.iter().fold(1, add))
    }
}

impl std::fmt::Debug for Invitation {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Invitation(hidden)")
    }
}

impl Button {
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
            _ => return None,
        })
    }
}

fn clock(time: NaiveTime) -> String {
    time.format("%H%M").to_string()
}

fn date(day: NaiveDate) -> String {
    day.format("%Y%m%d").to_string()
}

fn digits(text: &str, len: usize) -> Option<&str> {
    (text.len() == len && text.bytes().all(|b| b.is_ascii_digit())).then_some(text)
}

fn read_clock(text: &str) -> Option<NaiveTime> {
    let text = digits(text, 4)?;
    NaiveTime::from_hms_opt(text[..2].parse().ok()?, text[2..].parse().ok()?, 0)
}

fn read_date(text: &str) -> Option<NaiveDate> {
    let text = digits(text, 8)?;
    NaiveDate::from_ymd_opt(
        text[..4].parse().ok()?,
        text[4..6].parse().ok()?,
        text[6..].parse().ok()?,
    )
}

/// Digits alone, without a sign or leading zeros, so that one button has one token.
fn read_number<N: std::str::FromStr>(text: &str) -> Option<N> {
    let plain = text.bytes().all(|b| b.is_ascii_digit()) && (text == "0" || !text.starts_with('0'));
    plain.then(|| text.parse().ok()).flatten()
}
