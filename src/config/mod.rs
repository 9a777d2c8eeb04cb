//! Which settings is this server run with, and where did they come from? Every option, with its
//! manual, is here once: flag, environment variable, help and `deploy/duskrow.env` come from it.
//!
//! Never reads the token from a flag, and never shows it.

mod environment;
mod local_line;
mod token;

use std::ffi::OsString;
use std::path::PathBuf;

use clap::Args;

pub use environment::check_environment;
pub use token::Token;

use crate::logging::{self, Format};

/// The options as a host writes them, by flag or by environment variable. A flag wins.
#[derive(Args, Clone, Debug)]
#[command(next_help_heading = "Settings")]
pub struct Options {
    /// Folder that holds all that is kept: the database and what belongs to it. It is made at the
    /// first start. Without this setting it is the state folder of the service under systemd, else
    /// ./duskrow-data
    #[arg(long, env = "DUSKROW_DATA", value_name = "DIR", global = true)]
    #[arg(default_value_os_t = data_folder(std::env::var_os("STATE_DIRECTORY")))]
    #[arg(hide_default_value = true)]
    pub data: PathBuf,

    /// File that holds the bot's token and nothing else; only the service's user should be able to
    /// read it. Without this setting it is the credential named token that systemd hands over
    #[arg(long, env = "DUSKROW_TOKEN_FILE", value_name = "FILE", global = true)]
    pub token_file: Option<PathBuf>,

    /// Where the Bot API answers: the platform, or a Bot API server of your own
    #[arg(long, env = "DUSKROW_API_URL", value_name = "URL", global = true)]
    #[arg(default_value = "https://api.telegram.org", value_parser = api_url)]
    pub api_url: String,

    /// Messages sent in a second at most, over all chats, from 1 to 10000. The platform allows
    /// about 30; more is of use with a server of your own
    #[arg(long, env = "DUSKROW_RATE", value_name = "NUMBER", global = true)]
    #[arg(default_value_t = 28, value_parser = clap::value_parser!(u32).range(1..=10_000))]
    pub rate: u32,

    /// Folder of the system's time zone data. It is used when it is newer than the data that is
    /// built in
    #[arg(long, env = "DUSKROW_ZONEINFO", value_name = "DIR", global = true)]
    #[arg(default_value = "/usr/share/zoneinfo")]
    pub zoneinfo: PathBuf,

    /// One line for the people who use this bot, such as whom they can call where they live. It is
    /// shown to all alike, on the first screen and in /help, under the caution. At most 160
    /// characters of plain text
    #[arg(long, env = "DUSKROW_LOCAL_LINE", value_name = "TEXT", global = true)]
    #[arg(value_parser = local_line::read)]
    pub local_line: Option<String>,

    /// What is logged: off, error, warn, info, debug or trace, or pairs such as
    /// info,duskrow::store=debug. Programs that Duskrow is built on never log below warn
    #[arg(long, env = "DUSKROW_LOG", value_name = "FILTER", global = true)]
    #[arg(default_value = "info", value_parser = logging::checked_filter)]
    pub log: String,

    /// How a log line looks
    #[arg(long, env = "DUSKROW_LOG_FORMAT", value_name = "FORMAT", global = true)]
    #[arg(default_value = "text", value_enum)]
    pub log_format: Format,
}

/// The settings a running bot needs, all of them known. A rehearsal makes its own.
#[derive(Clone, Debug)]
pub struct Settings {
    pub data: PathBuf,
    pub token: Token,
    /// Without a slash at the end.
    pub api_url: String,
    /// Messages a second over all chats.
    pub rate: u32,
    pub zoneinfo: PathBuf,
    /// Plain text on one line, shown under the caution.
    pub local_line: Option<String>,
}

/// A setting that is wrong or missing: the bot does not start before a person has changed it.
#[derive(Debug, thiserror::Error)]
#[error("{message}")]
pub struct Problem {
    /// One line, without a full stop.
    pub message: String,
    /// What can be done, a line each.
    pub hints: Vec<String>,
}

