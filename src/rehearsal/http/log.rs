//! Which requests came, in which order, and how did each end?
//!
//! Keeps the newest in memory and, if asked, appends all to a file of JSON lines for an
//! independent check of every request. Never holds the token.

use std::collections::VecDeque;
use std::fs::{File, OpenOptions};
use std::io::Write;
use std::os::unix::fs::OpenOptionsExt;
use std::path::Path;

use anyhow::{Context, Result};
use chrono::{DateTime, Utc};
use serde_json::{Value, json};

/// One request.
#[derive(Clone, Debug, PartialEq)]
pub struct Logged {
    pub at: DateTime<Utc>,
    pub method: String,
    /// With the types the reference gives them; a file stands as its name.
    pub params: Value,
    /// None while it waits, and for ever when it was never answered.
    pub status: Option<u16>,
}

/// The requests so far.
pub struct Log {
    kept: VecDeque<Logged>,
    dropped: usize,
    file: Option<File>,
    /// What no careful bot does; a test expects none.
    pub violations: Vec<String>,
}

const REQUESTS_KEPT: usize = 20_000;
const VIOLATIONS_KEPT: usize = 100;

impl Log {
    pub fn open(file: Option<&Path>) -> Result<Log> {
        let open = |path: &Path| {
            let opened = OpenOptions::new().append(true).create(true).mode(0o600).open(path);
            opened.with_context(|| format!("cannot open the request log {}", path.display()))
        };
        let file = file.map(open).transpose()?;
        Ok(Log { kept: VecDeque::new(), dropped: 0, file, violations: Vec::new() })
    }

    /// Notes a request; the number tells it from others when it ends.
    pub fn begin(&mut self, at: DateTime<Utc>, method: &str, params: Value) -> usize {
        if let Some(file) = &mut self.file {
            let line = format!("{}\n", json!({ "method": method, "params": params }));
            if let Err(why) = file.write_all(line.as_bytes()) {
                self.violation(format!("the request log cannot be written: {why}"));
            }
        }
        if self.kept.len() >= REQUESTS_KEPT {
            self.kept.pop_front();
            self.dropped += 1;
        }
        self.kept.push_back(Logged { at, method: method.to_owned(), params, status: None });
        self.dropped + self.kept.len() - 1
    }

    pub fn end(&mut self, number: usize, status: Option<u16>) {
        let at = number.checked_sub(self.dropped);
        if let Some(logged) = at.and_then(|at| self.kept.get_mut(at)) {
            logged.status = status;
        }
    }

    pub fn violation(&mut self, what: String) {
        if self.violations.len() < VIOLATIONS_KEPT {
            self.violations.push(what);
        }
    }

    pub fn requests(&self) -> Vec<Logged> {
        self.kept.iter().cloned().collect()
    }
}

#[cfg(test)]
mod tests {
    use std::os::unix::fs::PermissionsExt;

    use super::*;

    #[test]
    fn only_the_newest_requests_are_kept_and_each_gets_its_own_status() {
        let mut log = Log::open(None).unwrap();
        let numbers: Vec<usize> = (0..REQUESTS_KEPT + 2)
            .map(|_| log.begin(DateTime::UNIX_EPOCH, "getMe", json!({})))
            .collect();
        log.end(numbers[0], Some(500));
        log.end(numbers[2], Some(200));
        let requests = log.requests();
        assert_eq!(requests.len(), REQUESTS_KEPT);
        assert_eq!(requests[0].status, Some(200));
        assert!(requests[1..].iter().all(|request| request.status.is_none()));
    }

    #[test]
    fn the_file_is_appended_to_line_by_line() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("requests.jsonl");
        for method in ["getMe", "sendMessage"] {
            let mut log = Log::open(Some(&path)).unwrap();
            log.begin(DateTime::UNIX_EPOCH, method, json!({ "text": "a\nb" }));
        }
        let text = std::fs::read_to_string(&path).unwrap();
        let lines: Vec<Value> = text.lines().map(|l| serde_json::from_str(l).unwrap()).collect();
        assert_eq!(lines[1], json!({ "method": "sendMessage", "params": { "text": "a\nb" } }));
        assert_eq!(lines.len(), 2);
        let mode = std::fs::metadata(&path).unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o600);
    }
}
