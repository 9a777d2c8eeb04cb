//! Questions that stand in the chat when a book comes back get the tiers of that book: else a tap
//! would keep another tier than the one that is written on the button.

use chrono::{DateTime, Utc};

use super::Placed;
use crate::blanket::{Book, DayState, TierId};
use crate::chat::outcome::{Place, Reply, Slot};
use crate::chat::{Maker, evening};

/// Of so many days, the newest that are open, a question may stand where somebody finds it.
const DAYS_MAX: usize = 7;

/// What those questions become; `after` is the maker with the book in its place.
pub fn standing(maker: &Maker, after: &Maker, placed: &Placed, now: DateTime<Utc>) -> Vec<Reply> {
    let first_day = placed.book.plan().first_day();
    let replaced = placed.replaces.map(|before| before.book.years.first_day);
    let before = all(maker).find(|book| Some(book.plan().first_day()) == replaced);
    let book = all(after).find(|book| book.plan().first_day() == first_day);
    let Some((before, book)) = before.zip(book) else { return Vec::new() };
    if tiers(before).eq(tiers(book)) {
        return Vec::new();
    }
    let today = book.hours().day_at(now);
    let asked = before.asked().map(|(day, _)| day);
    let open = before.open_days(today.succ_opt().unwrap_or(today)).rev();
    let asked = open.filter(|day| *day == today || Some(*day) <= asked).take(DAYS_MAX);
    let here = asked.filter(|day| match book.day(*day, today) {
        DayState::Open | DayState::Kept(_) => true,
        DayState::ToCome | DayState::Outside => false,
    });
    let replies = here.flat_map(|day| {
        let shown = evening::show(after, book, day, now).replies.into_iter();
        shown.map(move |reply| reply.at(Place::Update(Slot::Question(day))))
    });
    replies.collect()
}

fn all(maker: &Maker) -> impl Iterator<Item = &Book> {
    maker.others.iter().chain(&maker.book)
}

fn tiers(book: &Book) -> impl Iterator<Item = (TierId, &str)> {
    book.scale().tiers().iter().map(|tier| (tier.id, tier.label.as_str()))
}
