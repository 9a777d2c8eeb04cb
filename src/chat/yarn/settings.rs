//! What a maker says once about yarn: units, the scale, how sure to buy, joins, the ball they buy,
//! and how common each tier is by their guess.

use super::said::{YarnCaption, YarnSaid, YarnSettingsSaid};
use super::{in_place, key, looking, said, yarn_key};
use crate::blanket::forecast::Common;
use crate::blanket::yarn::{BallLabel, Join, ScaleStep, Target, Units, YarnSettings};
use crate::blanket::{Book, Change, TierId};
use crate::chat::Maker;
use crate::chat::button::{YarnButton, YarnChoice};
use crate::chat::caption::Caption;
use crate::chat::event::MessageId;
use crate::chat::outcome::{Key, Outcome, Reply};
use crate::chat::talk::Step;

/// All of it as it is, with a button for what it is not.
pub fn list(book: &Book) -> Reply {
    let settings = book.yarn_settings();
    let list = YarnSettingsSaid {
        units: settings.units,
        scale: settings.scale,
        target: looking::target_said(book),
        join: settings.join,
        terms: book.fabric().terms,
        ball: settings.ball,
    };
    let set = |caption, choice| yarn_key(caption, YarnButton::Set(choice));
    let units = Units::ALL.into_iter().filter(|units| *units != settings.units);
    let scales = ScaleStep::ALL.into_iter().filter(|scale| *scale != settings.scale);
    let targets = Target::ALL.into_iter().filter(|target| *target != settings.target);
    let whole = !settings.whole_blanket;
    said(book, YarnSaid::Settings(list))
        .keys(units.map(|units| set(YarnCaption::Units(units), YarnChoice::Units(units))))
        .keys(scales.map(|scale| set(YarnCaption::Scale(scale), YarnChoice::Scale(scale))))
        .keys(targets.map(|target| set(YarnCaption::Target(target), YarnChoice::Target(target))))
        .keys([set(YarnCaption::WholeBlanket(whole), YarnChoice::WholeBlanket(whole))])
        .keys([yarn_key(YarnCaption::AskJoin, YarnButton::AskJoin)])
        .keys([yarn_key(YarnCaption::Label, YarnButton::AskLabel)])
        .keys([yarn_key(YarnCaption::Guess, YarnButton::Guess)])
        .keys([yarn_key(YarnCaption::All, YarnButton::List)])
}

pub fn set(maker: &Maker, book: &Book, choice: YarnChoice, tapped: MessageId) -> Outcome {
    let mut settings = book.yarn_settings().clone();
    match choice {
        YarnChoice::Units(units) => settings.units = units,
        YarnChoice::Scale(scale) => settings.scale = scale,
        YarnChoice::Target(target) => settings.target = target,
        YarnChoice::WholeBlanket(whole) => settings.whole_blanket = whole,
        YarnChoice::Join(join) => settings.join = Some(join),
    }
    keep(maker, book, settings, |after| list(after).at(in_place(tapped)))
}

/// How are the blocks put together?
pub fn ask_join(book: &Book) -> Reply {
    let terms = book.fabric().terms;
    let reply = said(book, YarnSaid::AskJoin { now: book.yarn_settings().join, terms });
    let key_of =
        |join| yarn_key(YarnCaption::Join(join, terms), YarnButton::Set(YarnChoice::Join(join)));
    let reply = Join::ALL.into_iter().fold(reply, |reply, join| reply.keys([key_of(join)]));
    reply.keys([key(Caption::Back, YarnButton::Settings)])
}

/// What does the label of a ball say?
pub fn ask_label(book: &Book) -> Reply {
    let now = book.yarn_settings().ball;
    said(book, YarnSaid::AskLabel { now }).keys([key(Caption::Back, YarnButton::Settings)])
}

pub fn set_label(maker: &Maker, book: &Book, label: BallLabel) -> Outcome {
    let settings = YarnSettings { ball: Some(label), ..book.yarn_settings().clone() };
    keep(maker, book, settings, list)
}

/// How common is each tier, by the maker's guess?
pub fn guess(book: &Book) -> Reply {
    let words = &book.yarn_settings().guess;
    let tiers = book.scale().tiers();
    let said_of = tiers.iter().map(|tier| (tier.label.clone(), words.get(&tier.id).copied()));
    let reply = said(book, YarnSaid::Guess { tiers: said_of.collect() });
    let keys: Vec<Key> = tiers
        .iter()
        .map(|tier| {
            let button = YarnButton::AskCommon { tier: tier.id };
            key(Caption::Name(tier.label.to_string()), button)
        })
        .collect();
    let reply = keys.chunks(2).fold(reply, |reply, pair| reply.keys(pair.to_vec()));
    reply.keys([yarn_key(YarnCaption::ToBuy, YarnButton::ToBuy)])
}

pub fn ask_common(book: &Book, tier: TierId) -> Reply {
    let Some(named) = book.scale().tier(tier) else { return guess(book) };
    let reply = said(book, YarnSaid::AskCommon { tier: named.label.clone() });
    let key_of =
        |common| yarn_key(YarnCaption::Common(common), YarnButton::Common { tier, common });
    let reply = Common::ALL.into_iter().fold(reply, |reply, word| reply.keys([key_of(word)]));
    let known = book.yarn_settings().guess.contains_key(&tier);
    reply
        .keys(known.then(|| yarn_key(YarnCaption::NoGuess, YarnButton::NoGuess { tier })))
        .keys([key(Caption::Back, YarnButton::Guess)])
}

pub fn set_common(
    maker: &Maker,
    book: &Book,
    (tier, common): (TierId, Common),
    tapped: MessageId,
) -> Outcome {
    let mut settings = book.yarn_settings().clone();
    if book.scale().tier(tier).is_some() {
        settings.guess.insert(tier, common);
    }
    keep(maker, book, settings, |after| guess(after).at(in_place(tapped)))
}

pub fn unset_common(maker: &Maker, book: &Book, tier: TierId, tapped: MessageId) -> Outcome {
    let mut settings = book.yarn_settings().clone();
    settings.guess.remove(&tier);
    keep(maker, book, settings, |after| guess(after).at(in_place(tapped)))
}

/// Keeps the settings, and shows a screen as it is then.
fn keep(
    maker: &Maker,
    book: &Book,
    settings: YarnSettings,
    screen: impl Fn(&Book) -> Reply,
) -> Outcome {
    if settings == *book.yarn_settings() {
        return maker.at(Step::Idle).say(screen(book));
    }
    let change = Change::YarnSet(Box::new(settings));
    let mut after = book.clone();
    after.apply(&change);
    maker.at(Step::Idle).change(change).say(screen(&after))
}
