//! `duskrow invite`: one single-use invitation that ends after an hour. Never opens the door by
//! itself; the code is checked when a maker brings it.

use std::io::{self, Write};
use std::path::Path;

use clap::Args;

use super::books::maker;
use super::database::{DATABASE, stopped_by};
use super::{Exit, Stop, runtime};
use crate::chat::door;
use crate::clock::Clock;
use crate::config::Options;
use crate::store::{Create, Store, StoreError};

#[derive(Args, Debug)]
pub struct Wishes {
    /// Make the invitation for the owner of this bot
    #[arg(long)]
    owner: bool,
    /// Make one that moves the book of this maker, as duskrow makers numbers them, to the account
    /// that opens it
    #[arg(long, value_name = "N", conflicts_with = "owner")]
    book: Option<i64>,
}

/// An invitation as it can be handed on.
struct Invitation {
    code: String,
    /// The bot's name on the platform, once `serve` has learned it.
    bot: Option<String>,
}

/// Prints the invitation on stdout and what to do with it on stderr.
pub fn run(options: &Options, wishes: &Wishes) -> anyhow::Result<()> {
    let invitation = runtime()?.block_on(make(options, wishes, &Clock::real()))?;
    let advice = match invitation.bot {
        Some(_) => "Open this link within one hour. It works once",
        None => "Send this line to the bot within one hour. It works once",
    };
    writeln!(io::stderr(), "{advice}")?;
    if let Some(maker) = wishes.book {
        let moves = "goes to the account that opens it, and the old chat is told";
        writeln!(io::stderr(), "The whole book of maker {maker} {moves}")?;
    }
    writeln!(io::stdout(), "{}", invitation.line())?;
    Ok(())
}

/// Writes a new invitation into the database that `serve` keeps.
async fn make(options: &Options, wishes: &Wishes, clock: &Clock) -> anyhow::Result<Invitation> {
    let path = options.data.join(DATABASE);
    let store = Store::open(&path, Create::Never).await.map_err(|error| match error {
        StoreError::Missing => no_database(&options.data).into(),
        error => stopped_by(error.into()),
    })?;
    let (valid_for, now) = (door::INVITED_FOR, clock.now());
    let code = match wishes.book {
        Some(number) => {
            let id = maker(&store, number).await?.id;
            store.invite_to_move(id, valid_for, now).await?
        }
        None => store.invite(wishes.owner, valid_for, now).await?,
    };
    let code = code.as_str().to_owned();
    let bot = store.bot_name().await?;
    store.close().await;
    Ok(Invitation { code, bot })
}

fn no_database(folder: &Path) -> Stop {
    let message = format!("there is no database in {}", folder.display());
    let hints = [
        "run duskrow serve once, which makes it",
        "or name the folder of the running bot with --data",
    ];
    let hints = hints.map(str::to_owned).to_vec();
    Stop { exit: Exit::Configuration, message, hints }
}

impl Invitation {
    fn line(&self) -> String {
        door::line(self.bot.as_deref(), &self.code)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_invitation_is_a_link_once_the_bots_name_is_known() {
        let line = |bot: Option<&str>| {
            Invitation { code: "k7Q2".into(), bot: bot.map(str::to_owned) }.line()
        };
        assert_eq!(line(Some("harbour_bot")), "https://t.me/harbour_bot?start=k7Q2");
        assert_eq!(line(None), "/start k7Q2");
    }
}
