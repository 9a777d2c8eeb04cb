//! How does a command end, and what does it say when it failed? One exit code a kind of failure,
//! with the numbers of sysexits.h, so that systemd and scripts can tell them apart.
//!
//! Never decides whether something failed; that is the command's part.

use std::io::{self, Write};
use std::process::ExitCode;

use crate::config::Problem;

/// The exit codes of every command.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum Exit {
    Done = 0,
    Failure = 1,
    Usage = 2,
    Unavailable = 69,
    Io = 74,
    TryAgain = 75,
    Permission = 77,
    Configuration = 78,
}

/// A failure that knows its exit code and what the host can do about it.
#[derive(Debug, thiserror::Error)]
#[error("{message}")]
pub struct Stop {
    pub exit: Exit,
    /// One line, without a full stop.
    pub message: String,
    /// What can be done, a line each.
    pub hints: Vec<String>,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> ExitCode {
        ExitCode::from(exit as u8)
    }
}

impl Stop {
    /// Reads a fault for what a host needs: a known kind keeps its own code, anything else is a
    /// plain failure with its chain of causes.
    pub fn from_fault(fault: &anyhow::Error) -> Stop {
        for cause in fault.chain() {
            if let Some(stop) = cause.downcast_ref::<Stop>() {
                return Stop { exit: stop.exit, message: chain(fault), hints: stop.hints.clone() };
            }
            if let Some(problem) = cause.downcast_ref::<Problem>() {
                let hints = problem.hints.clone();
                return Stop { exit: Exit::Configuration, message: chain(fault), hints };
            }
        }
        let io = fault.chain().find_map(|cause| cause.downcast_ref::<io::Error>());
        let exit = io.map_or(Exit::Failure, |io| exit_of(io.kind()));
        Stop { exit, message: chain(fault), hints: Vec::new() }
    }

    /// Says it on stderr and gives its exit code. A reader who went away early, as `head` does,
    /// is no failure.
    pub fn report(&self) -> Exit {
        if self.exit == Exit::Done {
            return Exit::Done;
        }
        let mut text = format!("error: {}\n", self.message);
        if !self.hints.is_empty() {
            text.push('\n');
        }
        for hint in &self.hints {
            text.push_str(&format!("hint: {hint}\n"));
        }
        // Without a stderr there is no one left to tell.
        let _ = io::stderr().write_all(text.as_bytes());
        self.exit
    }
}

fn chain(fault: &anyhow::Error) -> String {
    format!("{fault:#}")
}

fn exit_of(kind: io::ErrorKind) -> Exit {
    match kind {
        io::ErrorKind::BrokenPipe => Exit::Done,
        io::ErrorKind::PermissionDenied => Exit::Permission,
        // A disk that is mounted read-only stays so until a person changes it.
        io::ErrorKind::ReadOnlyFilesystem => Exit::Configuration,
        _ => Exit::Io,
    }
}

#[cfg(test)]
mod tests {
    use anyhow::{Context, anyhow};

    use super::*;

    #[test]
    fn a_fault_ends_with_the_code_of_its_kind() {
        let check = |fault: anyhow::Error, exit: Exit, message: &str| {
            let stop = Stop::from_fault(&fault);
            assert_eq!((stop.exit, stop.message.as_str()), (exit, message));
        };
        let io = |kind| anyhow::Error::from(io::Error::new(kind, "x")).context("cannot write");
        let problem = || Problem { message: "no token".into(), hints: vec!["get one".into()] };
        let stop = Stop { exit: Exit::TryAgain, message: "busy".into(), hints: Vec::new() };
        check(anyhow!("a").context("b"), Exit::Failure, "b: a");
        check(io(io::ErrorKind::PermissionDenied), Exit::Permission, "cannot write: x");
        check(io(io::ErrorKind::ReadOnlyFilesystem), Exit::Configuration, "cannot write: x");
        check(io(io::ErrorKind::StorageFull), Exit::Io, "cannot write: x");
        check(io(io::ErrorKind::BrokenPipe), Exit::Done, "cannot write: x");
        check(problem().into(), Exit::Configuration, "no token");
        let kept = Err::<(), _>(stop).context("cannot invite");
        check(kept.unwrap_err(), Exit::TryAgain, "cannot invite: busy");
        assert_eq!(Stop::from_fault(&problem().into()).hints, ["get one"]);
    }
}
