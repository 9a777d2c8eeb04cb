//! Notes of the maker's on a day: kept as typed, changed by editing the message, deleted by a tap.

use chrono::NaiveDate;

use super::Maker;
use super::button::Button;
use super::caption::Caption;
use super::event::MessageId;
use super::outcome::{Outcome, Place, Reply};
use super::say::Say;
use super::talk::Step;
use crate::blanket::{Book, Change, NOTES_PER_DAY_MAX, Note, NoteFault, NoteId, NoteText};

/// Asks for a note on a day.
pub fn ask(maker: &Maker, book: &Book, day: NaiveDate) -> Outcome {
    if !book.plan().has(day) {
        return maker.quiet();
    }
    maker.at(Step::Note { day }).say(Reply::new(Say::AskNote { day }))
}

/// Keeps a typed line as a note of a day.
pub fn keep(maker: &Maker, book: &Book, day: NaiveDate, text: &str, typed: MessageId) -> Outcome {
    let text = match read(text) {
        Ok(text) => text,
        Err(say) => return maker.quiet().say(Reply::new(say)),
    };
    if book.notes(day).len() >= NOTES_PER_DAY_MAX {
        return maker.quiet().say(Reply::new(Say::TooManyNotes { day, max: NOTES_PER_DAY_MAX }));
    }
    let id = NoteId(typed.0);
    let has_tier = book.answer(day).is_some();
    let first = !book.has_notes();
    let said = Reply::new(Say::Noted { day, has_tier, first })
        .key(Caption::DeleteNote, Button::DeleteNote { note: id });
    let step = match maker.talk.step {
        Step::Note { .. } => Step::Idle,
        step => step,
    };
    maker.at(step).change(Change::Noted { day, note: Note { id, text } }).say(said)
}

/// The message of a note was edited: the note changes with it. Other edits change nothing.
pub fn edited(maker: &Maker, book: &Book, message: MessageId, text: &str) -> Outcome {
    let id = NoteId(message.0);
    let Some((day, kept)) = book.note_of(id) else { return maker.quiet() };
    match read(text) {
        Err(say) => maker.quiet().say(Reply::new(say)),
        Ok(text) if text == kept.text => maker.quiet(),
        Ok(text) => {
            let said = Reply::new(Say::NoteChanged { day })
                .key(Caption::DeleteNote, Button::DeleteNote { note: id });
            maker.quiet().change(Change::Noted { day, note: Note { id, text } }).say(said)
        }
    }
}

pub fn delete(maker: &Maker, book: &Book, note: NoteId, tapped: MessageId) -> Outcome {
    let place = Place::Change { slot: None, tapped: Some(tapped) };
    let said = Reply::new(Say::NoteDeleted).at(place);
    match book.note_of(note) {
        Some(_) => maker.quiet().change(Change::NoteDeleted { note }).say(said),
        None => maker.quiet().say(said),
    }
}

fn read(text: &str) -> Result<NoteText, Say> {
    NoteText::parse(text).map_err(|fault| match fault {
        NoteFault::Empty => Say::EmptyNote,
        NoteFault::TooLong => Say::LongNote { max: crate::blanket::NOTE_CHARS_MAX },
    })
}
