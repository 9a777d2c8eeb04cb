//! Pictures and pages that were made a moment ago, so that the same is not drawn twice.
//!
//! A file is the same where it is of the same book on the same day. The revision of a maker would
//! not tell: asking for a picture is a commit of its own. In memory only, the newest few.

use std::collections::VecDeque;

use chrono::NaiveDate;

use super::enclosing::Made;
use crate::blanket::Book;
use crate::chat::enclosed::Enclosed;
use crate::store::MakerId;

/// All files together, and one by itself is never kept beyond it.
const BYTES_MAX: usize = 4 << 20;
const FILES_MAX: usize = 24;

/// The files of before, the newest last.
#[derive(Default)]
pub struct Recent(VecDeque<Entry>);

struct Entry {
    maker: MakerId,
    enclosed: Enclosed,
    today: NaiveDate,
    book: Book,
    made: Made,
}

impl Recent {
    /// The file, where it was made of this very book on this day.
    pub fn of(
        &self,
        maker: MakerId,
        enclosed: Enclosed,
        today: NaiveDate,
        book: &Book,
    ) -> Option<Made> {
        let same = |entry: &&Entry| {
            (entry.maker, entry.enclosed, entry.today) == (maker, enclosed, today)
                && entry.book == *book
        };
        self.0.iter().find(same).map(|entry| entry.made.clone())
    }

    /// Keeps a file in place of the one before of its kind.
    pub fn keep(
        &mut self,
        maker: MakerId,
        enclosed: Enclosed,
        today: NaiveDate,
        book: Book,
        made: Made,
    ) {
        self.0.retain(|entry| (entry.maker, entry.enclosed) != (maker, enclosed));
        self.0.push_back(Entry { maker, enclosed, today, book, made });
        while self.0.len() > FILES_MAX || self.bytes() > BYTES_MAX {
            self.0.pop_front();
        }
    }

    /// Forgets all of a maker.
    pub fn forget(&mut self, maker: MakerId) {
        self.0.retain(|entry| entry.maker != maker);
    }

    fn bytes(&self) -> usize {
        self.0.iter().map(|entry| entry.made.file.bytes.len()).sum()
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::blanket::{Change, Hours, Plan, apply};
    use crate::chat::{beginning, day_turns_at_default};
    use crate::telegram::wire::File;
    use crate::wording::en;

    fn book(first_day: NaiveDate) -> Book {
        let hours = Hours {
            zone: chrono_tz::Tz::Europe__Lisbon,
            ask_at: day_turns_at_default(),
            day_turns_at: day_turns_at_default(),
        };
        let begun = beginning(Plan::year_from(first_day), hours, &en::LEXICON).unwrap();
        let mut book = None;
        apply(&mut book, &Change::Began(Box::new(begun)));
        book.unwrap()
    }

    fn made(bytes: usize) -> Made {
        let file = File {
            part: "photo",
            name: "a.png".to_owned(),
            mime: "image/png",
            bytes: Arc::new(vec![0; bytes]),
        };
        Made { file, caption: None }
    }

    #[test]
    fn another_book_another_day_and_another_maker_are_not_the_same() {
        let day = NaiveDate::from_ymd_opt(2027, 1, 1).unwrap();
        let next = day.succ_opt().unwrap();
        let (book, other) = (book(day), book(next));
        let mut recent = Recent::default();
        let (maker, sheet) = (MakerId(1), Enclosed::Book);
        recent.keep(maker, sheet, day, book.clone(), made(7));
        let found = |recent: &Recent, maker, day, book: &Book| {
            recent.of(maker, sheet, day, book).map(|made| made.file.bytes.len())
        };
        assert_eq!(found(&recent, maker, day, &book), Some(7));
        assert_eq!(found(&recent, maker, day, &other), None);
        assert_eq!(found(&recent, maker, next, &book), None);
        assert_eq!(found(&recent, MakerId(2), day, &book), None);
        recent.forget(maker);
        assert_eq!(found(&recent, maker, day, &book), None);
    }

    #[test]
    fn no_more_is_kept_than_fits() {
        let day = NaiveDate::from_ymd_opt(2027, 1, 1).unwrap();
        let book = book(day);
        let mut recent = Recent::default();
        for maker in 1..=9 {
            recent.keep(MakerId(maker), Enclosed::Book, day, book.clone(), made(1 << 20));
        }
        assert!(recent.bytes() <= BYTES_MAX);
        assert!(recent.of(MakerId(9), Enclosed::Book, day, &book).is_some());
        assert!(recent.of(MakerId(1), Enclosed::Book, day, &book).is_none());
        recent.keep(MakerId(10), Enclosed::Book, day, book.clone(), made(BYTES_MAX + 1));
        assert!(recent.of(MakerId(10), Enclosed::Book, day, &book).is_none());
    }
}
