//! The colours of the yarns in English: what is close for whom, and what would help.

use super::dates::{isolated, quoted};
use super::{Span, Words, name, plain};
use crate::blanket::colours::{Rgb, View, written_hex};
use crate::blanket::{LABEL_CHARS_MAX, Label, LabelFault};
use crate::chat::colours::{
    AnotherSaid, Check, ColourCaption, ColourSaid, ColoursRefusal, ColoursSaid, Done, OrderSaid,
    OrdersSaid, PalettesSaid, Sight, SightSaid,
};

pub fn say(said: &ColoursSaid) -> Words {
    match said {
        ColoursSaid::Check(check) => self::check(check),
        ColoursSaid::All => lines!["Which colour? Tap it to see or change it."],
        ColoursSaid::One(colour) => one(colour),
        ColoursSaid::AskName { yarn } => lines![
            format!("What is the new name of {}?", name(yarn)),
            format!("Type a name of at most {LABEL_CHARS_MAX} characters."),
        ],
        ColoursSaid::AskAnother { yarn } => lines![
            format!("Rows worked in {0} stay in {0}. What is the other yarn called?", name(yarn)),
            format!("Type a name of at most {LABEL_CHARS_MAX} characters."),
        ],
        ColoursSaid::AskAnotherCode { yarn } => lines![
            format!("What colour is {}?", name(yarn)),
            "Type its colour code, like #AC944B. A drawing program shows it.",
            "Nothing is changed yet.",
        ],
        ColoursSaid::Another(said) => another(said),
        ColoursSaid::Palettes(said) => palettes(said),
        ColoursSaid::Orders(said) => orders(said),
    }
}

pub fn refused(refusal: &ColoursRefusal) -> Words {
    match refusal {
        ColoursRefusal::Code { typed } => lines![
            format!("I do not know the colour code {}. Nothing was changed.", quoted(typed)),
            "A code has six digits or letters from A to F, like #AC944B.",
        ],
        ColoursRefusal::Name(LabelFault::Empty) => {
            lines!["I see no text in this name. Nothing was changed.", "Type a name, like Kelp."]
        }
        ColoursRefusal::Name(LabelFault::TooLong) => {
            lines![format!("A name has at most {LABEL_CHARS_MAX} characters. Nothing was changed.")]
        }
        ColoursRefusal::Name(LabelFault::Unprintable) => lines![
            "This name has a character that is not shown. Nothing was changed.",
            "Type a name, like Kelp.",
        ],
        ColoursRefusal::SameName { name: twin } => lines![
            format!("Another colour is called {}. Nothing was changed.", name(twin)),
            "Type another name.",
        ],
        ColoursRefusal::NameTaken { name: twin } => lines![
            format!("Another colour is called {} by now. Nothing was changed.", name(twin)),
            "Give that one another name first, then tap Undo.",
        ],
        ColoursRefusal::NoLetters => {
            lines!["This name has no letter. Nothing was changed.", "Type a name, like Kelp."]
        }
        ColoursRefusal::Full { most } => {
            lines![format!("A blanket has at most {most} yarns. Nothing was changed.")]
        }
        ColoursRefusal::Used { name: yarn } => lines![format!(
            "{} stays: a worked row, yarn on hand or a tier has it by now. Nothing was changed.",
            name(yarn)
        )],
    }
}

pub fn caption(caption: ColourCaption) -> String {
    let plain = match caption {
        ColourCaption::Check => "Colours",
        ColourCaption::All => "See or change a colour",
        ColourCaption::Together(count) => return format!("Change these {count} together"),
        ColourCaption::Darker(rgb) => return format!("Darker: {}", written_hex(rgb)),
        ColourCaption::Lighter(rgb) => return format!("Lighter: {}", written_hex(rgb)),
        ColourCaption::Name => "Another name",
        ColourCaption::Another => "Another yarn from now on",
        ColourCaption::UseAnother => "Use it from now on",
        ColourCaption::Palettes => "Ready palettes",
        ColourCaption::Orders => "Other orders",
        ColourCaption::ByLightness => "Order by lightness",
        ColourCaption::Smooth => "Order in small steps",
        ColourCaption::Card => "Colour card",
        ColourCaption::ImaginedYear => "Imagined year",
    };
    plain.to_owned()
}

fn heading(text: &str) -> Words {
    Words { lines: vec![vec![Span::Bold(text.to_owned())]] }
}

