//! The server: 127.0.0.1 only, few at a time, nobody may dawdle.

use std::future::{Future, poll_fn};
use std::io;
use std::net::{Ipv4Addr, SocketAddr};
use std::pin::pin;
use std::sync::Arc;
use std::task::Poll;
use std::time::{Duration, Instant};

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::extract::{Path, Request, State};
use axum::http::{HeaderValue, StatusCode, header};
use axum::middleware::{self, Next};
use axum::response::Response;
use axum::routing::{get, post};
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::service::TowerToHyperService;
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::Semaphore;
use tokio::task::spawn_blocking;
use tokio::time::timeout;
use tokio_io_timeout::TimeoutStream;

use super::answer::Answer;
use super::api::{LEAFLET, answer_until, beginning, is_light};
use super::guard::{MOST_BYTES, MOST_PATTERN_BYTES, ServerNames, is_json, lock, sentence};
use super::page;
use crate::measure::Stop;

/// Tried first, so that a browser finds its kept work again; any free port when it is taken.
pub const USUAL_PORT: u16 = 7423;

/// Connections at a time; more wait in line.
const MOST_CONNECTIONS: usize = 128;

/// Cases worked out at a time; each uses every core anyway.
const MOST_AT_WORK: usize = 2;

/// What takes milliseconds does not wait behind what takes seconds: so many of these at a time.
const MOST_LIGHT: usize = 2;

/// A client must have sent its whole request within this.
const PATIENCE: Duration = Duration::from_secs(10);

/// A client that takes nothing of its answer for so long is dropped.
const UNREAD: Duration = Duration::from_secs(10);

/// Who waits longer for a turn is told so: well before the connection is closed.
const MOST_WAIT: Duration = Duration::from_secs(90);

/// A connection is closed after this, once its answer is out.
const CONNECTION_AGE: Duration = Duration::from_mins(2);

/// And dropped after this if the client does not take the answer.
const FAREWELL: Duration = Duration::from_mins(1);

/// A workbench that has its port and waits to be run.
#[derive(Debug)]
pub struct Workbench {
    runtime: tokio::runtime::Runtime,
    listener: TcpListener,
    address: SocketAddr,
}

/// What the handlers share.
#[derive(Clone, Debug)]
struct ServerState {
    names: ServerNames,
    at_work: Arc<Semaphore>,
    light: Arc<Semaphore>,
}

/// Sets the flag when whoever waits for the answer is gone: hyper drops the handler with the client.
struct WhileWanted(Stop);

impl Drop for WhileWanted {
    fn drop(&mut self) {
        self.0.set();
    }
}

impl Workbench {
    /// Takes a port of 127.0.0.1: this one, or without one the usual one if it is free, else any.
    ///
    /// # Errors
    /// When the port cannot be had.
    pub fn open(port: Option<u16>) -> io::Result<Self> {
        let runtime = tokio::runtime::Builder::new_current_thread()
            .enable_all()
            .max_blocking_threads(MOST_AT_WORK + MOST_LIGHT + 1)
            .build()?;
        let bind = |port| runtime.block_on(TcpListener::bind((Ipv4Addr::LOCALHOST, port)));
        let listener = match port {
            Some(port) => bind(port)?,
            None => bind(USUAL_PORT).or_else(|_| bind(0))?,
        };
        let address = listener.local_addr()?;
        Ok(Self {
            runtime,
            listener,
            address,
        })
    }

    /// Serves until Ctrl-C. `ready` is called once Ctrl-C is listened for: whoever is told where the page is may end it
    /// at once.
    ///
    /// # Errors
    /// When Ctrl-C cannot be listened for.
    pub fn run(self, ready: impl FnOnce(SocketAddr)) -> io::Result<()> {
        let router = router(ServerNames::of(self.address.port()));
        let ended = self.runtime.block_on(async {
            let mut interrupted = pin!(tokio::signal::ctrl_c());
            // The listening begins with the first poll, not with the call.
            let asked = poll_fn(|context| Poll::Ready(interrupted.as_mut().poll(context))).await;
            if let Poll::Ready(ended) = asked {
                return ended;
            }
            ready(self.address);
            tokio::spawn(accept(self.listener, router));
            interrupted.await
        });
        // What is being worked out for a page that is gone is not waited for.
        self.runtime.shutdown_background();
        ended
    }
}

async fn accept(listener: TcpListener, router: Router) {
    let places = Arc::new(Semaphore::new(MOST_CONNECTIONS));
    loop {
        let Ok(place) = Arc::clone(&places).acquire_owned().await else {
            return;
        };
        match listener.accept().await {
            Ok((stream, _)) => {
                let router = router.clone();
                tokio::spawn(async move {
                    converse(stream, router).await;
                    drop(place);
                });
            }
            // No file handle is free: one will be soon.
            Err(_) => tokio::time::sleep(Duration::from_millis(50)).await,
        }
    }
}

