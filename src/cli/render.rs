//! A result in one form: JSON, CSV, a picture, or a document as text, page or paper.

use super::args::{ConvertArgs, PaperArg, TableForm};
use super::figure::conversion_picture;
use super::form::{EVERY_FORM, Form, LAID_OUT};
use super::outcome::VERSION;
use crate::case::Case;
use crate::convert::{Conversion, Old};
use crate::diagnostic::Diagnostic;
use crate::report::{
    Document, MadeFrom, Reader, check_document, check_json, checklist_csv, checklist_document,
    conversion_document, conversion_json, flat_lines_text, grading_csv, grading_document,
    grading_json, together_document,
};

/// What `convert` writes with these options; the first is printed.
pub(crate) fn forms(args: &ConvertArgs) -> &'static [Form] {
    match (args.checklist, args.grading) {
        (_, Some(TableForm::Text)) => &[Form::Text, Form::Json, Form::Csv, Form::Html, Form::Pdf],
        (_, Some(TableForm::Csv)) | (Some(TableForm::Csv), _) => &[Form::Csv],
        (Some(TableForm::Text), _) => &[Form::Text, Form::Csv, Form::Html, Form::Pdf],
        (None, None) if args.together => LAID_OUT,
        (None, None) if args.figure.is_some() && args.case.output.output.is_empty() => &[Form::Svg],
        (None, None) => EVERY_FORM,
    }
}

/// The conversion in one form.
///
/// # Errors
/// A sentence when it cannot be made.
pub(crate) fn converted(
    args: &ConvertArgs,
    case: &Case,
    conversion: &Conversion,
    case_text: &str,
    form: Form,
) -> Result<Vec<u8>, String> {
    let text = match form {
        Form::Json if args.grading.is_some() => json_line(&grading_json(case, conversion)),
        Form::Csv if args.grading.is_some() => grading_csv(case, conversion),
        Form::Text if args.flat_lines => flat_lines_text(case, conversion),
        Form::Json => json_line(&conversion_json(case, conversion)),
        Form::Csv => checklist_csv(conversion),
        Form::Svg => conversion_picture(case, conversion, args.figure.as_deref())?,
        Form::Text | Form::Html | Form::Pdf => {
            let document = document(args, case, conversion, case_text, form);
            return laid_out(&document, form, args.paper);
        }
    };
    Ok(text.into_bytes())
}

/// What is said of a conversion in a form that is laid out.
fn document(
    args: &ConvertArgs,
    case: &Case,
    conversion: &Conversion,
    case_text: &str,
    form: Form,
) -> Document {
    let reader = reader(form);
    if args.grading.is_some() {
        grading_document(case, conversion, reader)
    } else if args.checklist.is_some() {
        checklist_document(case, conversion)
    } else if args.together {
        together_document(case, conversion, reader)
    } else {
        let made = MadeFrom {
            case_text,
            version: VERSION,
        };
        let made = (form != Form::Text).then_some(made);
        conversion_document(case, conversion, reader, made)
    }
}

/// Who reads a form.
pub(crate) const fn reader(form: Form) -> Reader {
    match form {
        Form::Html => Reader::Page,
        Form::Pdf => Reader::Paper,
        _ => Reader::Terminal,
    }
}

/// A document as text, page or paper.
///
/// # Errors
/// A sentence when no PDF can be made.
pub(crate) fn laid_out(
    document: &Document,
    form: Form,
    paper: PaperArg,
) -> Result<Vec<u8>, String> {
    match form {
        Form::Html => Ok(document.html().into_bytes()),
        Form::Pdf => pdf(document, paper),
        _ => Ok(document.text().into_bytes()),
    }
}

/// A check in one form.
///
/// # Errors
/// A sentence when no PDF can be made.
pub(crate) fn checked(
    case: &Case,
    sizes: &[Old],
    findings: &[Diagnostic],
    form: Form,
) -> Result<Vec<u8>, String> {
    if form == Form::Json {
        return Ok(json_line(&check_json(case, sizes, findings)).into_bytes());
    }
    let document = check_document(case, sizes, findings, reader(form));
    laid_out(&document, form, PaperArg::A4)
}

/// JSON as it is printed.
pub(crate) fn json_line(value: &serde_json::Value) -> String {
    format!("{value:#}\n")
}

#[cfg(feature = "pdf")]
impl From<PaperArg> for crate::report::Paper {
    fn from(paper: PaperArg) -> Self {
        match paper {
            PaperArg::A4 => Self::A4,
            PaperArg::Letter => Self::Letter,
        }
    }
}

/// A document as PDF.
///
/// # Errors
/// A sentence when it cannot be made.
#[cfg(feature = "pdf")]
fn pdf(document: &Document, paper: PaperArg) -> Result<Vec<u8>, String> {
    document
        .pdf(paper.into())
        .map_err(|error| error.to_string())
}

/// The sentence.
///
/// # Errors
/// Always.
#[cfg(not(feature = "pdf"))]
fn pdf(_: &Document, _: PaperArg) -> Result<Vec<u8>, String> {
    Err("This program was built without PDF; build it with --features pdf, or write .html and print that.".to_owned())
}
