//! Is every `DUSKROW_…` variable of the environment known, and does its value fit? Looked at
//! before the command line, so that a mistake in the service's file is named as one.
//!
//! Never repeats a value: a token pasted in the wrong place must not reach a log.

use std::error::Error;
use std::ffi::{OsStr, OsString};

use clap::builder::Resettable;
use clap::error::{ContextKind, ContextValue};
use clap::{Arg, Args, Command};

use super::{Options, Problem};

/// The token itself, readable by whoever can read the service's environment.
pub(super) const TOKEN: &str = "DUSKROW_TOKEN";

/// Variables that only the tests and their children know: the folder of the request log, whether
/// files that are made from the sources are written anew, and where every sentence and every
/// document are written.
const FOR_TESTS: [&str; 4] =
    ["DUSKROW_REQUEST_LOG", "DUSKROW_REWRITE", "DUSKROW_SENTENCES", "DUSKROW_DOCUMENTS"];

/// Checks all variables that start with our prefix; the others are not ours to judge.
///
/// # Errors
/// For the first one that is unknown, empty, or does not fit its option.
pub fn check_environment(
    variables: impl IntoIterator<Item = (OsString, OsString)>,
) -> Result<(), Problem> {
    let options = Options::augment_args(Command::new("duskrow").no_binary_name(true));
    for (name, value) in variables {
        let name = name.to_string_lossy();
        if name.starts_with("DUSKROW_") && name != TOKEN && !FOR_TESTS.contains(&name.as_ref()) {
            check_variable(&options, &name, &value)?;
        }
    }
    Ok(())
}

fn check_variable(options: &Command, name: &str, value: &OsStr) -> Result<(), Problem> {
    let option = options.get_arguments().find(|option| option.get_env() == Some(OsStr::new(name)));
    let Some(flag) = option.and_then(Arg::get_long) else {
        return Err(unknown(options, name));
    };
    if value.is_empty() {
        let hint = "give it a value, or remove the line to use the default";
        return Err(Problem::new(format!("the environment variable {name} is empty"), &[hint]));
    }
    let mut argument = OsString::from(format!("--{flag}="));
    argument.push(value);
    // The environment itself is left out of this reading, else a second wrong variable would be
    // reported under the name of the first.
    let alone = options.clone().mut_args(|option| option.env(Resettable::Reset));
    let Err(fault) = alone.try_get_matches_from([argument]) else { return Ok(()) };
    let message = format!("the environment variable {name} has a value that does not fit");
    Err(Problem::new(message, &[&reason(&fault), "duskrow serve --help explains every setting"]))
}

/// What is wrong, without the value that is.
fn reason(fault: &clap::Error) -> String {
    if let Some(ContextValue::Strings(fitting)) = fault.get(ContextKind::ValidValue) {
        return format!("it can be {}", fitting.join(" or "));
    }
    fault.source().map_or_else(|| fault.kind().to_string(), ToString::to_string)
}

fn unknown(options: &Command, name: &str) -> Problem {
    let mut known: Vec<&str> = options
        .get_arguments()
        .filter_map(|option| option.get_env()?.to_str())
        .chain([TOKEN])
        .collect();
    known.sort_by_key(|known| slips(known, name));
    let hint = match known.first() {
        Some(near) if slips(near, name) <= 3 => format!("did you mean {near}?"),
        Some(_) | None => {
            known.sort_unstable();
            format!("known are {}", known.join(", "))
        }
    };
    Problem::new(format!("the environment variable {name} is not known"), &[&hint])
}

/// How many letters have to be changed, added or taken away to turn one name into the other
/// (Levenshtein's distance).
fn slips(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (above, letter) in a.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = above + 1;
        for (index, other) in b.iter().enumerate() {
            let changed = diagonal + usize::from(letter != *other);
            diagonal = row[index + 1];
            row[index + 1] = changed.min(diagonal + 1).min(row[index] + 1);
        }
    }
    row[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn problem(name: &str, value: &str) -> Option<(String, String)> {
        let others = [("PATH", ""), ("DUSKROW_RATE", "30"), ("DUSKROW_REQUEST_LOG", "target/x")];
        let all = others.into_iter().chain([(name, value)]);
        let fault =
            check_environment(all.map(|(name, value)| (name.into(), value.into()))).err()?;
        Some((fault.message, fault.hints.join(" / ")))
    }

    #[test]
    fn variables_that_fit_and_those_of_others_are_let_through() {
        for (name, value) in [
            ("DUSKROW_DATA", "/srv/duskrow"),
            ("DUSKROW_TOKEN", "whatever"),
            ("DUSKROW_RATE", "10000"),
            ("DUSKROW_LOG", "info,duskrow::store=trace"),
            ("DUSKROW_LOG_FORMAT", "json"),
            ("DUSK", "1"),
        ] {
            assert_eq!(problem(name, value), None, "{name}={value}");
        }
    }

    #[test]
    fn an_unknown_variable_is_refused_with_the_nearest_known_one() {
        let check = |name: &str, hint: &str| {
            let (message, hints) = problem(name, "1").expect("a problem");
            assert_eq!(message, format!("the environment variable {name} is not known"));
            assert_eq!(hints, hint);
        };
        check("DUSKROW_DAT", "did you mean DUSKROW_DATA?");
        check("DUSKROW_TOKENFILE", "did you mean DUSKROW_TOKEN_FILE?");
        check("DUSKROW_LOGFORMAT", "did you mean DUSKROW_LOG_FORMAT?");
        check(
            "DUSKROW_PASSWORD",
            "known are DUSKROW_API_URL, DUSKROW_DATA, DUSKROW_LOCAL_LINE, DUSKROW_LOG, \
             DUSKROW_LOG_FORMAT, DUSKROW_RATE, DUSKROW_TOKEN, DUSKROW_TOKEN_FILE, DUSKROW_ZONEINFO",
        );
    }

    #[test]
    fn a_value_that_does_not_fit_is_explained_and_never_repeated() {
        let check = |name: &str, value: &str, why: &str| {
            let (message, hints) = problem(name, value).expect("a problem");
            let named = format!("the environment variable {name} has a value that does not fit");
            assert_eq!(message, named);
            assert_eq!(hints, format!("{why} / duskrow serve --help explains every setting"));
        };
        check("DUSKROW_RATE", "0", "0 is not in 1..=10000");
        check("DUSKROW_RATE", "fast", "invalid digit found in string");
        check("DUSKROW_LOG_FORMAT", "xml", "it can be text or json");
        check("DUSKROW_API_URL", "https://b/bot1:Ab", "it must not hold the token");
        check("DUSKROW_LOG", "duskrow=loud", "not a filter such as info or duskrow=debug");
        let (message, _) = problem("DUSKROW_DATA", "").expect("a problem");
        assert_eq!(message, "the environment variable DUSKROW_DATA is empty");
    }
}
