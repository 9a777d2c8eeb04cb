//! Samples about the maker's own scale, with the largest numbers and the longest names there are.

use duskrow::blanket::{LabelFault, OwnQuestion, QuestionFault};
use duskrow::chat::caption::Caption;
use duskrow::chat::say::Say;
use duskrow::chat::scale::{
    NameFault, ScaleCaption, ScaleDone, ScaleRefusal, ScaleSaid, ScaleWait, TierInList,
};

use super::label;

const WAITS: [ScaleWait; 5] = [
    ScaleWait::Label { tier: 6 },
    ScaleWait::NewLabel { above: Some(6) },
    ScaleWait::Yarn,
    ScaleWait::YarnColour,
    ScaleWait::Question,
];

pub fn question() -> OwnQuestion {
    OwnQuestion::parse("How was the sea?").unwrap()
}

pub fn every_say() -> Vec<Say> {
    let said = every_said().into_iter().map(Box::new).map(Say::Scale);
    said.chain(every_refusal().into_iter().map(Say::ScaleRefused)).collect()
}

pub fn quoting(typed: &str) -> Vec<Say> {
    let typed = || typed.to_owned();
    let named = |fault: &NameFault| {
        WAITS.map(|wait| ScaleRefusal::Name { typed: typed(), wait, fault: fault.clone() })
    };
    let names = [NameFault::Number, NameFault::Meant].iter().flat_map(named).collect::<Vec<_>>();
    let all = names.into_iter().chain([ScaleRefusal::Colour { typed: typed() }]);
    all.map(Say::ScaleRefused).collect()
}

fn tier(name: &str, default: bool) -> TierInList {
    TierInList { label: label(name), yarn: label("Brick"), default }
}

pub fn every_said() -> Vec<ScaleSaid> {
    let longest = "W".repeat(24);
    let mut all = vec![
        ScaleSaid::Home { tiers: vec![tier(&longest, true); 12], question: None, done: None },
        ScaleSaid::Home {
            tiers: vec![tier("Rough", false), tier("Smooth", true)],
            question: Some(question()),
            done: None,
        },
        ScaleSaid::AskDefault { now: label("Ordinary") },
        ScaleSaid::AskQuestion { now: None },
        ScaleSaid::AskQuestion { now: Some(question()) },
        ScaleSaid::AskWhere,
        ScaleSaid::AskNewLabel { above: None },
        ScaleSaid::AskNewLabel { above: Some(label(&longest)) },
        ScaleSaid::AskYarn { tier: label("Calm") },
        ScaleSaid::AskColour { yarn: label("Sea Glass"), offers: true },
        ScaleSaid::AskColour { yarn: label("Sea Glass"), offers: false },
        ScaleSaid::Gone,
    ];
    for days in [0, 1, 366] {
        let tier = tier(&longest, days == 1);
        all.push(ScaleSaid::Tier { tier, place: 7, tiers: 12, days, done: None });
        all.push(ScaleSaid::AskLabel { tier: label("Smooth"), days });
        for worked in [0, 1, 366] {
            all.push(ScaleSaid::AskRemove { tier: label(&longest), days, worked });
        }
    }
    for done in every_done() {
        let tiers = vec![tier("Smooth", true)];
        all.push(ScaleSaid::Home { tiers, question: None, done: Some(done.clone()) });
        let tier = tier(&longest, true);
        all.push(ScaleSaid::Tier { tier, place: 1, tiers: 2, days: 366, done: Some(done) });
    }
    all
}

pub fn every_done() -> Vec<ScaleDone> {
    let smooth = || label("Smooth");
    let mut all = vec![
        ScaleDone::Renamed { from: smooth(), to: label("Calm") },
        ScaleDone::Moved { tier: smooth(), place: 12 },
        ScaleDone::Default { tier: smooth() },
        ScaleDone::Question { now: None },
        ScaleDone::Question { now: Some(question()) },
        ScaleDone::Added { tier: smooth(), yarn: label("Brick") },
    ];
    for count in [0, 1, 366] {
        let moved = (count > 0).then(|| (count, label("Rough")));
        let stays = (count == 0).then(|| label("Sea Glass"));
        all.push(ScaleDone::Removed { tier: smooth(), moved, differ: count, stays });
        all.push(ScaleDone::Back { tier: smooth(), days: count, changed: 0 });
        all.push(ScaleDone::Back { tier: smooth(), days: 2, changed: count });
    }
    all
}

pub fn every_refusal() -> Vec<ScaleRefusal> {
    let mut all = vec![
        ScaleRefusal::Question(QuestionFault::Empty),
        ScaleRefusal::Question(QuestionFault::TooLong),
        ScaleRefusal::Question(QuestionFault::Unprintable),
        ScaleRefusal::Colour { typed: "bluish".to_owned() },
        ScaleRefusal::Full { most: 12 },
        ScaleRefusal::Few { least: 2 },
        ScaleRefusal::AllUsed,
        ScaleRefusal::YarnsFull { most: 24 },
        ScaleRefusal::IsDefault { tier: label("Ordinary") },
        ScaleRefusal::HasDays { tier: label("Calm"), days: 1 },
        ScaleRefusal::HasDays { tier: label("Calm"), days: 366 },
    ];
    for wait in WAITS {
        for fault in [
            NameFault::Label(LabelFault::Empty),
            NameFault::Label(LabelFault::TooLong),
            NameFault::Label(LabelFault::Unprintable),
            NameFault::Taken(label("Smooth")),
            NameFault::Number,
            NameFault::Meant,
        ] {
            all.push(ScaleRefusal::Name { typed: "yesterday".to_owned(), wait, fault });
        }
    }
    all
}

pub fn every_caption() -> Vec<ScaleCaption> {
    vec![
        ScaleCaption::Scale,
        ScaleCaption::MyOwnScale,
        ScaleCaption::AddTier,
        ScaleCaption::DefaultTier,
        ScaleCaption::Question,
        ScaleCaption::UsualQuestion,
        ScaleCaption::Rename,
        ScaleCaption::MoveLower,
        ScaleCaption::MoveHigher,
        ScaleCaption::Remove,
        ScaleCaption::AsLowest,
        ScaleCaption::Above(label(&"W".repeat(24))),
    ]
}

pub fn captions() -> Vec<Caption> {
    every_caption().into_iter().map(Caption::Scale).collect()
}
