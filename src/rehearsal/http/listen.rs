//! Where does the stand-in listen, and how does it vanish? Sockets on this computer only.
//!
//! Keeps a hand on every connection, so that it can be cut: one of them when a reply is to be
//! lost, all of them when the platform is to be gone.

use std::io;
use std::net::{Ipv4Addr, Shutdown, TcpStream as Socket};
use std::sync::{Arc, Mutex, PoisonError, Weak};
use std::time::Duration;

use anyhow::{Context, Result};
use axum::Router;
use axum::body::Body;
use axum::extract::connect_info::Connected;
use axum::extract::{ConnectInfo, DefaultBodyLimit, Request, State};
use axum::http::header::{CONTENT_TYPE, DATE, RETRY_AFTER};
use axum::http::{HeaderValue, Response, StatusCode};
use axum::serve::{IncomingStream, Listener};
use tokio::net::{TcpListener, TcpStream};
use tokio::task::JoinHandle;

use super::answer::{Reply, Shared};
use super::body;

/// A server that runs; dropping it cuts everything.
pub struct Listening {
    pub port: u16,
    server: JoinHandle<()>,
    open: Open,
}

type Open = Arc<Mutex<Vec<Weak<Socket>>>>;

impl Listening {
    /// Listens on 127.0.0.1; port 0 takes a free one.
    pub async fn start(port: u16, shared: Arc<Shared>) -> Result<Listening> {
        let inner = bind(port).await?;
        let port = inner.local_addr()?.port();
        let open = Open::default();
        let listener = Tracked { inner, open: open.clone() };
        let router = Router::new()
            .fallback(handle)
            .layer(DefaultBodyLimit::max(body::MAX_BODY_BYTES))
            .with_state(shared)
            .into_make_service_with_connect_info::<Connection>();
        // Serving ends only when it is aborted.
        let server = tokio::spawn(async move {
            let _ended = axum::serve(listener, router).await;
        });
        Ok(Listening { port, server, open })
    }

    /// Refuses new connections from now on and cuts those there are.
    pub async fn stop(mut self) {
        self.server.abort();
        let _aborted = (&mut self.server).await;
    }
}

impl Drop for Listening {
    fn drop(&mut self) {
        self.server.abort();
        for socket in self.open.lock().unwrap_or_else(PoisonError::into_inner).drain(..) {
            if let Some(socket) = socket.upgrade() {
                cut(&socket);
            }
        }
    }
}

async fn handle(
    State(shared): State<Arc<Shared>>,
    ConnectInfo(connection): ConnectInfo<Connection>,
    request: Request,
) -> Response<Body> {
    if let Some((token, path)) = body::file(&request) {
        let bytes = shared.file(&token, &path);
        let status = if bytes.is_some() { StatusCode::OK } else { StatusCode::NOT_FOUND };
        let bytes = bytes.map_or_else(Vec::new, |bytes| bytes.to_vec());
        let mut response = Response::new(Body::from(bytes));
        *response.status_mut() = status;
        return response;
    }
    let reply = match body::read(request).await {
        Some(call) => shared.answer(call).await,
        None => shared.not_found(),
    };
    match reply {
        Reply::Answer { status, date, retry_after, body } => {
            let mut response = Response::new(Body::from(body));
            *response.status_mut() =
                StatusCode::from_u16(status).unwrap_or(StatusCode::INTERNAL_SERVER_ERROR);
            let headers = response.headers_mut();
            headers.insert(CONTENT_TYPE, HeaderValue::from_static("application/json"));
            headers.extend(HeaderValue::from_str(&date).ok().map(|date| (DATE, date)));
            headers.extend(retry_after.map(|seconds| (RETRY_AFTER, HeaderValue::from(seconds))));
            response
        }
        Reply::Hangup => {
            connection.0.iter().for_each(|socket| cut(socket));
            Response::new(Body::empty())
        }
    }
}

/// A cut connection is a closed one to both sides; that it was closed before is no matter.
fn cut(socket: &Socket) {
    let _closed_before = socket.shutdown(Shutdown::Both);
}

/// After a stop the port may be busy for a moment; another program may even sit on it.
async fn bind(port: u16) -> Result<TcpListener> {
    let mut tries = 50;
    loop {
        match TcpListener::bind((Ipv4Addr::LOCALHOST, port)).await {
            Err(why) if why.kind() == io::ErrorKind::AddrInUse && tries > 0 => {
                tries -= 1;
                tokio::time::sleep(Duration::from_millis(20)).await;
            }
            bound => return bound.with_context(|| format!("cannot listen on 127.0.0.1:{port}")),
        }
    }
}

/// The hand on a connection.
#[derive(Clone, Debug)]
struct Connection(Option<Arc<Socket>>);

impl Connected<IncomingStream<'_, Tracked>> for Connection {
    fn connect_info(stream: IncomingStream<'_, Tracked>) -> Connection {
        stream.remote_addr().clone()
    }
}

struct Tracked {
    inner: TcpListener,
    open: Open,
}

impl Tracked {
    async fn accept_one(&self) -> io::Result<(TcpStream, Connection)> {
        let (stream, _) = self.inner.accept().await?;
        stream.set_nodelay(true)?;
        let socket = stream.into_std()?;
        let hand = Arc::new(socket.try_clone()?);
        let mut open = self.open.lock().unwrap_or_else(PoisonError::into_inner);
        open.retain(|socket| socket.strong_count() > 0);
        open.push(Arc::downgrade(&hand));
        Ok((TcpStream::from_std(socket)?, Connection(Some(hand))))
    }
}

impl Listener for Tracked {
    type Io = TcpStream;
    type Addr = Connection;

    async fn accept(&mut self) -> (TcpStream, Connection) {
        loop {
            match self.accept_one().await {
                Ok(accepted) => return accepted,
                // Out of sockets, most likely: others will close.
                Err(_) => tokio::time::sleep(Duration::from_millis(50)).await,
            }
        }
    }

    fn local_addr(&self) -> io::Result<Connection> {
        Ok(Connection(None))
    }
}