/// One connection, from its first request to its last.
async fn converse(stream: TcpStream, router: Router) {
    let _ = stream.set_nodelay(true);
    let mut stream = TimeoutStream::new(stream);
    stream.set_write_timeout(Some(UNREAD));
    let connection = hyper::server::conn::http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(PATIENCE)
        .serve_connection(
            TokioIo::new(Box::pin(stream)),
            TowerToHyperService::new(router),
        );
    let mut connection = std::pin::pin!(connection);
    if timeout(CONNECTION_AGE, connection.as_mut()).await.is_err() {
        connection.as_mut().graceful_shutdown();
        let _ = timeout(FAREWELL, connection).await;
    }
}

fn router(names: ServerNames) -> Router {
    let shared = ServerState {
        names,
        at_work: Arc::new(Semaphore::new(MOST_AT_WORK)),
        light: Arc::new(Semaphore::new(MOST_LIGHT)),
    };
    Router::new()
        .route("/", get(|| async { page_file("") }))
        .route(
            "/{file}",
            get(|Path(name): Path<String>| async move { page_file(&name) }),
        )
        .route("/api/start", get(|| async { reply(beginning()) }))
        .route("/api/{what}", post(work))
        .fallback(|| async { nothing_here() })
        .layer(middleware::from_fn_with_state(shared.clone(), guarded))
        .with_state(shared)
}

async fn guarded(State(shared): State<ServerState>, request: Request, next: Next) -> Response {
    match shared.names.refusal(request.headers()) {
        Some(refusal) => lock(refusal),
        None => lock(next.run(request).await),
    }
}

fn nothing_here() -> Response {
    sentence(StatusCode::NOT_FOUND, "There is nothing here.")
}

fn too_large(what: &str) -> Response {
    let told = match what {
        LEAFLET => "A pattern may hold 20 MB.",
        _ => "A request may hold 2 MB.",
    };
    sentence(StatusCode::PAYLOAD_TOO_LARGE, told)
}

fn page_file(name: &str) -> Response {
    page::file(name).map_or_else(nothing_here, |(_, mime, text)| {
        reply(Answer::fine(mime, text.as_bytes().to_vec()))
    })
}

async fn work(
    State(shared): State<ServerState>,
    Path(what): Path<String>,
    request: Request,
) -> Response {
    if !is_json(request.headers()) {
        return sentence(
            StatusCode::UNSUPPORTED_MEDIA_TYPE,
            "Send JSON, with content-type application/json.",
        );
    }
    let told = request.headers().get(header::CONTENT_LENGTH);
    let told = told.and_then(|length| length.to_str().ok()?.parse().ok());
    let most = if what == LEAFLET {
        MOST_PATTERN_BYTES
    } else {
        MOST_BYTES
    };
    if told.is_some_and(|length: u64| length > most as u64) {
        return too_large(&what);
    }
    let body = match timeout(PATIENCE, to_bytes(request.into_body(), most)).await {
        Ok(Ok(body)) => body,
        Ok(Err(_)) => return too_large(&what),
        Err(_) => return sentence(StatusCode::REQUEST_TIMEOUT, "The request came too slowly."),
    };
    // Who goes away while waiting gives up the place: an answer nobody wants is not worked out.
    let lane = if is_light(&what, &body) {
        &shared.light
    } else {
        &shared.at_work
    };
    let Ok(Ok(place)) = timeout(MOST_WAIT, Arc::clone(lane).acquire_owned()).await else {
        return sentence(
            StatusCode::SERVICE_UNAVAILABLE,
            "Too much is being worked on; ask again in a minute.",
        );
    };
    let begun = Instant::now();
    let stop = Stop::flag();
    let _wanted = WhileWanted(stop.clone());
    let done = spawn_blocking(move || {
        let answer = answer_until(&what, &body, &stop);
        drop(place);
        answer
    });
    match done.await {
        Ok(Some(answer)) => timed(reply(answer), begun.elapsed()),
        Ok(None) => nothing_here(),
        Err(_) => sentence(
            StatusCode::INTERNAL_SERVER_ERROR,
            "Something went wrong inside; your work in the page is safe. Please report the case.",
        ),
    }
}

/// How long the answer took, where a browser's tools show it.
fn timed(mut response: Response, took: Duration) -> Response {
    let text = format!("work;dur={:.1}", took.as_secs_f64() * 1000.0);
    if let Ok(value) = HeaderValue::from_str(&text) {
        response.headers_mut().insert("server-timing", value);
    }
    response
}

fn reply(answer: Answer) -> Response {
    let mut response = Response::new(Body::from(answer.body));
    if let Ok(status) = StatusCode::from_u16(answer.status) {
        *response.status_mut() = status;
    }
    let headers = response.headers_mut();
    headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(answer.mime));
    if let Some(name) = answer.file
        && let Ok(value) = HeaderValue::from_str(&format!("attachment; filename=\"{name}\""))
    {
        headers.insert(header::CONTENT_DISPOSITION, value);
    }
    response
}
