//! Somebody who is no maker: one line, the consent screen of a good link, or the way in; and the
//! links the owner asks for in the chat.
//!
//! Keeps nothing of them before they agree, and never answers a stranger beyond one line a day.

use std::sync::{MutexGuard, PoisonError};

use super::strangers::Strangers;
use super::{App, said};
use crate::chat::door::{self, Knock};
use crate::chat::event::{Event, MessageId, UserId};
use crate::chat::outcome::{Place, Reply};
use crate::chat::say::Say;
use crate::store::{InvitationCode, Invited, Join, Joined};
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
        match door::knock(event) {
            Knock::Nothing => {}
            Knock::Other => {
                if self.stranger_may_be_answered(user) {
                    self.say_straight(chat, &Reply::new(Say::Private));
                }
            }
            Knock::Link(invitation) => {
                if self.opens(user, invitation.as_str()).await?.is_some() {
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
        let Some(invited) = self.opens(user, code).await? else {
            self.say_link_is_over(user, message);
            return Ok(());
        };
        let moves = match invited.moves {
            Some(maker) => self.store.load_by_id(maker).await?,
            None => None,
        };
        // A maker who is moved before there is a blanket begins as anybody does.
        let has_book = moves.is_some_and(|stored| stored.maker.book.is_some());
        let (talk, replies) = match has_book {
            true => door::moved(message),
            false => door::joined(message, &self.lexicon),
        };
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
            Joined::Moved { maker, from } => {
                tracing::info!(maker = maker.0, "a maker's book was moved to another account");
                self.say_straight(ChatId(from.0), &Reply::new(Say::MovedAway));
            }
            Joined::Invalid => self.say_link_is_over(user, message),
            Joined::Already(_) | Joined::SeenBefore => {}
        }
        Ok(())
    }

    /// In place of the consent screen: taps, however many, add no line to a chat.
    fn say_link_is_over(&self, user: UserId, message: MessageId) {
        if self.stranger_may_tap() {
            let place = Place::Change { slot: None, tapped: Some(message) };
            self.say_straight(ChatId::from(user), &Reply::new(Say::LinkInvalid).at(place));
        }
    }

    /// What a code lets somebody do, if anything. Writes nothing; after too many wrong ones it is
    /// not even looked up.
    async fn opens(&self, user: UserId, code: &str) -> anyhow::Result<Option<Invited>> {
        if !self.strangers().may_try(user, self.clock.monotonic()) {
            return Ok(None);
        }
        let invited = self.store.invitation(code, self.now()).await?;
        if invited.is_none() {
            self.strangers().was_wrong(user, self.clock.monotonic());
        }
        Ok(invited)
    }

    fn strangers(&self) -> MutexGuard<'_, Strangers> {
        self.strangers.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// A code for the owner who asked; none where the update was handled before. It is made before
    /// the update is marked as seen: a crash between leaves a code nobody was told, which ends
    /// within the hour, and not an owner who waits for a link that never comes.
    pub(super) async fn invitation_for(
        &self,
        update: UpdateId,
    ) -> anyhow::Result<Option<InvitationCode>> {
        if self.store.seen(update.0).await? {
            return Ok(None);
        }
        Ok(Some(self.store.invite(false, door::INVITED_FOR, self.now()).await?))
    }

    /// Sent straight, so that no code in clear is ever in a file of the host's. One that is lost
    /// on the way is asked for anew.
    pub(super) fn hand_over(&self, chat: ChatId, code: &InvitationCode) {
        let me = self.me();
        let bot = Some(me.username.as_str()).filter(|name| !name.is_empty());
        let line = door::line(bot, code.as_str());
        self.say_straight(chat, &Reply::new(Say::Invitation { line }));
    }

    /// Taps of strangers cost a few requests a second at most, however many come.
    pub(super) fn stranger_may_tap(&self) -> bool {
        self.strangers().may_tap(self.clock.monotonic())
    }

    pub(super) fn stranger_may_be_answered(&self, user: UserId) -> bool {
        self.strangers().may_be_answered(user, self.clock.monotonic())
    }
}
