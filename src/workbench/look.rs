//! The answers: reading, check, conversion, drift and figures as JSON.

use serde_json::{Value, json};

use super::lines::all_lines;
use super::request::Request;
use super::said::{of_case, of_lines};
use crate::case::Case;
use crate::convert::drift::drift_until as lesson_of;
use crate::convert::{Conversion, check_until as check_case, convert_until as convert_case};
use crate::diagnostic::Diagnostic;
use crate::report::{
    Figure, Reader, check_json, conversion_document, conversion_json, drift_figures, drift_json,
    exercise_document, follow_json, lesson_document, set_figures, size_figures,
};

/// A case file as a form, and what was found in it.
pub(super) fn open(request: &Request) -> Value {
    let mut answer = heading(request);
    answer["case"] = request.form.clone();
    answer
}

/// The lines' ledgers alone.
pub(super) fn read(request: &Request, only: Option<usize>) -> Value {
    let mut answer = heading(request);
    answer["lines"] = all_lines(request, only);
    answer
}

/// The old garment: ledgers, outlines, findings.
pub(super) fn check(request: &Request, only: Option<usize>) -> Value {
    let mut answer = read(request, only);
    if let Some(case) = &request.case {
        match check_case(case, only, &request.stop) {
            Ok((sizes, findings)) => {
                answer["check"] = check_json(case, &sizes, &findings);
                let own = sizes.iter().flat_map(|old| &old.findings);
                let all: Vec<Diagnostic> = findings.iter().chain(own).cloned().collect();
                answer["findings"] = json!(of_lines(&all, Some(case)));
            }
            Err(found) => answer["findings"] = json!(of_lines(&found, Some(case))),
        }
    }
    answer
}

/// The whole job; `"brief"` leaves out the text, the figures and the ledgers.
pub(super) fn convert(request: &Request, only: Option<usize>) -> Value {
    let brief = request.flag("brief");
    let mut answer = if brief {
        heading(request)
    } else {
        read(request, only)
    };
    let Some(case) = &request.case else {
        return answer;
    };
    match convert_case(case, only, &request.stop) {
        Ok(conversion) => {
            let own = conversion.sizes.iter().flat_map(|size| &size.findings);
            let all: Vec<Diagnostic> = conversion.findings.iter().chain(own).cloned().collect();
            answer["conversion"] = conversion_json(case, &conversion);
            answer["findings"] = json!(of_lines(&all, Some(case)));
            if !brief {
                let document = conversion_document(case, &conversion, Reader::Browser, None);
                answer["text"] = json!(document.text());
                answer["figures"] = figures(case, &conversion);
                if let [size] = conversion.sizes.as_slice() {
                    answer["follow"] = follow_json(case, size);
                }
            }
        }
        Err(found) => answer["findings"] = json!(of_lines(&found, Some(case))),
    }
    answer
}

/// The figures alone.
pub(super) fn figures_alone(request: &Request, only: Option<usize>) -> Value {
    let mut answer = heading(request);
    if let Some(case) = &request.case {
        match convert_case(case, only, &request.stop) {
            Ok(conversion) => answer["figures"] = figures(case, &conversion),
            Err(found) => answer["findings"] = json!(of_lines(&found, Some(case))),
        }
    }
    answer
}

/// Flat against round.
pub(super) fn drift(request: &Request, only: Option<usize>) -> Value {
    let mut answer = heading(request);
    let Some(case) = &request.case else {
        return answer;
    };
    match lesson_of(case, only, &request.stop) {
        Ok(lesson) => {
            answer["drift"] = drift_json(case, &lesson);
            answer["text"] = json!(lesson_document(case, &lesson, Reader::Browser).text());
            let figures = drift_figures(case, &lesson);
            answer["figures"] = figures.iter().map(figure_json).collect();
            answer["exercise"] = json!(exercise_document(case, &lesson).text());
        }
        Err(found) => answer["findings"] = json!(of_lines(&found, Some(case))),
    }
    answer
}

/// The figures of the one size of the conversion, or those of the set.
fn figures(case: &Case, conversion: &Conversion) -> Value {
    let figures = match conversion.sizes.as_slice() {
        [_] => size_figures(case, conversion, 0),
        _ => set_figures(case, conversion),
    };
    figures.iter().map(figure_json).collect()
}

fn figure_json(figure: &Figure) -> Value {
    json!({
        "name": figure.name,
        "id": figure.id,
        "title": figure.title,
        "description": figure.description,
        "svg": figure.svg,
    })
}

/// What every answer begins with: is it a case, and what was found in it.
fn heading(request: &Request) -> Value {
    json!({
        "valid": request.case.is_some(),
        "sizes": request.case.as_ref().map(|case: &Case| &case.sizes),
        "case_findings": of_case(&request.said, &request.text),
        "findings": [],
    })
}
