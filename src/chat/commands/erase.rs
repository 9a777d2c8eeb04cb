//! `/erase`: deletes everything kept about the maker, after a typed word.

use super::Asked;
use crate::chat::lexicon::Lexicon;
use crate::chat::outcome::{Outcome, Reply};
use crate::chat::say::Say;
use crate::chat::talk::{Step, Talk};
use crate::chat::{Maker, setup};

pub fn run(asked: &Asked<'_>) -> Outcome {
    asked.maker.at(Step::Erase).say(Reply::new(Say::AskErase))
}

/// The line typed after `/erase`. Only the exact word erases; anything else keeps everything.
pub fn confirm(maker: &Maker, text: &str, lexicon: &Lexicon) -> Outcome {
    if text.trim() == lexicon.erase {
        let erased = Outcome::quiet(&Talk::default()).say(Reply::new(Say::Erased));
        return Outcome { erases: true, ..erased };
    }
    kept(maker, false)
}

/// Nothing is erased. Without a blanket, set-up begins with the place once more.
pub(super) fn kept(maker: &Maker, cancelled: bool) -> Outcome {
    let said = Reply::new(Say::EraseNotConfirmed { cancelled });
    match maker.book {
        Some(_) => maker.at(Step::Idle).say(said),
        None => maker.at(Step::Place).say(said).say(setup::ask_place()),
    }
}
