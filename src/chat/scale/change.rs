//! What is changed about a scale: a tier renamed, moved, added or removed, the default tier and the
//! question. A second tap on the same button says the same and changes nothing.

use chrono::{DateTime, Utc};

use super::kept::{MovedDay, NewTier, Rescaled, What};
use super::said::{NameFault, ScaleRefusal};
use super::shown::{done, forget, gone, repeated};
use super::{ScaleWait, Tapped, idle, refused, screens};
use crate::blanket::{
    Answer, Book, Change, Label, OwnQuestion, Scale, ScaleFault, TIERS_MAX, TIERS_MIN, Tier,
    TierId, YARNS_MAX, Yarn, YarnId,
};
use crate::chat::Maker;
use crate::chat::button::ScaleTap;
use crate::chat::outcome::Outcome;

pub fn rename(
    maker: &Maker,
    book: &Book,
    (tier, label): (TierId, Label),
    now: DateTime<Utc>,
) -> Outcome {
    let Some(from) = book.scale().tier(tier).map(|tier| tier.label.to_string()) else {
        return idle(maker, screens::home(book, None), None);
    };
    if from == label.as_str() {
        return idle(maker, screens::tier(book, tier, None), None);
    }
    match book.scale().renamed(tier, &label) {
        Ok(scale) => {
            let what = What::Renamed { tier: tier.0, from, to: label.to_string() };
            let id = maker.talk.fresh_id(now);
            done(maker, book, vec![scaled(scale)], Rescaled::new(id, what), None)
        }
        Err(_) => {
            let taken = book.scale().labelled(&label).map_or(label, |taken| taken.label.clone());
            let (typed, fault) = (taken.to_string(), NameFault::Taken(taken));
            let wait = ScaleWait::Label { tier: tier.0 };
            let refusal = ScaleRefusal::Name { typed, wait, fault };
            refused(maker, refusal, screens::back(ScaleTap::Tier { tier }), None)
        }
    }
}

pub fn move_to(
    maker: &Maker,
    book: &Book,
    (tier, to): (TierId, u8),
    now: DateTime<Utc>,
    tapped: Tapped,
) -> Outcome {
    let scale = book.scale().moved(tier, usize::from(to));
    let place = |index: Option<usize>| index.and_then(|index| u8::try_from(index).ok());
    let (from, to) = (place(book.scale().index(tier)), place(scale.index(tier)));
    match from.zip(to) {
        Some((from, to)) if from != to => {
            let what = What::Moved { tier: tier.0, from, to };
            let id = maker.talk.fresh_id(now);
            done(maker, book, vec![scaled(scale)], Rescaled::new(id, what), tapped)
        }
        _ => {
            let same = |what: &What| {
                matches!(what, What::Moved { tier: moved, to: at, .. }
                    if *moved == tier.0 && Some(*at) == to)
            };
            repeated(maker, book, same, tapped)
                .unwrap_or_else(|| idle(maker, screens::tier(book, tier, None), tapped))
        }
    }
}

pub fn make_default(
    maker: &Maker,
    book: &Book,
    tier: TierId,
    now: DateTime<Utc>,
    tapped: Tapped,
) -> Outcome {
    let (from, to) = (book.scale().default_tier().id.0, tier.0);
    match book.scale().with_default(tier) {
        Ok(scale) if from != to => {
            let what = Rescaled::new(maker.talk.fresh_id(now), What::Default { from, to });
            done(maker, book, vec![scaled(scale)], what, tapped)
        }
        Ok(_) | Err(_) => {
            let same = |what: &What| matches!(what, What::Default { to: now, .. } if *now == to);
            repeated(maker, book, same, tapped)
                .unwrap_or_else(|| idle(maker, screens::home(book, None), tapped))
        }
    }
}

/// The question is asked so from now on; as usual for `None`.
pub fn ask_so(
    maker: &Maker,
    book: &Book,
    question: Option<OwnQuestion>,
    now: DateTime<Utc>,
    tapped: Tapped,
) -> Outcome {
    let text = |question: Option<&OwnQuestion>| question.map(|it| it.as_str().to_owned());
    let (from, to) = (text(book.question()), text(question.as_ref()));
    if from == to {
        let same = |what: &What| matches!(what, What::Question { to: now, .. } if *now == to);
        return repeated(maker, book, same, tapped)
            .unwrap_or_else(|| idle(maker, screens::home(book, None), tapped));
    }
    let what = Rescaled::new(maker.talk.fresh_id(now), What::Question { from, to });
    done(maker, book, vec![Change::QuestionSet(question)], what, tapped)
}

/// The yarn of a new tier: one that is there, or one of this colour that has its name.
#[derive(Clone, Copy)]
pub enum InYarn {
    Known(YarnId),
    New([u8; 3]),
}

