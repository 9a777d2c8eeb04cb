//! How does the platform say no? One error code, one description, in the real server's words.
//!
//! What the real server would let pass or say differently starts with `stand-in:` and is recorded
//! as a violation, so that a test fails loudly.

/// A request that was refused.
#[derive(Debug, PartialEq)]
pub struct Refusal {
    pub code: u16,
    pub description: String,
    pub retry_after: Option<u64>,
    /// Stricter than the real server: the caller sent what no careful bot sends.
    pub violation: bool,
}

impl Refusal {
    pub fn new(code: u16, description: impl Into<String>) -> Refusal {
        Refusal { code, description: description.into(), retry_after: None, violation: false }
    }

    pub fn bad_request(why: impl AsRef<str>) -> Refusal {
        Refusal::new(400, format!("Bad Request: {}", why.as_ref()))
    }

    pub fn violation(why: impl AsRef<str>) -> Refusal {
        Refusal { violation: true, ..Refusal::bad_request(format!("stand-in: {}", why.as_ref())) }
    }

    pub fn blocked() -> Refusal {
        Refusal::new(403, "Forbidden: bot was blocked by the user")
    }

    pub fn conflict() -> Refusal {
        let why = "terminated by other getUpdates request; \
                   make sure that only one bot instance is running";
        Refusal::new(409, format!("Conflict: {why}"))
    }

    pub fn too_many_requests(retry_after: u64) -> Refusal {
        Refusal {
            retry_after: Some(retry_after),
            ..Refusal::new(429, format!("Too Many Requests: retry after {retry_after}"))
        }
    }
}
