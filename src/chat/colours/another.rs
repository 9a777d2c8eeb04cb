//! Another yarn from now on: its name, its code, and what that means, shown before it is kept.
//!
//! Worked rows stay in the yarn they were worked in.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};

use super::said::{AnotherSaid, ColourCaption, ColoursRefusal, ColoursSaid, Done};
use super::screens::back;
use super::{anew, facts, kept, key, read_name, refused, screens, with_undo};
use crate::blanket::colours::{Rgb, read_hex};
use crate::blanket::{Book, Change, Label, TierId, YARNS_MAX, Yarn, YarnId, yarn_status};
use crate::chat::Maker;
use crate::chat::button::ColourTap;
use crate::chat::outcome::{Outcome, Place, Reply};
use crate::chat::say::Say;
use crate::chat::talk::Step;

/// A yarn that has a name, and perhaps a colour, and is not kept yet. The id is in the buttons,
/// so that old ones do nothing.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct AnotherYarn {
    pub id: i64,
    /// The yarn it comes after, by its id.
    pub before: u8,
    pub name: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rgb: Option<Rgb>,
}

/// What is typed about it.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub enum AnotherWait {
    /// Its name; `yarn` is the one it comes after.
    Name {
        yarn: u8,
    },
    Code,
}

/// Whether another yarn can come after this one: rows are worked in it, and more are to be.
pub fn may_follow(book: &Book, yarn: YarnId) -> bool {
    let to_come = yarn == book.joining() || facts::of_tiers(book).contains(&yarn);
    to_come && book.rows_in(yarn) > 0
}

/// Asks for the name.
pub fn ask_name(maker: &Maker, book: &Book, yarn: YarnId, place: Place) -> Outcome {
    let show = |step, reply: Reply| maker.at(step).say(reply.at(place));
    let Some(known) = book.yarn(yarn) else { return show(Step::Idle, screens::check(book, None)) };
    if !may_follow(book, yarn) {
        return show(Step::ColourCode { yarn: yarn.0 }, screens::one(book, known));
    }
    if is_full(book) {
        let refusal = Reply::new(Say::ColoursRefused(ColoursRefusal::Full { most: YARNS_MAX }));
        return show(Step::Idle, refusal.keys([back(ColourTap::One { yarn })]));
    }
    let said = ColoursSaid::AskAnother { yarn: known.name.clone() };
    let ask = screens::said(said).keys([back(ColourTap::One { yarn })]);
    show(Step::AnotherYarn { wait: AnotherWait::Name { yarn: yarn.0 } }, ask)
}

/// What was typed where the name or the code is waited for.
pub fn typed(
    maker: &Maker,
    book: &Book,
    wait: AnotherWait,
    text: &str,
    now: DateTime<Utc>,
) -> Outcome {
    match wait {
        AnotherWait::Name { yarn } if !may_follow(book, YarnId(yarn)) => {
            ask_name(maker, book, YarnId(yarn), anew())
        }
        AnotherWait::Name { yarn } => match read_name(book, text, None) {
            Ok(name) => {
                let (id, name) = (maker.talk.fresh_id(now), name.to_string());
                ask_code(maker, AnotherYarn { id, before: yarn, name, rgb: None }, anew())
            }
            Err(refusal) => refused(maker, refusal, ColourTap::One { yarn: YarnId(yarn) }),
        },
        AnotherWait::Code => {
            let Some(draft) = maker.talk.another_yarn.clone() else {
                return maker.at(Step::Idle).say(screens::check(book, None).at(anew()));
            };
            match read_hex(text) {
                Some(rgb) => show(maker, book, AnotherYarn { rgb: Some(rgb), ..draft }),
                None => {
                    let back = ColourTap::Another { yarn: YarnId(draft.before) };
                    refused(maker, ColoursRefusal::Code { typed: text.to_owned() }, back)
                }
            }
        }
    }
}

/// *Back* to the code, from what would be kept.
pub fn code_again(maker: &Maker, book: &Book, id: i64, place: Place) -> Outcome {
    match drafted(maker, id) {
        Some(draft) => ask_code(maker, draft.clone(), place),
        None => taken_before(maker, book, id, place),
    }
}

fn ask_code(maker: &Maker, draft: AnotherYarn, place: Place) -> Outcome {
    let Ok(name) = Label::parse(&draft.name) else { return maker.quiet() };
    let ask = screens::said(ColoursSaid::AskAnotherCode { yarn: name })
        .keys([back(ColourTap::Another { yarn: YarnId(draft.before) })]);
    let mut outcome = maker.at(Step::AnotherYarn { wait: AnotherWait::Code }).say(ask.at(place));
    outcome.talk.another_yarn = Some(draft);
    outcome
}

