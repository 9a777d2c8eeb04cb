//! Entering a ball, a weighing, a correction or a try of a colour, and taking the newest back.
//!
//! What cannot be is refused, and then nothing is changed.

use chrono::{DateTime, Utc};

use super::said::{Entered, YarnCaption, YarnRefusal, YarnSaid};
use super::{Read, in_place, key, looking, refusal, said, show, yarn_key};
use crate::blanket::forecast::rows_to_weigh;
use crate::blanket::stock::{BALLS_MAX, Ball, Entry, EntryKind, Tenths, WEIGHINGS_MAX};
use crate::blanket::yarn::{Ahead, KnownBy, PerRow};
use crate::blanket::{Book, Change, YarnId};
use crate::chat::Maker;
use crate::chat::button::YarnButton;
use crate::chat::caption::Caption;
use crate::chat::event::MessageId;
use crate::chat::outcome::{Outcome, Place, Reply};
use crate::chat::talk::Step;

/// A line about a colour was understood, or not.
pub fn entered(maker: &Maker, book: &Book, read: Read, now: DateTime<Utc>) -> Outcome {
    match read {
        Ok((yarn, kind)) => enter(maker, book, (yarn, kind), now),
        Err(refused) => maker.quiet().say(refusal(book, refused)),
    }
}

fn enter(
    maker: &Maker,
    book: &Book,
    (yarn, kind): (YarnId, EntryKind),
    now: DateTime<Utc>,
) -> Outcome {
    if book.yarn_name(yarn).is_none() {
        return maker.at(Step::Idle);
    }
    if let Some(refused) = refused(book, yarn, &kind) {
        return maker.quiet().say(refused);
    }
    let (ledger, rows) = (book.ledger(yarn), book.rows_in(yarn));
    let rows_since = ledger.rows_at_weighing().map(|then| rows.saturating_sub(then));
    let change = Change::Stocked { yarn, entry: Entry { kind: kind.clone(), rows, at: now } };
    let mut after = book.clone();
    after.apply(&change);
    let outcome = maker.at(Step::Idle).change(change);
    let Some(outlook) = Ahead::of(&after).one(yarn) else { return outcome };
    let Some(line) = looking::line(&after, &outlook) else { return outcome };
    let per_row = outlook.status.per_row;
    let measured = per_row.filter(|per_row| per_row.is_measured());
    let entered = match &kind {
        EntryKind::Ball(ball) => of_balls(&after, yarn, ball),
        EntryKind::Weighing(_) => Entered::Weighed {
            rows: rows_since,
            per_row: measured,
            advice: advice(&after, per_row),
        },
        EntryKind::Correction(_) => Entered::Corrected,
        EntryKind::Tried { rows, .. } => Entered::Tried { rows: *rows, per_row: measured },
    };
    let entries = u16::try_from(after.ledger(yarn).entries().len()).unwrap_or(u16::MAX);
    // A message of its own: the list above stays where it is.
    let reply = said(&after, YarnSaid::Entered { line, entered }).at(Place::New(None));
    outcome.say(reply.keys([
        key(Caption::Undo, YarnButton::Undo { yarn, entries }),
        yarn_key(YarnCaption::All, YarnButton::List),
    ]))
}

fn of_balls(after: &Book, yarn: YarnId, ball: &Ball) -> Entered {
    let of_lot = |lot: &crate::blanket::Label| {
        let lots = after.ledger(yarn).lots();
        lots.into_iter().find(|(named, _)| named.is(lot.as_str())).map_or(0, |(_, balls)| balls)
    };
    let lot = ball.lot.as_ref().map(|lot| (lot.clone(), of_lot(lot)));
    Entered::Balls { balls: ball.count, lot, weighed: ball.weighed.is_some() }
}

/// How many rows to work before the next weighing; `None` where it is not known what a row takes,
/// or where that was weighed.
pub fn advice(book: &Book, per_row: Option<PerRow>) -> Option<u32> {
    let per_row = per_row?;
    match per_row.by {
        KnownBy::Weighings { .. } => None,
        KnownBy::OtherColours | KnownBy::Fabric => {
            rows_to_weigh(per_row.grams(), book.yarn_settings().scale.grams())
        }
    }
}

/// Why an entry cannot be, with a way on where there is one.
fn refused(book: &Book, yarn: YarnId, kind: &EntryKind) -> Option<Reply> {
    let (balls, weighings) = entries_of(book);
    let full = |max| Some(refusal(book, YarnRefusal::TooManyWeighings { max }));
    match kind {
        EntryKind::Ball(ball) => {
            let too_many = balls + u32::from(ball.count) > BALLS_MAX;
            too_many.then(|| refusal(book, YarnRefusal::TooManyBalls { max: BALLS_MAX }))
        }
        _ if weighings >= WEIGHINGS_MAX => full(WEIGHINGS_MAX),
        EntryKind::Weighing(now) => heavier(book, yarn, *now),
        EntryKind::Tried { before, after, .. } if after >= before => {
            let (before, after) = (before.grams(), after.grams());
            Some(refusal(book, YarnRefusal::NothingUsed { before, after }))
        }
        EntryKind::Tried { .. } | EntryKind::Correction(_) => None,
    }
}

fn heavier(book: &Book, yarn: YarnId, now: Tenths) -> Option<Reply> {
    let before = book.ledger(yarn).lighter_before(now, book.rows_in(yarn))?;
    let name = book.yarn_name(yarn)?.clone();
    let (grams, units) = (now.grams(), book.yarn_settings().units);
    let refused = YarnRefusal::Heavier { yarn: name, now: grams, before: before.grams() };
    let correct = YarnCaption::Corrected { grams, units };
    let button = YarnButton::Correct { yarn, tenths: now };
    Some(refusal(book, refused).keys([yarn_key(correct, button)]))
}

/// Balls, and other entries, of all colours.
fn entries_of(book: &Book) -> (u32, u32) {
    let all = book.yarns().iter().flat_map(|yarn| book.ledger(yarn.id).entries());
    all.fold((0, 0), |(balls, weighings), entry| match &entry.kind {
        EntryKind::Ball(ball) => (balls + u32::from(ball.count), weighings),
        EntryKind::Weighing(_) | EntryKind::Correction(_) | EntryKind::Tried { .. } => {
            (balls, weighings + 1)
        }
    })
}

/// Takes the newest entry of a colour back, if it is the one the button spoke of. Shows the yarn
/// as it is then.
pub fn undo(
    maker: &Maker,
    book: &Book,
    (yarn, entries): (YarnId, u16),
    tapped: MessageId,
) -> Outcome {
    if book.ledger(yarn).entries().len() != usize::from(entries) || entries == 0 {
        return show(maker, book, tapped);
    }
    let change = Change::Unstocked { yarn };
    let mut after = book.clone();
    after.apply(&change);
    let shown = looking::list(&after).at(in_place(tapped));
    maker.at(Step::Idle).change(change).say(shown)
}
