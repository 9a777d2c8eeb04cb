//! `/yarn`: what is on hand of each colour. `/yarn Shingle 83` weighs, `/yarn Shingle +50` adds.

use super::{Asked, set_up_first};
use crate::chat::outcome::Outcome;
use crate::chat::yarn;

pub fn run(asked: &Asked<'_>) -> Outcome {
    let Asked { maker, argument, now, lexicon } = asked;
    let Some(book) = &maker.book else { return set_up_first(asked) };
    if argument.is_empty() {
        return maker.quiet().say(yarn::list(book));
    }
    match yarn::read(book, argument, lexicon) {
        Some(read) => yarn::entered(maker, book, read, *now),
        None => maker.quiet().say(yarn::unknown(book, argument)),
    }
}
