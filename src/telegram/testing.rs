//! A server that gives prepared answers, one a connection, and notes what it was asked. It has no
//! rules of its own: what the platform would say is written in the tests.

use std::io::{Read, Write};
use std::net::{TcpListener, TcpStream};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::time::Duration;

use serde_json::{Value, json};

use super::wire::{Secret, Timeouts, Wire};

pub const TOKEN: &str = "123456789:PLANTED-token_of_the_tests";

/// What the server does with one request, after reading all of it.
pub enum Act {
    Answer(u16, String),
    /// Bytes as they are, and the end of the connection.
    Raw(Vec<u8>),
    Close,
    /// Never answers.
    Stall,
}

pub struct Canned {
    pub address: String,
    asked: Receiver<(String, Value)>,
}

impl Canned {
    pub fn new(acts: Vec<Act>) -> Canned {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let address = format!("http://{}", listener.local_addr().unwrap());
        let (note, asked) = channel();
        std::thread::spawn(move || {
            let mut stalled = Vec::new();
            for act in acts {
                let mut stream = listener.accept().unwrap().0;
                let _ = note.send(read(&mut stream));
                match act {
                    Act::Answer(status, body) => answer(&mut stream, status, &body),
                    Act::Raw(bytes) => stream.write_all(&bytes).unwrap(),
                    Act::Close => {}
                    Act::Stall => stalled.push(stream),
                }
            }
            // Holds the stalled connections open until the test is over.
            while !stalled.is_empty() {
                std::thread::park();
            }
        });
        Canned { address, asked }
    }

    pub fn wire(&self) -> Wire {
        wire(&self.address)
    }

    /// The path and the body of the next request that came.
    pub fn asked(&self) -> (String, Value) {
        self.asked.recv().unwrap()
    }
}

/// A wire with long limits, for answers that come.
pub fn wire(address: &str) -> Wire {
    Wire::new(address, Secret::new(TOKEN), Timeouts::default()).unwrap()
}

/// A wire that gives up on a message at once.
pub fn hasty_wire(address: &str) -> Wire {
    let timeouts = Timeouts { send: Duration::from_millis(500), ..Timeouts::default() };
    Wire::new(address, Secret::new(TOKEN), timeouts).unwrap()
}

pub fn ok(result: &Value) -> Act {
    Act::Answer(200, json!({ "ok": true, "result": result }).to_string())
}

pub fn refusal(code: u16, description: &str) -> Act {
    let body = json!({ "ok": false, "error_code": code, "description": description });
    Act::Answer(code, body.to_string())
}

/// Answers every request of one connection with an empty list, and notes the connection's number.
pub fn serve_kept_alive(mut stream: TcpStream, number: usize, note: &Sender<usize>) {
    let body = r#"{"ok":true,"result":[]}"#;
    loop {
        read(&mut stream);
        note.send(number).unwrap();
        let head = format!("HTTP/1.1 200 OK\r\nContent-Length: {}\r\n\r\n", body.len());
        stream.write_all((head + body).as_bytes()).unwrap();
    }
}

fn answer(stream: &mut TcpStream, status: u16, body: &str) {
    let head = format!(
        "HTTP/1.1 {status} Said\r\nDate: Thu, 14 Jan 2027 21:00:03 GMT\r\nConnection: close\r\n\
         Location: http://127.0.0.1:1/elsewhere\r\nContent-Length: {}\r\n\r\n",
        body.len()
    );
    // The other side may be gone already, where the test gave up on it.
    let _ = stream.write_all((head + body).as_bytes());
}

fn read(stream: &mut TcpStream) -> (String, Value) {
    let mut bytes = Vec::new();
    let mut chunk = [0; 4096];
    loop {
        let text = String::from_utf8_lossy(&bytes).to_lowercase();
        if let Some(head) = text.find("\r\n\r\n") {
            // A request for a file has no body.
            let length = text.split("content-length: ").nth(1).unwrap_or("0\r\n");
            let length: usize = length.split("\r\n").next().unwrap().parse().unwrap();
            if bytes.len() >= head + 4 + length {
                let path = String::from_utf8_lossy(&bytes);
                let path = path.split(' ').nth(1).unwrap().to_owned();
                let body = &bytes[head + 4..];
                let body = (length > 0).then(|| serde_json::from_slice(body).unwrap());
                return (path, body.unwrap_or_default());
            }
        }
        let read = stream.read(&mut chunk).unwrap();
        assert!(read > 0, "the request ended early");
        bytes.extend_from_slice(&chunk[..read]);
    }
}
