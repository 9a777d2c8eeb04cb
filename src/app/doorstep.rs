//! Somebody who is no maker: one line, the consent screen of a good link, or the way in.
//!
//! Keeps nothing of them before they agree, and never answers a stranger beyond one line a day.

use std::sync::PoisonError;

use super::{App, said};
use crate::chat::door::{self, Knock};
use crate::chat::event::{Event, MessageId, UserId};
use crate::chat::outcome::{Place, Reply};
use crate::chat::say::Say;
use crate::store::{Join, Joined};
use crate::telegram::ChatId;
use crate::telegram::incoming::UpdateId;

impl App {
    /// Somebody who is no maker: the only things kept are an accepted invitation, and that the
    /// update was seen.
    pub(super) async fn answer_the_door(
        &self,
        user: UserId,
        update: UpdateId,
        event: &Event,
    ) -> anyhow::Result<()> {
        let chat = ChatId::from(user);
        let now = self.now();
        match door::knock(event) {
            Knock::Nothing => {}
            Knock::Other => {
                if self.stranger_may_be_answered(user) {
                    self.say_straight(chat, &Reply::new(Say::Private));
                }
            }
            Knock::Link(invitation) => {
                if self.store.invitation(invitation.as_str(), now).await?.is_some() {
                    self.say_straight(chat, &door::consent(invitation, &self.lexicon));
                } else if self.stranger_may_be_answered(user) {
                    self.say_straight(chat, &Reply::new(Say::LinkInvalid));
                }
            }
            Knock::Decline(message) => {
                if self.stranger_may_tap() {
                    self.say_straight(chat, &door::declined(message));
                }
            }
            Knock::Agree(invitation, message) => {
                return self.let_in(user, update, invitation.as_str(), message).await;
            }
        }
        Ok(())
    }

    async fn let_in(
        &self,
        user: UserId,
        update: UpdateId,
        code: &str,
        message: MessageId,
    ) -> anyhow::Result<()> {
        let (talk, replies) = door::joined(message, &self.lexicon);
        let queue = said::queued(&replies)?;
        let joined = self.store.join(Join {
            update: update.0,
            user,
            chat_id: crate::store::ChatId(user.0),
            code,
            talk: &talk,
            queue: &queue,
            now: self.now(),
        });
        match joined.await? {
            Joined::Joined(id) => tracing::info!(maker = id.0, "a maker joined"),
            Joined::Invalid if !self.stranger_may_tap() => {}
            Joined::Invalid => {
                // In place of the consent screen: taps, however many, add no line to a chat.
                let place = Place::Change { slot: None, tapped: Some(message) };
                self.say_straight(ChatId::from(user), &Reply::new(Say::LinkInvalid).at(place));
            }
            Joined::Already(_) | Joined::SeenBefore => {}
        }
        Ok(())
    }

    /// Taps of strangers cost a few requests a second at most, however many come.
    pub(super) fn stranger_may_tap(&self) -> bool {
        let mut strangers = self.strangers.lock().unwrap_or_else(PoisonError::into_inner);
        strangers.may_tap(self.clock.monotonic())
    }

    pub(super) fn stranger_may_be_answered(&self, user: UserId) -> bool {
        let mut strangers = self.strangers.lock().unwrap_or_else(PoisonError::into_inner);
        strangers.may_be_answered(user, self.clock.monotonic())
    }
}
