//! `/today`: answer or change a day. `/today 14 Jan` names another.

use super::{Asked, set_up_first};
use crate::chat::evening;
use crate::chat::many;
use crate::chat::outcome::{Outcome, Reply};
use crate::chat::say::Say;
use crate::chat::typed::{self, TypedDate};

pub fn run(asked: &Asked<'_>) -> Outcome {
    let Asked { maker, argument, now, lexicon } = asked;
    let Some(book) = &maker.book else { return set_up_first(asked) };
    let today = book.hours().day_at(*now);
    let refuse = |say| Outcome::quiet(&maker.talk).say(Reply::new(say));
    if argument.is_empty() {
        return evening::show(maker, book, today, *now);
    }
    let typed = (*argument).to_owned();
    match typed::date(argument, today, Some(book.plan()), lexicon) {
        TypedDate::Day(day) => evening::show(maker, book, day, *now),
        TypedDate::NoSuchDay => refuse(Say::NoSuchDay { typed }),
        TypedDate::NotADate => match many::read(book, argument, today, lexicon) {
            Some(Ok(days)) if days.len() == 1 => evening::answer(maker, book, days[0], *now, None),
            Some(days) => many::show_back(maker, book, days, *now),
            None => refuse(Say::UnknownDay { typed }),
        },
    }
}