fn check(check: &Check) -> Words {
    let mut lines = check.done.as_ref().map(done).unwrap_or_default();
    lines.extend(check.shared.iter().map(|(one, other, yarn)| {
        let (one, other, yarn) = (name(one), name(other), name(yarn));
        format!("{one} and {other} are both {yarn}: their rows look the same.")
    }));
    lines.extend(check.sights.iter().map(sight));
    let any = check.sights.iter().any(|said| !said.same.is_empty() || !said.close.is_empty());
    if any {
        lines.push("Close: you can tell them apart side by side in bright light.".to_owned());
    }
    lines.extend(to_change(check));
    if any {
        lines.push(
            "A code on a screen is not the yarn. Lay two strands together, and look at a \
             black-and-white photo of them."
                .to_owned(),
        );
    }
    heading("Colours").and(plain(lines))
}

fn to_change(check: &Check) -> Vec<String> {
    if check.change.is_empty() {
        return Vec::new();
    }
    let mut lines = vec![
        "Any two tiers can be neighbouring rows. So giving these yarns to other tiers does not \
         cure a pair that looks alike."
            .to_owned(),
        match check.change.as_slice() {
            [one] => format!(
                "For these four kinds of sight it is enough to change {}. Photos and dim light are \
                 not counted. Tap it to see to what.",
                name(one)
            ),
            several => format!(
                "For these four kinds of sight it is enough to change these {}: {}. Photos and dim \
                 light are not counted. Tap one to see to what.",
                several.len(),
                names(several)
            ),
        },
    ];
    if !check.together.is_empty() {
        let to: Vec<String> = check.together.iter().map(coloured).collect();
        lines.push(format!("Changed together: {}.", to.join(", ")));
    }
    lines.push("You can keep them too.".to_owned());
    lines
}

fn coloured((yarn, rgb): &(Label, Rgb)) -> String {
    format!("{} {}", name(yarn), written_hex(*rgb))
}

fn sight(said: &SightSaid) -> String {
    let who = match said.sight {
        Sight::Eye(View::Normal) => "Normal sight",
        Sight::Eye(View::Protan) => {
            "For someone who strongly mixes up red and green and sees red as dark (protan)"
        }
        Sight::Eye(View::Deutan) => "For someone who strongly mixes up red and green (deutan)",
        Sight::Eye(View::Tritan) => "For someone who strongly mixes up blue and green (tritan)",
        Sight::GreyPhoto => "In a black-and-white photo",
        Sight::DimLight => "In very dim light, as a guess",
    };
    let pairs = |pairs: &[(Label, Label)]| {
        let pair = |(one, other): &(Label, Label)| format!("{} and {}", name(one), name(other));
        pairs.iter().map(pair).collect::<Vec<_>>().join(", ")
    };
    let mut parts = Vec::new();
    if !said.same.is_empty() {
        parts.push(format!("{} look the same", pairs(&said.same)));
    }
    if !said.close.is_empty() {
        parts.push(format!("{} are close", pairs(&said.close)));
    }
    match said.more {
        0 => {}
        1 => parts.push("1 more pair is like that".to_owned()),
        more => parts.push(format!("{more} more pairs are like that")),
    }
    match parts.is_empty() {
        true => format!("{who}: each pair can be told apart."),
        false => format!("{who}: {}.", parts.join("; ")),
    }
}

fn done(done: &Done) -> Vec<String> {
    match done {
        Done::Recoloured { to, rows } => {
            let mut lines: Vec<String> = to
                .iter()
                .map(|(yarn, rgb)| format!("{} is {} now.", name(yarn), written_hex(*rgb)))
                .collect();
            lines.extend(stay(*rows, "in the new colour"));
            lines
        }
        Done::Named { before, now, rows } => {
            let mut lines = vec![format!("{} is called {} now.", name(before), name(now))];
            lines.extend(stay(*rows, "under the new name"));
            lines
        }
        Done::Another { before, now, rows } => vec![
            format!("From now on {} is worked where {} was.", name(now), name(before)),
            format!("{} in {}.", rows_stay(*rows), name(before)),
            format!("To enter balls of {}, type /yarn.", name(now)),
        ],
        Done::Palette { name, rows } => {
            let mut lines = vec![format!("Your yarns are those of {} now.", isolated(name))];
            lines.extend(stay(*rows, "in the new colour"));
            lines
        }
        Done::Ordered { differing } => {
            let mut lines = vec!["The tiers have other yarns now.".to_owned()];
            lines.extend(match differing {
                0 => None,
                1 => Some(
                    "1 worked row is in another yarn than its tier. It stays worked.".to_owned(),
                ),
                rows => Some(format!(
                    "{rows} worked rows are in another yarn than their tier. They stay worked."
                )),
            });
            lines
        }
        Done::Undone => vec!["The colours are as they were before.".to_owned()],
    }
}

/// What becomes of rows worked in yarns whose colours or names change, and the other way.
fn stay(rows: u32, how: &str) -> Vec<String> {
    let stay = match rows {
        0 => return Vec::new(),
        1 => format!("1 worked row is shown {how} too. It stays worked."),
        rows => format!("{rows} worked rows are shown {how} too. They stay worked."),
    };
    let other = "If you go on in another yarn instead, tap Undo. Then open the colour: where its \
        tier goes on, there is Another yarn from now on.";
    vec![stay, other.to_owned()]
}

