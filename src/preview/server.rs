//! Answers a browser on this computer. There is no file behind an address: what is asked for is looked up among the pages in memory.

use std::convert::Infallible;
use std::io;
use std::net::{Ipv4Addr, SocketAddr};

use axum::Router;
use axum::extract::{Query, Request, State};
use axum::http::{HeaderMap, StatusCode, Uri, header};
use axum::middleware::{self, Next};
use axum::response::sse::{Event, KeepAlive, Sse};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use axum::serve::ListenerExt as _;
use tokio::net::TcpListener;
use tokio_stream::StreamExt as _;
use tokio_stream::wrappers::WatchStream;

use crate::build::stop::told_to_end;
use crate::preview::Shown;
use crate::preview::shelf::Shelf;
use crate::render::preview::FOLDER;
use crate::theme;

/// How many ports after the one that is in use are tried.
const OTHERS: u16 = 50;

/// A port of the loopback address, taken.
pub struct Port {
    listener: std::net::TcpListener,
    pub number: u16,
}

/// Takes a port.
///
/// # Errors
/// It is in use or not allowed; then with the next one that is free, if any is near.
pub fn take(number: u16) -> Result<Port, (io::Error, Option<u16>)> {
    bind(number).map_err(|error| (error, (1..=OTHERS).filter_map(|step| number.checked_add(step)).find(|other| bind(*other).is_ok())))
}

fn bind(number: u16) -> io::Result<Port> {
    let listener = std::net::TcpListener::bind(SocketAddr::from((Ipv4Addr::LOCALHOST, number)))?;
    listener.set_nonblocking(true)?;
    let number = listener.local_addr()?.port();
    Ok(Port { listener, number })
}

/// Serves until the process is told to end. `ready` is called once it answers and can be ended.
///
/// # Errors
/// The system gives no server.
pub fn serve(port: Port, shown: Shown, ready: impl FnOnce()) -> io::Result<()> {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_io().enable_time().build()?;
    let ended = runtime.block_on(async {
        // A small answer must not wait for the next one (RFC 896 against delayed acknowledgements).
        let listener = TcpListener::from_std(port.listener)?.tap_io(|stream| {
            let _ = stream.set_nodelay(true);
        });
        let server = axum::serve(listener, routes(shown, port.number));
        let end = told_to_end()?;
        ready();
        // Browsers hold a line open for changes, so it ends without waiting for them.
        tokio::select! {
            done = async { server.await } => done,
            () = end => Ok(()),
        }
    });
    // A page still being made is for nobody now.
    runtime.shutdown_background();
    ended
}

fn routes(shown: Shown, port: u16) -> Router {
    let mut routes = Router::new().route(&format!("/{FOLDER}/changes"), get(changes)).route(&format!("/{FOLDER}/digest"), get(digest));
    for (name, text) in theme::preview_assets() {
        let kind = kind_of(name);
        routes = routes.route(&format!("/{FOLDER}/{name}"), get(move || async move { ([(header::CONTENT_TYPE, kind)], text) }));
    }
    let own = [format!("127.0.0.1:{port}"), format!("localhost:{port}")];
    let only_here = middleware::from_fn(move |request: Request, next: Next| {
        let allowed = is_own(request.headers(), &own);
        async move {
            if allowed {
                next.run(request).await
            } else {
                (StatusCode::FORBIDDEN, "this preview is for this computer alone\n").into_response()
            }
        }
    });
    routes.fallback(page).with_state(shown).layer(only_here)
}

/// Whether the browser asked for this server by name. A page from elsewhere that made its own name lead here asks by that name.
fn is_own(headers: &HeaderMap, own: &[String]) -> bool {
    headers.get(header::HOST).and_then(|host| host.to_str().ok()).is_some_and(|host| own.iter().any(|name| name == host))
}

/// One word now, and one with each new edition.
async fn changes(State(shown): State<Shown>) -> impl IntoResponse {
    let editions = WatchStream::new(shown.editions()).map(|edition| Ok::<_, Infallible>(Event::default().data(edition.to_string())));
    Sse::new(editions).keep_alive(KeepAlive::default())
}

#[derive(serde::Deserialize)]
struct Asked {
    page: String,
}

async fn digest(State(shown): State<Shown>, Query(asked): Query<Asked>) -> Response {
    aside(move || shown.now().page(&asked.page).digest.into_response()).await
}

async fn page(State(shown): State<Shown>, uri: Uri) -> Response {
    aside(move || answer(&shown.now(), &uri)).await
}

/// Makes an answer on another thread: a page may take a while, and meanwhile editions are told, other browsers served and the end heard.
async fn aside(made: impl FnOnce() -> Response + Send + 'static) -> Response {
    tokio::task::spawn_blocking(made).await.unwrap_or_else(|_| StatusCode::INTERNAL_SERVER_ERROR.into_response())
}

fn answer(shelf: &Shelf, uri: &Uri) -> Response {
    let path = match uri.path().trim_start_matches('/') {
        "" => "index.html",
        path => path,
    };
    let fresh = [(header::CACHE_CONTROL, "no-store"), (header::CONTENT_TYPE, kind_of(path)), (header::X_CONTENT_TYPE_OPTIONS, "nosniff")];
    if path.ends_with(".html") {
        let status = if shelf.has_page(path) { StatusCode::OK } else { StatusCode::NOT_FOUND };
        return (status, fresh, shelf.page(path).html).into_response();
    }
    // The worker that keeps a site on the device has no place here: it would show old pages.
    match shelf.file(path).filter(|_| path != "offline.js") {
        Some(bytes) => (fresh, bytes.to_vec()).into_response(),
        None => StatusCode::NOT_FOUND.into_response(),
    }
}

fn kind_of(path: &str) -> &'static str {
    match path.rsplit_once('.').map_or("", |(_, ending)| ending) {
        "html" => "text/html; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "js" => "text/javascript; charset=utf-8",
        "json" => "application/json",
        "webmanifest" => "application/manifest+json",
        "xml" => "application/atom+xml; charset=utf-8",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "jpg" | "jpeg" => "image/jpeg",
        "webp" => "image/webp",
        "gif" => "image/gif",
        "txt" => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
    }
}
