//! One maker and one chat, without a network or a database: applies what the core returns, keeps
//! the messages as a person would see them, and holds the clock.

use chrono::{DateTime, NaiveDate, NaiveDateTime, Utc};
use chrono_tz::Tz;
use duskrow::blanket::{
    Beginning, Book, Change, How, Label, Nudges, Reminders, Scale, Tier, TierId,
};
use duskrow::blanket::{Yarn, YarnId, calendar};
use duskrow::chat::button::{Button, TOKEN_BYTES_MAX};
use duskrow::chat::event::{Due, Event, MessageId, RepliedTo};
use duskrow::chat::outcome::{Place, Reply, Slot};
use duskrow::chat::say::Say;
use duskrow::chat::talk::{Step, Talk};
use duskrow::chat::{Maker, agenda, beginning, door, respond};
use duskrow::wording::en;

pub struct Talker {
    pub maker: Maker,
    pub now: DateTime<Utc>,
    pub messages: Vec<Message>,
    /// What the maker was asked unasked: day and when.
    pub asked: Vec<(NaiveDate, DateTime<Utc>)>,
    /// Everything that fell due, in order.
    pub woken: Vec<(Due, DateTime<Utc>)>,
    /// The messages nobody asked for, as they were sent.
    pub unasked: Vec<Unasked>,
    pub erased: bool,
    /// Typed lines have numbers of their own.
    typed: i64,
    zone: Tz,
}

/// A message of the bot as it stands in the chat now.
#[derive(Clone)]
pub struct Message {
    pub slot: Option<Slot>,
    pub text: String,
    pub keys: Vec<(String, Button)>,
}

/// A message nobody asked for.
pub struct Unasked {
    pub at: DateTime<Utc>,
    /// The maker's day that was on.
    pub on: NaiveDate,
    pub text: String,
    pub reply: Reply,
    /// The day it speaks of, and until when that was put off.
    pub about: Option<NaiveDate>,
    pub put_off: Option<Option<NaiveDate>>,
}

impl Talker {
    /// Somebody who has just agreed; `local` is the time on a clock in Lisbon.
    pub fn joined(local: &str) -> Talker {
        let mut talker = Talker::bare(local, None);
        talker.put(&door::consent(invitation()));
        let (talk, replies) = door::joined(MessageId(0));
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
        let hours = duskrow::blanket::Hours {
            zone,
            ask_at: ask_at.parse().unwrap(),
            day_turns_at: duskrow::chat::day_turns_at_default(),
        };
        let plan = duskrow::blanket::Plan::year_from(first_day.parse().unwrap());
        let book = Book::begin(&beginning(plan, hours, &en::LEXICON).unwrap());
        let mut talker = Talker::bare(local, Some(book));
        talker.zone = zone;
        talker.now = calendar::instant(zone, time(local));
        talker
    }

