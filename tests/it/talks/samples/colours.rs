//! Samples about the colours of the yarns, with the longest lists there are.

use duskrow::blanket::colours::View;
use duskrow::blanket::{Label, LabelFault};
use duskrow::chat::caption::Caption;
use duskrow::chat::colours::{
    AnotherSaid, Check, ColourCaption, ColourSaid, ColoursRefusal, ColoursSaid, Done, OrderSaid,
    OrdersSaid, PalettesSaid, Sight, SightSaid,
};
use duskrow::chat::say::Say;
use duskrow::wording::en;

use super::label;

const RGB: [u8; 3] = [0xCC, 0xFE, 0x92];

pub fn unread(typed: String) -> Say {
    Say::ColoursRefused(ColoursRefusal::Code { typed })
}

pub fn every_say() -> Vec<Say> {
    let refusals = [
        ColoursRefusal::Code { typed: "red".to_owned() },
        ColoursRefusal::Name(LabelFault::Empty),
        ColoursRefusal::Name(LabelFault::TooLong),
        ColoursRefusal::Name(LabelFault::Unprintable),
        ColoursRefusal::SameName { name: label("Kelp") },
        ColoursRefusal::NameTaken { name: label("Kelp") },
        ColoursRefusal::NoLetters,
        ColoursRefusal::Full { most: 24 },
        ColoursRefusal::Used { name: label("Kelp") },
    ];
    let said = every_said().into_iter().map(Say::Colours);
    said.chain(refusals.map(Say::ColoursRefused)).collect()
}

fn every_said() -> Vec<ColoursSaid> {
    let (kelp, brick) = (label("Kelp"), label("Brick"));
    let mut all: Vec<ColoursSaid> =
        every_done().into_iter().map(|done| checked(check(Some(done), Vec::new()))).collect();
    let one = |rows, near: Vec<Label>, shade| {
        let another = rows > 1;
        ColoursSaid::One(ColourSaid { name: kelp.clone(), rgb: RGB, rows, near, shade, another })
    };
    let order = |differing| Some(OrderSaid { yarns: twelve(), differing });
    let orders = |by_lightness, smallest_step, smooth| {
        ColoursSaid::Orders(OrdersSaid { by_lightness, smallest_step, smooth })
    };
    let palette = |palette: &duskrow::chat::lexicon::Palette| {
        let tiers = palette.tiers.iter().map(|(name, _)| (*name).to_owned()).collect();
        (palette.name.to_owned(), tiers, palette.joining.0.to_owned())
    };
    all.extend([
        checked(check(None, vec![kelp.clone()])),
        checked(check(None, vec![kelp.clone(), brick.clone()])),
        ColoursSaid::All,
        one(0, Vec::new(), false),
        one(1, vec![brick.clone()], false),
        one(12, vec![brick.clone(), label("Shingle")], true),
        ColoursSaid::AskName { yarn: kelp.clone() },
        ColoursSaid::AskAnother { yarn: kelp.clone() },
        ColoursSaid::AskAnotherCode { yarn: kelp.clone() },
        ColoursSaid::Another(another(&[], 1, 0)),
        ColoursSaid::Another(another(&["A bit rough"], 0, 1)),
        ColoursSaid::Another(AnotherSaid {
            near: vec![brick.clone(), label("Shingle")],
            ..another(&["Rough", "A bit rough"], 12, 33)
        }),
        ColoursSaid::Palettes(PalettesSaid {
            palettes: en::LEXICON.palettes.iter().map(palette).collect(),
        }),
        orders(order(0), 5.0, order(1)),
        orders(order(33), 4.9, None),
        orders(None, 0.0, order(2)),
    ]);
    all
}

fn checked(check: Check) -> ColoursSaid {
    ColoursSaid::Check(Box::new(check))
}

fn another(tiers: &[&str], worked: u32, known: u32) -> AnotherSaid {
    AnotherSaid {
        before: label("Kelp"),
        now: label("Eelgrass"),
        rgb: RGB,
        tiers: tiers.iter().map(|tier| label(tier)).collect(),
        joining: tiers.len() != 1,
        worked,
        known,
        near: Vec::new(),
    }
}

fn every_done() -> Vec<Done> {
    let to = vec![(label("Kelp"), RGB), (label("Brick"), RGB)];
    vec![
        Done::Recoloured { to: to.clone(), rows: 0 },
        Done::Recoloured { to: to.clone(), rows: 1 },
        Done::Recoloured { to, rows: 12 },
        Done::Named { before: label("Kelp"), now: label("Eelgrass"), rows: 0 },
        Done::Named { before: label("Kelp"), now: label("Eelgrass"), rows: 1 },
        Done::Another { before: label("Kelp"), now: label("Eelgrass"), rows: 1 },
        Done::Another { before: label("Kelp"), now: label("Eelgrass"), rows: 12 },
        Done::Palette { name: "Shed".to_owned(), rows: 12 },
        Done::Ordered { differing: 0 },
        Done::Ordered { differing: 1 },
        Done::Ordered { differing: 12 },
        Done::Undone,
    ]
}

fn check(done: Option<Done>, change: Vec<Label>) -> Check {
    let sights = View::ALL.map(Sight::Eye).into_iter().chain([Sight::GreyPhoto, Sight::DimLight]);
    let pairs = |count: usize| vec![(label("Tarred Rope"), label("Harbour Blue")); count];
    let seen = |(index, sight): (usize, Sight)| SightSaid {
        sight,
        same: pairs(index % 3),
        close: pairs(index / 2),
        more: index,
    };
    let together = if change.len() > 1 {
        change.iter().map(|yarn| (yarn.clone(), RGB)).collect()
    } else {
        Vec::new()
    };
    let shared = vec![(label("Rough"), label("Smooth"), label("Kelp"))];
    Check { done, sights: sights.enumerate().map(seen).collect(), shared, change, together }
}

fn twelve() -> Vec<Label> {
    (1..=12).map(|number| label(&format!("Yarn of the tier {number}"))).collect()
}

pub fn every_caption() -> Vec<Caption> {
    [
        ColourCaption::Check,
        ColourCaption::All,
        ColourCaption::Together(4),
        ColourCaption::Darker(RGB),
        ColourCaption::Lighter(RGB),
        ColourCaption::Name,
        ColourCaption::Another,
        ColourCaption::UseAnother,
        ColourCaption::Palettes,
        ColourCaption::Orders,
        ColourCaption::ByLightness,
        ColourCaption::Smooth,
        ColourCaption::Card,
        ColourCaption::ImaginedYear,
    ]
    .map(Caption::Colours)
    .into()
}
