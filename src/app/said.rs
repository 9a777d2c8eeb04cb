//! Turns replies into the requests that are kept until they are sent.

use anyhow::bail;
use serde_json::Value;

use crate::chat::enclosed::Enclosed;
use crate::chat::outcome::{Place, Reply};
use crate::store::{Lane, Queued, QueuedPlace};
use crate::telegram::ChatId;
use crate::telegram::outgoing::{self, Rendered};
use crate::wording::en;

/// Where a kept request names its file. Not a parameter of the platform: it never goes there.
pub const ENCLOSED: &str = "enclosed";

/// The messages of a reply in words; the buttons are under the last.
pub fn rendered(reply: &Reply) -> Vec<Rendered> {
    let captions: Vec<Vec<String>> = reply
        .keys
        .iter()
        .map(|line| line.iter().map(|key| en::caption(&key.caption)).collect())
        .collect();
    let mut words = en::say(&reply.say);
    if let Some(offline) = &reply.offline {
        words.lines.extend(en::offline(offline).lines);
    }
    outgoing::render(reply, &words, &captions)
}

/// A message with a file, which is named in its request and made when it is sent.
fn with_a_file(reply: &Reply, enclosed: Enclosed) -> anyhow::Result<Queued> {
    let mut parts = rendered(reply);
    let (Some(caption), true) = (parts.pop(), parts.is_empty()) else {
        bail!("the words beside a file are too long for one message");
    };
    let mut params = outgoing::send_file(ChatId(0), &caption).params;
    params[ENCLOSED] = enclosed.to_string().into();
    Ok(Queued {
        lane: if reply.unasked { Lane::Unasked } else { Lane::Reply },
        place: QueuedPlace::New { slot: None },
        params: serde_json::to_string::<Value>(&params)?,
        until: reply.until,
    })
}

/// Replies as they are kept in the outbox. A reply too long for one message changes a message
/// with its first part; the rest is new.
///
/// # Errors
/// Where a request cannot be written as JSON.
pub fn queued(replies: &[Reply]) -> anyhow::Result<Vec<Queued>> {
    let mut queue = Vec::new();
    for reply in replies {
        let slot_of = |slot: &Option<crate::chat::outcome::Slot>| slot.map(|slot| slot.to_string());
        if let Some(enclosed) = reply.enclosed {
            queue.push(with_a_file(reply, enclosed)?);
            continue;
        }
        for (index, part) in rendered(reply).iter().enumerate() {
            let place = match (index, &reply.place) {
                (0, Place::New(slot)) => QueuedPlace::New { slot: slot_of(slot) },
                (0, Place::Change { slot, tapped }) => {
                    QueuedPlace::Change { slot: slot_of(slot), message: *tapped }
                }
                (0, Place::Update(slot)) => QueuedPlace::Update { slot: slot.to_string() },
                (_, Place::New(slot) | Place::Change { slot, .. }) => {
                    QueuedPlace::New { slot: slot_of(slot) }
                }
                (_, Place::Update(_)) => break,
            };
            let request = match reply.silent {
                true => outgoing::send_silently(ChatId(0), part),
                false => outgoing::send(ChatId(0), part),
            };
            queue.push(Queued {
                lane: if reply.unasked { Lane::Unasked } else { Lane::Reply },
                place,
                params: serde_json::to_string::<Value>(&request.params)?,
                until: reply.until,
            });
        }
    }
    Ok(queue)
}
