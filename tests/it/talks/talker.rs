//! One maker and one chat, without a network or a database: applies what the core returns, keeps
//! the messages as a person would see them, and holds the clock.

mod looks;
mod makers;

use chrono::{DateTime, NaiveDate, NaiveDateTime, Utc};
use chrono_tz::Tz;
use duskrow::app;
use duskrow::blanket::{Book, Change, calendar};
use duskrow::chat::button::{Button, TOKEN_BYTES_MAX};
use duskrow::chat::enclosed::Enclosed;
use duskrow::chat::event::{Due, Event, MessageId, RepliedTo};
use duskrow::chat::outcome::{Place, Reply, Slot};
use duskrow::chat::say::Say;
use duskrow::chat::{Maker, agenda, respond};
use duskrow::wording::en;

use crate::world::hostile::unsound;

#[derive(Clone)]
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
    pub enclosed: Option<Enclosed>,
}

/// A message nobody asked for.
#[derive(Clone)]
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
            let begins = matches!(change, Change::Began(_));
            assert!(begins || self.maker.book.is_some(), "a change without a book: {change:?}");
            self.maker.apply(change);
        }
        self.maker.talk = outcome.talk;
        self.erased |= outcome.erases;
        outcome.replies.iter().for_each(|reply| self.put(reply));
        let said: Vec<String> = outcome.replies.iter().map(words).collect();
        said.join("\n--\n")
    }

    fn hears(&mut self, reply: &Reply) {
        let about = match reply.say {
            Say::Question { day, .. } | Say::Nudge { day, .. } => Some(day),
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

    /// Turns the clock forward by days of 24 hours.
    pub fn passes(&mut self, days: i64) -> String {
        self.turn_to(self.now + chrono::TimeDelta::days(days))
    }

    fn put(&mut self, reply: &Reply) {
        let slot = match reply.place {
            Place::New(slot) => slot,
            Place::Change { slot, .. } => slot,
            Place::Update(slot) => Some(slot),
        };
        let enclosed = reply.enclosed;
        let message = Message { slot, text: words(reply), keys: keys(reply), enclosed };
        for queued in app::queued(std::slice::from_ref(reply)).unwrap() {
            let params = serde_json::from_str(&queued.params).unwrap();
            assert_eq!(unsound(&params), None, "{params}");
        }
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
