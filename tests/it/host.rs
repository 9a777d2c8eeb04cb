//! The program as a host meets it: command line, settings, signals, and the files in `deploy/`.
//! Every test runs the real binary. Never talks to a network.

use std::fs;
use std::io::{BufRead, BufReader, Read};
use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Output, Stdio};
use std::time::Duration;

use clap::{Args, Parser};
use duskrow::cli::CommandLine;
use duskrow::config::Options;
use rustix::process::{Pid, Signal, kill_process};
use tempfile::TempDir;

const TOKEN: &str = "1029384756:AbCdEfGhIjKlMnOpQrStUvWxYz_-0123456";

#[test]
fn without_a_token_the_host_is_told_three_ways_on() {
    let output = run(&["serve"], &[]);
    assert_eq!(output.status.code(), Some(78));
    assert_eq!(
        said(&output),
        "error: there is no bot token\n\n\
         hint: to get one, write /newbot to @BotFather on the platform\n\
         hint: put it alone in a file that only you can read, and set DUSKROW_TOKEN_FILE to it\n\
         hint: to try the bot without an account, run: duskrow rehearse\n"
    );
}

#[test]
fn a_mistake_in_the_environment_is_a_mistake_in_the_configuration() {
    let check = |name: &str, value: &str, words: &str| {
        let output = run(&["serve"], &[("DUSKROW_TOKEN", TOKEN), (name, value)]);
        assert_eq!(output.status.code(), Some(78), "{name}");
        assert!(said(&output).contains(words), "{}", said(&output));
    };
    check("DUSKROW_DATTA", "/srv", "hint: did you mean DUSKROW_DATA?");
    check("DUSKROW_RATE", "0", "hint: 0 is not in 1..=10000");
    check("DUSKROW_TOKEN_FILE", "/nowhere", "error: there are two tokens");
    check("DUSKROW_TOKEN", "12:short", "error: the variable DUSKROW_TOKEN does not hold a token");
}

#[test]
fn a_mistake_on_the_command_line_is_a_mistake_in_usage() {
    for line in [&["sevre"][..], &["serve", "--rate=0"], &["serve", "--token=x"], &[]] {
        let output = run(line, &[]);
        assert_eq!(output.status.code(), Some(2), "{line:?}");
        assert!(output.stdout.is_empty() && !output.stderr.is_empty(), "{line:?}");
    }
}

#[test]
fn version_and_help_are_data() {
    let version = run(&["--version"], &[]);
    assert_eq!(version.status.code(), Some(0));
    let wanted = format!("duskrow {}\n", env!("CARGO_PKG_VERSION"));
    assert_eq!(String::from_utf8(version.stdout).unwrap(), wanted);
    let help = String::from_utf8(run(&["serve", "--help"], &[]).stdout).unwrap();
    assert!(help.contains("[env: DUSKROW_DATA="), "{help}");
}

#[test]
fn an_invitation_needs_the_database_of_a_bot_that_ran() {
    let folder = tempfile::tempdir().unwrap();
    let data = folder.path().join("data");
    let output = run(&["invite", "--owner", "--data", data.to_str().unwrap()], &[]);
    assert_eq!(output.status.code(), Some(78));
    assert!(said(&output).starts_with("error: there is no database in"), "{}", said(&output));
    assert!(output.stdout.is_empty());
    assert!(!data.exists(), "a mistyped folder must not be made");
}

#[test]
fn a_signal_is_a_clean_end_and_the_log_holds_no_secret() {
    for signal in [Signal::TERM, Signal::INT] {
        let service = Service::lay_out();
        let (status, log) = service.run_until_started_then(signal);
        assert_eq!(status.code(), Some(0), "{signal:?}: {log}");
        assert!(log.contains("stopped"), "{log}");
        assert!(!log.contains(&TOKEN[11..]), "{log}");
        for path in all_below(&service.state()) {
            let mode = fs::metadata(&path).unwrap().permissions().mode();
            assert_eq!(mode & 0o077, 0, "{} has mode {mode:o}", path.display());
        }
    }
}

#[test]
fn the_unit_starts_the_program_in_a_way_it_understands() {
    let unit = fs::read_to_string(deploy("duskrow.service")).unwrap();
    let start = unit.lines().find_map(|line| line.strip_prefix("ExecStart=")).unwrap();
    CommandLine::try_parse_from(start.split(' ')).unwrap();
    let install = fs::read_to_string(deploy("INSTALL.md")).unwrap();
    let program = start.split(' ').next().unwrap();
    for path in [program, "/etc/duskrow/token", "/etc/duskrow/duskrow.env", "/var/lib/duskrow"] {
        assert!(install.contains(path), "INSTALL.md does not name {path}");
        assert!(unit.contains(path), "the unit does not name {path}");
    }
}

