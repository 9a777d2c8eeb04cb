//! The list of further steps of set-up: each leads to the screen that is there for it, and back.
//!
//! What is set is read off the book, so that the list stands right after days and after *Undo*.
//! Never sent of itself, and nothing on it has to be done.

use super::Maker;
use super::button::{Act, ColourTap};
use super::button::{Button, ScaleTap, Screen, SetUpStep, SetUpTap, Setting, YarnButton};
use super::caption::Caption;
use super::event::{Event, MessageId};
use super::lexicon::Lexicon;
use super::outcome::{Key, Outcome, Place, Reply, Slot};
use super::say::Say;
use super::talk::Step;
use super::typed;
use crate::blanket::yarn::Units;
use crate::blanket::{Book, Fabric, Pieces, TierId};

pub fn tapped(
    maker: &Maker,
    book: &Book,
    tap: SetUpTap,
    tapped: MessageId,
    lexicon: &Lexicon,
) -> Outcome {
    let in_place = Place::Change { slot: Some(Slot::Settings), tapped: Some(tapped) };
    let list = list(book, lexicon);
    let reply = match tap {
        SetUpTap::Open => list.at(Place::New(Some(Slot::Settings))),
        SetUpTap::List | SetUpTap::Go { .. } => list.at(in_place),
        SetUpTap::Later => Reply::new(Say::SetUpLater).at(in_place),
    };
    maker.at(Step::Idle).say(reply)
}

/// The steps, those that are set marked, each with its button.
fn list(book: &Book, lexicon: &Lexicon) -> Reply {
    let steps = SetUpStep::ALL.map(|step| (step, is_set(book, step, lexicon)));
    let key = |(step, set): (SetUpStep, bool)| Key {
        caption: Caption::SetUpStep { step, set },
        button: SetUpTap::Go { step }.into(),
    };
    let reply = Reply::new(Say::SetUpList { steps: steps.to_vec() });
    let reply = steps.chunks(2).fold(reply, |reply, two| reply.keys(two.iter().copied().map(key)));
    reply.key(Caption::Later, SetUpTap::Later.into())
}

/// Whether it is another way than a blanket begins with.
fn is_set(book: &Book, step: SetUpStep, lexicon: &Lexicon) -> bool {
    let (first, scale, fabric) = (&lexicon.first_scale, book.scale(), book.fabric());
    let (plain, settings) = (Fabric::DEFAULT, book.yarn_settings());
    match step {
        SetUpStep::Scale => {
            let labels = scale.tiers().iter().map(|tier| tier.label.as_str());
            !labels.eq(first.tiers.iter().map(|(label, ..)| *label))
        }
        SetUpStep::TierLines => scale.tiers().iter().any(|it| book.tier_line(it.id).is_some()),
        SetUpStep::Question => book.question().is_some(),
        SetUpStep::Colours => {
            let began = first.tiers.iter().map(|(_, yarn, rgb)| (*yarn, *rgb));
            let now = book.yarns().iter().map(|yarn| (yarn.name.as_str(), yarn.rgb));
            !now.eq(began.chain([first.joining]))
        }
        // The ids of a first scale count from 1.
        SetUpStep::DefaultTier => {
            Ok(scale.default_tier().id) != u8::try_from(first.default + 1).map(TierId)
        }
        SetUpStep::HowCommon => {
            scale.tiers().iter().any(|tier| settings.guess.contains_key(&tier.id))
        }
        SetUpStep::Blocks => book.plan().pieces() != Pieces::DEFAULT,
        SetUpStep::Stitch => {
            let ways = |it: &Fabric| (it.stitch, it.turned, it.first_side);
            ways(fabric) != ways(&plain)
        }
        SetUpStep::Swatch => fabric.swatch.is_some(),
        SetUpStep::Units => settings.units != Units::default(),
        SetUpStep::Names => fabric.terms != plain.terms,
    }
}

/// The button of the screen a step leads to.
pub fn way(step: SetUpStep) -> Button {
    let making = |screen| Button::Making { act: Act::Show(screen) };
    match step {
        SetUpStep::Scale => Button::Scale(ScaleTap::Home),
        SetUpStep::TierLines => Button::Change { setting: Setting::TierLines },
        SetUpStep::Question => Button::Scale(ScaleTap::AskQuestion),
        SetUpStep::Colours => Button::Colours(ColourTap::Check),
        SetUpStep::DefaultTier => Button::Scale(ScaleTap::AskDefault),
        SetUpStep::HowCommon => YarnButton::Guess.into(),
        SetUpStep::Blocks => making(Screen::Blocks),
        SetUpStep::Stitch => making(Screen::Stitch),
        SetUpStep::Swatch => making(Screen::Swatch(None)),
        SetUpStep::Units => YarnButton::Settings.into(),
        SetUpStep::Names => making(Screen::Names),
    }
}

/// The maker comes from the list.
pub fn coming_from_it(maker: &Maker) -> Maker {
    let mut maker = maker.clone();
    maker.talk.in_set_up = true;
    maker
}

/// As long as a maker who came from the list is at such a screen, a button leads back to it.
pub fn with_way_back(maker: &Maker, event: &Event, mut outcome: Outcome) -> Outcome {
    if !outcome.talk.in_set_up {
        return outcome;
    }
    let stays = match event {
        Event::Typed { text, .. } => typed::command(text).is_none() && waits(&maker.talk.step),
        Event::Tapped { button: Ok(button), .. } => is_of_a_step(button),
        Event::Tapped { button: Err(_), .. } => false,
        // Nothing the maker did: where they are stays as it is.
        Event::NotText
        | Event::Document { .. }
        | Event::BookRead { .. }
        | Event::Edited { .. }
        | Event::Blocked
        | Event::Unblocked
        | Event::Due(_) => return outcome,
    };
    match outcome.replies.pop() {
        Some(last) if stays => outcome.replies.push(last.keys([key()])),
        last => {
            outcome.replies.extend(last);
            outcome.talk.in_set_up = false;
        }
    }
    outcome
}

/// Whether a line is waited for by one of the screens.
fn waits(step: &Step) -> bool {
    matches!(
        step,
        Step::NewLine { .. }
            | Step::Making { .. }
            | Step::ColourCode { .. }
            | Step::ColourName { .. }
            | Step::AnotherYarn { .. }
            | Step::Scale { .. }
            | Step::Yarn { .. }
            | Step::Ball { .. }
            | Step::Weigh { .. }
    )
}

fn is_of_a_step(button: &Button) -> bool {
    matches!(
        button,
        Button::SetUp(SetUpTap::Go { .. })
            | Button::Scale(_)
            | Button::Colours(_)
            | Button::Making { .. }
            | Button::OfYarn(_)
            | Button::Change { setting: Setting::TierLines }
            | Button::Describe { .. }
            | Button::DeleteLine { .. }
    )
}

/// The button that shows the list in place.
pub fn key() -> Key {
    Key { caption: Caption::SetUpList, button: SetUpTap::List.into() }
}

/// The button at the end of set-up.
pub fn open_key() -> Key {
    Key { caption: Caption::SetUpList, button: SetUpTap::Open.into() }
}
