//! Everything said about a book that is brought back from a file.

use duskrow::chat::blankets::Years;
use duskrow::chat::bring_back::{BookSummary, BringBackRefusal, BringBackSaid, Replaced, ShownBy};
use duskrow::chat::event::FileFault;
use duskrow::chat::say::Say;

use super::date;

pub fn every_say() -> Vec<Say> {
    let years = Years { first_day: date(2026, 3, 1), last_day: date(2027, 2, 28) };
    let held = |days, rows| BookSummary { years, days, rows };
    let refused = BringBackSaid::Refused;
    let offer = |differing, in_hand| {
        let replaced = Replaced { book: held(1, 1), differing, in_hand };
        BringBackSaid::Offer { file: held(365, 396), replaces: Some(replaced) }
    };
    let done = |replaced, shown_by| {
        let paused = replaced;
        BringBackSaid::Done { file: held(12, 1), replaced, shown_by, paused }
    };
    let all = [
        BringBackSaid::Offer { file: held(0, 0), replaces: None },
        offer(0, true),
        offer(1, false),
        offer(365, true),
        done(true, ShownBy::All),
        done(false, ShownBy::Days),
        done(true, ShownBy::Rows),
        done(false, ShownBy::Nothing),
        BringBackSaid::Left,
        refused(BringBackRefusal::File(FileFault::TooLarge)),
        refused(BringBackRefusal::File(FileFault::Unreadable)),
        refused(BringBackRefusal::File(FileFault::TooNew)),
        refused(BringBackRefusal::File(FileFault::Impossible)),
        refused(BringBackRefusal::File(FileFault::NotFetched)),
        refused(BringBackRefusal::File(FileFault::OfferedBefore)),
        refused(BringBackRefusal::SharesDays),
    ];
    all.map(Say::BringBack).to_vec()
}
