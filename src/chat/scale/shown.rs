//! What is said of the last change of a scale, now and when its button is tapped once more.

use super::kept::{Rescaled, What};
use super::said::{ScaleDone, ScaleSaid};
use super::{Tapped, idle, screens};
use crate::blanket::{Book, Change, Label, OwnQuestion, TierId};
use crate::chat::Maker;
use crate::chat::button::ScaleTap;
use crate::chat::outcome::{Outcome, Reply};
use crate::chat::say::Say;
use crate::chat::talk::{Step, Talk, UndoDay};

/// Keeps the changes, and shows the scale as it is then.
pub fn done(
    maker: &Maker,
    book: &Book,
    changes: Vec<Change>,
    what: Rescaled,
    tapped: Tapped,
) -> Outcome {
    let mut after = book.clone();
    changes.iter().for_each(|change| after.apply(change));
    let mut outcome =
        changes.into_iter().fold(shown(maker, &after, &what, tapped), Outcome::change);
    outcome.talk.new_tier = None;
    outcome.talk.rescaled = Some(what);
    outcome
}

/// What was done last, where it stands and is this.
pub fn repeated(
    maker: &Maker,
    book: &Book,
    is: impl Fn(&What) -> bool,
    tapped: Tapped,
) -> Option<Outcome> {
    let last = maker.talk.rescaled.as_ref()?;
    (!last.taken_back && is(&last.what)).then(|| shown(maker, book, last, tapped))
}

pub fn shown(maker: &Maker, book: &Book, last: &Rescaled, tapped: Tapped) -> Outcome {
    let undo = (!last.taken_back).then_some(last.id);
    let said = said(book, last).map(|said| (said, undo));
    let reply = match &last.what {
        What::Renamed { tier, .. } | What::Moved { tier, .. } => {
            screens::tier(book, TierId(*tier), said)
        }
        What::Default { .. }
        | What::Question { .. }
        | What::Added { .. }
        | What::Removed { .. } => screens::home(book, said),
    };
    idle(maker, reply, tapped)
}

/// What was done, or taken back, of the scale as it is then.
fn said(book: &Book, last: &Rescaled) -> Option<ScaleDone> {
    let label = |tier: u8| book.scale().ever(TierId(tier)).map(|tier| tier.label.clone());
    let yarn = |tier: u8| {
        let yarn = book.scale().ever(TierId(tier))?.yarn;
        book.yarn_name(yarn).cloned()
    };
    let back = last.taken_back;
    Some(match &last.what {
        What::Renamed { from, to, .. } => {
            let (from, to) = if back { (to, from) } else { (from, to) };
            ScaleDone::Renamed { from: Label::kept(from.clone()), to: Label::kept(to.clone()) }
        }
        What::Moved { tier, from, to } => {
            let index = usize::from(if back { *from } else { *to });
            ScaleDone::Moved { tier: label(*tier)?, place: index + 1 }
        }
        What::Default { from, to } => {
            ScaleDone::Default { tier: label(if back { *from } else { *to })? }
        }
        What::Question { from, to } => {
            let now = if back { from } else { to };
            let now = now.clone().map(OwnQuestion::kept);
            ScaleDone::Question { now }
        }
        What::Added { tier, new_yarn } if back => ScaleDone::Removed {
            tier: label(*tier)?,
            moved: None,
            differ: 0,
            stays: yarn(*tier).filter(|_| *new_yarn),
        },
        What::Added { tier, .. } => ScaleDone::Added { tier: label(*tier)?, yarn: yarn(*tier)? },
        What::Removed { tier, days, changed, .. } if back => {
            ScaleDone::Back { tier: label(*tier)?, days: days.len(), changed: *changed }
        }
        What::Removed { tier, days_got, days, differ, .. } => ScaleDone::Removed {
            tier: label(*tier)?,
            moved: days_got.and_then(label).map(|heir| (days.len(), heir)),
            differ: *differ,
            stays: None,
        },
    })
}

impl Rescaled {
    pub fn new(id: i64, what: What) -> Rescaled {
        Rescaled { id, what, taken_back: false }
    }
}

/// What was pasted and not kept, or set in one go, with a tier that is gone: its buttons do
/// nothing any more.
pub fn forget(talk: &mut Talk, TierId(gone): TierId) {
    talk.draft = talk.draft.take().filter(|draft| draft.days.iter().all(|(_, it)| *it != gone));
    talk.undo = talk.undo.take().filter(|undo| {
        let names = |day: &UndoDay| {
            day.set_to == gone || day.before.is_some_and(|before| before.tier == gone)
        };
        !undo.days.iter().any(names)
    });
}

/// An *Undo* of a change before the last, or a button of a tier that was never added.
pub fn gone(maker: &Maker, tapped: Tapped) -> Outcome {
    let home = screens::key(ScaleTap::Home);
    let reply = Reply::new(Say::Scale(Box::new(ScaleSaid::Gone))).keys([home]);
    maker.at(Step::Idle).say(reply.at(super::place(tapped)))
}
