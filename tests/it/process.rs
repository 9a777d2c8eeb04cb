//! The program as it runs for months: the real binary against the stand-in, on the real clock, and
//! killed, stopped and troubled as a server does it.
//!
//! Nothing here sleeps or looks at how long something took: tests wait for what the stand-in saw
//! or what the log says, and [`within`] only keeps a bot that hangs from hanging the tests.

mod bot;
mod crash;
mod damaged;
mod disks;
mod health;
mod house;
mod stop;
mod stream;
mod synced;
mod traces;
mod troubles;
mod way_in;

use std::time::Duration;

/// Far longer than anything here takes.
const HANGS_AFTER: Duration = Duration::from_secs(120);

/// What is waited for, which must come.
async fn within<T>(what: &str, wait: impl Future<Output = T>) -> T {
    match tokio::time::timeout(HANGS_AFTER, wait).await {
        Ok(came) => came,
        Err(_) => panic!("waited in vain: {what}"),
    }
}

/// Says what this machine cannot show; `.ci/run` repeats it.
#[allow(
    clippy::print_stdout,
    reason = "a test that shows nothing must not look like one that does"
)]
fn skip(what: &str) {
    println!("SKIP {what}");
}
