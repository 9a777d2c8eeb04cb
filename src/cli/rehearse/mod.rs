//! `duskrow rehearse`: the whole bot on this computer, without an account. Never talks to the
//! platform, and never touches the data folder of `serve`.

pub mod demo;
pub mod theatre;

use std::fs::{self, File};
use std::io::{self, Read, Write};
use std::os::unix::fs::DirBuilderExt;
use std::path::{Path, PathBuf};

use anyhow::Context;
use chrono::{DateTime, NaiveDate, Utc};
use clap::Args;

use self::theatre::{MAREN, NAME, Theatre};
use super::runtime;
use crate::clock::Clock;
use crate::config::Options;
use crate::rehearsal::player::{self, Stage};
use crate::rehearsal::script;
use crate::rehearsal::transcript::{Form, Transcript};
use crate::rehearsal::{Kept, Person, Settings, StandIn};

/// What is played when no script is given.
const EVENING: &str = include_str!("evening.txt");
const FIRST_EVENING: &str = include_str!("first_evening.txt");

/// What a script says.
pub const HELP: &str = "\
Lines of a script:
  a text or /command   is typed
  [Smooth]             taps the button with that label, on the newest message that has it
  @ evening            turns the clock to the next question
  @ +3d, @ +2h, @ +90m, @ 2027-03-01 21:00
                       turns the clock forward, by the maker's local time
  = Ines               from here on, Ines acts; = Maren is the first
  [invitation]         opens the newest invitation that anybody was shown
  < book-2027-07-15.json
                       sends that file: one the bot sent before, or one on this computer
  # a remark           says nothing

Of the settings, a rehearsal uses --log and --log-format alone.";

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
pub fn run(_options: &Options, wishes: Wishes) -> anyhow::Result<()> {
    let script = wishes.script.as_deref().map(read_script).transpose()?;
    let plan = Plan {
        script,
        empty: wishes.empty,
        json: wishes.json,
        keep: wishes.keep,
        start: wishes.start,
        out: wishes.out,
    };
    runtime()?.block_on(play(plan, &mut io::stdout()))
}

/// The rehearsal itself.
async fn play(plan: Plan, to: &mut impl Write) -> anyhow::Result<()> {
    if let Some(out) = &plan.out {
        let made = fs::DirBuilder::new().recursive(true).mode(0o700).create(out);
        made.with_context(|| format!("cannot make the folder {}", out.display()))?;
    }
    let folder = tempfile::tempdir().context("no folder for the rehearsal can be made")?;
    let database = plan.keep.clone().unwrap_or_else(|| folder.path().join("rehearsal.db"));
    let platform = plan.keep.as_deref().map(beside);
    let kept = platform.as_deref().map(Kept::read).transpose()?.flatten();
    let going_on = kept.is_some();
    anyhow::ensure!(going_on || !database.exists(), "{} is no kept rehearsal", database.display());
    let start = kept.as_ref().map_or_else(|| start(&plan), |kept| Ok(kept.instant()))?;
    let clock = Clock::turned(start);
    let settings = Settings { kept, request_log: request_log(), ..Settings::new(clock.clone()) };
    let stand_in = StandIn::start(settings).await?;
    stand_in.introduce(Person::new(MAREN, NAME));
    let mut theatre = Theatre::open(&database, stand_in.clone(), clock).await?;
    if !plan.empty && !going_on {
        theatre.settle_in(MAREN, &demo::changes()).await?;
    }
    let built_in = if plan.empty { FIRST_EVENING } else { EVENING };
    let lines = script::read(plan.script.as_deref().unwrap_or(built_in))?;
    let mut before = NAME.to_owned();
    let played =
        player::play(&lines, (MAREN, NAME), &stand_in, &mut theatre, |theatre, who, seen| {
            if before != who && !plan.json {
                writeln!(to, "= {who}")?;
            }
            who.clone_into(&mut before);
            let maker = who.to_owned();
            let form = match plan.json {
                true => Form::Json { maker },
                false => Form::Text { bot: "Duskrow".to_owned(), maker },
            };
            let local = |at| theatre.local(at);
            let line = Transcript::new(local, form, plan.out.clone()).render(seen)?;
            Ok(to.write_all(line.as_bytes())?)
        });
    let played = played.await;
    if let Some(platform) = &platform {
        stand_in.keep(platform)?;
    }
    let violations = stand_in.violations();
    anyhow::ensure!(violations.is_empty(), "the bot asked what no bot may: {violations:?}");
    played
}

/// When the rehearsal begins, in the afternoon or evening of its maker.
fn start(plan: &Plan) -> anyhow::Result<DateTime<Utc>> {
    let (day, hour, minute) = match (plan.empty, plan.start) {
        (true, day) => (day.unwrap_or(demo::first_day()), 21, 14),
        (false, None) => (demo::today(), 20, 55),
        (false, Some(day)) => {
            anyhow::ensure!(
                day >= demo::today(),
                "the demo blanket is kept up to {}; start then or later, or with --empty",
                demo::today()
            );
            (day, 20, 55)
        }
    };
    Ok(demo::at(day, hour, minute))
}

/// Where the checks of the project want every request of this process noted.
fn request_log() -> Option<PathBuf> {
    let folder = std::env::var_os("DUSKROW_REQUEST_LOG")?;
    Some(PathBuf::from(folder).join(format!("rehearsal-{}.jsonl", std::process::id())))
}

/// The file in which a kept rehearsal remembers the platform's side.
fn beside(database: &Path) -> PathBuf {
    let mut name = database.as_os_str().to_owned();
    name.push(".platform");
    name.into()
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
