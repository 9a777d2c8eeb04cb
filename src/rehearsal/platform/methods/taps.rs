//! How does the bot answer a tap? Once, in time, with at most a short notice.

use chrono::TimeDelta;
use serde_json::{Value, json};

use super::super::chats::Content;
use super::super::reading::entities::units;
use super::super::reading::params::Params;
use super::super::{Moment, Platform, Refusal};
use crate::rehearsal::seen::{SeenKind, Speaker};

const MAX_NOTICE_UNITS: usize = 200;

impl Platform {
    pub(super) fn answer_callback_query(
        &mut self,
        params: &Params,
        now: Moment,
    ) -> Result<Value, Refusal> {
        params.only(&["callback_query_id", "text", "show_alert", "url", "cache_time"])?;
        params.boolean("show_alert")?;
        params.integer("cache_time")?;
        if params.text("url")?.is_some() {
            return Err(Refusal::bad_request("URL_INVALID"));
        }
        let text = params.text("text")?.unwrap_or_default().to_owned();
        if units(&text) > MAX_NOTICE_UNITS {
            return Err(Refusal::bad_request("MESSAGE_TOO_LONG"));
        }
        self.forget_old_queries(now);
        let id = params.text("callback_query_id")?.unwrap_or_default();
        let Some(query) = self.state.queries.remove(id) else {
            let why = "query is too old and response timeout expired or query ID is invalid";
            return Err(Refusal::bad_request(why));
        };
        if !text.is_empty() {
            let notice = Content { text, ..Content::default() };
            let (kind, id) = (SeenKind::Toast, query.message);
            let seen = self.seen_content(kind, Speaker::Bot, id, &notice, now);
            self.show(query.chat, seen);
        }
        Ok(json!(true))
    }

    pub(in super::super) fn forget_old_queries(&mut self, now: Moment) {
        self.state.queries.retain(|_, query| now.wall - query.at < TimeDelta::seconds(150));
    }
}
