//! Buttons of the colours of the yarns, and the fields of their tokens.

use super::token::read_number;
use crate::blanket::YarnId;
use crate::blanket::colours::{Rgb, read_hex};

#[derive(Clone, PartialEq, Eq, Debug)]
pub enum ColourTap {
    /// Can the yarns be told apart?
    Check,
    /// A button for each yarn.
    All,
    /// One yarn: what it is like, and what it can be changed to.
    One { yarn: YarnId },
    /// Type another name.
    Name { yarn: YarnId },
    /// These yarns have these colours from now on: 1 to [`ColourTap::RECOLOURED_MAX`] of them.
    Recolour { to: Vec<(YarnId, Rgb)> },
    /// The ready palettes.
    Palettes,
    /// Take one, by its place in the list.
    Palette { number: u8 },
    /// The same yarns in other orders.
    Orders,
    /// The yarns of the tiers from now on, lowest first: 1 to [`ColourTap::ORDERED_MAX`] of them.
    Order { yarns: Vec<YarnId> },
    /// Another yarn is worked where this one was: type its name.
    Another { yarn: YarnId },
    /// Type the code of the one that has a name.
    AnotherCode { draft: i64 },
    /// Keep the one that was shown.
    UseAnother { draft: i64 },
    /// Everything as it was before the change with this id.
    Undo { id: i64 },
}

impl ColourTap {
    /// More do not fit into a token.
    pub const RECOLOURED_MAX: usize = 4;
    pub const ORDERED_MAX: usize = 12;

    pub(super) fn fields(&self) -> String {
        match self {
            ColourTap::Check => "check".to_owned(),
            ColourTap::All => "all".to_owned(),
            ColourTap::One { yarn } => format!("one|{}", yarn.0),
            ColourTap::Name { yarn } => format!("name|{}", yarn.0),
            ColourTap::Recolour { to } => format!("set|{}", joined(to, recoloured)),
            ColourTap::Palettes => "ready".to_owned(),
            ColourTap::Palette { number } => format!("take|{number}"),
            ColourTap::Orders => "orders".to_owned(),
            ColourTap::Order { yarns } => {
                format!("order|{}", joined(yarns, |yarn| yarn.0.to_string()))
            }
            ColourTap::Another { yarn } => format!("other|{}", yarn.0),
            ColourTap::AnotherCode { draft } => format!("code|{draft}"),
            ColourTap::UseAnother { draft } => format!("use|{draft}"),
            ColourTap::Undo { id } => format!("undo|{id}"),
        }
    }

    pub(super) fn read(fields: &[&str]) -> Option<ColourTap> {
        Some(match fields {
            ["check"] => ColourTap::Check,
            ["all"] => ColourTap::All,
            ["one", yarn] => ColourTap::One { yarn: YarnId(read_number(yarn)?) },
            ["name", yarn] => ColourTap::Name { yarn: YarnId(read_number(yarn)?) },
            ["set", list] => ColourTap::Recolour {
                to: read_list(list, ColourTap::RECOLOURED_MAX, read_recoloured)?,
            },
            ["ready"] => ColourTap::Palettes,
            ["take", number] => ColourTap::Palette { number: read_number(number)? },
            ["orders"] => ColourTap::Orders,
            ["order", list] => ColourTap::Order {
                yarns: read_list(list, ColourTap::ORDERED_MAX, |yarn| {
                    read_number(yarn).map(YarnId)
                })?,
            },
            ["other", yarn] => ColourTap::Another { yarn: YarnId(read_number(yarn)?) },
            ["code", draft] => ColourTap::AnotherCode { draft: read_number(draft)? },
            ["use", draft] => ColourTap::UseAnother { draft: read_number(draft)? },
            ["undo", id] => ColourTap::Undo { id: read_number(id)? },
            _ => return None,
        })
    }
}

fn joined<T>(list: &[T], code: impl Fn(&T) -> String) -> String {
    list.iter().map(code).collect::<Vec<_>>().join(",")
}

fn read_list<T>(text: &str, most: usize, read: impl Fn(&str) -> Option<T>) -> Option<Vec<T>> {
    let list: Vec<T> = text.split(',').map(read).collect::<Option<_>>()?;
    (1..=most).contains(&list.len()).then_some(list)
}

fn recoloured((yarn, [red, green, blue]): &(YarnId, Rgb)) -> String {
    format!("{}.{red:02X}{green:02X}{blue:02X}", yarn.0)
}

fn read_recoloured(text: &str) -> Option<(YarnId, Rgb)> {
    let (yarn, code) = text.split_once('.')?;
    let to = (YarnId(read_number(yarn)?), read_hex(code)?);
    // A colour can be written in several ways; a token in one.
    (recoloured(&to) == text).then_some(to)
}
