//! A person's side of the stand-in: what they do in the chat, and what they see there.

use serde_json::Value;

use super::platform::{Other, Person, TapError};
use super::seen::Seen;
use super::stand_in::StandIn;

impl StandIn {
    /// Makes a person known by name. Whoever writes without it is called "Person" and their id.
    pub fn introduce(&self, person: Person) {
        self.shared().change(|desk, _| desk.platform.introduce(person));
    }

    /// Writes to the bot; the id of the message. More than 4096 characters travel as several
    /// messages, as from a client, and a bot that was blocked is let in again first.
    pub fn send_text(&self, user: i64, text: &str) -> i64 {
        self.shared().change(|desk, now| desk.platform.write(user, text, None, now))
    }

    /// Somebody whose chat with the bot goes back to before the rehearsal.
    pub fn introduce_with_chat(&self, person: Person) {
        self.shared().change(|desk, _| desk.platform.introduce_with_chat(person));
    }

    /// Opens an invitation link, as a client does: the bot gets the code, the chat shows `/start`.
    pub fn open_link(&self, user: i64, code: &str) -> i64 {
        self.shared().change(|desk, now| desk.platform.open_link(user, code, now))
    }

    /// Writes in reply to a message of the chat.
    pub fn reply_text(&self, user: i64, to: i64, text: &str) -> i64 {
        self.shared().change(|desk, now| desk.platform.write(user, text, Some(to), now))
    }

    /// Changes a message this person wrote; false when there is none.
    pub fn edit_text(&self, user: i64, id: i64, text: &str) -> bool {
        self.shared().change(|desk, now| desk.platform.rewrite(user, id, text, now))
    }

    pub fn send_photo(&self, user: i64, caption: &str) -> i64 {
        self.shared().change(|desk, now| desk.platform.send_picture(user, caption, now))
    }

    pub fn send_other(&self, user: i64, other: Other) -> i64 {
        self.shared().change(|desk, now| desk.platform.send_other(user, other, now))
    }

    /// Sends a document.
    pub fn send_file(&self, user: i64, name: &str, bytes: Vec<u8>) -> i64 {
        self.shared().change(|desk, now| desk.platform.send_file(user, name, bytes, now))
    }

    /// Writes in a group; its id is negative. The bot hears of commands and its own name only.
    pub fn send_group_text(&self, user: i64, group: i64, text: &str) -> i64 {
        self.shared().change(|desk, now| desk.platform.write_in_group(user, group, text, now))
    }

    /// Taps the button `label` on the newest message that has it; the id of the query. Tapping
    /// again is another query, as from an impatient client.
    pub fn tap(&self, user: i64, label: &str) -> Result<String, TapError> {
        self.shared().change(|desk, now| desk.platform.tap(user, label, now))
    }

    /// Taps the button `label` on one message, however old.
    pub fn tap_on(&self, user: i64, message: i64, label: &str) -> Result<String, TapError> {
        self.shared().change(|desk, now| desk.platform.tap_on(user, message, label, now))
    }

    /// Sends callback data of one's own making, as a forging client would. A message that is not
    /// there arrives as an inaccessible one.
    pub fn tap_data(&self, user: i64, message: i64, data: &str) -> String {
        self.shared().change(|desk, now| desk.platform.tap_data(user, message, data, now))
    }

    /// Blocks the bot.
    pub fn block(&self, user: i64) {
        self.shared().change(|desk, now| desk.platform.set_blocked(user, true, now));
    }

    pub fn unblock(&self, user: i64) {
        self.shared().change(|desk, now| desk.platform.set_blocked(user, false, now));
    }

    /// Queues any JSON object as an update; its id. One that brings its own `update_id` is handed
    /// over once even if that id was confirmed before.
    pub fn push_raw_update(&self, update: Value) -> i64 {
        self.shared().change(|desk, now| desk.platform.push_raw(update, now))
    }

    /// All that was seen in a person's chat (or in a group, by its id), oldest first.
    pub fn seen_by(&self, user: i64) -> Vec<Seen> {
        self.seen_since(user, 0)
    }

    /// What was seen after the event `number`; 0 is before the first.
    pub fn seen_since(&self, user: i64, number: u64) -> Vec<Seen> {
        self.shared().look(|desk, _| desk.platform.seen_since(user, number).cloned().collect())
    }
}
