//! Takes the last change of a scale back. A second tap says the same.
//!
//! Never touches a day that was changed since.

use super::kept::{MovedDay, Rescaled, What};
use super::said::ScaleRefusal;
use super::shown::{done, forget, gone, shown};
use super::{Tapped, change, refused, screens};
use crate::blanket::{Book, Change, Label, OwnQuestion, Scale, ScaleFault, TierId};
use crate::chat::Maker;
use crate::chat::button::ScaleTap;
use crate::chat::outcome::Outcome;
use crate::chat::talk::KeptAs;

/// Takes the last change back, if it is the one the button spoke of.
pub fn undo(maker: &Maker, book: &Book, id: i64, tapped: Tapped) -> Outcome {
    let Some(last) = maker.talk.rescaled.as_ref().filter(|last| last.id == id) else {
        return gone(maker, tapped);
    };
    if last.taken_back {
        return shown(maker, book, last, tapped);
    }
    let scale = book.scale();
    let mut back = Rescaled { taken_back: true, ..last.clone() };
    let scales = |scale: Result<Scale, ScaleFault>| scale.map(|scale| vec![change::scaled(scale)]);
    let changes = match &mut back.what {
        What::Renamed { tier, from, .. } => {
            scales(scale.renamed(TierId(*tier), &Label::kept(from.clone())))
        }
        What::Moved { tier, from, .. } => {
            scales(Ok(scale.moved(TierId(*tier), usize::from(*from))))
        }
        What::Default { from, .. } => scales(scale.with_default(TierId(*from))),
        What::Question { from, .. } => {
            let question = from.clone().map(OwnQuestion::kept);
            Ok(vec![Change::QuestionSet(question)])
        }
        What::Added { tier, .. } => {
            let (tier, days) = (TierId(*tier), screens::days_of(book, TierId(*tier)));
            let Some(known) = scale.tier(tier).filter(|_| days > 0) else {
                let mut outcome = match scale.without(tier) {
                    Ok(without) => done(maker, book, vec![change::scaled(without)], back, tapped),
                    Err(_) => return gone(maker, tapped),
                };
                forget(&mut outcome.talk, tier);
                return outcome;
            };
            let refusal = ScaleRefusal::HasDays { tier: known.label.clone(), days };
            return refused(maker, refusal, screens::back(ScaleTap::Tier { tier }), tapped);
        }
        What::Removed { tier, from, days_got, days, changed, .. } => {
            let Some(gone_tier) = scale.ever(TierId(*tier)).cloned() else {
                return gone(maker, tapped);
            };
            let before = days.len();
            days.retain(|day| days_got.is_some_and(|heir| stands(book, day, TierId(heir))));
            *changed = before - days.len();
            scales(scale.with(gone_tier, usize::from(*from))).map(|mut changes| {
                changes.extend(days.iter().map(|day| change::answered(day, TierId(*tier))));
                changes
            })
        }
    };
    match changes {
        Ok(changes) => done(maker, book, changes, back, tapped),
        Err(_) => gone(maker, tapped),
    }
}

/// Whether the day has what the removal gave it.
fn stands(book: &Book, day: &MovedDay, heir: TierId) -> bool {
    book.answer(day.day).is_some_and(|answer| {
        (answer.tier, KeptAs::from(answer.how), answer.at) == (heir, day.how, day.at)
    })
}