impl Options {
    /// The settings with the token, which is looked for now. What is unwise but works is logged as
    /// a warning.
    ///
    /// # Errors
    /// When there is no token, two of them, or one that cannot be read or cannot be a token.
    pub fn settings(&self) -> Result<Settings, Problem> {
        let found = token::find(self.token_file.as_deref(), |name| std::env::var_os(name))?;
        for warning in found.warnings.into_iter().chain(plain_http(&self.api_url)) {
            tracing::warn!("{warning}");
        }
        Ok(Settings {
            data: self.data.clone(),
            token: found.token,
            api_url: self.api_url.clone(),
            rate: self.rate,
            zoneinfo: self.zoneinfo.clone(),
            local_line: self.local_line.clone(),
        })
    }
}

impl Problem {
    pub fn new(message: impl Into<String>, hints: &[&str]) -> Problem {
        let hints = hints.iter().map(|hint| (*hint).to_owned()).collect();
        Problem { message: message.into(), hints }
    }
}

/// The default data folder. systemd may name several state folders with colons between them; the
/// first is ours.
fn data_folder(state_directory: Option<OsString>) -> PathBuf {
    let state = state_directory.as_deref().and_then(|list| std::env::split_paths(list).next());
    state.filter(|first| !first.as_os_str().is_empty()).unwrap_or_else(|| "./duskrow-data".into())
}

/// The address without its last slash. Its refusals never repeat the address, which some people
/// write with the token in it.
fn api_url(given: &str) -> Result<String, String> {
    let url = reqwest::Url::parse(given).map_err(|fault| format!("not an address: {fault}"))?;
    let problem = if !matches!(url.scheme(), "http" | "https") {
        "it has to start with http:// or https://"
    } else if url.password().is_some() || !url.username().is_empty() {
        "it must not hold a user name or password"
    } else if url.query().is_some() || url.fragment().is_some() {
        "it must not hold a ? or #"
    } else if url.path().split('/').any(|part| part.starts_with("bot") && part.contains(':')) {
        "it must not hold the token"
    } else {
        return Ok(given.trim_end_matches('/').to_owned());
    };
    Err(problem.to_owned())
}

/// A warning when the token would travel readable over a network.
fn plain_http(api_url: &str) -> Option<String> {
    let url = reqwest::Url::parse(api_url).ok().filter(|url| url.scheme() == "http")?;
    let host = url.host_str()?;
    let address = host.trim_matches(['[', ']']).parse::<std::net::IpAddr>();
    let here = host == "localhost" || address.is_ok_and(|address| address.is_loopback());
    (!here).then(|| {
        "DUSKROW_API_URL is a plain http address on another machine: the token and every answer \
         travel readable; use https, or a Bot API server on this machine"
            .to_owned()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_data_folder_is_the_services_own_or_one_beside_the_host() {
        let check = |given: Option<&str>, folder: &str| {
            assert_eq!(data_folder(given.map(OsString::from)), PathBuf::from(folder), "{given:?}");
        };
        check(None, "./duskrow-data");
        check(Some(""), "./duskrow-data");
        check(Some("/var/lib/duskrow"), "/var/lib/duskrow");
        check(Some("/var/lib/duskrow:/var/lib/other"), "/var/lib/duskrow");
    }

    #[test]
    fn an_api_address_is_plain_and_holds_no_secret() {
        let check = |given: &str, kept: Result<&str, &str>| {
            assert_eq!(api_url(given).as_deref(), kept.map_err(String::from).as_ref().copied());
        };
        check("https://api.telegram.org/", Ok("https://api.telegram.org"));
        check("http://127.0.0.1:8081", Ok("http://127.0.0.1:8081"));
        check("http://box/bots/", Ok("http://box/bots"));
        check("ftp://box", Err("it has to start with http:// or https://"));
        check("https://me:pw@box", Err("it must not hold a user name or password"));
        check("https://box/?a=b", Err("it must not hold a ? or #"));
        check("https://box/bot12:AbC/getMe", Err("it must not hold the token"));
        assert!(api_url("box:port").is_err());
    }

    #[test]
    fn plain_http_to_another_machine_is_warned_about() {
        let warned = |url: &str| plain_http(url).is_some();
        assert!(warned("http://192.0.2.7:8081"));
        assert!(warned("http://bots.example"));
        assert!(!warned("https://bots.example"));
        assert!(!warned("http://127.0.0.1:8081"));
        assert!(!warned("http://[::1]:8081"));
        assert!(!warned("http://localhost"));
    }
}
