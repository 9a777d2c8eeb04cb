//! Everything about one blanket of one maker, as one value: what is planned, answered and worked.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{DateTime, Days, NaiveDate, Utc};

use super::blocks::{Block, BlockNumber, Plan, Row, RowContent, RowNumber};
use super::calendar::Hours;
use super::change::{Beginning, Change, Finish};
use super::fabric::Fabric;
use super::label::Label;
use super::note::{Note, NoteId};
use super::paper::OnPaper;
use super::people::{PersonId, PersonLine};
use super::question::OwnQuestion;
use super::reminders::Reminders;
use super::rescale::fresh_yarn_id;
use super::scale::{Scale, Tier, TierId, Yarn, YarnId};
use super::stock::Ledger;
use super::tier_line::TierLine;
use super::yarn::YarnSettings;

#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Book {
    plan: Plan,
    fabric: Fabric,
    scale: Scale,
    yarns: Vec<Yarn>,
    joining: YarnId,
    /// Ids that are not given again.
    removed_yarns: BTreeSet<YarnId>,
    question: Option<OwnQuestion>,
    hours: Hours,
    answers: BTreeMap<NaiveDate, Answer>,
    asked: Option<(NaiveDate, DateTime<Utc>)>,
    put_off: BTreeMap<NaiveDate, Option<NaiveDate>>,
    notes: BTreeMap<NaiveDate, Vec<Note>>,
    worked: BTreeMap<BlockNumber, Vec<WorkedRow>>,
    finished: BTreeSet<(BlockNumber, Finish)>,
    stock: BTreeMap<YarnId, Ledger>,
    yarn_settings: YarnSettings,
    on_paper: OnPaper,
    tier_lines: BTreeMap<TierId, TierLine>,
    people: BTreeMap<PersonId, PersonLine>,
    reminders: Reminders,
    nudged: Option<NaiveDate>,
    recapped: Option<NaiveDate>,
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
        let Beginning { plan, fabric, scale, yarns, joining, hours } = beginning.clone();
        Book {
            plan: plan.facing(fabric.faces()),
            fabric,
            scale,
            yarns,
            joining,
            removed_yarns: BTreeSet::new(),
            question: None,
            hours,
            answers: BTreeMap::new(),
            asked: None,
            put_off: BTreeMap::new(),
            notes: BTreeMap::new(),
            worked: BTreeMap::new(),
            finished: BTreeSet::new(),
            stock: BTreeMap::new(),
            yarn_settings: YarnSettings::default(),
            on_paper: OnPaper::default(),
            tier_lines: BTreeMap::new(),
            people: BTreeMap::new(),
            reminders: Reminders::default(),
            nudged: None,
            recapped: None,
        }
    }

    /// The only way a book changes. Rows are worked and pulled back at the top of the worked run.
    #[expect(clippy::too_many_lines, reason = "an arm for each change, and nothing else")]
    pub fn apply(&mut self, change: &Change) {
        match change {
            Change::Began(beginning) => *self = Book::begin(beginning),
            Change::Asked { day, at } => self.asked = Some((*day, *at)),
            Change::Answered { day, tier, how, at } => {
                self.answers.insert(*day, Answer { tier: *tier, how: *how, at: *at });
                self.put_off.remove(day);
            }
            Change::Reopened { day } => {
                self.answers.remove(day);
            }
            Change::PutOff { day, until } => {
                self.put_off.insert(*day, *until);
            }
            Change::Noted { day, note } => self.note(*day, note),
            Change::NoteDeleted { note } => self.delete_note(*note),
            Change::PersonKept { id, line } => {
                self.people.insert(*id, line.clone());
            }
            Change::PersonRemoved { id } => {
                self.people.remove(id);
            }
            Change::Worked { yarns, .. } if yarns.is_empty() => {}
            Change::Worked { block, yarns, at } => {
                let rows = yarns.iter().map(|&yarn| WorkedRow { yarn, at: *at });
                self.worked.entry(*block).or_default().extend(rows);
            }
            Change::PulledBack { block, rows_left } => self.pull_back(*block, *rows_left),
            Change::Stocked { yarn, entry } => {
                self.stock.entry(*yarn).or_default().push(entry.clone());
            }
            Change::Unstocked { yarn } => self.unstock(*yarn),
            Change::Described { tier, line: Some(line), .. } => {
                self.tier_lines.insert(*tier, line.clone());
            }
            Change::Described { tier, line: None, .. } => {
                self.tier_lines.remove(tier);
            }
            Change::Shaped { pieces, fabric } => {
                self.fabric = **fabric;
                let plan = self.plan.in_pieces(*pieces);
                self.plan = plan.unwrap_or(self.plan.clone()).facing(fabric.faces());
            }
            Change::Scaled(scale) => self.scale = (**scale).clone(),
            Change::YarnAdded(yarn) => self.yarns.push(yarn.clone()),
            Change::JoiningMoved { yarn } => self.joining = *yarn,
            Change::YarnRemoved { yarn } => self.remove_yarn(*yarn),
            Change::QuestionSet(question) => self.question = question.clone(),
            Change::Finished { block, finish, done: true } => {
                self.finished.insert((*block, *finish));
            }
            Change::Finished { block, finish, done: false } => {
                self.finished.remove(&(*block, *finish));
            }
            Change::YarnNamed(yarn) => {
                let known = self.yarns.iter_mut().filter(|known| known.id == yarn.id);
                known.for_each(|known| {
                    known.name = yarn.name.clone();
                    known.rgb = yarn.rgb;
                });
            }
            Change::TiersMoved { yarns } => self.scale.move_yarns(yarns),
            Change::HoursSet(hours) => self.hours = *hours,
            Change::YarnSet(settings) => self.yarn_settings = (**settings).clone(),
            Change::PaperSet(on_paper) => self.on_paper = *on_paper,
            Change::RemindersSet(reminders) => self.reminders = *reminders,
            Change::Nudged { on } => self.nudged = Some(*on),
            Change::Recapped { on } => self.recapped = Some(*on),
            Change::DaysMoved { first_day, last_day } => {
                let (pieces, faces) = (self.plan.pieces(), self.plan.faces());
                let plan = Plan::new(*first_day, *last_day, pieces, faces);
                self.plan = plan.unwrap_or(self.plan.clone());
            }
            // Those are of the shelf the book stands on.
            Change::Of { .. } | Change::Logged { .. } | Change::BlanketDeleted { .. } => {}
            // That is kept, and no part of the book.
            Change::Earlier(_) => {}
        }
    }

    fn pull_back(&mut self, block: BlockNumber, rows_left: u16) {
        let rows = self.worked.entry(block).or_default();
        rows.truncate(usize::from(rows_left));
        if rows.is_empty() {
            self.worked.remove(&block);
        }
        // A block with rows pulled back is not finished any more.
        self.finished.retain(|(finished, _)| *finished != block);
    }

    fn unstock(&mut self, yarn: YarnId) {
        let Some(ledger) = self.stock.get_mut(&yarn) else { return };
        ledger.pop();
        if ledger.is_empty() {
            self.stock.remove(&yarn);
        }
    }

    fn remove_yarn(&mut self, yarn: YarnId) {
        if self.is_used(yarn) {
            return;
        }
        let before = self.yarn(yarn).and_then(|removed| removed.after);
        self.yarns.retain(|known| known.id != yarn);
        let later = self.yarns.iter_mut().filter(|known| known.after == Some(yarn));
        later.for_each(|known| known.after = before);
        self.removed_yarns.insert(yarn);
    }

    /// A note keeps its place among the notes of its day when its words change.
    fn note(&mut self, day: NaiveDate, note: &Note) {
        let notes = self.notes.entry(day).or_default();
        match notes.iter_mut().find(|kept| kept.id == note.id) {
            Some(kept) => kept.text = note.text.clone(),
            None => notes.push(note.clone()),
        }
    }

    fn delete_note(&mut self, note: NoteId) {
        self.notes.retain(|_, notes| {
            notes.retain(|kept| kept.id != note);
            !notes.is_empty()
        });
    }

    pub fn plan(&self) -> &Plan {
        &self.plan
    }

    pub fn fabric(&self) -> &Fabric {
        &self.fabric
    }

    /// Whether this was done with a finished block.
    pub fn is_finished(&self, block: BlockNumber, finish: Finish) -> bool {
        self.finished.contains(&(block, finish))
    }

    pub fn scale(&self) -> &Scale {
        &self.scale
    }

    /// The maker's own question; `None` for the usual one.
    pub fn question(&self) -> Option<&OwnQuestion> {
        self.question.as_ref()
    }

    pub fn yarns(&self) -> &[Yarn] {
        &self.yarns
    }

    pub fn joining(&self) -> YarnId {
        self.joining
    }

    pub fn removed_yarns(&self) -> &BTreeSet<YarnId> {
        &self.removed_yarns
    }

    /// Whether a row, a tier, one that was removed among them, or yarn on hand names it.
    pub fn is_used(&self, yarn: YarnId) -> bool {
        let tiers = self.scale.tiers().iter().chain(self.scale.retired());
        yarn == self.joining
            || tiers.into_iter().any(|tier| tier.yarn == yarn)
            || self.rows_in(yarn) > 0
            || !self.ledger(yarn).is_empty()
    }

    /// An id no yarn of this book ever had.
    pub fn fresh_yarn_id(&self) -> Option<YarnId> {
        let known = self.yarns.iter().map(|yarn| yarn.id);
        fresh_yarn_id(known.chain(self.removed_yarns.iter().copied()))
    }

    /// Whether a row stitched in one yarn differs from what it calls for now. A yarn that another
    /// came after does not differ from that one, unless it is worked again.
    pub fn differs(&self, stitched: YarnId, called_for: YarnId) -> bool {
        if stitched == called_for {
            return false;
        }
        let tiers = self.scale.tiers().iter().map(|tier| tier.yarn);
        if tiers.chain([self.joining]).any(|yarn| yarn == stitched) {
            return true;
        }
        let before = |yarn: &YarnId| self.yarn(*yarn).and_then(|yarn| yarn.after);
        let line = std::iter::successors(before(&called_for), before).take(self.yarns.len());
        !line.into_iter().any(|yarn| yarn == stitched)
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

    /// Whether anything is kept of any day: an answer, a note, that it was asked about or put off.
    pub fn keeps_of_days(&self) -> bool {
        let of_days = self.answers.is_empty() && self.put_off.is_empty() && self.asked.is_none();
        !of_days || self.has_notes()
    }

    /// Until when nothing is said about an open day: `Some(None)` for as long as it takes.
    pub fn put_off(&self, day: NaiveDate) -> Option<Option<NaiveDate>> {
        self.put_off.get(&day).copied()
    }

    /// The open days of the blanket before `today`, oldest first.
    pub fn open_days(&self, today: NaiveDate) -> impl DoubleEndedIterator<Item = NaiveDate> + '_ {
        let first = self.plan.first_day();
        let end = self.plan.last_day().succ_opt().unwrap_or(NaiveDate::MAX).min(today);
        let days = usize::try_from((end - first).num_days()).unwrap_or(0);
        let dates = (0..days).map(move |days| first + Days::new(days as u64));
        dates.filter(|day| !self.answers.contains_key(day) && self.hours.day_exists(*day))
    }

    /// The day whose tier was kept last.
    pub fn last_kept(&self) -> Option<NaiveDate> {
        self.answers.iter().max_by_key(|(day, answer)| (answer.at, **day)).map(|(day, _)| *day)
    }

    /// The notes of a day, in the order they were written.
    pub fn notes(&self, day: NaiveDate) -> &[Note] {
        self.notes.get(&day).map_or(&[], Vec::as_slice)
    }

    pub fn has_notes(&self) -> bool {
        !self.notes.is_empty()
    }

    /// The note typed in a message, and its day.
    pub fn note_of(&self, id: NoteId) -> Option<(NaiveDate, &Note)> {
        let mut all =
            self.notes.iter().flat_map(|(day, notes)| notes.iter().map(|note| (*day, note)));
        all.find(|(_, note)| note.id == id)
    }

    /// What is known of the yarn of a colour.
    pub fn ledger(&self, yarn: YarnId) -> &Ledger {
        static EMPTY: Ledger = Ledger::new();
        self.stock.get(&yarn).unwrap_or(&EMPTY)
    }

    pub fn on_paper(&self) -> &OnPaper {
        &self.on_paper
    }

    pub fn yarn_settings(&self) -> &YarnSettings {
        &self.yarn_settings
    }

    /// Rows stitched in a yarn.
    pub fn rows_in(&self, yarn: YarnId) -> u32 {
        let rows = self.worked.values().flatten().filter(|row| row.yarn == yarn);
        u32::try_from(rows.count()).unwrap_or(u32::MAX)
    }

    /// Rows stitched from `since` on, before `end`.
    pub fn rows_worked_between(&self, since: DateTime<Utc>, end: DateTime<Utc>) -> usize {
        self.worked.values().flatten().filter(|row| (since..end).contains(&row.at)).count()
    }

    /// What days of a tier are like, in the maker's words.
    pub fn tier_line(&self, tier: TierId) -> Option<&TierLine> {
        self.tier_lines.get(&tier)
    }

    /// The maker's own people and numbers.
    pub fn people(&self) -> &BTreeMap<PersonId, PersonLine> {
        &self.people
    }

    pub fn reminders(&self) -> &Reminders {
        &self.reminders
    }

    /// The day that was on when the last nudge was sent.
    pub fn nudged(&self) -> Option<NaiveDate> {
        self.nudged
    }

    /// The day that was on when the last recap was sent.
    pub fn recapped(&self) -> Option<NaiveDate> {
        self.recapped
    }

    /// The worked rows of a block: an unbroken run from row 1.
    pub fn worked(&self, block: BlockNumber) -> &[WorkedRow] {
        self.worked.get(&block).map_or(&[], Vec::as_slice)
    }

    /// The worked rows of all blocks, those of blocks that were cut away since among them.
    pub fn all_worked(&self) -> impl Iterator<Item = (BlockNumber, &[WorkedRow])> {
        self.worked.iter().map(|(block, rows)| (*block, rows.as_slice()))
    }

    /// What was done with finished blocks.
    pub fn all_finished(&self) -> impl Iterator<Item = (BlockNumber, Finish)> + '_ {
        self.finished.iter().copied()
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

    pub fn yarn(&self, id: YarnId) -> Option<&Yarn> {
        self.yarns.iter().find(|yarn| yarn.id == id)
    }

    /// The name of a yarn of this book.
    pub fn yarn_name(&self, id: YarnId) -> Option<&Label> {
        self.yarn(id).map(|yarn| &yarn.name)
    }

    /// Worked rows that are in another yarn than they call for now, or are of a day without an
    /// answer, by block.
    pub fn differing(&self) -> Vec<(BlockNumber, Vec<RowNumber>)> {
        let differing = |block: Block| {
            let rows = self.plan.rows(&block).into_iter().zip(self.worked(block.number));
            let differing = rows.filter(|(row, worked)| {
                self.yarn_for(row).is_none_or(|now| self.differs(worked.yarn, now))
            });
            (block.number, differing.map(|(row, _)| row.number).collect::<Vec<_>>())
        };
        self.plan.blocks().map(differing).filter(|(_, rows)| !rows.is_empty()).collect()
    }

    /// How many there are.
    pub fn differing_rows(&self) -> usize {
        self.differing().iter().map(|(_, rows)| rows.len()).sum()
    }

    /// Whether the row of a day is worked: it may be, without an answer, where the blanket was cut
    /// otherwise when that row was stitched.
    pub fn is_worked(&self, day: NaiveDate) -> bool {
        let row = self.plan.row_of(day);
        row.is_some_and(|(block, row)| self.worked_row(block.number, row.number).is_some())
    }

    /// The lowest block with rows not worked yet.
    pub fn current_block(&self) -> Option<Block> {
        self.plan.blocks().find(|block| self.worked(block.number).len() < usize::from(block.rows))
    }
}
