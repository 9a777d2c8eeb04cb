//! What a maker's book must hold, told from their deeds alone: answers, worked rows, notes.
//!
//! A deed says what it may change; a book that changed in any other way, or without a deed, has
//! lost something or counted it twice.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike, NaiveDate};
use duskrow::blanket::{Book, TierId};

#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Model {
    answers: BTreeMap<NaiveDate, TierId>,
    /// Rows worked of each block.
    worked: BTreeMap<u16, usize>,
    notes: BTreeMap<NaiveDate, Vec<String>>,
    /// Every answer there ever was.
    was: BTreeSet<(NaiveDate, TierId)>,
}

/// What a maker did, as far as it can change the book.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Deed {
    /// A tap on a tier under the question of this day.
    Tier {
        day: NaiveDate,
        tier: TierId,
    },
    /// A tier typed: for the day it is written with, or for one day the bot takes it for.
    Typed {
        text: String,
        day: Option<NaiveDate>,
        tier: TierId,
    },
    /// A tap on a button with this label.
    Tapped {
        label: String,
    },
    Note {
        text: String,
    },
    NoteEdited {
        text: String,
    },
    /// Nothing of what is counted here.
    Nothing,
}

/// Where the day of a deed stood when the bot took it.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Stands {
    /// In the blanket, and begun.
    Open,
    Not,
}

impl Model {
    pub fn of(book: &Book) -> Model {
        let answers = book.answers().iter().map(|(day, answer)| (*day, answer.tier));
        let blocks = book.plan().blocks();
        let worked = blocks.map(|block| (block.number.0, book.worked(block.number).len()));
        let days = book.plan().first_day().iter_days();
        let days = days.take_while(|day| *day <= book.plan().last_day());
        let notes = days.flat_map(|day| {
            book.notes(day).iter().map(move |note| (day, note.text.as_str().to_owned()))
        });
        Model::new(answers, worked.filter(|(_, rows)| *rows > 0), notes)
    }

    pub fn new(
        answers: impl IntoIterator<Item = (NaiveDate, TierId)>,
        worked: impl IntoIterator<Item = (u16, usize)>,
        all_notes: impl IntoIterator<Item = (NaiveDate, String)>,
    ) -> Model {
        let answers: BTreeMap<_, _> = answers.into_iter().collect();
        let mut notes: BTreeMap<NaiveDate, Vec<String>> = BTreeMap::new();
        for (day, note) in all_notes {
            notes.entry(day).or_default().push(note);
        }
        let was = answers.iter().map(|(day, tier)| (*day, *tier)).collect();
        Model { answers, worked: worked.into_iter().collect(), notes, was }
    }

    pub fn answered(&self) -> usize {
        self.answers.len()
    }

    pub fn has(&self, day: NaiveDate) -> bool {
        self.answers.contains_key(&day)
    }

    pub fn ever_had(&self, fits: impl Fn(NaiveDate, TierId) -> bool) -> bool {
        self.was.iter().any(|(day, tier)| fits(*day, *tier))
    }

    pub fn ever_answered(&self, day: NaiveDate) -> bool {
        self.ever_had(|answered, _| answered == day)
    }

    /// The book holds exactly this.
    pub fn holds(&self, book: &Book) -> Result<(), String> {
        let found = Model::of(book);
        same("answers", &self.answers, &found.answers)?;
        same("worked rows", &self.worked, &found.worked)?;
        same("notes", &self.notes, &found.notes)
    }

    /// The book is what the deed makes of it; from now on it must stay so. `found` is what it is,
    /// or `None` where it is what it was.
    pub fn take(
        &mut self,
        deed: &Deed,
        stands: Stands,
        found: Option<Model>,
    ) -> Result<(), String> {
        let was_there = match (deed, stands) {
            (Deed::Tier { day, tier }, Stands::Open) => {
                self.answers.insert(*day, *tier) == Some(*tier)
            }
            _ => true,
        };
        let Some(found) = found else {
            return if was_there { Ok(()) } else { Err(format!("{deed:?} changed nothing")) };
        };
        let changed: Vec<(NaiveDate, Option<TierId>)> = changes(&self.answers, &found.answers);
        let may_answer = match deed {
            Deed::Typed { day, tier, .. } => {
                changed.len() <= 1
                    && changed.iter().all(|(on, to)| {
                        *to == Some(*tier) && day.is_none_or(|day| same_date(day, *on))
                    })
            }
            Deed::Tapped { label } => may_set_days(label),
            Deed::Tier { .. } | Deed::Note { .. } | Deed::NoteEdited { .. } | Deed::Nothing => {
                false
            }
        };
        if !may_answer {
            same(&format!("answers after {deed:?}"), &self.answers, &found.answers)?;
        }
        let may_work = match deed {
            Deed::Tapped { label } => may_work(label) || self.may_take_off(label, &found),
            Deed::Tier { .. }
            | Deed::Typed { .. }
            | Deed::Note { .. }
            | Deed::NoteEdited { .. }
            | Deed::Nothing => false,
        };
        if !may_work {
            same(&format!("worked rows after {deed:?}"), &self.worked, &found.worked)?;
        }
        if !self.may_note(deed, &found) {
            same(&format!("notes after {deed:?}"), &self.notes, &found.notes)?;
        }
        let was = std::mem::take(&mut self.was);
        *self = found;
        self.was.extend(was);
        Ok(())
    }

