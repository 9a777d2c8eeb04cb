//! A book brought back from a file the maker sends: shown first, put in its place by a tap.
//!
//! The file is read outside; here stand the changes it holds, or why it holds none.

mod placing;
mod standing;

use chrono::{DateTime, NaiveDate, Utc};

use super::Maker;
use super::blankets::{self, Years};
use super::button::{BringBackTap, Button};
use super::caption::Caption;
use super::event::{BookFile, FileFault, MessageId};
use super::outcome::{Outcome, Place, Reply};
use super::say::Say;
use super::talk::{OfferedFile, Step, Talk};
use crate::blanket::Book;

pub use placing::{Placed, place};
pub use standing::standing;

#[derive(Clone, PartialEq, Eq, Debug)]
pub enum BringBackSaid {
    /// What the file holds, and what would go. Nothing is changed.
    Offer {
        file: BookSummary,
        replaces: Option<Replaced>,
    },
    /// The blanket of the file is here now.
    Done {
        file: BookSummary,
        replaced: bool,
        shown_by: ShownBy,
        /// Whether the maker is asked nothing, as it was before or as the file says.
        paused: bool,
    },
    /// The maker leaves it.
    Left,
    Refused(BringBackRefusal),
}

/// Why a file is not put in any place. Nothing was changed.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum BringBackRefusal {
    File(FileFault),
    /// It shares days with more than one blanket.
    SharesDays,
}

/// A blanket, and how much is in its book.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct BookSummary {
    pub years: Years,
    pub days: usize,
    pub rows: usize,
}

/// A blanket whose place another takes.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Replaced {
    pub book: BookSummary,
    /// Days that have another tier in the file, or none in one of the two.
    pub differing: usize,
    /// Whether it is worked on, so that the files of /export are of it.
    pub in_hand: bool,
}

/// Which commands show a blanket.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum ShownBy {
    /// It is the one logged, and worked on.
    All,
    /// It is logged, and another is worked on.
    Days,
    /// It is worked on, and another is logged.
    Rows,
    /// Those of other blankets, until it is taken up.
    Nothing,
}

impl ShownBy {
    /// How the blanket with this first day is shown to a maker.
    pub fn of(maker: &Maker, first_day: NaiveDate) -> ShownBy {
        let is = |book: Option<&Book>| book.is_some_and(|it| it.plan().first_day() == first_day);
        match (is(maker.book.as_ref()), is(maker.in_hand())) {
            (true, true) => ShownBy::All,
            (true, false) => ShownBy::Days,
            (false, true) => ShownBy::Rows,
            (false, false) => ShownBy::Nothing,
        }
    }
}

impl BookSummary {
    fn of(book: &Book) -> BookSummary {
        let rows = book.all_worked().map(|(_, rows)| rows.len()).sum();
        BookSummary { years: Years::of(book), days: book.answers().len(), rows }
    }
}

/// A file was sent, and read.
pub fn offered(maker: &Maker, file: &BookFile, now: DateTime<Utc>) -> Outcome {
    match placed(maker, file, now) {
        Ok(placed) => offer(maker, file, &placed, Place::New(None), now),
        Err(refusal) => refused(maker, refusal),
    }
}

fn offer(
    maker: &Maker,
    file: &BookFile,
    placed: &Placed,
    place: Place,
    now: DateTime<Utc>,
) -> Outcome {
    let id = maker.talk.fresh_id(now);
    let replaces = placed.replaces;
    let said = BringBackSaid::Offer { file: BookSummary::of(&placed.book), replaces };
    let go = if replaces.is_some() { Caption::ReplaceWithFile } else { Caption::BringBack };
    let reply = Reply::new(Say::BringBack(said))
        .at(place)
        .key(go, Button::BringBack(BringBackTap::Go { id }))
        .key(Caption::LeaveAsItIs, Button::BringBack(BringBackTap::Leave { id }));
    let before = placed.before.clone();
    let file = Some(OfferedFile { id, file_id: Some(file.file_id.clone()), before });
    Outcome::quiet(&Talk { offered_file: file, ..maker.talk.clone() }).say(reply)
}

