//! The buttons of the card that shows one row at a time, and how they travel.

use chrono::NaiveDate;

use super::ColourSum;
use super::token::{date, read_date, read_number};
use crate::blanket::{BlockNumber, RowNumber};

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum RowByRow {
    /// Show the card as a new message.
    Open,
    /// Show it in place of the message that was tapped.
    GoOn,
    /// This row is worked, in the colour that was shown.
    Worked {
        block: BlockNumber,
        row: RowNumber,
        colour: ColourSum,
    },
    /// This row, the last worked one, is not worked after all.
    Back {
        block: BlockNumber,
        row: RowNumber,
    },
    Stop,
    /// Answer the day that the next row waits for, below the card.
    Answer {
        day: NaiveDate,
    },
}

impl RowByRow {
    /// The fields after the name of the button.
    pub(super) fn fields(self) -> String {
        match self {
            RowByRow::Open => "open".to_owned(),
            RowByRow::GoOn => "on".to_owned(),
            RowByRow::Worked { block, row, colour } => format!("done|{block}|{row}|{}", colour.0),
            RowByRow::Back { block, row } => format!("back|{block}|{row}"),
            RowByRow::Stop => "stop".to_owned(),
            RowByRow::Answer { day } => format!("ask|{}", date(day)),
        }
    }

    pub(super) fn read(fields: &[&str]) -> Option<RowByRow> {
        Some(match fields {
            ["open"] => RowByRow::Open,
            ["on"] => RowByRow::GoOn,
            ["done", block, row, colour] => RowByRow::Worked {
                block: BlockNumber(read_number(block)?),
                row: RowNumber(read_number(row)?),
                colour: ColourSum(read_number(colour)?),
            },
            ["back", block, row] => RowByRow::Back {
                block: BlockNumber(read_number(block)?),
                row: RowNumber(read_number(row)?),
            },
            ["stop"] => RowByRow::Stop,
            ["ask", day] => RowByRow::Answer { day: read_date(day)? },
            _ => return None,
        })
    }
}