/// `DUSKROW_REWRITE=1 cargo test` writes the file anew.
#[test]
fn the_example_of_the_environment_file_holds_every_setting() {
    let path = deploy("duskrow.env");
    let example = example();
    if std::env::var_os("DUSKROW_REWRITE").is_some() {
        fs::write(&path, &example).unwrap();
    }
    assert_eq!(fs::read_to_string(&path).unwrap(), example);
}

/// The environment file with each setting's manual and its default, commented out.
fn example() -> String {
    let mut text = String::from(
        "# Settings of duskrow, for /etc/duskrow/duskrow.env. Take the # away before a setting to \
         change it.\n\
         # The token does not belong here: INSTALL.md says where it is put.\n",
    );
    let command = Options::augment_args(clap::Command::new("duskrow"));
    for option in command.get_arguments() {
        let name = option.get_env().expect("every setting is a variable too").to_str().unwrap();
        let manual = option.get_help().expect("every setting has a manual").to_string();
        let default = match option.get_default_values() {
            [value] if !option.is_hide_default_value_set() => value.to_str().unwrap(),
            _ => "",
        };
        text.push('\n');
        for line in wrapped(&manual) {
            text.push_str(&format!("# {line}\n"));
        }
        text.push_str(&format!("#{name}={default}\n"));
    }
    text
}

fn wrapped(manual: &str) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in manual.split_whitespace() {
        let last = lines.last_mut().unwrap();
        if last.len() + word.len() > 96 {
            lines.push(word.to_owned());
        } else {
            last.push_str(if last.is_empty() { "" } else { " " });
            last.push_str(word);
        }
    }
    lines
}

/// What systemd lays out for the unit before it starts the program.
struct Service {
    folder: TempDir,
}

impl Service {
    fn lay_out() -> Service {
        let folder = tempfile::tempdir().unwrap();
        fs::create_dir(folder.path().join("credentials")).unwrap();
        fs::write(folder.path().join("credentials/token"), format!("{TOKEN}\n")).unwrap();
        let service = Service { folder };
        fs::create_dir(service.state()).unwrap();
        fs::set_permissions(service.state(), fs::Permissions::from_mode(0o700)).unwrap();
        service
    }

    fn state(&self) -> PathBuf {
        self.folder.path().join("state")
    }

    /// Nothing listens where the API should be: a host's network may come up after the bot.
    fn run_until_started_then(&self, signal: Signal) -> (ExitStatus, String) {
        let mut child = program(&["serve"])
            .env("STATE_DIRECTORY", self.state())
            .env("CREDENTIALS_DIRECTORY", self.folder.path().join("credentials"))
            .env("DUSKROW_API_URL", "http://127.0.0.1:9")
            .env("DUSKROW_LOG", "trace")
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut stderr = BufReader::new(child.stderr.take().unwrap());
        let mut log = String::new();
        while !log.contains("starting") {
            assert_ne!(stderr.read_line(&mut log).unwrap(), 0, "it ended by itself: {log}");
        }
        keeps_to_itself(child.id());
        kill_process(Pid::from_child(&child), signal).unwrap();
        let status = wait(&mut child);
        stderr.read_to_string(&mut log).unwrap();
        (status, log)
    }
}

/// Files are made for their user alone, and memory is never dumped.
fn keeps_to_itself(process: u32) {
    let status = fs::read_to_string(format!("/proc/{process}/status")).unwrap();
    assert!(status.contains("Umask:\t0077"), "{status}");
    let limits = fs::read_to_string(format!("/proc/{process}/limits")).unwrap();
    let core = limits.lines().find_map(|line| line.strip_prefix("Max core file size")).unwrap();
    assert_eq!(core.split_whitespace().next(), Some("0"), "{limits}");
}

/// Gives up on a program that does not end, so that the test fails and does not hang.
fn wait(child: &mut Child) -> ExitStatus {
    for _ in 0..600 {
        if let Some(status) = child.try_wait().unwrap() {
            return status;
        }
        std::thread::sleep(Duration::from_millis(100));
    }
    child.kill().unwrap();
    panic!("the program did not end after a signal");
}

fn all_below(folder: &Path) -> Vec<PathBuf> {
    let mut found = vec![folder.to_owned()];
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() { found.extend(all_below(&path)) } else { found.push(path) }
    }
    found
}

fn deploy(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("deploy").join(name)
}

/// The program in an environment that holds nothing but what a test puts there.
fn program(arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_duskrow"));
    command.args(arguments).env_clear().stdin(Stdio::null()).stdout(Stdio::piped());
    command
}

fn run(arguments: &[&str], environment: &[(&str, &str)]) -> Output {
    let mut command = program(arguments);
    command.envs(environment.iter().copied()).stderr(Stdio::piped()).output().unwrap()
}

fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}