pub fn add(maker: &Maker, book: &Book, new: &NewTier, yarn: InYarn, tapped: Tapped) -> Outcome {
    let scale = book.scale();
    let at = match new.above.map(TierId) {
        None => Some(0),
        Some(above) => scale.index(above).map(|index| index + 1),
    };
    let (Some(at), Ok(label)) = (at, Label::parse(&new.label)) else {
        return idle(maker, screens::ask_where(book), tapped);
    };
    let refuse = |refusal| refused(maker, refusal, screens::back(ScaleTap::AskWhere), tapped);
    let mut changes = Vec::new();
    let (yarn, new_yarn) = match yarn {
        InYarn::Known(yarn) if book.yarn_name(yarn).is_some() => (yarn, false),
        InYarn::Known(_) => return idle(maker, screens::ask_yarn(book, new), tapped),
        InYarn::New(rgb) => {
            let name = new.yarn.as_deref().and_then(|name| Label::parse(name).ok());
            let Some(name) = name else {
                return idle(maker, screens::ask_yarn(book, new), tapped);
            };
            match book.yarns().iter().find(|yarn| yarn.name.is(name.as_str())) {
                // A yarn got that name meanwhile: it is that one.
                Some(yarn) => (yarn.id, false),
                None => {
                    let Some(id) = book.fresh_yarn_id().filter(|_| book.yarns().len() < YARNS_MAX)
                    else {
                        return refuse(ScaleRefusal::YarnsFull { most: YARNS_MAX });
                    };
                    changes.push(Change::YarnAdded(Yarn { id, name, rgb, after: None }));
                    (id, true)
                }
            }
        }
    };
    let Some(id) = book.fresh_tier_id() else { return refuse(ScaleRefusal::AllUsed) };
    match scale.with(Tier { id, label: label.clone(), yarn }, at) {
        Ok(scale) => {
            changes.push(scaled(scale));
            let what = Rescaled::new(new.id, What::Added { tier: id.0, new_yarn });
            done(maker, book, changes, what, tapped)
        }
        Err(ScaleFault::SameLabelTwice) => {
            let taken = scale.labelled(&label).map_or(label, |taken| taken.label.clone());
            let (typed, fault) = (taken.to_string(), NameFault::Taken(taken));
            let wait = ScaleWait::NewLabel { above: new.above };
            refuse(ScaleRefusal::Name { typed, wait, fault })
        }
        Err(ScaleFault::TooFewOrMany | ScaleFault::SameIdTwice | ScaleFault::DefaultIsNoTier) => {
            refuse(ScaleRefusal::Full { most: TIERS_MAX })
        }
    }
}

/// A button of a draft that is gone: the same is said where it became a tier.
pub fn added_before(maker: &Maker, book: &Book, draft: i64, tapped: Tapped) -> Outcome {
    let of_draft = maker.talk.rescaled.as_ref().is_some_and(|last| last.id == draft);
    let added = |what: &What| of_draft && matches!(what, What::Added { .. });
    repeated(maker, book, added, tapped).unwrap_or_else(|| gone(maker, tapped))
}

/// Removes a tier. Where days have it, it is asked first which tier they get.
pub fn remove(
    maker: &Maker,
    book: &Book,
    (tier, days_get): (TierId, Option<TierId>),
    now: DateTime<Utc>,
    tapped: Tapped,
) -> Outcome {
    let scale = book.scale();
    let Some(known) = scale.tier(tier) else {
        let same =
            |what: &What| matches!(what, What::Removed { tier: gone, .. } if *gone == tier.0);
        return repeated(maker, book, same, tapped)
            .unwrap_or_else(|| idle(maker, screens::home(book, None), tapped));
    };
    let refuse = |refusal, key| refused(maker, refusal, key, tapped);
    if scale.tiers().len() <= TIERS_MIN {
        let refusal = ScaleRefusal::Few { least: TIERS_MIN };
        return refuse(refusal, screens::back(ScaleTap::Tier { tier }));
    }
    let Ok(without) = scale.without(tier) else {
        let refusal = ScaleRefusal::IsDefault { tier: known.label.clone() };
        return refuse(refusal, screens::default_key());
    };
    let days: Vec<MovedDay> = days_of(book, tier).collect();
    let heir = days_get.filter(|_| !days.is_empty()).and_then(|heir| without.tier(heir));
    let ((Some(_), _) | (None, true)) = (heir, days.is_empty()) else {
        return idle(maker, screens::ask_remove(book, known), tapped);
    };
    let differ = heir.map_or(0, |heir| {
        screens::worked_rows(book, tier).filter(|yarn| book.differs(*yarn, heir.yarn)).count()
    });
    let mut changes: Vec<Change> = Vec::new();
    if let Some(heir) = heir {
        changes.extend(days.iter().map(|day| answered(day, heir.id)));
    }
    let from = scale.index(tier).and_then(|index| u8::try_from(index).ok()).unwrap_or(0);
    let days_got = heir.map(|heir| heir.id.0);
    changes.push(scaled(without));
    let what = What::Removed { tier: tier.0, from, days_got, days, differ, changed: 0 };
    let id = maker.talk.fresh_id(now);
    let mut outcome = done(maker, book, changes, Rescaled::new(id, what), tapped);
    forget(&mut outcome.talk, tier);
    outcome
}

fn days_of(book: &Book, tier: TierId) -> impl Iterator<Item = MovedDay> + '_ {
    let days = book.answers().iter().filter(move |(_, answer)| answer.tier == tier);
    days.map(|(day, Answer { how, at, .. })| MovedDay { day: *day, how: (*how).into(), at: *at })
}

/// The day was answered when and how it was; its tier alone is another.
pub fn answered(day: &MovedDay, tier: TierId) -> Change {
    Change::Answered { day: day.day, tier, how: day.how.into(), at: day.at }
}

pub fn scaled(scale: Scale) -> Change {
    Change::Scaled(Box::new(scale))
}
