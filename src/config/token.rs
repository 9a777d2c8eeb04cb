//! Which token is the bot's, and from where? A file, a credential handed over by systemd, or, with
//! a warning, the environment.
//!
//! Never shows a token, not even in an error about one.

use std::ffi::OsString;
use std::fmt;
use std::fs::File;
use std::io::Read;
use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};

use super::Problem;
use super::environment::TOKEN;

/// A file larger than this holds something else than a token.
const BYTES_MAX: u64 = 4096;

/// The bot's token: its account number, a colon, and the secret.
#[derive(Clone, PartialEq, Eq)]
pub struct Token(String);

/// A token, and what is unwise about the place it was found in.
#[derive(Debug)]
pub(super) struct Found {
    pub token: Token,
    pub warnings: Vec<String>,
}

impl Token {
    /// The token, if the text can be one. Space around it is cut off.
    pub fn parse(text: &str) -> Option<Token> {
        let text = text.trim();
        let (account, secret) = text.split_once(':')?;
        account.parse::<i64>().ok()?;
        let fits = account.bytes().all(|b| b.is_ascii_digit())
            && secret.len() >= 35
            && secret.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'_' || b == b'-');
        fits.then(|| Token(text.to_owned()))
    }

    /// The whole token, for the address of a request and for nothing else.
    pub fn expose(&self) -> &str {
        &self.0
    }

    /// The account number of the bot, which is not secret.
    pub fn bot_id(&self) -> i64 {
        let digits = self.0.split(':').next().unwrap_or_default();
        digits.parse().expect("Token::parse has read these digits as a number")
    }
}

impl fmt::Debug for Token {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Token(hidden)")
    }
}

/// Looks in the given file, else in systemd's credentials, else in the environment.
pub(super) fn find(
    file: Option<&Path>,
    variable: impl Fn(&str) -> Option<OsString>,
) -> Result<Found, Problem> {
    let credential = || {
        let path = PathBuf::from(variable("CREDENTIALS_DIRECTORY")?).join("token");
        path.exists().then_some(path)
    };
    match (file.map(Path::to_owned).or_else(credential), variable(TOKEN)) {
        (Some(_), Some(_)) => Err(Problem::new(
            "there are two tokens, one in a file and one in the variable DUSKROW_TOKEN",
            &["keep the file, and remove DUSKROW_TOKEN from the environment"],
        )),
        (Some(path), None) => read(&path),
        (None, Some(value)) => from_variable(&value),
        (None, None) => Err(Problem::new(
            "there is no bot token",
            &[
                "to get one, write /newbot to @BotFather on the platform",
                "put it alone in a file that only you can read, and set DUSKROW_TOKEN_FILE to it",
                "to try the bot without an account, run: duskrow rehearse",
            ],
        )),
    }
}

fn from_variable(value: &OsString) -> Result<Found, Problem> {
    let token = value.to_str().and_then(Token::parse);
    let token = token.ok_or_else(|| no_token_in("the variable DUSKROW_TOKEN"))?;
    let warning = "the token comes from the environment, where other programs may read it; put it \
                   in a file and set DUSKROW_TOKEN_FILE";
    Ok(Found { token, warnings: vec![warning.to_owned()] })
}

fn read(path: &Path) -> Result<Found, Problem> {
    // People paste the token where its file's path belongs; the path must not be shown then.
    if path.to_str().is_some_and(|text| Token::parse(text).is_some()) {
        let hint = "put the token in a file, and set DUSKROW_TOKEN_FILE to the path of that file";
        return Err(Problem::new("DUSKROW_TOKEN_FILE holds a token, not a path", &[hint]));
    }
    let place = format!("the token file {}", path.display());
    let unreadable = |fault: std::io::Error| {
        let hint = "the user that runs duskrow has to be able to read it";
        Problem::new(format!("cannot read {place}: {fault}"), &[hint])
    };
    let opened = File::open(path).map_err(unreadable)?;
    let mode = opened.metadata().map_err(unreadable)?.permissions().mode();
    let mut text = String::new();
    opened.take(BYTES_MAX).read_to_string(&mut text).map_err(unreadable)?;
    let token = Token::parse(&text).ok_or_else(|| no_token_in(&place))?;
    let readable_by_all = (mode & 0o004 != 0).then(|| {
        format!("{place} can be read by every user of this machine; run: chmod 600 on it")
    });
    Ok(Found { token, warnings: readable_by_all.into_iter().collect() })
}

