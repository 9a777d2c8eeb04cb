//! Buttons about a block on paper, and the fields of their tokens.

use super::token::read_flag;
use crate::blanket::{FirstRow, Paper};

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum PaperTap {
    /// How it is now.
    Show,
    Size(Paper),
    FirstRow(FirstRow),
    /// Which hand the arrows are for; kept with the stitch.
    LeftHanded(bool),
}

impl PaperTap {
    pub(super) fn fields(self) -> String {
        match self {
            PaperTap::Show => "show".to_owned(),
            PaperTap::Size(paper) => format!("size|{}", paper_code(paper)),
            PaperTap::FirstRow(first) => format!("first|{}", first_code(first)),
            PaperTap::LeftHanded(left) => format!("left|{}", u8::from(left)),
        }
    }

    pub(super) fn read(fields: &[&str]) -> Option<PaperTap> {
        Some(match fields {
            ["show"] => PaperTap::Show,
            ["size", code] => {
                PaperTap::Size(Paper::ALL.into_iter().find(|paper| paper_code(*paper) == *code)?)
            }
            ["first", code] => {
                let first = FirstRow::ALL.into_iter().find(|first| first_code(*first) == *code);
                PaperTap::FirstRow(first?)
            }
            ["left", left] => PaperTap::LeftHanded(read_flag(left)?),
            _ => return None,
        })
    }
}

fn paper_code(paper: Paper) -> &'static str {
    match paper {
        Paper::A4 => "a4",
        Paper::A5 => "a5",
        Paper::Letter => "letter",
    }
}

fn first_code(first: FirstRow) -> &'static str {
    match first {
        FirstRow::Bottom => "bottom",
        FirstRow::Top => "top",
    }
}
