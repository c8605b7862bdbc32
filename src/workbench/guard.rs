//! Who may ask, and what the browser may do with an answer.

use axum::body::Body;
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::Response;

/// Bodies beyond this are refused: a case of forty sizes has a tenth of it.
pub(super) const MOST_BYTES: usize = 2 * 1024 * 1024;

/// The same for a whole pattern, which may be a PDF with its photographs, in base64.
pub(super) const MOST_PATTERN_BYTES: usize = 32 * 1024 * 1024;

/// The page runs its own script and style, asks its own server, and nothing else.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; \
                      connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/// The names this server goes by. A page elsewhere that makes its own name point here (DNS
/// rebinding) sends that name as `Host`, and is refused.
#[derive(Clone, Debug)]
pub(super) struct ServerNames {
    hosts: [String; 2],
}

impl ServerNames {
    pub(super) fn of(port: u16) -> Self {
        Self {
            hosts: [format!("127.0.0.1:{port}"), format!("localhost:{port}")],
        }
    }

    /// The refusal, if this request is not for us or comes from a page that is not ours.
    pub(super) fn refusal(&self, headers: &HeaderMap) -> Option<Response> {
        let named: Vec<&HeaderValue> = headers.get_all(header::HOST).iter().collect();
        let ours = |name: &str| self.hosts.iter().any(|host| host == name);
        let [host] = named.as_slice() else {
            return Some(sentence(
                StatusCode::MISDIRECTED_REQUEST,
                "The request must name one host.",
            ));
        };
        if !host.to_str().is_ok_and(ours) {
            return Some(sentence(
                StatusCode::MISDIRECTED_REQUEST,
                "This server answers to 127.0.0.1 and localhost only.",
            ));
        }
        let origin = headers.get(header::ORIGIN)?;
        let own = origin.to_str().ok().and_then(|o| o.strip_prefix("http://"));
        if own.is_some_and(ours) {
            return None;
        }
        Some(sentence(
            StatusCode::FORBIDDEN,
            "Requests from other pages are not answered.",
        ))
    }
}

/// True for a body of JSON: a form of another page cannot send that type.
pub(super) fn is_json(headers: &HeaderMap) -> bool {
    let kind = headers.get(header::CONTENT_TYPE);
    let kind = kind.and_then(|kind| kind.to_str().ok()).unwrap_or_default();
    kind.split(';')
        .next()
        .is_some_and(|kind| kind.trim().eq_ignore_ascii_case("application/json"))
}

/// A refusal in one sentence.
pub(super) fn sentence(status: StatusCode, text: &'static str) -> Response {
    let mut response = Response::new(Body::from(format!("{text}\n")));
    *response.status_mut() = status;
    let kind = HeaderValue::from_static("text/plain; charset=utf-8");
    response.headers_mut().insert(header::CONTENT_TYPE, kind);
    response
}

/// Every answer carries these.
pub(super) fn lock(mut response: Response) -> Response {
    let headers = response.headers_mut();
    for (name, value) in [
        (header::CONTENT_SECURITY_POLICY, POLICY),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::X_FRAME_OPTIONS, "DENY"),
        (header::CACHE_CONTROL, "no-store"),
        (header::REFERRER_POLICY, "no-referrer"),
    ] {
        headers.insert(name, HeaderValue::from_static(value));
    }
    for (name, value) in [
        ("cross-origin-opener-policy", "same-origin"),
        ("cross-origin-resource-policy", "same-origin"),
    ] {
        headers.insert(name, HeaderValue::from_static(value));
    }
    response
}