/// The maker wants the file that was offered, which was read once more. Where something else would
/// be replaced by now than was shown, it is shown anew.
pub fn confirmed(maker: &Maker, file: &BookFile, tapped: MessageId, now: DateTime<Utc>) -> Outcome {
    let placed = match placed(maker, file, now) {
        Ok(placed) => placed,
        Err(refusal) => return refused(maker, refusal),
    };
    let shown = maker.talk.offered_file.as_ref();
    if shown.is_none_or(|offered| offered.before != placed.before) {
        return offer(maker, file, &placed, in_place(tapped), now);
    }
    let offered = maker.talk.offered_file.clone();
    let offered_file = offered.map(|offered| OfferedFile { file_id: None, ..offered });
    let talk = Talk { offered_file, ..talk_after(maker, &placed) };
    let mut after = Maker { talk: talk.clone(), ..maker.clone() };
    placed.changes.iter().for_each(|change| after.apply(change));
    let said = BringBackSaid::Done {
        file: BookSummary::of(&placed.book),
        replaced: placed.replaces.is_some(),
        shown_by: ShownBy::of(&after, placed.book.plan().first_day()),
        paused: after.book.as_ref().is_some_and(|book| book.reminders().paused),
    };
    let reply = Reply::new(Say::BringBack(said)).at(in_place(tapped));
    let reply = match after.others.is_empty() {
        true => reply,
        false => reply.keys([blankets::key()]),
    };
    let was_in_hand = maker.in_hand().map(|book| book.plan().first_day());
    let lists_are_old = placed.replaces.is_some_and(|before| before.in_hand)
        || was_in_hand != after.in_hand().map(|book| book.plan().first_day());
    let in_hand_since = match lists_are_old {
        true => talk.in_hand_since.max(Some(tapped.0)),
        false => talk.in_hand_since,
    };
    let talk = Talk { in_hand_since, ..talk };
    let questions = standing(maker, &after, &placed, now);
    let outcome = placed.changes.into_iter().fold(Outcome::quiet(&talk), Outcome::change);
    let outcome = questions.into_iter().fold(outcome.say(reply.clone()), Outcome::say);
    if lists_are_old { blankets::without_lists(outcome, &reply) } else { outcome }
}

/// The talk once a book is in its place. What stood open or could be undone was of the book
/// before. What is worked on stays.
pub fn talk_after(maker: &Maker, placed: &Placed) -> Talk {
    let replaced = placed.replaces.map(|before| before.book.years.first_day);
    let in_hand = match maker.talk.in_hand {
        Some(day) if Some(day) == replaced => Some(placed.book.plan().first_day()),
        in_hand => in_hand,
    };
    let Talk { told_offline, in_hand_since, .. } = maker.talk;
    Talk { told_offline, in_hand, in_hand_since, ..Talk::from(Step::Idle) }
}

/// A button of a file that is in its place already, that the maker leaves, or that is not the one
/// offered last.
pub fn tapped(maker: &Maker, tap: BringBackTap, tapped: MessageId) -> Outcome {
    let known = |id| maker.talk.offered_file.as_ref().filter(|offered| offered.id == id);
    let is_in_place = |id| known(id).is_some_and(|offered| offered.file_id.is_none());
    match tap {
        BringBackTap::Go { id } | BringBackTap::Leave { id } if is_in_place(id) => maker.quiet(),
        BringBackTap::Go { .. } => refused(maker, BringBackRefusal::File(FileFault::OfferedBefore)),
        BringBackTap::Leave { id } => {
            let mut talk = maker.talk.clone();
            talk.offered_file = talk.offered_file.filter(|offered| offered.id != id);
            let left = Reply::new(Say::BringBack(BringBackSaid::Left)).at(in_place(tapped));
            Outcome::quiet(&talk).say(left)
        }
    }
}

fn placed(maker: &Maker, file: &BookFile, now: DateTime<Utc>) -> Result<Placed, BringBackRefusal> {
    match &file.read {
        Ok(changes) => place(maker, changes.clone(), now),
        Err(fault) => Err(BringBackRefusal::File(*fault)),
    }
}

/// The buttons of the offer stay: what was refused may go another time.
fn refused(maker: &Maker, refusal: BringBackRefusal) -> Outcome {
    maker.quiet().say(Reply::new(Say::BringBack(BringBackSaid::Refused(refusal))))
}

fn in_place(tapped: MessageId) -> Place {
    Place::Change { slot: None, tapped: Some(tapped) }
}
