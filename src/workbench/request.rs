//! What a request brings: a case, as the page's form or as the text of its file.

use serde_json::Value;

use crate::case::{Case, form_of, read_case, write_case};
use crate::diagnostic::Diagnostic;
use crate::measure::Stop;

/// A request that was understood.
pub(super) struct Request {
    /// The case as a form, to look things up in when it is not valid yet.
    pub(super) form: Value,
    /// The text of its file.
    pub(super) text: String,
    /// The case, when nothing needed is missing or wrong.
    pub(super) case: Option<Case>,
    /// What was found while reading it; places are bytes of the text.
    pub(super) said: Vec<Diagnostic>,
    /// Ends the work.
    pub(super) stop: Stop,
    /// Everything that was sent.
    pub(super) body: Value,
}

impl Request {
    /// Reads the body of a request.
    ///
    /// # Errors
    /// A sentence when it is not the JSON that is expected.
    pub(super) fn read(body: &[u8], stop: &Stop) -> Result<Self, String> {
        let body: Value = serde_json::from_slice(body)
            .map_err(|error| format!("The request is not JSON: {error}."))?;
        let (form, text) = match (body.get("case"), body.get("toml")) {
            (Some(form @ Value::Object(_)), None) => (form.clone(), write_case(form)),
            (None, Some(Value::String(text))) => (form_of(text).unwrap_or_default(), text.clone()),
            _ => {
                return Err(
                    "A request needs either \"case\", an object with the keys of a case, or \
                     \"toml\", the text of a case file."
                        .to_owned(),
                );
            }
        };
        let (case, said) = read_case(&text);
        Ok(Self {
            form,
            text,
            case,
            said,
            stop: stop.clone(),
            body,
        })
    }

    /// A text that goes with the request.
    pub(super) fn word(&self, key: &str) -> Option<&str> {
        self.body.get(key).and_then(Value::as_str)
    }

    /// A yes or no that goes with the request; no when it is not there.
    pub(super) fn flag(&self, key: &str) -> bool {
        self.body.get(key).and_then(Value::as_bool) == Some(true)
    }

    /// The place of the size asked for, while the case is not whole and its sizes are not sure.
    pub(super) fn place(&self) -> Option<usize> {
        let place = self.body.get("size").and_then(Value::as_u64)?;
        usize::try_from(place).ok()
    }

    /// The one size asked for, by its place or its label.
    ///
    /// # Errors
    /// A sentence when the case has no such size.
    pub(super) fn size(&self, case: &Case) -> Result<Option<usize>, String> {
        let sizes = &case.sizes;
        let found = match self.body.get("size") {
            None | Some(Value::Null) => return Ok(None),
            Some(Value::String(label)) => sizes.iter().position(|size| size == label),
            Some(place) => place
                .as_u64()
                .and_then(|place| usize::try_from(place).ok())
                .filter(|place| *place < sizes.len()),
        };
        found.map(Some).ok_or_else(|| {
            let known = sizes.join(", ");
            format!("The case has no such size; it has {known}.")
        })
    }
}
