//! Buttons of what a maker sets for themself, drawn at random: colours, the scale, people,
//! the paper of sheets.

use duskrow::blanket::{FirstRow, Paper, PersonId, TierId, YarnId};
use duskrow::chat::button::{
    Button, ColourTap, PaperTap, PeopleTap, ScaleTap, SetUpStep, SetUpTap,
};
use proptest::prelude::*;

/// The colours of the yarns.
pub fn colour_buttons() -> impl Strategy<Value = Button> {
    let yarn = || any::<u8>().prop_map(YarnId);
    let most = ColourTap::RECOLOURED_MAX;
    prop_oneof![
        prop::sample::select(vec![
            ColourTap::Check,
            ColourTap::All,
            ColourTap::Palettes,
            ColourTap::Orders,
        ]),
        yarn().prop_map(|yarn| ColourTap::One { yarn }),
        yarn().prop_map(|yarn| ColourTap::Name { yarn }),
        prop::collection::vec((yarn(), any::<[u8; 3]>()), 1..=most)
            .prop_map(|to| ColourTap::Recolour { to }),
        yarn().prop_map(|yarn| ColourTap::Another { yarn }),
        (0..i64::MAX).prop_map(|draft| ColourTap::AnotherCode { draft }),
        (0..i64::MAX).prop_map(|draft| ColourTap::UseAnother { draft }),
        any::<u8>().prop_map(|number| ColourTap::Palette { number }),
        prop::collection::vec(yarn(), 1..=ColourTap::ORDERED_MAX)
            .prop_map(|yarns| ColourTap::Order { yarns }),
        (0..i64::MAX).prop_map(|id| ColourTap::Undo { id }),
    ]
    .prop_map(Button::Colours)
}

/// The maker's own scale.
pub fn scale_taps() -> impl Strategy<Value = ScaleTap> {
    let tier = || any::<u8>().prop_map(TierId);
    let id = || 0..i64::MAX;
    prop_oneof![
        prop::sample::select(vec![
            ScaleTap::Open,
            ScaleTap::Home,
            ScaleTap::AskDefault,
            ScaleTap::AskQuestion,
            ScaleTap::UsualQuestion,
            ScaleTap::AskWhere,
        ]),
        tier().prop_map(|tier| ScaleTap::Tier { tier }),
        tier().prop_map(|tier| ScaleTap::Rename { tier }),
        (tier(), any::<u8>()).prop_map(|(tier, to)| ScaleTap::Move { tier, to }),
        tier().prop_map(|tier| ScaleTap::Remove { tier }),
        (tier(), tier()).prop_map(|(tier, days_get)| ScaleTap::RemoveTo { tier, days_get }),
        tier().prop_map(|tier| ScaleTap::Default { tier }),
        prop::option::of(tier()).prop_map(|tier| ScaleTap::Above { tier }),
        (id(), any::<u8>()).prop_map(|(draft, yarn)| ScaleTap::Yarn { draft, yarn: YarnId(yarn) }),
        id().prop_map(|draft| ScaleTap::AskYarn { draft }),
        (id(), any::<[u8; 3]>()).prop_map(|(draft, rgb)| ScaleTap::Colour { draft, rgb }),
        id().prop_map(|id| ScaleTap::Undo { id }),
    ]
}

pub fn people_taps() -> impl Strategy<Value = PeopleTap> {
    let person = || (0..i64::MAX).prop_map(PersonId);
    prop_oneof![
        Just(PeopleTap::List),
        Just(PeopleTap::Add),
        person().prop_map(|person| PeopleTap::Remove { person }),
        person().prop_map(|person| PeopleTap::PutBack { person }),
    ]
}

pub fn set_up_taps() -> impl Strategy<Value = SetUpTap> {
    prop_oneof![
        Just(SetUpTap::List),
        Just(SetUpTap::Open),
        Just(SetUpTap::Later),
        prop::sample::select(SetUpStep::ALL.to_vec()).prop_map(|step| SetUpTap::Go { step }),
    ]
}

/// A block on paper.
pub fn paper_buttons() -> impl Strategy<Value = Button> {
    prop_oneof![
        prop::sample::select(vec![PaperTap::Show,]),
        prop::sample::select(Paper::ALL.to_vec()).prop_map(PaperTap::Size),
        prop::sample::select(FirstRow::ALL.to_vec()).prop_map(PaperTap::FirstRow),
        any::<bool>().prop_map(PaperTap::LeftHanded),
    ]
    .prop_map(Button::Paper)
}
