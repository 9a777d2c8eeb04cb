//! What is written to the log, and how does a line look? Ours at the level the host chose; of the
//! programs we are built on only warnings, since their finer lines can hold what people wrote.
//!
//! Never writes a token, a note, a tier or the words of a panic.

use std::cell::Cell;
use std::io::{self, IsTerminal};
use std::panic::PanicHookInfo;

use clap::ValueEnum;
use tracing::level_filters::LevelFilter;
use tracing::{Metadata, Subscriber};
use tracing_subscriber::filter::{EnvFilter, FilterExt, filter_fn};
use tracing_subscriber::fmt::{self, MakeWriter};
use tracing_subscriber::layer::{Layer, SubscriberExt};
use tracing_subscriber::registry::Registry;

/// How a log line looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// A line to be read
    Text,
    /// One JSON object a line
    Json,
}

/// What is beside the words of a line.
#[derive(Clone, Copy, Debug)]
struct Dress {
    format: Format,
    /// Off where the journal writes its own.
    times: bool,
    colours: bool,
}

/// Starts writing the log to stderr, panics included. Called once, before anything is logged.
///
/// # Errors
/// When the filter is none, or a log was started before.
pub fn start(filter: &str, format: Format) -> anyhow::Result<()> {
    let colours = io::stderr().is_terminal() && std::env::var_os("NO_COLOR").is_none();
    let dress = Dress { format, times: !under_journald(), colours };
    let log = log_to(io::stderr, filter, dress)?;
    tracing::subscriber::set_global_default(log)?;
    std::panic::set_hook(Box::new(log_panic));
    Ok(())
}

/// The filter as it was given, if it is one.
///
/// # Errors
/// When it is none. The error does not repeat it.
pub fn checked_filter(filter: &str) -> Result<String, String> {
    match EnvFilter::try_new(filter) {
        Ok(_) => Ok(filter.to_owned()),
        Err(_) => Err("not a filter such as info or duskrow=debug".to_owned()),
    }
}

thread_local! {
    static PANIC_CODE: Cell<Option<String>> = const { Cell::new(None) };
}

/// The code under which the last panic of this thread was logged. Whoever catches a panic can
/// name it to the maker, and the host finds the place by it. Told once.
pub fn take_panic_code() -> Option<String> {
    PANIC_CODE.take()
}

/// A short code to find a line of the log by: four characters that are not mistaken for others.
pub fn new_code() -> String {
    const LETTERS: &[u8; 32] = b"23456789ABCDEFGHJKLMNPQRSTUVWXYZ";
    let mut drawn = [0_u8; 4];
    // A code only has to tell faults apart, so one that repeats is no harm.
    let _ = getrandom::fill(&mut drawn);
    drawn.iter().map(|byte| char::from(LETTERS[usize::from(byte % 32)])).collect()
}

/// Place and code only: the words of a panic can hold whatever was being worked on.
fn log_panic(info: &PanicHookInfo<'_>) {
    let code = new_code();
    let place = info.location().map(ToString::to_string).unwrap_or_default();
    tracing::error!(place, code, "a fault in duskrow itself");
    PANIC_CODE.set(Some(code));
}

fn log_to<W>(writer: W, filter: &str, dress: Dress) -> anyhow::Result<impl Subscriber + use<W>>
where
    W: for<'w> MakeWriter<'w> + Send + Sync + 'static,
{
    let lines = fmt::layer().with_writer(writer).with_ansi(dress.colours);
    let lines: Box<dyn Layer<Registry> + Send + Sync> = match (dress.format, dress.times) {
        (Format::Text, true) => Box::new(lines),
        (Format::Text, false) => Box::new(lines.without_time()),
        (Format::Json, true) => Box::new(lines.json().flatten_event(true)),
        (Format::Json, false) => Box::new(lines.json().flatten_event(true).without_time()),
    };
    let chosen = EnvFilter::try_new(filter)?.and(filter_fn(may_speak));
    Ok(tracing_subscriber::registry().with(lines.with_filter(chosen)))
}

/// Whether a line may be written at all, whatever the host's filter says.
fn may_speak(line: &Metadata<'_>) -> bool {
    let room = line.target().split("::").next().unwrap_or_default();
    room == "duskrow" || *line.level() <= LevelFilter::WARN
}

/// Whether stderr is the stream that systemd connected to its journal.
fn under_journald() -> bool {
    let stream = std::env::var("JOURNAL_STREAM").unwrap_or_default();
    let Ok(stderr) = rustix::fs::fstat(io::stderr()) else { return false };
    stream == format!("{}:{}", stderr.st_dev, stderr.st_ino)
}

#[cfg(test)]
mod tests {
    use std::process::Command;
    use std::sync::{Arc, Mutex};

    use super::*;

    #[derive(Clone, Default)]
    struct Paper(Arc<Mutex<Vec<u8>>>);

