//! Requests to answers, without a word of HTTP.

#[cfg(feature = "workbench")]
use serde_json::Value;

use super::answer::Answer;
use super::request::Request;
use super::start::start;
use super::{file, look, pattern};
#[cfg(feature = "workbench")]
use crate::case::split_labels;
use crate::measure::Stop;

/// What can be asked for.
pub(super) const ASKED: &[&str] = &[
    LEAFLET, "open", "read", "check", "convert", "drift", "figures", "file",
];

/// Asks for a whole pattern to be read; it brings no case, and may be a PDF.
pub(super) const LEAFLET: &str = "leaflet";

/// What the page needs before anything is typed.
pub fn beginning() -> Answer {
    Answer::json(&start())
}

/// A request beyond this is never light.
#[cfg(feature = "workbench")]
const MOST_LIGHT_BYTES: usize = 64 * 1024;

/// True for what takes milliseconds: nothing to fit, or one size.
#[cfg(feature = "workbench")]
pub(super) fn is_light(what: &str, body: &[u8]) -> bool {
    if body.len() > MOST_LIGHT_BYTES {
        return false;
    }
    if !matches!(what, "convert" | "drift" | "figures" | "file") {
        return true;
    }
    let body: Value = serde_json::from_slice(body).unwrap_or_default();
    let one_asked = body.get("size").is_some_and(|size| !size.is_null());
    let sizes = body.get("case").map(|case| case.get("sizes"));
    let only_one = match sizes {
        Some(None | Some(Value::Null)) => true,
        Some(Some(Value::Array(list))) => list.len() < 2,
        Some(Some(Value::String(text))) => split_labels(text).len() < 2,
        _ => false,
    };
    one_asked || only_one
}

/// The answer to `POST /api/{what}` with this body. `None` when there is no such thing to ask for.
pub fn answer(what: &str, body: &[u8]) -> Option<Answer> {
    answer_until(what, body, &Stop::never())
}

/// The same; once `stop` is set the work ends, and so does the use of its answer.
pub fn answer_until(what: &str, body: &[u8], stop: &Stop) -> Option<Answer> {
    if !ASKED.contains(&what) {
        return None;
    }
    if what == LEAFLET {
        return Some(pattern::leaflet(body));
    }
    let request = match Request::read(body, stop) {
        Ok(request) => request,
        Err(sentence) => return Some(Answer::refused(&sentence)),
    };
    let size = request.case.as_ref().map(|case| request.size(case));
    let only = match size.transpose() {
        Ok(only) => only.flatten(),
        Err(sentence) => return Some(Answer::refused(&sentence)),
    };
    Some(match what {
        "open" => Answer::json(&look::open(&request)),
        "read" => Answer::json(&look::read(&request, only)),
        "check" => Answer::json(&look::check(&request, only)),
        "drift" => Answer::json(&look::drift(&request, only)),
        "figures" => Answer::json(&look::figures_alone(&request, only)),
        "file" => file::file(&request, only),
        _ => Answer::json(&look::convert(&request, only)),
    })
}