    /// *Pull back 3 rows: 13 to 15*: one block stood at row 15 and stands at row 12, no other
    /// moved. *Back*, row by row: one row of one block.
    fn may_take_off(&self, label: &str, found: &Model) -> bool {
        let numbers = label.split(|c: char| !c.is_ascii_digit());
        let numbers: Vec<usize> = numbers.filter_map(|number| number.parse().ok()).collect();
        let (left, off) = match (label, numbers.as_slice()) {
            ("Back", _) => (None, 1),
            (label, [off, first] | [off, first, _]) if label.starts_with("Pull back ") => {
                (first.checked_sub(1), *off)
            }
            _ => return false,
        };
        let stands = |model: &Model, block| model.worked.get(block).copied().unwrap_or(0);
        let blocks: BTreeSet<&u16> = self.worked.keys().chain(found.worked.keys()).collect();
        let mut moved = blocks
            .into_iter()
            .map(|block| (stands(self, block), stands(found, block)))
            .filter(|(before, after)| before != after);
        let taken_off = moved.next().is_some_and(|(before, after)| {
            before == after + off && left.is_none_or(|left| after == left)
        });
        taken_off && moved.next().is_none()
    }

    fn may_note(&self, deed: &Deed, found: &Model) -> bool {
        let all = |model: &Model| {
            let mut all: Vec<String> = model.notes.values().flatten().cloned().collect();
            all.sort();
            all
        };
        let (mut before, after) = (all(self), all(found));
        match deed {
            // After *Note*, a tier is a note as well; after *Place*, a note is a place.
            Deed::Note { text } | Deed::Typed { text, .. } => {
                before.push(text.clone());
                before.sort();
                before == after
            }
            Deed::NoteEdited { text } => {
                let gone: Vec<&String> = before.iter().filter(|n| !after.contains(n)).collect();
                before.len() == after.len() && gone.len() <= 1 && after.contains(text)
            }
            Deed::Tapped { label } if label == "Delete note" => {
                before.len() == after.len() + 1 && after.iter().all(|note| before.contains(note))
            }
            Deed::Tier { .. } | Deed::Tapped { .. } | Deed::Nothing => false,
        }
    }
}

/// A date is typed without its year.
fn same_date(one: NaiveDate, other: NaiveDate) -> bool {
    (one.month(), one.day()) == (other.month(), other.day())
}

/// Labels under which days get a tier, or lose one that was set in one go.
fn may_set_days(label: &str) -> bool {
    label.starts_with("Set ") || label.starts_with("Keep ") || label == "Undo"
}

fn may_work(label: &str) -> bool {
    matches!(label, "Worked" | "Undo" | "Cross them off")
}

fn changes(
    before: &BTreeMap<NaiveDate, TierId>,
    after: &BTreeMap<NaiveDate, TierId>,
) -> Vec<(NaiveDate, Option<TierId>)> {
    let days: BTreeSet<NaiveDate> = before.keys().chain(after.keys()).copied().collect();
    let changed = days.into_iter().filter(|day| before.get(day) != after.get(day));
    changed.map(|day| (day, after.get(&day).copied())).collect()
}

fn same<K: Ord + std::fmt::Debug, V: PartialEq + std::fmt::Debug>(
    what: &str,
    expected: &BTreeMap<K, V>,
    found: &BTreeMap<K, V>,
) -> Result<(), String> {
    let keys: BTreeSet<&K> = expected.keys().chain(found.keys()).collect();
    let wrong = keys.into_iter().find(|key| expected.get(key) != found.get(key));
    wrong.map_or(Ok(()), |key| {
        let (expected, found) = (expected.get(key), found.get(key));
        Err(format!("{what}: {key:?} must be {expected:?} and is {found:?}"))
    })
}
