//! How the days are cut into blocks, and what each row of a block is.
//!
//! A block is one calendar month, or the part of it inside the blanket, with the same number of
//! rows in every block: a row for each day, then filler rows in the joining colour (the row-a-day
//! month block with joining-colour rows: common practice, no source). Where a block starts on
//! the 1st, the row number is the date.

use std::fmt;

use chrono::{Datelike, Days, Months, NaiveDate};

/// Number of a block, from 1.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct BlockNumber(pub u16);

/// Number of a row within its block, from 1 at the bottom.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct RowNumber(pub u16);

/// The side of the block that faces the maker while the row is worked.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Side {
    Right,
    Wrong,
}

/// The days of a blanket and how many rows each block has.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Plan {
    first_day: NaiveDate,
    last_day: NaiveDate,
    rows_per_block: u16,
    first_side: Side,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum PlanFault {
    /// Fewer rows than the longest month has days, or more than [`Plan::ROWS_MAX`].
    Rows,
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

impl Plan {
    pub const ROWS_DEFAULT: u16 = 33;
    pub const ROWS_MIN: u16 = 31;
    pub const ROWS_MAX: u16 = 120;
    /// Two leap years' worth of days.
    pub const DAYS_MAX: i64 = 732;

    /// # Errors
    /// A [`PlanFault`] where the numbers cannot be a blanket.
    pub fn new(
        first_day: NaiveDate,
        last_day: NaiveDate,
        rows_per_block: u16,
        first_side: Side,
    ) -> Result<Plan, PlanFault> {
        if !(Plan::ROWS_MIN..=Plan::ROWS_MAX).contains(&rows_per_block) {
            return Err(PlanFault::Rows);
        }
        match (last_day - first_day).num_days() {
            ..0 => Err(PlanFault::LastBeforeFirst),
            Plan::DAYS_MAX.. => Err(PlanFault::TooLong),
            0.. => Ok(Plan { first_day, last_day, rows_per_block, first_side }),
        }
    }

    /// A year from `first_day`, with the default rows and row 1 on the right side.
    pub fn year_from(first_day: NaiveDate) -> Plan {
        let last_day = first_day
            .checked_add_months(Months::new(12))
            .and_then(|day| day.checked_sub_days(Days::new(1)))
            .unwrap_or(first_day);
        // The 29th of February plus a year is the 28th: that day belongs to the year as well.
        let clipped = first_day.month() == 2 && first_day.day() == 29;
        let last_day = if clipped { later(last_day, 1) } else { last_day };
        Plan { first_day, last_day, rows_per_block: Plan::ROWS_DEFAULT, first_side: Side::Right }
    }

    pub fn first_day(&self) -> NaiveDate {
        self.first_day
    }

    pub fn last_day(&self) -> NaiveDate {
        self.last_day
    }

    pub fn rows_per_block(&self) -> u16 {
        self.rows_per_block
    }

    pub fn first_side(&self) -> Side {
        self.first_side
    }

    pub fn has(&self, day: NaiveDate) -> bool {
        (self.first_day..=self.last_day).contains(&day)
    }

    /// Every block, in order: one for each calendar month the blanket touches.
    pub fn blocks(&self) -> impl Iterator<Item = Block> + '_ {
        (1..=self.block_count()).filter_map(|number| self.block(BlockNumber(number)))
    }

    pub fn block_count(&self) -> u16 {
        let months = months_since_year_0(self.last_day) - months_since_year_0(self.first_day) + 1;
        u16::try_from(months).unwrap_or(u16::MAX)
    }

    pub fn block(&self, number: BlockNumber) -> Option<Block> {
        let months = u32::from(number.0.checked_sub(1)?);
        let month = self.first_day.with_day(1)?.checked_add_months(Months::new(months))?;
        if month > self.last_day {
            return None;
        }
        let month_end = month.checked_add_months(Months::new(1))?.checked_sub_days(Days::new(1))?;
        Some(Block {
            number,
            first_day: month.max(self.first_day),
            last_day: month_end.min(self.last_day),
            rows: self.rows_per_block,
        })
    }

    /// The block and the row of a day of the blanket.
    pub fn row_of(&self, day: NaiveDate) -> Option<(Block, Row)> {
        if !self.has(day) {
            return None;
        }
        let index = months_since_year_0(day) - months_since_year_0(self.first_day);
        let block = self.block(BlockNumber(u16::try_from(index + 1).ok()?))?;
        let row = u16::try_from((day - block.first_day).num_days() + 1).ok()?;
        Some((block, self.row(&block, RowNumber(row))?))
    }

    /// Row `number` of a block: its side, and its day or that it is a filler row.
    pub fn row(&self, block: &Block, number: RowNumber) -> Option<Row> {
        if number.0 == 0 || number.0 > block.rows {
            return None;
        }
        let day = later(block.first_day, u64::from(number.0) - 1);
        let content = if day <= block.last_day { RowContent::Day(day) } else { RowContent::Filler };
        Some(Row { number, side: self.side(number), content })
    }

    pub fn rows(&self, block: &Block) -> Vec<Row> {
        (1..=block.rows).filter_map(|number| self.row(block, RowNumber(number))).collect()
    }

    /// Worked back and forth, row r faces right where r is odd, if row 1 does.
    fn side(&self, number: RowNumber) -> Side {
        match (number.0 % 2 == 1, self.first_side) {
            (true, side) => side,
            (false, Side::Right) => Side::Wrong,
            (false, Side::Wrong) => Side::Right,
        }
    }
}

impl Block {
    pub fn days(&self) -> u16 {
        u16::try_from((self.last_day - self.first_day).num_days() + 1).unwrap_or(u16::MAX)
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

fn months_since_year_0(day: NaiveDate) -> i64 {
    i64::from(day.year()) * 12 + i64::from(day.month0())
}
