//! What a maker taps about their own scale, and how it travels in a token.

use crate::blanket::{TierId, YarnId};

use super::token::{read_number, read_some};

/// Each names what it is about, never a place in a list, so that a tap twice or of last week does
/// no more than one of now.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum ScaleTap {
    /// The scale as a new message, so that the one that was tapped stays.
    Open,
    /// The scale in place of what was tapped.
    Home,
    Tier {
        tier: TierId,
    },
    /// The label is typed next.
    Rename {
        tier: TierId,
    },
    /// The tier stands at this index from now on, counted from 0 at the lowest.
    Move {
        tier: TierId,
        to: u8,
    },
    /// The tier goes, or it is asked which tier its days get.
    Remove {
        tier: TierId,
    },
    RemoveTo {
        tier: TierId,
        days_get: TierId,
    },
    AskDefault,
    Default {
        tier: TierId,
    },
    /// The question is typed next.
    AskQuestion,
    UsualQuestion,
    /// A tier more: above which?
    AskWhere,
    /// Above this tier, or as the lowest; its label is typed next.
    Above {
        tier: Option<TierId>,
    },
    /// The new tier of this id's draft is worked in this yarn.
    Yarn {
        draft: i64,
        yarn: YarnId,
    },
    /// Its yarn is asked for once more.
    AskYarn {
        draft: i64,
    },
    /// The new yarn has this colour.
    Colour {
        draft: i64,
        rgb: [u8; 3],
    },
    Undo {
        id: i64,
    },
}

impl ScaleTap {
    /// The fields after the name of the button.
    pub fn fields(self) -> String {
        match self {
            ScaleTap::Open => "open".to_owned(),
            ScaleTap::Home => "home".to_owned(),
            ScaleTap::Tier { tier } => format!("tier|{}", tier.0),
            ScaleTap::Rename { tier } => format!("name|{}", tier.0),
            ScaleTap::Move { tier, to } => format!("move|{}|{to}", tier.0),
            ScaleTap::Remove { tier } => format!("drop|{}", tier.0),
            ScaleTap::RemoveTo { tier, days_get } => format!("drop|{}|{}", tier.0, days_get.0),
            ScaleTap::AskDefault => "default".to_owned(),
            ScaleTap::Default { tier } => format!("default|{}", tier.0),
            ScaleTap::AskQuestion => "asks".to_owned(),
            ScaleTap::UsualQuestion => "usual".to_owned(),
            ScaleTap::AskWhere => "add".to_owned(),
            ScaleTap::Above { tier } => {
                format!("add|{}", tier.map(|tier| tier.0.to_string()).unwrap_or_default())
            }
            ScaleTap::Yarn { draft, yarn } => format!("yarn|{draft}|{}", yarn.0),
            ScaleTap::AskYarn { draft } => format!("yarn|{draft}"),
            ScaleTap::Colour { draft, rgb: [red, green, blue] } => {
                format!("rgb|{draft}|{red:02X}{green:02X}{blue:02X}")
            }
            ScaleTap::Undo { id } => format!("undo|{id}"),
        }
    }

    pub fn read(fields: &[&str]) -> Option<ScaleTap> {
        let tier = |text: &str| read_number(text).map(TierId);
        Some(match fields {
            ["open"] => ScaleTap::Open,
            ["home"] => ScaleTap::Home,
            ["tier", id] => ScaleTap::Tier { tier: tier(id)? },
            ["name", id] => ScaleTap::Rename { tier: tier(id)? },
            ["move", id, to] => ScaleTap::Move { tier: tier(id)?, to: read_number(to)? },
            ["drop", id] => ScaleTap::Remove { tier: tier(id)? },
            ["drop", id, other] => ScaleTap::RemoveTo { tier: tier(id)?, days_get: tier(other)? },
            ["default"] => ScaleTap::AskDefault,
            ["default", id] => ScaleTap::Default { tier: tier(id)? },
            ["asks"] => ScaleTap::AskQuestion,
            ["usual"] => ScaleTap::UsualQuestion,
            ["add"] => ScaleTap::AskWhere,
            ["add", above] => ScaleTap::Above { tier: read_some(above, tier)? },
            ["yarn", draft, yarn] => {
                ScaleTap::Yarn { draft: read_number(draft)?, yarn: YarnId(read_number(yarn)?) }
            }
            ["yarn", draft] => ScaleTap::AskYarn { draft: read_number(draft)? },
            ["rgb", draft, hex] => {
                ScaleTap::Colour { draft: read_number(draft)?, rgb: read_hex(hex)? }
            }
            ["undo", id] => ScaleTap::Undo { id: read_number(id)? },
            _ => return None,
        })
    }
}

/// Six digits, letters as capitals.
fn read_hex(text: &str) -> Option<[u8; 3]> {
    let digit = |c: u8| c.is_ascii_digit() || (b'A'..=b'F').contains(&c);
    if text.len() != 6 || !text.bytes().all(digit) {
        return None;
    }
    let byte = |at: usize| u8::from_str_radix(&text[at..at + 2], 16).ok();
    Some([byte(0)?, byte(2)?, byte(4)?])
}