fn no_token_in(place: &str) -> Problem {
    let hint = "a token is digits, a colon, and 35 or more letters, digits, - or _";
    Problem::new(format!("{place} does not hold a token"), &[hint])
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;

    const GIVEN: &str = "1029384756:AbCdEfGhIjKlMnOpQrStUvWxYz_-0123456";

    /// A folder with `token` in it, readable as `mode` says.
    fn folder(text: &str, mode: u32) -> tempfile::TempDir {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("token");
        fs::write(&file, text).unwrap();
        fs::set_permissions(&file, fs::Permissions::from_mode(mode)).unwrap();
        folder
    }

    fn environment(set: &[(&str, &str)]) -> impl Fn(&str) -> Option<OsString> {
        let set: Vec<(String, OsString)> =
            set.iter().map(|(name, value)| ((*name).to_owned(), value.into())).collect();
        move |name| set.iter().find(|(known, _)| known == name).map(|(_, value)| value.clone())
    }

    #[test]
    fn a_token_is_an_account_number_a_colon_and_a_long_secret() {
        assert_eq!(Token::parse(GIVEN).unwrap().bot_id(), 1_029_384_756);
        assert_eq!(Token::parse(&format!(" {GIVEN}\n")).unwrap().expose(), GIVEN);
        for wrong in [
            "",
            "token",
            "1029384756",
            "1029384756:short",
            "-12:AbCdEfGhIjKlMnOpQrStUvWxYz_-0123456",
            "+12:AbCdEfGhIjKlMnOpQrStUvWxYz_-0123456",
            "99999999999999999999:AbCdEfGhIjKlMnOpQrStUvWxYz_-0123456",
            "1029384756:AbCdEfGhIjKlMnOpQrStUvWxYz_-01234 6",
            "1029384756:AbCdEfGhIjKlMnOpQrStUvWxYz/-0123456",
        ] {
            assert!(Token::parse(wrong).is_none(), "{wrong}");
        }
    }

    #[test]
    fn a_token_is_never_shown() {
        assert_eq!(format!("{:?}", Token::parse(GIVEN)), "Some(Token(hidden))");
        let faults = [
            find(Some(Path::new(GIVEN)), environment(&[])),
            find(None, environment(&[("DUSKROW_TOKEN", &GIVEN[..20])])),
            find(Some(&folder(&GIVEN[..20], 0o600).path().join("token")), environment(&[])),
        ];
        for fault in faults {
            let shown = format!("{:?}", fault.unwrap_err());
            assert!(!shown.contains(&GIVEN[..12]), "{shown}");
        }
    }

    #[test]
    fn a_file_comes_first_then_the_credential_then_the_environment() {
        let folder = folder(&format!("{GIVEN}\n"), 0o600);
        let file = folder.path().join("token");
        let credentials = [("CREDENTIALS_DIRECTORY", folder.path().to_str().unwrap())];

        let from_file = find(Some(&file), environment(&[])).unwrap();
        assert_eq!((from_file.token.expose(), from_file.warnings.len()), (GIVEN, 0));
        let handed_over = find(None, environment(&credentials)).unwrap();
        assert_eq!((handed_over.token.expose(), handed_over.warnings.len()), (GIVEN, 0));
        let open = find(None, environment(&[("DUSKROW_TOKEN", GIVEN)])).unwrap();
        assert_eq!(open.token.expose(), GIVEN);
        assert!(open.warnings[0].starts_with("the token comes from the environment"));
    }

    #[test]
    fn two_tokens_at_once_are_refused() {
        let folder = folder(GIVEN, 0o600);
        let path = folder.path().to_str().unwrap();
        let both = [("CREDENTIALS_DIRECTORY", path), ("DUSKROW_TOKEN", GIVEN)];
        let refused = [
            find(Some(&folder.path().join("token")), environment(&[("DUSKROW_TOKEN", GIVEN)])),
            find(None, environment(&both)),
        ];
        for refused in refused {
            assert!(refused.unwrap_err().message.starts_with("there are two tokens"));
        }
    }

    #[test]
    fn a_token_file_that_everyone_can_read_is_warned_about() {
        let warnings = |mode: u32| {
            let folder = folder(GIVEN, mode);
            find(Some(&folder.path().join("token")), environment(&[])).unwrap().warnings
        };
        assert_eq!(warnings(0o640), Vec::<String>::new());
        assert!(warnings(0o644)[0].contains("can be read by every user"));
    }

    #[test]
    fn a_missing_token_is_answered_with_three_ways_on() {
        let nothing = find(None, environment(&[("CREDENTIALS_DIRECTORY", "/nowhere")]));
        let problem = nothing.unwrap_err();
        assert_eq!(problem.message, "there is no bot token");
        assert_eq!(problem.hints.len(), 3);
        assert!(problem.hints[2].ends_with("duskrow rehearse"));

        let absent = find(Some(Path::new("/nowhere/token")), environment(&[])).unwrap_err();
        assert!(absent.message.starts_with("cannot read the token file /nowhere/token"));
    }
}
