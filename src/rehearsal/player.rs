//! How does a script become an evening? Line by line: act, let the bot settle, show what came.
//!
//! Knows neither the bot nor zones: a [`Stage`] settles the one and answers for the other.

use std::future::Future;
use std::path::Path;
use std::{fs, io};

use anyhow::{Context, Result, bail};
use chrono::{DateTime, FixedOffset, NaiveDateTime, TimeDelta, Utc};

use super::platform::Person;
use super::script::{Act, Line, Turn};
use super::seen::Seen;
use super::stand_in::StandIn;
use super::transcript::shown;

/// More than the platform hands over to a bot.
const FILE_BYTES_MAX: u64 = 32 << 20;

/// The bot under rehearsal and its maker's calendar.
pub trait Stage {
    /// Runs until the bot has taken every update and sent all it has to say.
    fn settle(&mut self) -> impl Future<Output = Result<()>> + Send;
    /// Turns the clock forward to `at`, running all that falls due on the way.
    fn turn_to(&mut self, at: DateTime<Utc>) -> impl Future<Output = Result<()>> + Send;
    /// The maker's local time.
    fn local(&self, at: DateTime<Utc>) -> DateTime<FixedOffset>;
    /// The instant at which the maker's clock shows `local`.
    fn instant(&self, local: NaiveDateTime) -> DateTime<Utc>;
    /// The code of an invitation, where typing `text` stands for opening its link.
    fn invitation(
        &mut self,
        user: i64,
        text: &str,
    ) -> impl Future<Output = Result<Option<String>>> + Send;
    /// The next time the maker is asked, later than now.
    fn next_evening(&self) -> DateTime<Utc>;
    /// From here on, hours and local times are those of this person.
    fn turn_towards(&mut self, user: i64) -> impl Future<Output = Result<()>> + Send;
}

/// Those who act, the first of them known before. Each later one has the next id.
struct Cast {
    first: i64,
    names: Vec<String>,
    /// The last event shown of each chat.
    shown: Vec<u64>,
    acting: usize,
}

impl Cast {
    fn user(&self) -> i64 {
        self.first + i64::try_from(self.acting).unwrap_or_default()
    }

    fn name(&self) -> &str {
        &self.names[self.acting]
    }

    /// True for somebody new.
    fn turn_to(&mut self, name: &str) -> bool {
        let known = self.names.iter().position(|known| known == name);
        self.acting = known.unwrap_or(self.names.len());
        if known.is_none() {
            self.names.push(name.to_owned());
            self.shown.push(0);
        }
        known.is_none()
    }

    /// All that was seen in anybody's chat.
    fn seen(&self, stand_in: &StandIn) -> impl Iterator<Item = Seen> {
        let users = (0..self.names.len()).filter_map(|index| i64::try_from(index).ok());
        users.flat_map(|index| stand_in.seen_by(self.first + index))
    }

    /// The newest document of this name that was sent, or the file at this place, with its name.
    fn file(&self, name: &str, stand_in: &StandIn) -> Result<(String, Vec<u8>)> {
        let sent = self.seen(stand_in).filter_map(|seen| {
            let file = seen.file.filter(|file| file.name == name)?;
            Some((seen.number, file.bytes.to_vec()))
        });
        if let Some((_, bytes)) = sent.max_by_key(|(number, _)| *number) {
            return Ok((name.to_owned(), bytes));
        }
        let read = fs::metadata(name).and_then(|file| match file.len() > FILE_BYTES_MAX {
            true => Err(io::Error::other("it is too large")),
            false => fs::read(name),
        });
        let bytes = read.with_context(|| format!("cannot read the file {}", shown(name)))?;
        let own = Path::new(name).file_name().map(|name| name.to_string_lossy().into_owned());
        Ok((own.unwrap_or_default(), bytes))
    }

    /// The code of the newest invitation link in anybody's chat.
    fn invitation(&self, stand_in: &StandIn) -> Option<String> {
        let seen = self.seen(stand_in);
        let code = |seen: &Seen| {
            let (_, after) = seen.text.rsplit_once("?start=")?;
            let code = after.chars().take_while(|c| c.is_ascii_alphanumeric() || "-_".contains(*c));
            Some(code.collect::<String>())
        };
        let newest = seen.filter_map(|seen| Some((seen.at, code(&seen)?))).max();
        newest.map(|(_, code)| code)
    }
}

/// Plays `lines` as `user`, whose name is `name`, until another takes over. Gives every new event
/// of the chat of whoever acts to `sink`, in order and with their name.
///
/// Ends at the first line that cannot be played; the error names it. Events of before the first
/// line are not shown.
pub async fn play<S: Stage>(
    lines: &[Line],
    (user, name): (i64, &str),
    stand_in: &StandIn,
    stage: &mut S,
    mut sink: impl FnMut(&S, &str, &Seen) -> Result<()>,
) -> Result<()> {
    let last = stand_in.seen_by(user).last().map_or(0, |seen| seen.number);
    let mut cast = Cast { first: user, names: vec![name.to_owned()], shown: vec![last], acting: 0 };
    for line in lines {
        let played = play_one(&line.act, &mut cast, stand_in, stage).await;
        // What was seen before it went wrong helps to see why.
        for seen in stand_in.seen_since(cast.user(), cast.shown[cast.acting]) {
            cast.shown[cast.acting] = seen.number;
            sink(stage, cast.name(), &seen)?;
        }
        played.with_context(|| format!("line {}", line.number))?;
    }
    Ok(())
}

async fn play_one<S: Stage>(
    act: &Act,
    cast: &mut Cast,
    stand_in: &StandIn,
    stage: &mut S,
) -> Result<()> {
    let user = cast.user();
    match act {
        Act::Type(text) => {
            match stage.invitation(user, text).await? {
                Some(code) => stand_in.open_link(user, &code),
                None => stand_in.send_text(user, text),
            };
        }
        Act::Tap(label) => {
            if let Err(why) = stand_in.tap(user, label) {
                bail!("{}", shown(&why.to_string()));
            }
        }
        Act::OpenInvitation => {
            let code = cast.invitation(stand_in).context("nobody was shown an invitation")?;
            stand_in.open_link(user, &code);
        }
        Act::SendFile(name) => {
            let (name, bytes) = cast.file(name, stand_in)?;
            stand_in.send_file(user, &name, bytes);
        }
        Act::TakeOver(name) => {
            if cast.turn_to(name) {
                stand_in.introduce(Person::new(cast.user(), name));
            }
            stage.turn_towards(cast.user()).await?;
        }
        Act::Turn(turn) => {
            let now = stand_in.now();
            let at = target(*turn, now, stage)?;
            if at <= now {
                let at = stage.local(now).format("%Y-%m-%d %H:%M");
                bail!("the clock only turns forward; it is {at} already");
            }
            stage.turn_to(at).await?;
        }
    }
    stage.settle().await
}

fn target<S: Stage>(turn: Turn, now: DateTime<Utc>, stage: &S) -> Result<DateTime<Utc>> {
    let at = match turn {
        Turn::Evening => Some(stage.next_evening()),
        Turn::By(span) => now.checked_add_signed(span),
        Turn::At(local) => Some(stage.instant(local)),
        Turn::Days(days) => i64::try_from(days)
            .ok()
            .and_then(TimeDelta::try_days)
            .and_then(|days| stage.local(now).naive_local().checked_add_signed(days))
            .map(|local| stage.instant(local)),
    };
    at.context("the clock cannot be turned that far")
}
