//! A block on paper: the size of the sheet, where row 1 stands, and which hand the arrows are for.
//! One screen, edited in place; each tap is taken back by tapping what was before.

use super::Maker;
use super::button::{Button, PaperTap};
use super::caption::Caption;
use super::event::MessageId;
use super::outcome::{Key, Outcome, Place, Reply, Slot};
use super::say::Say;
use super::talk::Step;
use crate::blanket::{Book, Change, Fabric, FirstRow, OnPaper, Paper};

/// The button that leads here.
pub fn key() -> Key {
    tap_key(PaperTap::Show)
}

pub fn tapped(maker: &Maker, book: &Book, tap: PaperTap, tapped: MessageId) -> Outcome {
    let set = |on_paper: OnPaper| Some(Change::PaperSet(on_paper));
    let change = match tap {
        PaperTap::Show => None,
        PaperTap::Size(paper) => set(OnPaper { paper, ..*book.on_paper() }),
        PaperTap::FirstRow(first_row) => set(OnPaper { first_row, ..*book.on_paper() }),
        PaperTap::LeftHanded(left_handed) => {
            let fabric = Box::new(Fabric { left_handed, ..*book.fabric() });
            Some(Change::Shaped { pieces: book.plan().pieces(), fabric })
        }
    };
    let mut after = book.clone();
    change.iter().for_each(|change| after.apply(change));
    let place = Place::Change { slot: Some(Slot::Settings), tapped: Some(tapped) };
    let outcome = maker.at(Step::Idle).say(screen(&after).at(place));
    // A repeated tap changes nothing, and says how it is.
    change.filter(|_| after != *book).into_iter().fold(outcome, Outcome::change)
}

/// How it is now, and a button for everything that it is not.
fn screen(book: &Book) -> Reply {
    let OnPaper { paper, first_row } = *book.on_paper();
    let left_handed = book.fabric().left_handed;
    let papers = Paper::ALL.into_iter().filter(|other| *other != paper);
    let ends = FirstRow::ALL.into_iter().filter(|other| *other != first_row);
    Reply::new(Say::Paper { on_paper: OnPaper { paper, first_row }, left_handed })
        .keys(papers.map(|paper| tap_key(PaperTap::Size(paper))))
        .keys(ends.map(|first_row| tap_key(PaperTap::FirstRow(first_row))))
        .keys([tap_key(PaperTap::LeftHanded(!left_handed))])
        .key(Caption::Back, Button::Settings)
}

fn tap_key(tap: PaperTap) -> Key {
    Key { caption: Caption::Paper(tap), button: Button::Paper(tap) }
}
