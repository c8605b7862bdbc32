//! Requests to answers, without a word of HTTP.

use serde_json::{Value, json};

use super::request::Request;
use super::{file, look};

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

/// The answer to `POST /api/{what}` with this body. `None` when there is no such thing to ask for.
pub fn answer(what: &str, body: &[u8]) -> Option<Answer> {
    if !ASKED.contains(&what) {
        return None;
    }
    let request = match Request::read(body) {
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
