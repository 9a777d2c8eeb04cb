//! Everything about one blanket of one maker, as one value: what is planned, answered and worked.

use std::collections::BTreeMap;

use chrono::{DateTime, NaiveDate, Utc};

use super::blocks::{Block, BlockNumber, Plan, Row, RowContent, RowNumber};
use super::calendar::Hours;
use super::change::{Beginning, Change};
use super::label::Label;
use super::scale::{Scale, Tier, TierId, Yarn, YarnId};

#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Book {
    plan: Plan,
    scale: Scale,
    yarns: Vec<Yarn>,
    joining: YarnId,
    hours: Hours,
    answers: BTreeMap<NaiveDate, Answer>,
    asked: Option<(NaiveDate, DateTime<Utc>)>,
    worked: BTreeMap<BlockNumber, Vec<WorkedRow>>,
}

/// The tier of a day, as last kept.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Answer {
    pub tier: TierId,
    pub how: How,
    pub at: DateTime<Utc>,
}

/// How a day came to its tier.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum How {
    Answered,
    /// The maker may change it before its row is worked.
    ForNow,
    /// Set to the default tier because the maker said so.
    Assumed,
}

/// A row as it was stitched. A later answer never changes it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct WorkedRow {
    pub yarn: YarnId,
    pub at: DateTime<Utc>,
}

/// Where a civil date stands.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum DayState {
    /// Before the first or after the last day of the blanket.
    Outside,
    /// In the blanket, not begun.
    ToCome,
    Open,
    Kept(Answer),
}

impl Book {
    pub fn begin(beginning: &Beginning) -> Book {
        let Beginning { plan, scale, yarns, joining, hours } = beginning.clone();
        Book {
            plan,
            scale,
            yarns,
            joining,
            hours,
            answers: BTreeMap::new(),
            asked: None,
            worked: BTreeMap::new(),
        }
    }

    /// The only way a book changes. Rows are worked and pulled back at the top of the worked run.
    pub fn apply(&mut self, change: &Change) {
        match change {
            Change::Began(beginning) => *self = Book::begin(beginning),
            Change::Asked { day, at } => self.asked = Some((*day, *at)),
            Change::Answered { day, tier, how, at } => {
                self.answers.insert(*day, Answer { tier: *tier, how: *how, at: *at });
            }
            Change::Worked { yarns, .. } if yarns.is_empty() => {}
            Change::Worked { block, yarns, at } => {
                let rows = yarns.iter().map(|&yarn| WorkedRow { yarn, at: *at });
                self.worked.entry(*block).or_default().extend(rows);
            }
            Change::PulledBack { block, rows_left } => {
                let rows = self.worked.entry(*block).or_default();
                rows.truncate(usize::from(*rows_left));
                if rows.is_empty() {
                    self.worked.remove(block);
                }
            }
        }
    }

    pub fn plan(&self) -> &Plan {
        &self.plan
    }

    pub fn scale(&self) -> &Scale {
        &self.scale
    }

    pub fn yarns(&self) -> &[Yarn] {
        &self.yarns
    }

    pub fn joining(&self) -> YarnId {
        self.joining
    }

    pub fn hours(&self) -> &Hours {
        &self.hours
    }

    pub fn answers(&self) -> &BTreeMap<NaiveDate, Answer> {
        &self.answers
    }

    /// The last day asked about, and when.
    pub fn asked(&self) -> Option<(NaiveDate, DateTime<Utc>)> {
        self.asked
    }

    pub fn answer(&self, day: NaiveDate) -> Option<Answer> {
        self.answers.get(&day).copied()
    }

    /// Where a date stands, seen on `today`.
    pub fn day(&self, day: NaiveDate, today: NaiveDate) -> DayState {
        if !self.plan.has(day) {
            return DayState::Outside;
        }
        match self.answer(day) {
            Some(answer) => DayState::Kept(answer),
            None if day > today => DayState::ToCome,
            None => DayState::Open,
        }
    }

    /// The worked rows of a block: an unbroken run from row 1.
    pub fn worked(&self, block: BlockNumber) -> &[WorkedRow] {
        self.worked.get(&block).map_or(&[], Vec::as_slice)
    }

    pub fn worked_row(&self, block: BlockNumber, row: RowNumber) -> Option<WorkedRow> {
        self.worked(block).get(usize::from(row.0).checked_sub(1)?).copied()
    }

    pub fn tier_of(&self, day: NaiveDate) -> Option<&Tier> {
        self.answer(day).and_then(|answer| self.scale.tier(answer.tier))
    }

    /// The yarn a row calls for now; `None` where its day is open.
    pub fn yarn_for(&self, row: &Row) -> Option<YarnId> {
        match row.content {
            RowContent::Filler => Some(self.joining),
            RowContent::Day(day) => self.tier_of(day).map(|tier| tier.yarn),
        }
    }

    /// The name of a yarn of this book.
    pub fn yarn_name(&self, id: YarnId) -> Option<&Label> {
        self.yarns.iter().find(|yarn| yarn.id == id).map(|yarn| &yarn.name)
    }

    /// The lowest block with rows not worked yet.
    pub fn current_block(&self) -> Option<Block> {
        self.plan.blocks().find(|block| self.worked(block.number).len() < usize::from(block.rows))
    }
}