/// What would be so, with a button that makes it so.
fn show(maker: &Maker, book: &Book, draft: AnotherYarn) -> Outcome {
    let yarn = YarnId(draft.before);
    let Some(another) = Another::of(book, &draft) else {
        return ask_name(maker, book, yarn, anew());
    };
    let said = screens::said(ColoursSaid::Another(another.said(book)))
        .keys([screens::key(ColourCaption::UseAnother, ColourTap::UseAnother { draft: draft.id })])
        .keys([back(ColourTap::AnotherCode { draft: draft.id })]);
    let mut outcome = maker.at(Step::Idle).say(said.at(anew()));
    outcome.talk.another_yarn = Some(draft);
    outcome
}

/// Keeps the yarn that was shown, if it can be so by now. A second tap says the same.
pub fn take(maker: &Maker, book: &Book, id: i64, place: Place) -> Outcome {
    let Some(draft) = drafted(maker, id) else { return taken_before(maker, book, id, place) };
    let Some(another) = Another::of(book, draft) else {
        return ask_name(maker, book, YarnId(draft.before), place);
    };
    if let Err(refusal) = read_name(book, &draft.name, None) {
        // Another yarn got that name meanwhile.
        let refusal = Reply::new(Say::ColoursRefused(refusal));
        let back = back(ColourTap::Another { yarn: another.before.id });
        return maker.at(Step::Idle).say(refusal.keys([back]).at(place));
    }
    let done = done(book, &another.before, &another.now);
    let mut outcome = kept(maker, book, another.changes(), done, (id, place));
    outcome.talk.another_yarn = None;
    if let Some(before) = &mut outcome.talk.colours_before {
        before.added = Some(another.now.id.0);
    }
    outcome
}

/// A button of a draft that is gone: the same is said where it became a yarn.
fn taken_before(maker: &Maker, book: &Book, id: i64, place: Place) -> Outcome {
    let last = maker.talk.colours_before.as_ref().filter(|before| before.id == id);
    let taken = last.and_then(|last| {
        let now = book.yarn(YarnId(last.added?))?;
        Some((now, book.yarn(now.after?)?))
    });
    let reply = match taken {
        Some((now, before)) => with_undo(screens::check(book, Some(done(book, before, now))), id),
        None => Reply::new(Say::OldButton).keys([key()]),
    };
    maker.at(Step::Idle).say(reply.at(place))
}

/// A yarn, and what is worked in it where the one before was.
struct Another {
    before: Yarn,
    now: Yarn,
    tiers: Vec<(TierId, Label)>,
    joining: bool,
}

impl Another {
    /// `None` where it cannot be so by now.
    fn of(book: &Book, draft: &AnotherYarn) -> Option<Another> {
        let before = book.yarn(YarnId(draft.before))?.clone();
        if !may_follow(book, before.id) || is_full(book) {
            return None;
        }
        let name = Label::parse(&draft.name).ok()?;
        let (id, rgb, after) = (book.fresh_yarn_id()?, draft.rgb?, Some(before.id));
        let tiers = book.scale().tiers().iter().filter(|tier| tier.yarn == before.id);
        Some(Another {
            tiers: tiers.map(|tier| (tier.id, tier.label.clone())).collect(),
            joining: book.joining() == before.id,
            now: Yarn { id, name, rgb, after },
            before,
        })
    }

    fn changes(&self) -> Vec<Change> {
        let now = self.now.id;
        let yarns: Vec<_> = self.tiers.iter().map(|(tier, _)| (*tier, now)).collect();
        let moved = (!yarns.is_empty()).then_some(Change::TiersMoved { yarns });
        let joining = self.joining.then_some(Change::JoiningMoved { yarn: now });
        let added = Change::YarnAdded(self.now.clone());
        [Some(added), moved, joining].into_iter().flatten().collect()
    }

    fn said(&self, book: &Book) -> AnotherSaid {
        let mut after = book.clone();
        self.changes().iter().for_each(|change| after.apply(change));
        let known = yarn_status(book).into_iter().find(|status| status.yarn == self.before.id);
        AnotherSaid {
            before: self.before.name.clone(),
            now: self.now.name.clone(),
            rgb: self.now.rgb,
            tiers: self.tiers.iter().map(|(_, label)| label.clone()).collect(),
            joining: self.joining,
            worked: book.rows_in(self.before.id),
            known: known.map_or(0, |status| status.need.rows()),
            near: facts::one(&after, &self.now).near,
        }
    }
}

fn done(book: &Book, before: &Yarn, now: &Yarn) -> Done {
    let rows = book.rows_in(before.id);
    Done::Another { before: before.name.clone(), now: now.name.clone(), rows }
}

fn drafted(maker: &Maker, id: i64) -> Option<&AnotherYarn> {
    maker.talk.another_yarn.as_ref().filter(|draft| draft.id == id)
}

fn is_full(book: &Book) -> bool {
    book.yarns().len() >= YARNS_MAX || book.fresh_yarn_id().is_none()
}
