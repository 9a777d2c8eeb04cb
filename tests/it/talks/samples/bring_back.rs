//! Everything said about a book that is brought back from a file.

use duskrow::chat::blankets::Years;
use duskrow::chat::bring_back::{BringBackRefusal, BringBackSaid, Held};
use duskrow::chat::event::FileFault;
use duskrow::chat::say::Say;

use super::date;

pub fn every_say() -> Vec<Say> {
    let years = Years { first_day: date(2026, 3, 1), last_day: date(2027, 2, 28) };
    let held = |days, rows| Held { years, days, rows };
    let refused = BringBackSaid::Refused;
    let all = [
        BringBackSaid::Offer { file: held(0, 0), replaces: None },
        BringBackSaid::Offer { file: held(365, 396), replaces: Some(held(1, 1)) },
        BringBackSaid::Done { file: held(12, 1), replaced: true },
        BringBackSaid::Done { file: held(12, 1), replaced: false },
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