    impl io::Write for Paper {
        fn write(&mut self, text: &[u8]) -> io::Result<usize> {
            self.0.lock().unwrap().extend_from_slice(text);
            Ok(text.len())
        }
        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    const PLAIN: Dress = Dress { format: Format::Text, times: false, colours: false };

    fn written(filter: &str, dress: Dress, speak: impl FnOnce()) -> String {
        let paper = Paper::default();
        let onto = paper.clone();
        let log = log_to(move || onto.clone(), filter, dress).unwrap();
        tracing::subscriber::with_default(log, speak);
        String::from_utf8(paper.0.lock().unwrap().clone()).unwrap()
    }

    #[test]
    fn programs_we_are_built_on_stay_quiet_at_any_level() {
        for filter in ["trace", "sqlx=trace,reqwest=trace,hyper=trace,duskrow=trace", "debug"] {
            let log = written(filter, PLAIN, || {
                tracing::trace!(target: "hyper::proto", "planted");
                tracing::debug!(target: "sqlx::query", "planted");
                tracing::info!(target: "reqwest::connect", "planted");
                tracing::info!(target: "duskrowish", "planted");
                tracing::debug!(target: "duskrow::store", "ours");
                tracing::warn!(target: "sqlx::pool", "slow");
            });
            assert!(!log.contains("planted"), "{filter}: {log}");
            assert!(log.contains("ours") && log.contains("slow"), "{filter}: {log}");
        }
    }

    #[test]
    fn the_hosts_filter_chooses_among_our_own_lines() {
        let log = written("info,duskrow::store=debug", PLAIN, || {
            tracing::debug!(target: "duskrow::app", "hidden");
            tracing::debug!(target: "duskrow::store", "shown");
            tracing::info!(target: "duskrow::app", "shown too");
        });
        assert_eq!(log, "DEBUG duskrow::store: shown\n INFO duskrow::app: shown too\n");
    }

    #[test]
    fn a_line_is_text_or_json_with_its_time_unless_the_journal_has_it() {
        let check = |format, times, wanted: fn(&str) -> bool| {
            let log = written("info", Dress { format, times, ..PLAIN }, || {
                tracing::info!(target: "duskrow", chats = 3, "polling");
            });
            assert!(wanted(&log), "{format:?} {times}: {log}");
        };
        check(Format::Text, false, |line| line == " INFO duskrow: polling chats=3\n");
        check(Format::Text, true, |line| line.contains("Z  INFO duskrow: polling chats=3\n"));
        let fields = |line: &str| serde_json::from_str::<serde_json::Value>(line).unwrap();
        check(Format::Json, false, |line| line.contains("\"chats\":3") && !line.contains("time"));
        check(Format::Json, true, |line| line.contains("\"timestamp\":\"20"));
        let json = written("info", Dress { format: Format::Json, ..PLAIN }, || {
            tracing::info!(target: "duskrow", "two\nlines");
        });
        assert_eq!(fields(&json)["message"], "two\nlines");
    }

    #[test]
    fn what_a_maker_wrote_cannot_colour_or_forge_a_line() {
        let log = written("info", PLAIN, || {
            tracing::info!(target: "duskrow", "{}", "a\x1b[31mred");
        });
        assert!(!log.contains('\x1b'), "{log:?}");
    }

    /// A hook is the whole process's, so this test runs itself again as a child that panics.
    #[test]
    fn a_panic_logs_its_place_and_a_code_but_not_its_words() {
        const CHILD: &str = "PANICKING_CHILD";
        if std::env::var_os(CHILD).is_some() {
            start("trace", Format::Text).unwrap();
            let caught = std::panic::catch_unwind(|| panic!("planted {}", "note"));
            assert!(caught.is_err());
            tracing::info!("told {}", take_panic_code().unwrap());
            assert_eq!(take_panic_code(), None);
            return;
        }
        let name = "logging::tests::a_panic_logs_its_place_and_a_code_but_not_its_words";
        let child = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", name, "--nocapture"])
            .env(CHILD, "1")
            .output()
            .unwrap();
        let log = String::from_utf8_lossy(&child.stderr);
        assert!(child.status.success(), "{log}");
        assert!(!log.contains("planted") && !log.contains("note"), "{log}");
        assert!(log.contains("a fault in duskrow itself place=\"src/logging.rs:"), "{log}");
        let (_, code) = log.split_once("code=\"").unwrap();
        assert!(log.contains(&format!("told {}", &code[..4])), "{log}");
    }

    #[test]
    fn a_code_is_four_characters_that_are_not_mistaken() {
        let code = new_code();
        assert_eq!(code.len(), 4);
        assert!(code.chars().all(|c| c.is_ascii_alphanumeric() && !"01IO".contains(c)), "{code}");
    }
}
