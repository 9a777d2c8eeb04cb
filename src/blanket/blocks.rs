//! The blocks of a blanket, and what each row of a block is: the row of a day or a filler row.
//!
//! Every block has the same number of rows: one for each day, and filler rows in the joining
//! colour (common practice, no source). A row of the list is one worked row, or a ridge of two.

use std::fmt;

use chrono::{Datelike, Days, Months, NaiveDate};

use serde::{Deserialize, Serialize};

use super::cut::{Cut, Span};

/// Number of a block, from 1.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct BlockNumber(pub u16);

/// Number of a row within its block, from 1 at the bottom.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct RowNumber(pub u16);

/// The side of the block that faces the maker while the row is worked.
#[derive(Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Debug)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    Right,
    Wrong,
}

/// The days of a blanket, how they are cut into blocks, and which way its rows face.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Plan {
    first_day: NaiveDate,
    last_day: NaiveDate,
    pieces: Pieces,
    faces: Faces,
}

/// What the blocks of a blanket are like.
#[derive(Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Debug)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub struct Pieces {
    pub cut: Cut,
    /// Rows of a block, its filler rows among them. A strip has a row for each day, whatever this
    /// says.
    pub rows: u16,
    pub fillers: Fillers,
    /// A first or last block with few days has a row for each of them, and no filler rows.
    pub short_ends: bool,
}

/// Where the filler rows of a block are.
#[derive(Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Debug)]
#[serde(rename_all = "snake_case")]
pub enum Fillers {
    /// After the last day: in a block that starts on the 1st the row number is the date.
    After,
    /// The first row and the last, and what there is more at the end.
    FirstAndLast,
    Before,
    /// The smaller half before the first day.
    Balanced,
}

