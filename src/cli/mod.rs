//! What can be asked of the program on the command line? Data goes to stdout, all else to stderr.
//!
//! Never knows how a command is carried out; each has a file of its own.

mod books;
mod database;
mod exit;
mod healthcheck;
mod invite;
pub mod rehearse;
mod serve;

use std::panic;
use std::process::ExitCode;

use clap::{Parser, Subcommand};
use rustix::fs::Mode;
use rustix::process::{Resource, Rlimit, setrlimit, umask};

pub use exit::{Exit, Stop};

use crate::config::{Options, check_environment};
use crate::logging;

/// The whole command line.
#[derive(Debug, Parser)]
#[command(name = "duskrow", version, about, arg_required_else_help = true)]
#[command(after_help = "Every setting can also be given by its environment variable.")]
pub struct CommandLine {
    #[command(subcommand)]
    command: Command,
    #[command(flatten)]
    options: Options,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Run the bot until SIGTERM or SIGINT
    Serve,
    /// Try the whole bot on this computer, without an account
    #[command(after_help = rehearse::HELP)]
    Rehearse(rehearse::Wishes),
    /// Make a single-use invitation that is valid for one hour
    Invite(invite::Wishes),
    /// List the makers: their numbers and dates, nothing they answered
    Makers,
    /// Print one maker's book on stdout; the maker is told
    Export(books::ExportWishes),
    /// Bring one maker's book back from a file, whole or not at all; the maker is told
    Import(books::ImportWishes),
    /// Say by the exit code whether the bot works: 0 while it hears from the platform and looks at
    /// what is due, else 1
    Healthcheck,
}

/// Reads the command line, carries out the command, and says how it ended.
pub fn main() -> ExitCode {
    let line = match check_environment(std::env::vars_os()) {
        Err(problem) => return Stop::from_fault(&problem.into()).report().into(),
        Ok(()) => CommandLine::try_parse(),
    };
    let line = match line {
        Ok(line) => line,
        Err(help_or_mistake) => {
            // A reader who went away early has seen enough.
            let _ = help_or_mistake.print();
            let mistake = help_or_mistake.use_stderr();
            return if mistake { Exit::Usage } else { Exit::Done }.into();
        }
    };
    // The hook has logged a panic; here it only becomes an exit code.
    match panic::catch_unwind(|| run(line)) {
        Ok(Ok(())) => Exit::Done.into(),
        Ok(Err(fault)) => Stop::from_fault(&fault).report().into(),
        Err(_) => Exit::Failure.into(),
    }
}

fn run(line: CommandLine) -> anyhow::Result<()> {
    keep_to_ourselves();
    // A rehearsal is read, not watched: without a filter of its own it only warns.
    let rehearsed = matches!(line.command, Command::Rehearse(_)) && line.options.log == "info";
    let filter = if rehearsed { "warn" } else { line.options.log.as_str() };
    logging::start(filter, line.options.log_format)?;
    match line.command {
        Command::Serve => serve::run(&line.options),
        Command::Rehearse(wishes) => rehearse::run(&line.options, wishes),
        Command::Invite(wishes) => invite::run(&line.options, &wishes),
        Command::Makers => books::makers(&line.options),
        Command::Export(wishes) => books::export(&line.options, &wishes),
        Command::Import(wishes) => books::import(&line.options, &wishes),
        Command::Healthcheck => healthcheck::run(&line.options),
    }
}

/// Files we make are for our user alone, and memory with people's words in it is never dumped.
fn keep_to_ourselves() {
    umask(Mode::RWXG | Mode::RWXO);
    // Lowering one's own limit is always allowed.
    let _ = setrlimit(Resource::Core, Rlimit { current: Some(0), maximum: Some(0) });
}

/// The threads that carry out a command: one bot and one small database need no more than two.
fn runtime() -> anyhow::Result<tokio::runtime::Runtime> {
    let mut builder = tokio::runtime::Builder::new_multi_thread();
    Ok(builder.worker_threads(2).enable_all().build()?)
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    use super::*;

    #[test]
    fn the_command_line_is_sound() {
        CommandLine::command().debug_assert();
    }

    #[test]
    fn a_setting_may_stand_before_or_after_the_command() {
        for line in [["duskrow", "--rate=7", "serve"], ["duskrow", "serve", "--rate=7"]] {
            assert_eq!(CommandLine::try_parse_from(line).unwrap().options.rate, 7);
        }
    }

    #[test]
    fn the_token_is_no_flag() {
        let refused = CommandLine::try_parse_from(["duskrow", "serve", "--token=1:a"]);
        assert_eq!(refused.unwrap_err().kind(), clap::error::ErrorKind::UnknownArgument);
    }
}
