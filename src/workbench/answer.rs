//! What goes back to the page.

use serde::Serialize;
use serde_json::{Value, json};

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

    /// Keys in the order of the alphabet, as everywhere.
    pub(super) fn json(value: &impl Serialize) -> Self {
        Self::fine("application/json", json!(value).to_string().into_bytes())
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
