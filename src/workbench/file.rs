//! Downloads: the bytes a command writes for the same case.

use super::answer::Answer;
use super::pattern;
use super::request::Request;
use super::said::of_lines;
use crate::case::Case;
use crate::convert::drift::{DriftLesson, drift_until as lesson_of};
use crate::convert::{Conversion, convert_until};
#[cfg(feature = "pdf")]
use crate::report::Document;
use crate::report::{
    MadeFrom, Reader, checklist_csv, checklist_document, conversion_document, conversion_json,
    drift_figures, exercise_document, grading_csv, grading_document, picture, set_figures,
    size_figures, together_document,
};

const TEXT: &str = "text/plain; charset=utf-8";
const HTML: &str = "text/html; charset=utf-8";
const SVG: &str = "image/svg+xml";
#[cfg(feature = "pdf")]
const PDF: &str = "application/pdf";

/// A file's ending, media type and bytes; or a sentence.
type Made = Result<(&'static str, &'static str, Vec<u8>), String>;

/// The file that is asked for by `"kind"`.
pub(super) fn file(request: &Request, only: Option<usize>) -> Answer {
    let kind = request.word("kind").unwrap_or_default();
    if kind == "toml" {
        let text = request.text.clone().into_bytes();
        return named(request, ("toml", "application/toml", text));
    }
    let Some(case) = &request.case else {
        return Answer::refused("The case is not complete yet; its fields say what is missing.");
    };
    let made = if let Some(kind) = kind.strip_prefix("drift-") {
        lesson_of(case, only, &request.stop).map(|lesson| of_lesson(request, kind, case, &lesson))
    } else {
        let case = &if of_one_text(kind) {
            case.clone().for_one_text()
        } else {
            case.clone()
        };
        convert_until(case, only, &request.stop)
            .map(|conversion| of_conversion(request, kind, case, &conversion))
    };
    match made {
        Ok(Ok(made)) => named(request, made),
        Ok(Err(sentence)) => Answer::refused(&sentence),
        Err(found) => Answer::failed(&of_lines(&found, Some(case))),
    }
}

/// True for files in which one text serves all sizes.
fn of_one_text(kind: &str) -> bool {
    matches!(kind, "together" | "grading" | "grading-csv") || kind.starts_with("amended-")
}

fn of_conversion(request: &Request, kind: &str, case: &Case, conversion: &Conversion) -> Made {
    let sheet = |reader| {
        let made = MadeFrom {
            case_text: &request.text,
            version: env!("CARGO_PKG_VERSION"),
        };
        conversion_document(case, conversion, reader, Some(made))
    };
    if kind.starts_with("amended-") {
        let amendment = pattern::amended(request, case, conversion)?;
        let (ending, mime, text) = pattern::as_file(kind, &amendment);
        return Ok((ending, mime, text.into_bytes()));
    }
    let (ending, mime, text) = match kind {
        "txt" => (
            "txt",
            TEXT,
            conversion_document(case, conversion, Reader::Terminal, None).text(),
        ),
        "together" => (
            "all-sizes.txt",
            TEXT,
            together_document(case, conversion, Reader::Terminal).text(),
        ),
        "checklist" => (
            "checklist.txt",
            TEXT,
            checklist_document(case, conversion).text(),
        ),
        "csv" => (
            "checklist.csv",
            "text/csv; charset=utf-8",
            checklist_csv(conversion),
        ),
        "grading" => (
            "grading.txt",
            TEXT,
            grading_document(case, conversion, Reader::Terminal).text(),
        ),
        "grading-csv" => (
            "grading.csv",
            "text/csv; charset=utf-8",
            grading_csv(case, conversion),
        ),
        "json" => {
            let json = conversion_json(case, conversion);
            ("json", "application/json", format!("{json:#}\n"))
        }
        "html" => ("html", HTML, sheet(Reader::Page).html()),
        "svg" => {
            let mut figures = set_figures(case, conversion);
            if conversion.sizes.len() == 1 {
                figures.extend(size_figures(case, conversion, 0));
            }
            ("svg", SVG, picture(figures, asked_figure(request))?)
        }
        #[cfg(feature = "pdf")]
        "pdf" => return pdf(request, "pdf", &sheet(Reader::Paper)),
        _ => {
            return Err(
                "\"kind\" is one of toml, txt, together, checklist, csv, grading, grading-csv, json, html, pdf, svg, \
                 drift-txt, drift-html, drift-pdf, drift-svg, amended-txt, amended-html, amended-json, amended-plain."
                    .to_owned(),
            );
        }
    };
    Ok((ending, mime, text.into_bytes()))
}

/// The exercise sheet of a lesson, or one of its figures.
fn of_lesson(request: &Request, kind: &str, case: &Case, lesson: &DriftLesson) -> Made {
    let exercise = || exercise_document(case, lesson);
    let (ending, mime, text) = match kind {
        "txt" => ("exercise.txt", TEXT, exercise().text()),
        "html" => ("exercise.html", HTML, exercise().html()),
        "svg" => {
            let figures = drift_figures(case, lesson);
            ("svg", SVG, picture(figures, asked_figure(request))?)
        }
        #[cfg(feature = "pdf")]
        "pdf" => return pdf(request, "exercise.pdf", &exercise()),
        _ => return Err("A lesson is saved as txt, html, pdf or svg.".to_owned()),
    };
    Ok((ending, mime, text.into_bytes()))
}

#[cfg(feature = "pdf")]
fn pdf(request: &Request, ending: &'static str, document: &Document) -> Made {
    let paper = match request.word("paper") {
        Some("letter") => crate::report::Paper::Letter,
        _ => crate::report::Paper::A4,
    };
    let made = document.pdf(paper);
    Ok((ending, PDF, made.map_err(|error| error.to_string())?))
}

/// The name that is asked for by `"figure"`.
fn asked_figure(request: &Request) -> &str {
    request.word("figure").unwrap_or("overlay")
}

fn named(request: &Request, (ending, mime, body): (&str, &'static str, Vec<u8>)) -> Answer {
    let title = request.form.get("title").and_then(|title| title.as_str());
    let name = plain_name(title.unwrap_or_default());
    let figure = request.word("figure").filter(|_| ending == "svg");
    let figure = figure.map(|figure| format!("-{}", plain_name(figure)));
    Answer {
        file: Some(format!("{name}{}.{ending}", figure.unwrap_or_default())),
        ..Answer::fine(mime, body)
    }
}

/// A title as a file name of letters, digits and hyphens.
fn plain_name(title: &str) -> String {
    let letters = title.chars().take(60).map(|letter| {
        if letter.is_ascii_alphanumeric() {
            letter.to_ascii_lowercase()
        } else {
            '-'
        }
    });
    let letters: String = letters.collect();
    let words: Vec<&str> = letters.split('-').filter(|word| !word.is_empty()).collect();
    if words.is_empty() {
        "sleeve".to_owned()
    } else {
        words.join("-")
    }
}

#[cfg(test)]
mod tests {
    use super::plain_name;

    #[test]
    fn a_file_name_holds_no_path() {
        assert_eq!(plain_name("../../etc/passwd"), "etc-passwd");
        assert_eq!(plain_name("Tern Harbour pullover"), "tern-harbour-pullover");
        assert_eq!(plain_name("\u{1f9f6}\"\r\n"), "sleeve");
    }
}
