//! The makers that tests begin with.

use chrono_tz::Tz;
use duskrow::blanket::{
    Beginning, Book, Change, Fabric, Hours, How, Label, Nudges, Plan, Reminders,
};
use duskrow::blanket::{Scale, Tier, TierId, Yarn, YarnId, calendar};
use duskrow::chat::event::MessageId;
use duskrow::chat::talk::Talk;
use duskrow::chat::{Maker, beginning, day_turns_at_default, door};
use duskrow::wording::en;

use super::{Talker, invitation, time};

impl Talker {
    /// Somebody who has just agreed; `local` is the time on a clock in Lisbon.
    pub fn joined(local: &str) -> Talker {
        let mut talker = Talker::bare(local, None);
        talker.put(&door::consent(invitation(), &en::LEXICON));
        let (talk, replies) = door::joined(MessageId(0), &en::LEXICON);
        talker.maker.talk = talk;
        replies.iter().for_each(|reply| talker.put(reply));
        talker
    }

    /// Maren in Lisbon, asked at 21:00, with a blanket of a year from `first_day`.
    pub fn with_blanket(local: &str, first_day: &str) -> Talker {
        Talker::in_zone("Europe/Lisbon", "21:00", local, first_day)
    }

    pub fn in_zone(zone: &str, ask_at: &str, local: &str, first_day: &str) -> Talker {
        let zone = zone.parse().unwrap();
        let hours =
            Hours { zone, ask_at: ask_at.parse().unwrap(), day_turns_at: day_turns_at_default() };
        let plan = Plan::year_from(first_day.parse().unwrap());
        let book = Book::begin(&beginning(plan, hours, &en::LEXICON).unwrap());
        let mut talker = Talker::bare(local, Some(book));
        talker.zone = zone;
        talker.now = calendar::instant(zone, time(local));
        talker
    }

    /// A blanket from 1 January 2027 whose scale has so many tiers, "T1" the lowest.
    pub fn with_scale(local: &str, tiers: u8, default: u8) -> Talker {
        let label = |letter: char, id: u8| Label::parse(&format!("{letter}{id}")).unwrap();
        Talker::with_named_scale(local, (tiers, default), |id| label('T', id), |id| label('Y', id))
    }

    /// The same, with labels and yarns named like this.
    pub fn with_named_scale(
        local: &str,
        (tiers, default): (u8, u8),
        label: impl Fn(u8) -> Label,
        name: impl Fn(u8) -> Label,
    ) -> Talker {
        let mut talker = Talker::with_blanket(local, "2027-01-01").without_nudges();
        let book = talker.book();
        let tier = |id| Tier { id: TierId(id), label: label(id), yarn: YarnId(id) };
        let yarn = |id| Yarn { id: YarnId(id), name: name(id), rgb: [id; 3], after: None };
        let beginning = Beginning {
            plan: book.plan().clone(),
            fabric: *book.fabric(),
            scale: Scale::new((1..=tiers).map(tier).collect(), TierId(default)).unwrap(),
            yarns: (1..=tiers + 1).map(yarn).collect(),
            joining: YarnId(tiers + 1),
            hours: *book.hours(),
        };
        talker.maker.book = Some(Book::begin(&beginning));
        talker.without_nudges()
    }

    /// A blanket worked in this, from 1 January 2027, in the night of `local`.
    pub fn working_in(local: &str, fabric: Fabric) -> Talker {
        let mut talker = Talker::with_blanket(local, "2027-01-01").without_nudges();
        let pieces = talker.book().plan().pieces();
        let fabric = Box::new(fabric);
        let book = talker.maker.book.as_mut().unwrap();
        book.apply(&Change::Shaped { pieces, fabric });
        talker
    }

    /// Days from the first one on, answered by the numbers of their tiers; 0 leaves a day open.
    pub fn answering(mut self, tiers: &str) -> Talker {
        let first = self.book().plan().first_day();
        let at = self.now;
        for (day, tier) in first.iter_days().zip(tiers.bytes()).filter(|(_, tier)| *tier != b'0') {
            let (tier, how) = (TierId(tier - b'0'), How::Answered);
            let change = Change::Answered { day, tier, how, at };
            self.maker.book.as_mut().unwrap().apply(&change);
        }
        self
    }

    /// Somebody who wants nudges, at ten in the morning.
    pub fn with_nudges(mut self) -> Talker {
        self.sets(|reminders| reminders.nudges = Nudges::On);
        self
    }

    /// Nobody's week is told.
    pub fn without_recap(mut self) -> Talker {
        self.sets(|reminders| reminders.recap_on = None);
        self
    }

    pub fn sets(&mut self, change: impl FnOnce(&mut Reminders)) {
        let book = self.maker.book.as_mut().unwrap();
        let mut reminders = *book.reminders();
        change(&mut reminders);
        book.apply(&Change::RemindersSet(reminders));
    }

    /// Somebody who was asked about nudges before, and wants none.
    pub fn without_nudges(mut self) -> Talker {
        self.sets(|reminders| reminders.nudges = Nudges::Off);
        self
    }

    fn bare(local: &str, book: Option<Book>) -> Talker {
        let zone: Tz = "Europe/Lisbon".parse().unwrap();
        Talker {
            maker: Maker { owner: true, book, others: Vec::new(), talk: Talk::default() },
            now: calendar::instant(zone, time(local)),
            messages: Vec::new(),
            asked: Vec::new(),
            woken: Vec::new(),
            unasked: Vec::new(),
            typed: 1_000_000,
            erased: false,
            zone,
        }
    }
}
