//! `/blanket`: the blanket so far as a picture; `/blanket cloth` with the shape of stitches,
//! `/blanket big` as two files.

use super::{Asked, set_up_first};
use crate::chat::enclosed::{BlanketLook, Enclosed};
use crate::chat::outcome::{Outcome, Reply};
use crate::chat::say::Say;

pub fn run(asked: &Asked<'_>) -> Outcome {
    if asked.maker.book.is_none() {
        return set_up_first(asked);
    }
    let word = asked.argument.to_lowercase();
    let is = |words: &[&str]| words.contains(&word.as_str());
    let looks: &[BlanketLook] = match () {
        () if word.is_empty() => &[BlanketLook::Flat],
        () if is(asked.lexicon.cloth) => &[BlanketLook::Cloth],
        () if is(asked.lexicon.big) => &[BlanketLook::Big, BlanketLook::Lines],
        () => {
            let typed = asked.argument.to_owned();
            return asked.maker.quiet().say(Reply::new(Say::UnknownLook { typed }));
        }
    };
    looks.iter().fold(asked.maker.quiet(), |outcome, look| {
        let enclosed = Enclosed::Blanket(*look);
        outcome.say(Reply::new(Say::File(enclosed)).with(enclosed))
    })
}
