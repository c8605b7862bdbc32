//! A whole printed pattern: what it says as a form, each fact with the words it stands in; and the print
//! with the new sleeve in it.

use serde::Serialize;
use serde_json::{Value, json};

use super::answer::Answer;
use super::request::Request;
use crate::amend::{Amendment, amend};
use crate::case::{Case, form_of};
use crate::check::draft_of;
use crate::convert::Conversion;
use crate::leaflet::{Evidence, Fact, Flow, MAX_BYTES, Which, garment_of, read_print};
use crate::report::{amendment_document, amendment_json};

/// Reads a pattern: `"print"` is its text, or `"pdf"` the file in base64; `"garment"` and `"sleeve"` say which of several.
pub(super) fn leaflet(body: &[u8]) -> Answer {
    let body: Value = match serde_json::from_slice(body) {
        Ok(body) => body,
        Err(error) => return Answer::refused(&format!("The request is not JSON: {error}.")),
    };
    match flow(&body) {
        Ok(flow) => Answer::json(&found(&flow, which(&body))),
        Err(sentence) => Answer::refused(&sentence),
    }
}

fn flow(body: &Value) -> Result<Flow, String> {
    match (body["print"].as_str(), body["pdf"].as_str()) {
        (Some(text), None) if text.len() > MAX_BYTES => {
            Err("This is longer than any pattern: 2 MB of text at the most.".to_owned())
        }
        (Some(text), None) => Ok(Flow::of_text(text)),
        (None, Some(pdf)) => of_pdf(pdf),
        _ => Err("A request needs either \"print\", the text of a pattern, or \"pdf\".".to_owned()),
    }
}

#[cfg(feature = "leaflet-pdf")]
fn of_pdf(letters: &str) -> Result<Flow, String> {
    let bytes = super::base64::bytes(letters).ok_or("\"pdf\" is not in base64.")?;
    crate::leaflet::read_pdf(bytes).map_err(|error| error.to_string())
}

#[cfg(not(feature = "leaflet-pdf"))]
fn of_pdf(_: &str) -> Result<Flow, String> {
    Err(
        "This page reads no PDF: open it, mark its whole text, copy it and paste it here."
            .to_owned(),
    )
}

/// Which of several garments and sleeves, counted from 1; a number that makes no sense is none of them.
fn which(body: &Value) -> Which {
    let number = |key| match body.get(key) {
        None | Some(Value::Null) => None,
        Some(number) => Some(
            number
                .as_u64()
                .and_then(|number| usize::try_from(number).ok())
                .unwrap_or(0),
        ),
    };
    Which {
        garment: number("garment"),
        sleeve: number("sleeve"),
    }
}

/// What was found in a pattern.
#[derive(Serialize)]
struct PatternFound<'a> {
    /// Why it cannot be used; empty when it can.
    refused: &'a str,
    construction: &'a str,
    /// The words that told the construction.
    signs: &'a [Evidence],
    facts: &'a [Fact],
    /// The garments of the text to choose from, where it has several and none was chosen.
    garments: &'a [String],
    /// The sleeves with a cap, where it has several.
    sleeves: &'a [String],
    /// The case as a form.
    case: Option<Value>,
    /// The text that was read, to be sent again with a choice or to be amended.
    print: &'a str,
}

fn found(flow: &Flow, which: Which) -> Value {
    let leaflet = draft_of(flow, which);
    json!(PatternFound {
        refused: &leaflet.refused,
        construction: &leaflet.construction,
        signs: &leaflet.signs,
        facts: &leaflet.facts,
        garments: &leaflet.garments,
        sleeves: &leaflet.sleeves,
        case: form_of(&leaflet.case),
        print: flow.print(),
    })
}

/// The print of the request with the new sleeve in it.
///
/// # Errors
/// A sentence when there is none, or it is of another pattern.
pub(super) fn amended(
    request: &Request,
    case: &Case,
    conversion: &Conversion,
) -> Result<Amendment, String> {
    let text = request.word("print").filter(|text| text.len() <= MAX_BYTES);
    let text = text.ok_or("\"print\", the text of the pattern, is missing.")?;
    let flow = Flow::of_text(text);
    let which = which(&request.body);
    let leaflet = draft_of(&flow, which);
    if !leaflet.refused.is_empty() {
        return Err(leaflet.refused);
    }
    let garment = garment_of(&flow, which.garment)?;
    amend((&read_print(&garment)?, &leaflet), case, conversion)
}

/// Ending, media type and text of an amended pattern as a file.
pub(super) fn as_file(kind: &str, amendment: &Amendment) -> (&'static str, &'static str, String) {
    match kind {
        "amended-html" => (
            "amended.html",
            "text/html; charset=utf-8",
            amendment_document(amendment).html(),
        ),
        "amended-json" => (
            "amended.json",
            "application/json",
            format!("{:#}\n", amendment_json(amendment)),
        ),
        "amended-plain" => ("new.txt", "text/plain; charset=utf-8", amendment.text()),
        _ => (
            "amended.txt",
            "text/plain; charset=utf-8",
            amendment_document(amendment).text(),
        ),
    }
}