/// Which way rows face.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Faces {
    pub first: Side,
    /// The work is turned after each row; where it is not, every row faces right.
    pub turned: bool,
    /// Worked rows that a row of the list takes: two for a ridge of garter stitch.
    pub rows_per_day: u16,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum PlanFault {
    /// Fewer rows than the longest block has days, or more than [`Plan::ROWS_MAX`].
    Rows,
    /// Blocks of no day, or of more than [`Plan::ROWS_MAX`].
    Days,
    LastBeforeFirst,
    /// More than [`Plan::DAYS_MAX`] days.
    TooLong,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Block {
    pub number: BlockNumber,
    pub first_day: NaiveDate,
    pub last_day: NaiveDate,
    pub rows: u16,
    /// Filler rows before the first day.
    pub fillers_before: u16,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Row {
    pub number: RowNumber,
    pub side: Side,
    pub content: RowContent,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum RowContent {
    Day(NaiveDate),
    Filler,
}

impl Pieces {
    /// Calendar months of 33 rows, with the filler rows after the last day.
    pub const DEFAULT: Pieces = Pieces {
        cut: Cut::Months,
        rows: Plan::ROWS_DEFAULT,
        fillers: Fillers::After,
        short_ends: false,
    };

    /// The fewest rows a block may have.
    pub fn rows_min(self) -> u16 {
        self.cut.days_max().unwrap_or(1)
    }
}

impl Faces {
    pub const DEFAULT: Faces = Faces { first: Side::Right, turned: true, rows_per_day: 1 };

    /// The worked rows of row `number` of the list, the first and the last.
    pub fn worked_rows(self, number: RowNumber) -> (u16, u16) {
        let last = number.0.saturating_mul(self.rows_per_day);
        (last.saturating_sub(self.rows_per_day) + 1, last)
    }

    /// Worked back and forth, worked row r faces right where r is odd, if row 1 does.
    fn side(self, number: RowNumber) -> Side {
        let (worked_row, _) = self.worked_rows(number);
        match (self.turned, worked_row % 2 == 1, self.first) {
            (false, ..) => Side::Right,
            (true, true, side) => side,
            (true, false, Side::Right) => Side::Wrong,
            (true, false, Side::Wrong) => Side::Right,
        }
    }
}

impl Plan {
    pub const ROWS_DEFAULT: u16 = 33;
    pub const ROWS_MAX: u16 = 120;
    /// Two leap years' worth of days.
    pub const DAYS_MAX: i64 = 732;

    /// # Errors
    /// A [`PlanFault`] where the numbers cannot be a blanket.
    pub fn new(
        first_day: NaiveDate,
        last_day: NaiveDate,
        pieces: Pieces,
        faces: Faces,
    ) -> Result<Plan, PlanFault> {
        if matches!(pieces.cut, Cut::Every(days) if days == 0 || days > Plan::ROWS_MAX) {
            return Err(PlanFault::Days);
        }
        if !(pieces.rows_min()..=Plan::ROWS_MAX).contains(&pieces.rows) {
            return Err(PlanFault::Rows);
        }
        match (last_day - first_day).num_days() {
            ..0 => Err(PlanFault::LastBeforeFirst),
            Plan::DAYS_MAX.. => Err(PlanFault::TooLong),
            0.. => Ok(Plan { first_day, last_day, pieces, faces }),
        }
    }

    /// A year from `first_day`, in blocks of the default kind, with row 1 on the right side.
    pub fn year_from(first_day: NaiveDate) -> Plan {
        let last_day = first_day
            .checked_add_months(Months::new(12))
            .and_then(|day| day.checked_sub_days(Days::new(1)))
            .unwrap_or(first_day);
        // The 29th of February plus a year is the 28th: that day belongs to the year as well.
        let clipped = first_day.month() == 2 && first_day.day() == 29;
        let last_day = if clipped { later(last_day, 1) } else { last_day };
        Plan { first_day, last_day, pieces: Pieces::DEFAULT, faces: Faces::DEFAULT }
    }

    /// The same days in other pieces.
    ///
    /// # Errors
    /// Those of [`Plan::new`].
    pub fn in_pieces(&self, pieces: Pieces) -> Result<Plan, PlanFault> {
        Plan::new(self.first_day, self.last_day, pieces, self.faces)
    }

    pub fn facing(&self, faces: Faces) -> Plan {
        Plan { faces, ..self.clone() }
    }

    pub fn first_day(&self) -> NaiveDate {
        self.first_day
    }

    pub fn last_day(&self) -> NaiveDate {
        self.last_day
    }

    pub fn pieces(&self) -> Pieces {
        self.pieces
    }

    pub fn faces(&self) -> Faces {
        self.faces
    }

    /// The most rows a block of this blanket has.
    pub fn rows_max(&self) -> u16 {
        match self.pieces.cut {
            Cut::Months | Cut::FromStart | Cut::Every(_) => self.pieces.rows,
            Cut::Strip => days(self.first_day, self.last_day),
        }
    }

    pub fn has(&self, day: NaiveDate) -> bool {
        (self.first_day..=self.last_day).contains(&day)
    }

    /// Whether some day is in both.
    pub fn shares_days_with(&self, other: &Plan) -> bool {
        self.first_day <= other.last_day && other.first_day <= self.last_day
    }

    /// Every block, in order.
    pub fn blocks(&self) -> impl Iterator<Item = Block> + '_ {
        (1..=self.block_count()).filter_map(|number| self.block(BlockNumber(number)))
    }

    pub fn block_count(&self) -> u16 {
        self.pieces.cut.count(self.first_day, self.last_day)
    }

    pub fn block(&self, number: BlockNumber) -> Option<Block> {
        let index = number.0.checked_sub(1)?;
        let Pieces { cut, rows, fillers, short_ends } = self.pieces;
        let Span { first_day, last_day, full } = cut.span(self.first_day, self.last_day, index)?;
        let days = days(first_day, last_day);
        let rows = match cut {
            Cut::Strip => days,
            Cut::Months | Cut::FromStart | Cut::Every(_) if short_ends && !full => days,
            Cut::Months | Cut::FromStart | Cut::Every(_) => rows,
        };
        let fillers_before = fillers.before(rows.saturating_sub(days));
        Some(Block { number, first_day, last_day, rows, fillers_before })
    }

    /// The block of a day of the blanket.
    pub fn block_of(&self, day: NaiveDate) -> Option<Block> {
        let index = self.pieces.cut.index_of(self.first_day, self.last_day, day);
        self.has(day).then(|| self.block(BlockNumber(index + 1)))?
    }

    /// The block and the row of a day of the blanket.
    pub fn row_of(&self, day: NaiveDate) -> Option<(Block, Row)> {
        let block = self.block_of(day)?;
        let row = block.fillers_before + days(block.first_day, day);
        Some((block, self.row(&block, RowNumber(row))?))
    }

    /// Row `number` of a block: its side, and its day or that it is a filler row.
    pub fn row(&self, block: &Block, number: RowNumber) -> Option<Row> {
        if number.0 == 0 || number.0 > block.rows {
            return None;
        }
        let day = number.0.checked_sub(block.fillers_before + 1);
        let day = day.map(|days| later(block.first_day, u64::from(days)));
        let content = match day {
            Some(day) if day <= block.last_day => RowContent::Day(day),
            Some(_) | None => RowContent::Filler,
        };
        Some(Row { number, side: self.faces.side(number), content })
    }

    pub fn rows(&self, block: &Block) -> Vec<Row> {
        (1..=block.rows).filter_map(|number| self.row(block, RowNumber(number))).collect()
    }
}

impl Fillers {
    /// How many of a block's filler rows come before its first day.
    fn before(self, fillers: u16) -> u16 {
        match self {
            Fillers::After => 0,
            Fillers::FirstAndLast => fillers.min(1),
            Fillers::Before => fillers,
            Fillers::Balanced => fillers / 2,
        }
    }
}

impl Block {
    pub fn days(&self) -> u16 {
        days(self.first_day, self.last_day)
    }

    pub fn fillers(&self) -> u16 {
        self.rows - self.days()
    }
}

impl fmt::Display for BlockNumber {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl fmt::Display for RowNumber {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

fn later(day: NaiveDate, days: u64) -> NaiveDate {
    day.checked_add_days(Days::new(days)).unwrap_or(NaiveDate::MAX)
}

fn days(first: NaiveDate, last: NaiveDate) -> u16 {
    u16::try_from((last - first).num_days() + 1).unwrap_or(u16::MAX)
}
