//! One run of the binary: its log as it is written, and the ways it ends.

use std::io::{BufRead, BufReader, Read};
use std::process::{Child, Command, ExitStatus, Stdio};
use std::thread;

use rustix::process::{Pid, Signal, kill_process};
use tokio::sync::watch;

use super::within;

/// A running bot. Dropping it kills it, so that no test leaves one behind.
pub struct Bot {
    child: Child,
    log: watch::Receiver<String>,
}

/// A bot that has ended.
pub struct Ended {
    pub status: ExitStatus,
    /// All it wrote, on either stream.
    pub log: String,
}

impl Bot {
    pub fn start(mut command: Command) -> Bot {
        command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = command.spawn().unwrap();
        let (write, log) = watch::channel(String::new());
        let (out, err) = (child.stdout.take().unwrap(), child.stderr.take().unwrap());
        copy(out, write.clone());
        copy(err, write);
        Bot { child, log }
    }

    pub fn pid(&self) -> u32 {
        self.child.id()
    }

    pub fn log(&self) -> String {
        self.log.borrow().clone()
    }

    /// Waits until it has logged this.
    pub async fn logs(&mut self, part: &str) {
        let logged = self.log.wait_for(|log| log.contains(part));
        let came = within(part, logged).await.is_ok();
        assert!(came, "it ended without {part:?}: {}", self.log());
    }

    /// `kill -9`.
    pub async fn kill(mut self) -> Ended {
        self.child.kill().unwrap();
        self.ended().await
    }

    pub fn signal(&self, signal: Signal) {
        kill_process(Pid::from_child(&self.child), signal).unwrap();
    }

    pub async fn stop(self, signal: Signal) -> Ended {
        self.signal(signal);
        self.ended().await
    }

    /// Waits until it ends by itself.
    pub async fn ended(mut self) -> Ended {
        // Both streams are at their end once nobody is left who writes.
        let closed = async { while self.log.changed().await.is_ok() {} };
        within("the end of the bot", closed).await;
        let status = self.child.wait().unwrap();
        Ended { status, log: self.log() }
    }
}

impl Drop for Bot {
    fn drop(&mut self) {
        // Ended already, where all went well.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Reads a stream to its end on a thread of its own.
fn copy(stream: impl Read + Send + 'static, to: watch::Sender<String>) {
    thread::spawn(move || {
        for line in BufReader::new(stream).lines() {
            let line = line.unwrap();
            to.send_modify(|log| {
                log.push_str(&line);
                log.push('\n');
            });
        }
    });
}
