//! `duskrow serve`: runs the bot until it is told to stop. Never prints; what happens is logged.

use std::io;

use tokio::signal::unix::{Signal, SignalKind, signal};

use super::database::{DATABASE, stopped_by};
use super::{Exit, runtime};
use crate::app::{App, Start};
use crate::clock::Clock;
use crate::config::{Options, Settings};
use crate::store::Create;
use crate::telegram::pacing::Rates;
use crate::telegram::wire::{Secret, Timeouts};

/// Runs until SIGTERM or SIGINT, which are a clean end.
pub fn run(options: &Options) -> anyhow::Result<()> {
    let settings = options.settings()?;
    runtime()?.block_on(async {
        // Before anything is opened, so that a signal during the start is a clean end too.
        let stop = Stopping::listen()?;
        tracing::info!(version = env!("CARGO_PKG_VERSION"), "starting");
        serve(settings, stop.told()).await?;
        tracing::info!("stopped");
        Ok(())
    })
}

/// The bot itself.
async fn serve(settings: Settings, stop: impl Future<Output = ()>) -> anyhow::Result<()> {
    let start = Start {
        database: settings.data.join(DATABASE),
        create: Create::IfMissing,
        api_url: settings.api_url,
        secret: Secret::new(settings.token.expose()),
        timeouts: Timeouts::default(),
        rates: Rates { per_second: settings.rate, ..Rates::default() },
        clock: Clock::real(),
        zoneinfo: Some(settings.zoneinfo),
        local_line: settings.local_line,
    };
    let app = App::open(start).await.map_err(stopped_by)?;
    app.serve(stop).await.map_err(stopped_by)
}

/// The two signals that end the program.
struct Stopping {
    terminate: Signal,
    interrupt: Signal,
}

impl Stopping {
    fn listen() -> io::Result<Stopping> {
        let terminate = signal(SignalKind::terminate())?;
        Ok(Stopping { terminate, interrupt: signal(SignalKind::interrupt())? })
    }

    /// Comes back at the first signal. A second one ends the program at once: what was kept is on
    /// disk, and someone who asks twice does not want to wait.
    async fn told(mut self) {
        let name = self.next().await;
        tracing::info!(signal = name, "stopping");
        tokio::spawn(async move {
            self.next().await;
            tracing::warn!("stopped at once by a second signal");
            std::process::exit(Exit::Failure as i32);
        });
    }

    async fn next(&mut self) -> &'static str {
        tokio::select! {
            _ = self.terminate.recv() => "SIGTERM",
            _ = self.interrupt.recv() => "SIGINT",
        }
    }
}
