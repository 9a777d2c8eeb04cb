//! What a maker sees in the chat, and what tests look up in the book.

use duskrow::blanket::{How, calendar};
use duskrow::chat::enclosed::Enclosed;
use duskrow::chat::say::Say;
use duskrow::chat::talk::Step;

use super::{Talker, Unasked, time};

impl Talker {
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

    /// Labels of the buttons under the newest message.
    pub fn labels(&self) -> Vec<&str> {
        let keys = self.messages.last().map(|message| message.keys.as_slice()).unwrap_or_default();
        keys.iter().map(|(caption, _)| caption.as_str()).collect()
    }

    /// The file of the newest message.
    pub fn brought(&self) -> Option<Enclosed> {
        self.messages.last().and_then(|message| message.enclosed)
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
}
