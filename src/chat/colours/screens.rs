//! The screens about colours, and the buttons of each.

use super::said::{ColourCaption, ColourSaid, ColoursSaid, Done, OrdersSaid, PalettesSaid};
use super::{another, facts};
use crate::blanket::colours;
use crate::blanket::{Book, Yarn};
use crate::chat::button::{Button, ColourTap};
use crate::chat::caption::Caption;
use crate::chat::drawn;
use crate::chat::enclosed::Drawn;
use crate::chat::lexicon::Palette;
use crate::chat::outcome::{Key, Reply};
use crate::chat::say::Say;

pub fn key(caption: ColourCaption, tap: ColourTap) -> Key {
    Key { caption: Caption::Colours(caption), button: Button::Colours(tap) }
}

pub fn check(book: &Book, done: Option<Done>) -> Reply {
    let yarns = facts::yarns(book);
    let rgbs = facts::rgbs(&yarns);
    let change = colours::to_change(&rgbs);
    let names: Vec<Key> = change.iter().map(|index| open(yarns[*index])).collect();
    let together: Vec<_> =
        facts::together(&rgbs).iter().map(|(index, rgb)| (yarns[*index].id, *rgb)).collect();
    let all_at_once = (2..=ColourTap::RECOLOURED_MAX)
        .contains(&together.len())
        .then_some(ColourCaption::Together(together.len()));
    let reply = said(ColoursSaid::Check(Box::new(facts::check(book, done))));
    let reply = two_a_line(reply, &names);
    let reply =
        reply.keys(all_at_once.map(|caption| key(caption, ColourTap::Recolour { to: together })));
    reply
        .keys([key(ColourCaption::All, ColourTap::All)])
        .keys([
            key(ColourCaption::Palettes, ColourTap::Palettes),
            key(ColourCaption::Orders, ColourTap::Orders),
        ])
        .keys([
            drawn::key(Caption::Colours(ColourCaption::Card), Drawn::Card),
            drawn::key(Caption::Colours(ColourCaption::ImaginedYear), Drawn::Imagined),
        ])
        .key(Caption::Back, Button::Settings)
}

pub fn all(book: &Book) -> Reply {
    let keys: Vec<Key> = facts::with_earlier(book).into_iter().map(open).collect();
    two_a_line(said(ColoursSaid::All), &keys).keys([back(ColourTap::Check)])
}

pub fn one(book: &Book, yarn: &Yarn) -> Reply {
    let facts = facts::one(book, yarn);
    let mut yarns = facts::yarns(book);
    if !yarns.contains(&yarn) {
        yarns.push(yarn);
    }
    let index = yarns.iter().position(|other| other.id == yarn.id);
    let index = index.filter(|_| !facts.near.is_empty());
    let shades = index.map(|index| colours::shades(&facts::rgbs(&yarns), index));
    let shades = shades.unwrap_or_default();
    let to = |rgb| ColourTap::Recolour { to: vec![(yarn.id, rgb)] };
    let darker = shades.darker.map(|rgb| key(ColourCaption::Darker(rgb), to(rgb)));
    let lighter = shades.lighter.map(|rgb| key(ColourCaption::Lighter(rgb), to(rgb)));
    let shade = darker.is_some() || lighter.is_some();
    let another = another::may_follow(book, yarn.id);
    said(ColoursSaid::One(ColourSaid { shade, another, ..facts }))
        .keys(darker)
        .keys(lighter)
        .keys([key(ColourCaption::Name, ColourTap::Name { yarn: yarn.id })])
        .keys(another.then_some(key(ColourCaption::Another, ColourTap::Another { yarn: yarn.id })))
        .keys([back(ColourTap::Check)])
}

pub fn ask_name(yarn: &Yarn) -> Reply {
    let asked = said(ColoursSaid::AskName { yarn: yarn.name.clone() });
    asked.keys([back(ColourTap::One { yarn: yarn.id })])
}

pub fn palettes(book: &Book, palettes: &[Palette]) -> Reply {
    let count = facts::tier_yarns(book);
    let names = |palette: &Palette| {
        let tiers = palette.of_tiers(count);
        let tiers = tiers.into_iter().map(|(name, _)| name.to_owned()).collect();
        (palette.name.to_owned(), tiers, palette.joining.0.to_owned())
    };
    let listed = PalettesSaid { palettes: palettes.iter().map(names).collect() };
    let reply = said(ColoursSaid::Palettes(listed));
    let reply = (0..).zip(palettes).fold(reply, |reply, (number, palette)| {
        let button = Button::Colours(ColourTap::Palette { number });
        reply.key(Caption::Name(palette.name.to_owned()), button)
    });
    reply.keys([back(ColourTap::Check)])
}

pub fn orders(book: &Book) -> Reply {
    let (by_lightness, smallest_step) = facts::by_lightness(book);
    let smooth = facts::smooth(book);
    let listed = OrdersSaid {
        by_lightness: facts::order(book, &by_lightness),
        smallest_step,
        smooth: facts::order(book, &smooth),
    };
    let take = |caption, yarns| key(caption, ColourTap::Order { yarns });
    let lines = [
        listed.by_lightness.is_some().then(|| take(ColourCaption::ByLightness, by_lightness)),
        listed.smooth.is_some().then(|| take(ColourCaption::Smooth, smooth)),
    ];
    let reply = said(ColoursSaid::Orders(listed));
    lines.into_iter().fold(reply, Reply::keys).keys([back(ColourTap::Check)])
}

pub fn said(said: ColoursSaid) -> Reply {
    Reply::new(Say::Colours(said))
}

fn open(yarn: &Yarn) -> Key {
    let button = Button::Colours(ColourTap::One { yarn: yarn.id });
    Key { caption: Caption::Name(yarn.name.to_string()), button }
}

fn two_a_line(reply: Reply, keys: &[Key]) -> Reply {
    keys.chunks(2).fold(reply, |reply, line| reply.keys(line.to_vec()))
}

pub fn back(tap: ColourTap) -> Key {
    Key { caption: Caption::Back, button: Button::Colours(tap) }
}
