//! What went wrong with a request, and what that means for the bot.
//!
//! An error says only what callers act on and what a host needs to read. It never holds the
//! token, the address of the request (the token is part of it), or what was sent.

use std::time::Duration;

use thiserror::Error;

/// Waited for when the platform says "too many" without saying for how long.
const RETRY_UNSAID: Duration = Duration::from_secs(5);

/// One request that did not end well.
#[derive(Clone, PartialEq, Eq, Debug, Error)]
pub enum WireError {
    /// Nothing reached the platform, so sending again cannot repeat anything.
    #[error("nothing reached the platform: {why}")]
    NothingWritten { why: String },
    /// The request may or may not have been carried out.
    #[error("no readable answer came back: {why}")]
    Ambiguous { why: String },
    /// The platform refused.
    #[error("the platform answered {code}: {description}")]
    Api { code: u16, description: String, retry_after: Option<Duration> },
    /// The platform was not asked: what goes with the request could not be made, for now.
    #[error("nothing was asked of the platform: {why}")]
    Unmade { why: String },
}

/// What an error means for the bot.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Class {
    /// The token is not good; no request will ever succeed.
    Fatal,
    /// Another program polls with the same token.
    Conflict,
    /// A webhook is set, so polling is refused until it is deleted.
    Webhook,
    /// Every request waits this long.
    RetryAfter(Duration),
    /// This person cannot be written to until they come back.
    Unreachable,
    /// An edit changed nothing: as good as success.
    NotModified,
    /// The message to change is not there or cannot be changed any more.
    Gone,
    /// A tap too old to acknowledge: nobody waits for it.
    QueryTooOld,
    /// Worth trying again later.
    Transient,
    /// The same request will be refused again.
    Rejected,
    /// A trouble of ours with this one request. The platform has nothing to do with it.
    Unmade,
}

impl WireError {
    pub fn class(&self) -> Class {
        match self {
            WireError::NothingWritten { .. } | WireError::Ambiguous { .. } => Class::Transient,
            WireError::Api { code, description, retry_after } => {
                refusal(*code, &description.to_lowercase(), *retry_after)
            }
            WireError::Unmade { .. } => Class::Unmade,
        }
    }

    /// Whether the request may have been carried out although it failed, so that sending it again
    /// could show it twice. A refusal of the platform's own says that it was not, also where the
    /// trouble is the platform's (500). A gateway that heard nothing useful from behind it cannot
    /// know: 502 and 504, RFC 9110 15.6.3 and 15.6.5.
    pub fn may_have_arrived(&self) -> bool {
        match self {
            WireError::NothingWritten { .. } | WireError::Unmade { .. } => false,
            WireError::Api { code, .. } => matches!(code, 502 | 504),
            WireError::Ambiguous { .. } => true,
        }
    }
}

/// The class of a refusal. The platform promises its codes only loosely, so that descriptions
/// decide where one code means several things.
fn refusal(code: u16, description: &str, retry_after: Option<Duration>) -> Class {
    let says = |part: &str| description.contains(part);
    match code {
        401 => Class::Fatal,
        // A bad token is `Not Found` alone; an unknown method says more.
        404 if description == "not found" => Class::Fatal,
        409 if says("webhook") => Class::Webhook,
        409 => Class::Conflict,
        429 => Class::RetryAfter(retry_after.unwrap_or(RETRY_UNSAID)),
        403 if description.starts_with("forbidden:") => Class::Unreachable,
        400 if says("message is not modified") => Class::NotModified,
        400 if says("message to edit not found") || says("message can't be edited") => Class::Gone,
        400 if says("query is too old") => Class::QueryTooOld,
        500.. => Class::Transient,
        _ => Class::Rejected,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Descriptions as the platform's own server writes them (tdlib/telegram-bot-api).
    #[test]
    fn the_class_of_an_error_says_what_the_bot_does_next() {
        let later = Class::RetryAfter(Duration::from_secs(17));
        let cases = [
            (401, "Unauthorized", Class::Fatal),
            (404, "Not Found", Class::Fatal),
            (404, "Not Found: method not found", Class::Rejected),
            (
                409,
                "Conflict: terminated by other getUpdates request; make sure that only one bot \
                 instance is running",
                Class::Conflict,
            ),
            (
                409,
                "Conflict: can't use getUpdates method while webhook is active; use deleteWebhook \
                 to delete the webhook first",
                Class::Webhook,
            ),
            (429, "Too Many Requests: retry after 17", later),
            (403, "Forbidden: bot was blocked by the user", Class::Unreachable),
            (403, "Forbidden: user is deactivated", Class::Unreachable),
            (403, "a proxy says no", Class::Rejected),
            (
                400,
                "Bad Request: message is not modified: specified new message content and reply \
                 markup are exactly the same as a current content and reply markup of the message",
                Class::NotModified,
            ),
            (400, "Bad Request: message to edit not found", Class::Gone),
            (400, "Bad Request: message can't be edited", Class::Gone),
            (
                400,
                "Bad Request: query is too old and response timeout expired or query ID is invalid",
                Class::QueryTooOld,
            ),
            (400, "Bad Request: chat not found", Class::Rejected),
            (400, "Bad Request: message text is empty", Class::Rejected),
            (500, "Internal Server Error: restart", Class::Transient),
            (502, "Bad Gateway", Class::Transient),
        ];
        for (code, description, expected) in cases {
            let retry_after = (code == 429).then_some(Duration::from_secs(17));
            let error = WireError::Api { code, description: description.to_owned(), retry_after };
            assert_eq!(error.class(), expected, "{code} {description}");
        }
    }

    #[test]
    fn too_many_without_a_number_still_waits() {
        let error =
            WireError::Api { code: 429, description: "Too Many".to_owned(), retry_after: None };
        assert_eq!(error.class(), Class::RetryAfter(RETRY_UNSAID));
    }

    #[test]
    fn only_a_request_that_was_never_written_or_was_refused_surely_did_not_arrive() {
        let api = |code| WireError::Api { code, description: "x".to_owned(), retry_after: None };
        assert!(!WireError::NothingWritten { why: "x".to_owned() }.may_have_arrived());
        assert!(!WireError::Unmade { why: "x".to_owned() }.may_have_arrived());
        assert!(WireError::Ambiguous { why: "x".to_owned() }.may_have_arrived());
        assert!(api(502).may_have_arrived() && api(504).may_have_arrived());
        assert!(!api(500).may_have_arrived());
        assert!(!api(429).may_have_arrived());
        assert!(!api(400).may_have_arrived());
    }
}
