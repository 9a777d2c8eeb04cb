//! The commands: one file each, one word each in the list. Help and the platform's menu are made
//! from this list; what the owner alone can do is in a list of its own, and in their help alone.

mod blanket;
mod blankets;
mod block;
mod cancel;
mod erase;
mod export;
mod help;
mod invite;
pub(super) mod open;
mod pause;
mod privacy;
mod recap;
mod resume;
pub(super) mod rows;
mod settings;
mod start;
mod stitch;
mod today;
mod yarn;

use chrono::{DateTime, Utc};

use super::lexicon::Lexicon;
use super::outcome::Outcome;
use super::{Maker, setup};
use crate::chat::outcome::Reply;
use crate::chat::say::Say;

pub(super) use erase::confirm as confirm_erase;

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Command {
    Today,
    Open,
    Rows,
    Yarn,
    Recap,
    Settings,
    Stitch,
    Pause,
    Resume,
    Privacy,
    Export,
    Blanket,
    Help,
    Cancel,
    Erase,
    Start,
    Block,
    Blankets,
    Invite,
}

impl Command {
    /// In the order help lists them.
    pub const ALL: [Command; 18] = [
        Command::Today,
        Command::Open,
        Command::Rows,
        Command::Block,
        Command::Blanket,
        Command::Blankets,
        Command::Yarn,
        Command::Recap,
        Command::Settings,
        Command::Stitch,
        Command::Pause,
        Command::Resume,
        Command::Privacy,
        Command::Export,
        Command::Help,
        Command::Cancel,
        Command::Erase,
        Command::Start,
    ];

    /// For the owner, besides: to others they are no commands.
    pub const OWNERS: [Command; 1] = [Command::Invite];

    /// What is typed after the slash.
    pub fn name(self) -> &'static str {
        match self {
            Command::Today => "today",
            Command::Open => "open",
            Command::Rows => "rows",
            Command::Yarn => "yarn",
            Command::Recap => "recap",
            Command::Settings => "settings",
            Command::Stitch => "stitch",
            Command::Pause => "pause",
            Command::Resume => "resume",
            Command::Privacy => "privacy",
            Command::Export => "export",
            Command::Blanket => "blanket",
            Command::Help => "help",
            Command::Cancel => "cancel",
            Command::Erase => "erase",
            Command::Start => "start",
            Command::Block => "block",
            Command::Blankets => "blankets",
            Command::Invite => "invite",
        }
    }

    /// All that a maker can type, in the order help lists them.
    pub fn of(owner: bool) -> impl Iterator<Item = Command> {
        let owners = if owner { &Command::OWNERS[..] } else { &[] };
        Command::ALL.into_iter().chain(owners.iter().copied())
    }

    pub fn named(name: &str, owner: bool) -> Option<Command> {
        Command::of(owner).find(|command| command.name() == name)
    }
}

/// What a command finds: the maker, what was typed after it, the time.
pub(super) struct Asked<'a> {
    pub maker: &'a Maker,
    pub argument: &'a str,
    pub now: DateTime<Utc>,
    pub lexicon: &'a Lexicon,
}

pub(super) fn run(command: Command, asked: &Asked<'_>) -> Outcome {
    match command {
        Command::Today => today::run(asked),
        Command::Open => open::run(asked),
        Command::Rows => rows::run(asked),
        Command::Yarn => yarn::run(asked),
        Command::Recap => recap::run(asked),
        Command::Settings => settings::run(asked),
        Command::Stitch => stitch::run(asked),
        Command::Pause => pause::run(asked),
        Command::Resume => resume::run(asked),
        Command::Privacy => privacy::run(asked),
        Command::Export => export::run(asked),
        Command::Blanket => blanket::run(asked),
        Command::Help => help::run(asked),
        Command::Cancel => cancel::run(asked),
        Command::Erase => erase::run(asked),
        Command::Start => start::run(asked),
        Command::Block => block::run(asked),
        Command::Blankets => blankets::run(asked),
        Command::Invite => invite::run(asked),
    }
}

/// A command that needs a blanket, before there is one: set-up goes on where it stands.
fn set_up_first(asked: &Asked<'_>) -> Outcome {
    let mut outcome = setup::again(asked.maker, asked.now);
    outcome.replies.insert(0, Reply::new(Say::SetUpFirst));
    outcome
}