/// "12 rows stay"
fn rows_stay(rows: u32) -> String {
    match rows {
        1 => "1 row stays".to_owned(),
        rows => format!("{rows} rows stay"),
    }
}

fn another(said: &AnotherSaid) -> Words {
    let (before, now) = (name(&said.before), name(&said.now));
    let mut lines = Vec::new();
    match said.tiers.as_slice() {
        [] => {}
        [tier] => lines.push(format!("From now on {} is worked in {now}.", name(tier))),
        tiers => lines.push(format!("From now on these are worked in {now}: {}.", names(tiers))),
    }
    if said.joining {
        lines.push(format!("From now on {now} is the joining colour."));
    }
    lines.push(format!("{} in {before}.", rows_stay(said.worked)));
    lines.push(match said.known {
        0 => format!("No row of {before} waits to be worked."),
        1 => format!("1 row of {before} waits to be worked. It gets {now}."),
        rows => format!("{rows} rows of {before} wait to be worked. They get {now}."),
    });
    lines.push(match said.near.as_slice() {
        [] => format!("{now} {APART}"),
        near => format!("For some eyes {now} is close to {}.", names(near)),
    });
    lines.push("Nothing is changed yet.".to_owned());
    heading(&format!("{now} {}", written_hex(said.rgb))).and(plain(lines))
}

/// What the check of the pairs counts: bright light, in the four views of eyes.
const APART: &str =
    "can be told apart from each other colour in bright light, for all four kinds of sight.";

fn one(said: &ColourSaid) -> Words {
    let mut lines = vec![format!("Code: {}.", written_hex(said.rgb))];
    match said.rows {
        0 => {}
        1 => lines.push("1 row is worked in it.".to_owned()),
        rows => lines.push(format!("{rows} rows are worked in it.")),
    }
    match said.near.as_slice() {
        [] => lines.push(format!("It {APART}")),
        near => {
            lines.push(format!("For some eyes it is close to {}.", names(near)));
            lines.push(match said.shade {
                true => format!("A shade below {APART}"),
                false => "No darker or lighter shade of it can be told apart from each other \
                    colour. Another hue can be."
                    .to_owned(),
            });
        }
    }
    lines.push("To change it, type a code, like #AC944B.".to_owned());
    if said.another {
        lines.push("Then its worked rows are shown in that code too.".to_owned());
        lines.push("If it is used up, tap Another yarn from now on.".to_owned());
    }
    heading(&name(&said.name)).and(plain(lines))
}

fn palettes(said: &PalettesSaid) -> Words {
    let mut lines = vec![
        "In each, every pair can be told apart in bright light, for all four kinds of sight. Lowest \
         tier first:"
            .to_owned(),
    ];
    lines.extend(said.palettes.iter().map(|(palette, tiers, joining)| {
        format!("{palette}: {}; joining colour {joining}.", tiers.join(", "))
    }));
    lines.push("A palette gives each yarn another name and code.".to_owned());
    lines.push("Worked rows and yarn on hand stay with their yarn, under its new name.".to_owned());
    heading("Ready palettes").and(plain(lines))
}

fn orders(said: &OrdersSaid) -> Words {
    let mut lines = vec!["The same yarns, lowest tier first.".to_owned()];
    lines.push(match &said.by_lightness {
        Some(order) => format!("By lightness: {}.", names(&order.yarns)),
        None => "By lightness: your tiers are in this order.".to_owned(),
    });
    lines.push(match said.smallest_step >= 5.0 {
        true => "Then each step can be seen in a black-and-white photo.".to_owned(),
        false => "In a black-and-white photo, two neighbours in it look the same.".to_owned(),
    });
    lines.extend(differing(said.by_lightness.as_ref()));
    lines.push(match &said.smooth {
        Some(order) => format!("In small steps: {}.", names(&order.yarns)),
        None => "In small steps: your tiers are in this order.".to_owned(),
    });
    lines.push("Then colours that look alike are neighbouring tiers.".to_owned());
    lines.extend(differing(said.smooth.as_ref()));
    heading("Other orders").and(plain(lines)).and(lines![
        "No order cures a pair that looks alike.",
        "Worked rows stay worked. Nothing is pulled back."
    ])
}

fn differing(order: Option<&OrderSaid>) -> Option<String> {
    match order?.differing {
        0 => None,
        1 => Some("1 worked row is then in another yarn than its tier.".to_owned()),
        rows => Some(format!("{rows} worked rows are then in another yarn than their tier.")),
    }
}

fn names(labels: &[Label]) -> String {
    labels.iter().map(name).collect::<Vec<_>>().join(", ")
}
