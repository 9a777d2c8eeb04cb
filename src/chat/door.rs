//! What a person nobody invited yet is asking for, and the first words to somebody who agreed.
//!
//! Nothing about a person is kept before they agree: the invitation travels in the button.

use chrono::TimeDelta;

use super::button::{Button, Invitation};
use super::caption::Caption;
use super::event::{Event, MessageId};
use super::lexicon::Lexicon;
use super::outcome::{Place, Reply};
use super::say::Say;
use super::talk::{Step, Talk};
use super::{setup, typed};

/// An invitation that is not used by then is over.
pub const INVITED_FOR: TimeDelta = TimeDelta::hours(1);

/// What somebody at the door wants.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Knock {
    /// They opened an invitation link.
    Link(Invitation),
    Agree(Invitation, MessageId),
    Decline(MessageId),
    /// Anything else: the bot is private.
    Other,
    /// Nothing that calls for an answer.
    Nothing,
}

pub fn knock(event: &Event) -> Knock {
    match event {
        Event::Typed { text, .. } => match typed::command(text) {
            Some((name, code)) if name == "start" => {
                Invitation::parse(code).map_or(Knock::Other, Knock::Link)
            }
            _ => Knock::Other,
        },
        Event::Tapped { button: Ok(Button::Agree { invitation }), message } => {
            Knock::Agree(invitation.clone(), *message)
        }
        Event::Tapped { button: Ok(Button::Decline), message } => Knock::Decline(*message),
        Event::Tapped { .. } | Event::NotText | Event::Document { .. } => Knock::Other,
        // Nothing of a stranger's is ever read.
        Event::BookRead { .. }
        | Event::Edited { .. }
        | Event::Blocked
        | Event::Unblocked
        | Event::Due(_) => Knock::Nothing,
    }
}

/// The consent screen: one screen, before anything is kept.
pub fn consent(invitation: Invitation, lexicon: &Lexicon) -> Reply {
    Reply::new(Say::Consent { local: lexicon.local_line.clone() })
        .key(Caption::Agree, Button::Agree { invitation })
        .key(Caption::Decline, Button::Decline)
}

/// An invitation as it can be handed on: a link, where the bot's name on the platform is known.
pub fn line(bot: Option<&str>, code: &str) -> String {
    match bot {
        Some(bot) => format!("https://t.me/{bot}?start={code}"),
        None => format!("/start {code}"),
    }
}

/// The screen changes when they do not agree: nothing was kept.
pub fn declined(message: MessageId) -> Reply {
    Reply::new(Say::Declined).at(Place::Change { slot: None, tapped: Some(message) })
}

/// Where the talk goes on with a maker whose book came from another account.
pub fn moved(message: MessageId) -> (Talk, Vec<Reply>) {
    let consent = Place::Change { slot: None, tapped: Some(message) };
    (Talk::default(), vec![Reply::new(Say::MovedHere).at(consent)])
}

/// Where a new maker's talk begins, and the first step of set-up.
pub fn joined(message: MessageId, lexicon: &Lexicon) -> (Talk, Vec<Reply>) {
    let consent = Place::Change { slot: None, tapped: Some(message) };
    let replies = vec![
        Reply::new(Say::Agreed { local: lexicon.local_line.clone() }).at(consent),
        setup::ask_place(),
    ];
    (Step::Place.into(), replies)
}
