//! `duskrow rehearse`: the whole bot on this computer, without an account. Never talks to the
//! platform, and never touches the data folder of `serve`.

use std::fs::File;
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

use anyhow::Context;
use chrono::NaiveDate;
use clap::Args;

use super::{Exit, Stop, runtime};
use crate::config::Options;

/// A script longer than this is no script.
const SCRIPT_BYTES_MAX: u64 = 1024 * 1024;

#[derive(Args, Debug)]
pub struct Wishes {
    /// Play the lines of this file instead of the built-in evening; - reads them from stdin
    #[arg(long, value_name = "FILE")]
    script: Option<PathBuf>,

    /// Start with an empty database instead of the half-done demo blanket
    #[arg(long)]
    empty: bool,

    /// Print one JSON object a line instead of a transcript
    #[arg(long)]
    json: bool,

    /// Keep the database in this file, and go on from it next time
    #[arg(long, value_name = "FILE")]
    keep: Option<PathBuf>,

    /// Civil date on which the rehearsal starts, such as 2027-01-14
    #[arg(long, value_name = "DATE")]
    start: Option<NaiveDate>,

    /// Save the pictures and documents that the bot sends in this folder
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
}

/// What to rehearse, everything read.
#[derive(Debug)]
pub struct Plan {
    /// Lines to play; none plays the built-in evening.
    pub script: Option<String>,
    pub empty: bool,
    pub json: bool,
    pub keep: Option<PathBuf>,
    pub start: Option<NaiveDate>,
    pub out: Option<PathBuf>,
}

/// Plays the evening or the script, with the transcript on stdout.
pub fn run(options: &Options, wishes: Wishes) -> anyhow::Result<()> {
    let script = wishes.script.as_deref().map(read_script).transpose()?;
    let plan = Plan {
        script,
        empty: wishes.empty,
        json: wishes.json,
        keep: wishes.keep,
        start: wishes.start,
        out: wishes.out,
    };
    runtime()?.block_on(play(options, plan, &mut io::stdout()))
}

/// The rehearsal itself.
async fn play(_options: &Options, plan: Plan, _to: &mut impl Write) -> anyhow::Result<()> {
    // WIRING: `rehearsal::play(plan, to).await`
    let _ = (plan.script, plan.empty, plan.json, plan.keep, plan.start, plan.out);
    let message = "a rehearsal is not built yet".to_owned();
    Err(Stop { exit: Exit::Unavailable, message, hints: Vec::new() }.into())
}

fn read_script(path: &Path) -> anyhow::Result<String> {
    let context = || format!("cannot read the script {}", path.display());
    let source: Box<dyn Read> = match path.to_str() {
        Some("-") => Box::new(io::stdin()),
        Some(_) | None => Box::new(File::open(path).with_context(context)?),
    };
    let mut script = String::new();
    source.take(SCRIPT_BYTES_MAX + 1).read_to_string(&mut script).with_context(context)?;
    anyhow::ensure!(script.len() as u64 <= SCRIPT_BYTES_MAX, "the script is longer than 1 MiB");
    Ok(script)
}
