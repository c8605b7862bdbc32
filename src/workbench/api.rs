//! Requests to answers, without a word of HTTP.

use serde_json::{Value, json};

use super::request::Request;
use super::start::start;
use super::{file, look};
#[cfg(feature = "workbench")]
use crate::case::split_labels;
use crate::measure::Stop;

/// What goes back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// HTTP status.
    pub status: u16,
    /// Media type.
    pub mime: &'static str,
    /// The bytes.
    pub body: Vec<u8>,
    /// The name to save it under, for a download.
    pub file: Option<String>,
}

impl Answer {
    pub(super) fn fine(mime: &'static str, body: Vec<u8>) -> Self {
        Self {
            status: 200,
            mime,
            body,
            file: None,
        }
    }

    pub(super) fn json(value: &Value) -> Self {
        Self::fine("application/json", value.to_string().into_bytes())
    }

    /// A request that makes no sense, and why.
    pub(super) fn refused(sentence: &str) -> Self {
        Self {
            status: 400,
            ..Self::json(&json!({ "error": sentence }))
        }
    }

    /// A case that cannot be worked out, and what was found.
    pub(super) fn failed(findings: &[Value]) -> Self {
        let sentence = "This case cannot be worked out; the findings say why.";
        Self {
            status: 422,
            ..Self::json(&json!({ "error": sentence, "findings": findings }))
        }
    }
}

/// What can be asked for.
pub(super) const ASKED: &[&str] = &[
    "open", "read", "check", "convert", "drift", "figures", "file",
];

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
