//! How the maker says how the blanket is made: every screen, every choice, and what is never so.

mod blocks;
mod nonsense;
mod size;
mod stitch;
mod whatever;
mod worked;

use duskrow::blanket::size::{Basis, Swatch};
use duskrow::blanket::stitch::{Craft, Stitch, Width};
use duskrow::blanket::{Carry, Cut, Fillers, Side, Terms};
use duskrow::chat::button::{Act, Choice, Screen, Shown};
use proptest::prelude::*;
use proptest::sample::select;

use super::samples::making::STITCHES;
use super::talker::Talker;

/// Thursday at noon, two weeks after the blanket began.
fn maren() -> Talker {
    Talker::with_blanket("2027-01-14 12:00", "2027-01-01").without_nudges()
}

/// A blanket from that day on.
fn from(first_day: &str) -> Talker {
    Talker::with_blanket("2027-01-14 12:00", first_day).without_nudges()
}

/// The first so many days are answered in turn, and their rows crossed off.
fn worked(days: u16) -> Talker {
    let mut maren = maren();
    for day in 1..=days {
        maren
            .types(&format!("{day} Jan {}", ["Smooth", "Rough", "Ordinary"][usize::from(day) % 3]));
    }
    maren.does(&[&format!("/rows {days}"), "[Worked]"]);
    maren
}

/// Each of the acts changes something, and *Undo* leads back to the book as it was.
fn undone(maren: &mut Talker, acts: &[&str]) -> String {
    let before = maren.book().clone();
    let said = maren.does(acts);
    assert_ne!(*maren.book(), before, "{acts:?}: {said}");
    assert_eq!(maren.labels()[0], "Undo", "{acts:?}");
    let mut other = maren.clone();
    other.taps("Undo");
    assert_eq!(*other.book(), before, "{acts:?}");
    said
}

/// The longest token of all.
pub fn longest_choice() -> Choice {
    let swatch = Swatch::new(80.0, 120.0, Basis::FourInches).unwrap();
    let stitch = Stitch::Own { multiple: u16::MAX, offset: u16::MAX, craft: Craft::Knit };
    let (width, swatch) = (Some(Width(u16::MAX)), Some(swatch));
    Choice::StitchAsBefore { stitch, width, turned: true, swatch }
}

pub fn acts() -> impl Strategy<Value = Act> {
    let shown = (any::<u16>(), any::<u16>()).prop_map(|(rows, sum)| Shown { rows, sum });
    prop_oneof![
        2 => select(Screen::ALL.to_vec()).prop_map(Act::Show),
        2 => choices().prop_map(Act::Choose),
        1 => (choices(), shown).prop_map(|(choice, shown)| Act::Change { choice, shown }),
    ]
}

fn choices() -> impl Strategy<Value = Choice> {
    let number = || prop_oneof![0..130_u16, any::<u16>()];
    let cut = || {
        prop_oneof![
            select(vec![Cut::Months, Cut::FromStart, Cut::Strip]),
            number().prop_map(Cut::Every)
        ]
    };
    let own = (number(), number(), any::<bool>()).prop_map(|(multiple, offset, knit)| {
        let craft = if knit { Craft::Knit } else { Craft::Crochet };
        Stitch::Own { multiple, offset, craft }
    });
    let own = own.boxed();
    let stitch = move || prop_oneof![4 => select(STITCHES.to_vec()), 1 => own.clone()];
    let width = || prop::option::of(number().prop_map(Width));
    let swatch = || {
        let counts = (20..=800_u16, 20..=1200_u16, any::<bool>());
        prop::option::of(counts.prop_map(|(stitches, rows, cm)| {
            let basis = if cm { Basis::TenCentimetres } else { Basis::FourInches };
            Swatch::from_tenths(stitches, rows, basis).unwrap()
        }))
    };
    let fillers =
        select(vec![Fillers::After, Fillers::FirstAndLast, Fillers::Before, Fillers::Balanced]);
    prop_oneof![
        3 => cut().prop_map(Choice::Cut),
        1 => (cut(), number(), prop::option::of(number())).prop_map(|(cut, rows, columns)| Choice::CutAsBefore { cut, rows, columns }),
        2 => number().prop_map(Choice::Rows),
        1 => fillers.prop_map(Choice::Fillers),
        1 => any::<bool>().prop_map(Choice::ShortEnds),
        3 => (stitch(), any::<bool>()).prop_map(|(stitch, turn)| Choice::Stitch { stitch, turn }),
        1 => (stitch(), width(), any::<bool>(), swatch()).prop_map(
            |(stitch, width, turned, swatch)| Choice::StitchAsBefore {
                stitch,
                width,
                turned,
                swatch
            }
        ),
        2 => any::<bool>().prop_map(Choice::Turned),
        1 => any::<bool>()
            .prop_map(|right| Choice::FirstSide(if right { Side::Right } else { Side::Wrong })),
        1 => select(vec![Carry::Never, Carry::Three, Carry::Five]).prop_map(Choice::Carry),
        1 => select(vec![Terms::Us, Terms::Uk]).prop_map(Choice::Terms),
        1 => any::<bool>().prop_map(Choice::LeftHanded),
        2 => width().prop_map(Choice::Width),
        1 => swatch().prop_map(Choice::Swatch),
        1 => prop::option::of(number()).prop_map(Choice::Columns),
        1 => number().prop_map(Choice::Border),
    ]
}