    /// A blanket from 1 January 2027 whose scale has so many tiers, "T1" the lowest.
    pub fn with_scale(local: &str, tiers: u8, default: u8) -> Talker {
        let mut talker = Talker::with_blanket(local, "2027-01-01").without_nudges();
        let book = talker.book();
        let label = |name: String| Label::parse(&name).unwrap();
        let tier = |id| Tier { id: TierId(id), label: label(format!("T{id}")), yarn: YarnId(id) };
        let yarn = |id| Yarn { id: YarnId(id), name: label(format!("Y{id}")), rgb: [id; 3] };
        let beginning = Beginning {
            plan: book.plan().clone(),
            scale: Scale::new((1..=tiers).map(tier).collect(), TierId(default)).unwrap(),
            yarns: (1..=tiers + 1).map(yarn).collect(),
            joining: YarnId(tiers + 1),
            hours: *book.hours(),
        };
        talker.maker.book = Some(Book::begin(&beginning));
        talker.without_nudges()
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
            maker: Maker { owner: true, book, talk: Talk::default() },
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

    pub fn book(&self) -> &Book {
        self.maker.book.as_ref().unwrap()
    }

    pub fn types(&mut self, text: &str) -> String {
        self.replies_to(text, None)
    }

    /// Types in reply to the question of a day.
    pub fn replies(&mut self, day: &str, text: &str) -> String {
        self.replies_to(text, Some(RepliedTo::Day(day.parse().unwrap())))
    }

    fn replies_to(&mut self, text: &str, reply_to: Option<RepliedTo>) -> String {
        self.typed += 1;
        let message = MessageId(self.typed);
        self.happens(&Event::Typed { text: text.to_owned(), message, reply_to })
    }

    /// Changes the line typed last.
    pub fn edits(&mut self, text: &str) -> String {
        let message = MessageId(self.typed);
        self.happens(&Event::Edited { message, text: text.to_owned() })
    }

    /// Does these things in turn; what was said to the last of them.
    pub fn does(&mut self, acts: &[&str]) -> String {
        acts.iter().fold(String::new(), |_, act| match act.strip_prefix('[') {
            Some(label) => self.taps(label.strip_suffix(']').unwrap()),
            None => self.types(act),
        })
    }

    /// Taps the button with that label on the newest message that has it.
    pub fn taps(&mut self, label: &str) -> String {
        let found = self.messages.iter().enumerate().rev().find_map(|(index, message)| {
            let (_, button) = message.keys.iter().find(|(caption, _)| caption == label)?;
            Some((index, button.clone()))
        });
        let Some((index, button)) = found else {
            panic!("no button {label:?}; the last message has {:?}", self.labels())
        };
        self.taps_button(button, index)
    }

    /// Taps a button that need not be in the chat any more, under message `index`.
    pub fn taps_button(&mut self, button: Button, index: usize) -> String {
        let message = MessageId(i64::try_from(index).unwrap());
        self.happens(&Event::Tapped { button: Ok(button), message })
    }

    pub fn taps_token(&mut self, token: &str) -> String {
        let event = Event::Tapped { button: Button::read(token), message: MessageId(0) };
        self.happens(&event)
    }

    /// What the bot says to an event: new and changed messages, in order.
    pub fn happens(&mut self, event: &Event) -> String {
        let outcome = respond(&self.maker, self.now, event, &en::LEXICON);
        let repeated = respond(&self.maker, self.now, event, &en::LEXICON);
        assert_eq!(outcome, repeated, "the same maker, time and event give the same outcome");
        outcome.replies.iter().filter(|reply| reply.unasked).for_each(|reply| self.hears(reply));
        for change in &outcome.changes {
            match (&mut self.maker.book, change) {
                (None, Change::Began(beginning)) => {
                    self.maker.book = Some(Book::begin(beginning));
                }
                (Some(book), change) => book.apply(change),
                (None, _) => panic!("a change without a book: {change:?}"),
            }
        }
        self.maker.talk = outcome.talk;
        self.erased |= outcome.erases;
        outcome.replies.iter().for_each(|reply| self.put(reply));
        let said: Vec<String> = outcome.replies.iter().map(words).collect();
        said.join("\n--\n")
    }

    fn hears(&mut self, reply: &Reply) {
        let about = match reply.say {
            Say::Question { day } | Say::Nudge { day } => Some(day),
            _ => None,
        };
        self.unasked.push(Unasked {
            at: self.now,
            on: self.book().hours().day_at(self.now),
            text: words(reply),
            reply: reply.clone(),
            about,
            put_off: about.and_then(|day| self.book().put_off(day)),
        });
    }

    /// Turns the clock forward to a local time, with everything that falls due on the way.
    pub fn turn(&mut self, local: &str) -> String {
        self.turn_to(calendar::instant(self.zone, time(local)))
    }

    pub fn turn_to(&mut self, end: DateTime<Utc>) -> String {
        assert!(self.now <= end, "the clock turns forward only");
        let mut said = Vec::new();
        while let Some((at, due)) = agenda(&self.maker, self.now).filter(|(at, _)| *at <= end) {
            self.now = self.now.max(at);
            said.push(self.is_due(due));
            let again = agenda(&self.maker, self.now) == Some((at, due));
            assert!(!again, "{due:?} is due twice");
        }
        self.now = end;
        said.join("\n--\n")
    }

    fn is_due(&mut self, due: Due) -> String {
        if let Due::Question(day) = due {
            self.asked.push((day, self.now));
        }
        self.woken.push((due, self.now));
        self.happens(&Event::Due(due))
    }

    /// When the bot nudged, by the maker's clock, and the first line of each nudge.
    pub fn nudges(&self) -> Vec<(String, &str)> {
        let nudge = |unasked: &&Unasked| matches!(unasked.reply.say, Say::Nudge { .. });
        self.unasked.iter().filter(nudge).map(|nudge| self.heard(nudge)).collect()
    }

    /// All that came of itself since `local`, each by the maker's clock and its first line.
    pub fn came_since(&self, local: &str) -> Vec<(String, &str)> {
        let since = calendar::instant(self.zone, time(local));
        self.unasked.iter().filter(|came| came.at >= since).map(|came| self.heard(came)).collect()
    }

    fn heard<'a>(&self, unasked: &'a Unasked) -> (String, &'a str) {
        let local = calendar::local(self.book().hours().zone, unasked.at);
        (local.format("%a %d %b %H:%M").to_string(), unasked.text.lines().next().unwrap())
    }

