//! The yarn colours of a book, each with a letter of its own, and the key that explains them.

use crate::blanket::{Book, Yarn, YarnId};

use super::super::list::Rgb;
use super::super::text::shows;

/// A yarn colour as it is drawn.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Ink {
    pub rgb: Rgb,
    /// Tells it apart where colours do not: on paper without colour, and for eyes that mix them.
    pub letter: char,
    /// The yarn's name, or its letter where the fonts cannot show the name.
    pub name: String,
}

/// A line of the key: an ink, and the tier it stands for. The joining colour may have none.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Key {
    pub ink: usize,
    pub tier: Option<String>,
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Inks {
    pub all: Vec<Ink>,
    /// Lowest tier first, then the joining colour.
    pub keys: Vec<Key>,
    pub joining: usize,
    /// Inks of worked rows that are in no line of the key: others came after them.
    pub earlier: Vec<usize>,
    ids: Vec<YarnId>,
}

impl Inks {
    /// Letters go from A at the lowest tier; the joining colour and yarns no tier uses come after.
    pub fn of(book: &Book) -> Inks {
        let of_tiers = book.scale().tiers().iter().map(|tier| tier.yarn);
        let others = book.yarns().iter().map(|yarn| yarn.id);
        let mut ids: Vec<YarnId> = Vec::new();
        for id in of_tiers.chain([book.joining()]).chain(others) {
            if !ids.contains(&id) {
                ids.push(id);
            }
        }
        let yarn = |id: &YarnId| book.yarns().iter().find(|yarn| yarn.id == *id);
        let all: Vec<Ink> =
            ids.iter().zip('A'..).map(|(id, letter)| ink(yarn(id), letter)).collect();
        let index = |id: YarnId| ids.iter().position(|known| *known == id).unwrap_or(0);
        let tier_key = |tier: &crate::blanket::Tier| {
            let ink = index(tier.yarn);
            Key { ink, tier: Some(shown(tier.label.as_str(), all[ink].letter)) }
        };
        let mut keys: Vec<Key> = book.scale().tiers().iter().map(tier_key).collect();
        keys.push(Key { ink: index(book.joining()), tier: None });
        let in_key = |ink: usize| keys.iter().any(|key: &Key| key.ink == ink);
        let earlier = (0..ids.len()).filter(|ink| !in_key(*ink) && book.rows_in(ids[*ink]) > 0);
        let earlier = earlier.collect();
        Inks { joining: index(book.joining()), earlier, keys, all, ids }
    }

    pub fn index(&self, yarn: YarnId) -> Option<usize> {
        self.ids.iter().position(|known| *known == yarn)
    }

    pub fn get(&self, index: usize) -> &Ink {
        &self.all[index]
    }
}

fn ink(yarn: Option<&Yarn>, letter: char) -> Ink {
    // Every yarn of a book is in it; the grey would show that one is not.
    let (rgb, name) = yarn.map_or(([128; 3], ""), |yarn| (yarn.rgb, yarn.name.as_str()));
    Ink { rgb, letter, name: shown(name, letter) }
}

/// A name the fonts can show; in other scripts the letter of its colour stands for it.
pub fn shown(name: &str, letter: char) -> String {
    if shows(name) { name.to_owned() } else { letter.to_string() }
}
