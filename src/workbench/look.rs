//! The answers: reading, check, conversion, drift and figures as JSON.

use serde::Serialize;
use serde_json::Value;

use super::lines::{KeyedTables, all_lines};
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

/// What the page is told of a case; what was not asked for, or cannot be had, is left out.
#[derive(Serialize)]
pub(super) struct Look<'a> {
    /// True for a case with nothing missing and nothing wrong.
    valid: bool,
    /// The labels of its sizes.
    sizes: Option<&'a [String]>,
    /// What was found while reading it, each with its field.
    case_findings: Vec<Value>,
    /// What was found in its lines and in the work, each with its field and its place there.
    findings: Vec<Value>,
    /// The case as a form.
    #[serde(skip_serializing_if = "Option::is_none")]
    case: Option<&'a Value>,
    /// The pattern's own lines as tables, by their keys.
    #[serde(skip_serializing_if = "Option::is_none")]
    lines: Option<KeyedTables>,
    /// As `check --format json`.
    #[serde(skip_serializing_if = "Option::is_none")]
    check: Option<Value>,
    /// As `convert --format json`.
    #[serde(skip_serializing_if = "Option::is_none")]
    conversion: Option<Value>,
    /// As `drift --format json`.
    #[serde(skip_serializing_if = "Option::is_none")]
    drift: Option<Value>,
    /// The worksheet, or the lesson.
    #[serde(skip_serializing_if = "Option::is_none")]
    text: Option<String>,
    /// The pictures.
    #[serde(skip_serializing_if = "Option::is_none")]
    figures: Option<Vec<Figure>>,
    /// The steps at the needles; of one size alone.
    #[serde(skip_serializing_if = "Option::is_none")]
    follow: Option<Value>,
    /// The exercises of a lesson.
    #[serde(skip_serializing_if = "Option::is_none")]
    exercise: Option<String>,
}

impl<'a> Look<'a> {
    /// What every answer begins with: is it a case, and what was found in it.
    fn at(request: &'a Request) -> Self {
        Self {
            valid: request.case.is_some(),
            sizes: request.case.as_ref().map(|case| case.sizes.as_slice()),
            case_findings: of_case(&request.said, &request.text),
            findings: Vec::new(),
            case: None,
            lines: None,
            check: None,
            conversion: None,
            drift: None,
            text: None,
            figures: None,
            follow: None,
            exercise: None,
        }
    }
}

/// A case file as a form, and what was found in it.
pub(super) fn open(request: &Request) -> Look<'_> {
    Look {
        case: Some(&request.form),
        ..Look::at(request)
    }
}

/// The lines' ledgers alone.
pub(super) fn read(request: &Request, only: Option<usize>) -> Look<'_> {
    Look {
        lines: Some(all_lines(request, only)),
        ..Look::at(request)
    }
}

/// The old garment: ledgers, outlines, findings.
pub(super) fn check(request: &Request, only: Option<usize>) -> Look<'_> {
    let mut answer = read(request, only);
    let Some(case) = &request.case else {
        return answer;
    };
    match check_case(case, only, &request.stop) {
        Ok((sizes, findings)) => {
            answer.check = Some(check_json(case, &sizes, &findings));
            let own = sizes.iter().flat_map(|old| &old.findings);
            let all: Vec<Diagnostic> = findings.iter().chain(own).cloned().collect();
            answer.findings = of_lines(&all, Some(case));
        }
        Err(found) => answer.findings = of_lines(&found, Some(case)),
    }
    answer
}

/// The whole job; `"brief"` leaves out the text, the figures and the ledgers.
pub(super) fn convert(request: &Request, only: Option<usize>) -> Look<'_> {
    let brief = request.flag("brief");
    let mut answer = if brief {
        Look::at(request)
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
            answer.conversion = Some(conversion_json(case, &conversion));
            answer.findings = of_lines(&all, Some(case));
            if !brief {
                let document = conversion_document(case, &conversion, Reader::Browser, None);
                answer.text = Some(document.text());
                answer.figures = Some(figures(case, &conversion));
                if let [size] = conversion.sizes.as_slice() {
                    answer.follow = Some(follow_json(case, size));
                }
            }
        }
        Err(found) => answer.findings = of_lines(&found, Some(case)),
    }
    answer
}

/// The figures alone.
pub(super) fn figures_alone(request: &Request, only: Option<usize>) -> Look<'_> {
    let mut answer = Look::at(request);
    if let Some(case) = &request.case {
        match convert_case(case, only, &request.stop) {
            Ok(conversion) => answer.figures = Some(figures(case, &conversion)),
            Err(found) => answer.findings = of_lines(&found, Some(case)),
        }
    }
    answer
}

/// Flat against round.
pub(super) fn drift(request: &Request, only: Option<usize>) -> Look<'_> {
    let mut answer = Look::at(request);
    let Some(case) = &request.case else {
        return answer;
    };
    match lesson_of(case, only, &request.stop) {
        Ok(lesson) => {
            answer.drift = Some(drift_json(case, &lesson));
            answer.text = Some(lesson_document(case, &lesson, Reader::Browser).text());
            answer.figures = Some(drift_figures(case, &lesson));
            answer.exercise = Some(exercise_document(case, &lesson).text());
        }
        Err(found) => answer.findings = of_lines(&found, Some(case)),
    }
    answer
}

/// The figures of the one size of the conversion, or those of the set.
fn figures(case: &Case, conversion: &Conversion) -> Vec<Figure> {
    match conversion.sizes.as_slice() {
        [_] => size_figures(case, conversion, 0),
        _ => set_figures(case, conversion),
    }
}