    /// Turns the clock forward by days of 24 hours.
    pub fn passes(&mut self, days: i64) -> String {
        self.turn_to(self.now + chrono::TimeDelta::days(days))
    }

    /// Labels of the buttons under the newest message.
    pub fn labels(&self) -> Vec<&str> {
        let keys = self.messages.last().map(|message| message.keys.as_slice()).unwrap_or_default();
        keys.iter().map(|(caption, _)| caption.as_str()).collect()
    }

    pub fn step(&self) -> &Step {
        &self.maker.talk.step
    }

    /// How a day was kept.
    pub fn how(&self, day: &str) -> Option<How> {
        self.book().answer(day.parse().unwrap()).map(|answer| answer.how)
    }

    /// The notes of a day.
    pub fn notes(&self, day: &str) -> Vec<&str> {
        let notes = self.book().notes(day.parse().unwrap());
        notes.iter().map(|note| note.text.as_str()).collect()
    }

    /// The label kept for a day.
    pub fn kept(&self, day: &str) -> Option<String> {
        let tier = self.book().tier_of(day.parse().unwrap())?;
        Some(tier.label.as_str().to_owned())
    }

    fn put(&mut self, reply: &Reply) {
        let slot = match reply.place {
            Place::New(slot) => slot,
            Place::Change { slot, .. } => slot,
            Place::Update(slot) => Some(slot),
        };
        let message = Message { slot, text: words(reply), keys: keys(reply) };
        let on_record =
            |slot: Slot| self.messages.iter().rposition(|message| message.slot == Some(slot));
        let targets: Vec<usize> = match reply.place {
            Place::New(_) => Vec::new(),
            Place::Change { slot, tapped } => {
                let tapped = tapped.and_then(|id| usize::try_from(id.0).ok());
                let tapped = tapped.filter(|index| *index < self.messages.len());
                tapped.into_iter().chain(slot.and_then(on_record)).collect()
            }
            Place::Update(slot) => match on_record(slot) {
                Some(index) => vec![index],
                None => return,
            },
        };
        for index in &targets {
            self.messages[*index] = message.clone();
        }
        if targets.is_empty() {
            self.messages.push(message);
        }
    }
}

pub fn words(reply: &Reply) -> String {
    en::say(&reply.say).plain()
}

fn keys(reply: &Reply) -> Vec<(String, Button)> {
    let keys = reply.keys.iter().flatten();
    keys.map(|key| {
        let token = key.button.token();
        assert!(token.len() <= TOKEN_BYTES_MAX, "{token}");
        assert_eq!(Button::read(&token), Ok(key.button.clone()), "{token}");
        (en::caption(&key.caption), key.button.clone())
    })
    .collect()
}

pub fn invitation() -> duskrow::chat::button::Invitation {
    duskrow::chat::button::Invitation::parse("q7xQ2mJr0dWb5tKc").unwrap()
}

pub fn time(text: &str) -> NaiveDateTime {
    NaiveDateTime::parse_from_str(text, "%Y-%m-%d %H:%M").unwrap()
}
